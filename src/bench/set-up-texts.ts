import { settingText, wholePlotsOf, type Run, type TrialSpec } from "../trial/index.ts";
import { listed } from "../units/index.ts";

/**
 * What is set up before each run: the runs that follow share it until the next. A set-up is made anew even at the same setting,
 * or its scatter would pass for none. Empty for runs on the set-up that stands, and where nothing is hard to change.
 */
export function setUpTexts(
  { factors, display }: Pick<TrialSpec, "factors" | "display">,
  runs: readonly Run[],
): readonly string[] {
  const plots = wholePlotsOf(runs, factors);
  if (plots === null) return [];
  const hard = factors.filter(({ change }) => change === "hard");
  const settingsOf = (run: Run | undefined) =>
    hard.map((factor) => `${factor.name} ${settingText(factor, run?.settings[factor.name] ?? "", display)}`);
  return runs.map((run, place) => {
    const own = plots.of[place];
    if (own === plots.of[place - 1]) return "";
    const last = plots.of.lastIndexOf(own ?? 0);
    const until = runs[last]?.run ?? run.run;
    const texts = settingsOf(run);
    const same = place > 0 && texts.join() === settingsOf(runs[place - 1]).join();
    const which = until === run.run ? `run ${run.run}` : `runs ${run.run} to ${until}`;
    return `Set-up ${own ?? 1}, for ${which}: ${listed(texts)}${same ? ", set anew though the setting stays" : ""}`;
  });
}
