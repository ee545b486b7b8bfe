import { confidenceText } from "./fitted-rows.ts";
import type { KeyEntry } from "./key.ts";
import { palette } from "./palette.ts";
import type { DrawnRun } from "./reading-marks.ts";
import type { ResponseGroup } from "./response-groups.ts";
import type { ResponseScene } from "./response-scene.ts";

/** What the marks and bands of a response figure stand for. */
export function responseKey(
  scene: ResponseScene,
  runs: readonly DrawnRun[],
  means: boolean,
): readonly KeyEntry[] {
  const { fit, single, groups } = scene;
  const [first] = groups;
  if (first === undefined) return [];
  const colour = first.style.colour;
  // Where no run stands on the curve, all marks are grey.
  const marked = runs.some((run) => run.strong) ? colour : palette.rule;
  const said = confidenceText(fit.confidence);
  const readingText = `${means ? "single reading" : "reading"}${scene.readings === "adjusted" ? ", adjusted" : ""}`;
  const key: KeyEntry[] = [
    { sign: "dot", fill: palette.paper, stroke: marked, radius: 2.6, text: readingText },
  ];
  if (means)
    key.push({ sign: "dot", fill: marked, stroke: palette.paper, radius: 4.6, text: "mean of a run" });
  if (scene.along.kind === "category" && groups.length > 1) key.push(...groups.map(groupEntry));
  // A band needs two places, a bar one.
  const least = scene.along.kind === "category" ? 0 : 1;
  const banded = groups.some(
    ({ curve }) => curve.filter(({ prediction }) => prediction.mean !== null).length > least,
  );
  if (banded) key.push({ sign: "band", colour, opacity: 0.17, text: `${said}, mean` });
  if (banded && single === "shown")
    key.push({ sign: "band", colour, opacity: 0.06, text: `${said}, single run` });
  if (!banded) key.push({ sign: "line", colour, dash: "none", text: "fit, no interval" });
  if (runs.some((run) => !run.strong)) {
    key.push({
      sign: "dot",
      fill: palette.rule,
      stroke: palette.paper,
      radius: 4.6,
      text: "grey: other settings",
    });
  }
  return key;
}

/** Curves bear their names; where levels have bars in their place, the key names the groups. */
function groupEntry({ style, label }: ResponseGroup): KeyEntry {
  const shape = shapes[style.symbol];
  return { sign: "dot", shape, fill: style.colour, stroke: palette.paper, radius: 5.4, text: label };
}

const shapes = { circle: "circle", diamond2: "diamond", triangle2: "triangle", square2: "square" } as const;
