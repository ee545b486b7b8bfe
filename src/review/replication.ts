import { pText } from "../units/index.ts";
import type { Settings } from "../trial/index.ts";
import { sameSettings, type Check, type CutRun, type ReviewContext } from "./context.ts";
import { runsInWords } from "./words.ts";

/** No setting was cut twice: there is no pure error, and intervals rest on the form of the model. A fact of the plan: no reading can raise it by chance. */
export const noReplicates: Check = (context) => {
  const { runs, moved, fit } = context;
  if (runs.length < 2 || moved.length === 0 || distinct(runs).length < runs.length) return [];
  const cost =
    fit && fit.residualDf > 0
      ? "The intervals rest on the scatter about the fitted model, so they hold only if the model's form is right; a lack of fit can't be seen."
      : "Nothing tells the scatter from run to run, so no effect can have an interval.";
  return [
    {
      kind: "no-replicates",
      weight: "caution",
      title: "Each setting was cut once: the scatter from run to run was not measured.",
      evidence: `${runs.length} runs at ${runs.length} different settings. ${cost}`,
      mend: "Cut two or three of the settings again as fresh passes, not as further readings on the same surface.",
      runs: [],
      addRuns: spread(context),
    },
  ];
};

/** The lowest, the middle and the highest of the settings, in the order of the first factor that moved. */
function spread({ runs, moved }: ReviewContext): readonly Settings[] {
  const sorted = [...runs].sort((a, b) => {
    const [one, other] = [a.settings[moved[0].name], b.settings[moved[0].name]];
    return typeof one === "number" && typeof other === "number" ? one - other : 0;
  });
  const picks = [0, Math.floor((sorted.length - 1) / 2), sorted.length - 1];
  return [...new Set(picks)].map((index) => sorted[index].settings);
}

function distinct(runs: readonly CutRun[]): readonly (readonly CutRun[])[] {
  const groups: CutRun[][] = [];
  for (const run of runs) {
    const group = groups.find(([first]) => sameSettings(first.settings, run.settings));
    if (group) group.push(run);
    else groups.push([run]);
  }
  return groups;
}

/**
 * Runs that look like further readings on one surface entered as fresh runs: every setting stands the same number of times, always side by side in
 * cutting order, although other settings were cut in between. A shuffled order of n settings × k would do so by chance with probability
 * n!·k!ⁿ/(nk)!, which the evidence states: 6.7 % of 10,000 shuffled orders of 6 runs on 3 settings, none of 16 runs on 8.
 */
export const repeatsAsReplicates: Check = ({ runs, readings }) => {
  const groups = distinct(runs);
  const each = groups[0]?.length ?? 0;
  const sideBySide = groups.every((group) => {
    const places = group.map((run) => runs.indexOf(run));
    return places[places.length - 1] - places[0] === group.length - 1;
  });
  if (each < 2 || groups.length < 3 || !sideBySide || groups.some((group) => group.length !== each))
    return [];
  if (readings.some((count) => count > 1)) return [];
  return [
    {
      kind: "repeats-as-replicates",
      weight: "caution",
      title: `The ${each} runs at each setting look like ${each} readings on one surface, not like ${each} fresh passes.`,
      evidence: `All ${groups.length} settings stand ${each} times side by side in cutting order, with one reading each; fresh passes in shuffled order would fall so in ${pText(sideBySideChance(groups.length, each))} of trials.`,
      mend: "If they are readings on one surface, enter them as repeats of one run: as replicates they make the scatter, and with it every interval, too small.",
      runs: runs.map(({ run }) => run),
      addRuns: [],
    },
  ];
};

/** n!·k!ⁿ/(nk)!, step by step so that it can't overflow: of all orders of n settings k times each, the share in which each stands side by side. */
function sideBySideChance(settings: number, each: number): number {
  let chance = 1;
  for (let placed = 1; placed <= settings; placed++) {
    // Of the places of the setting's k runs among the first placed·k, only `placed` blocks will do.
    let ways = 1;
    for (let i = 1; i <= each; i++) ways *= (placed * each - each + i) / i;
    chance *= placed / ways;
  }
  return chance;
}

/** One reading a run: the gauge and the spot on the surface can't be told from the pass. A fact of the readings taken, whatever they say. */
export const oneReadingARun: Check = ({ readings, trial, response }) => {
  if (trial === null || readings.some((count) => count !== 1)) return [];
  return [
    {
      kind: "one-reading-a-run",
      weight: "note",
      title: `One reading of ${response} was taken after each run: scatter of gauge and spot can't be told from scatter of the pass.`,
      evidence: `${readings.length} readings on ${readings.length} runs.`,
      mend: "Take two or three readings at different spots across the lay after each run; they cost seconds, not passes.",
      runs: [],
      addRuns: [],
    },
  ];
};

/** Planned runs without a reading. A fact of the readings taken, whatever they say. */
export const runsNotRead: Check = ({ trial, response }) => {
  if (trial === null) return [];
  const read = new Set(
    trial.readings
      .filter((reading) => reading.response === response && reading.void === "")
      .map(({ run }) => run),
  );
  const missing = trial.runs.map(({ run }) => run).filter((run) => !read.has(run));
  if (missing.length === 0 || read.size === 0) return [];
  return [
    {
      kind: "runs-not-read",
      weight: "note",
      title: `${missing.length} of ${trial.runs.length} planned runs have no reading of ${response} in use.`,
      evidence: `Missing: ${runsInWords(missing)}.`,
      mend: "Cut and read them, or note on the run why not: a run left out because its finish was bad makes the rest look better than it is.",
      runs: missing,
      addRuns: [],
    },
  ];
};
