import { seededRandom } from "../../src/numerics/index.ts";
import {
  pointsOf,
  type CategoryFactor,
  type Factor,
  type QuantityFactor,
  type Run,
  type RunRole,
  type Settings,
} from "../../src/trial/index.ts";

export const feedFactor: QuantityFactor = {
  kind: "quantity",
  name: "feed",
  unit: "mm/rev",
  low: 0.08,
  high: 0.24,
  scale: "linear",
  change: "easy",
};
export const speedFactor: QuantityFactor = {
  kind: "quantity",
  name: "speed",
  unit: "m/min",
  low: 150,
  high: 300,
  scale: "linear",
  change: "easy",
};
export const depthFactor: QuantityFactor = {
  kind: "quantity",
  name: "depth",
  unit: "mm",
  low: 0.1,
  high: 0.3,
  scale: "linear",
  change: "easy",
};
export const edgeFactor: CategoryFactor = {
  kind: "category",
  name: "edge",
  levels: ["fresh", "used"],
  change: "easy",
};

/** All combinations in a shuffled order, made here so that figures are tested apart from the project's own layouts. */
export function plan(
  factors: readonly Factor[],
  options: {
    readonly replicates?: number;
    readonly centre?: number;
    readonly blocks?: number;
    readonly anchor?: Settings;
  },
): readonly Run[] {
  const { replicates = 1, centre = 0, blocks = 1, anchor } = options;
  let settings: Settings[] = [{}];
  for (const factor of factors)
    settings = settings.flatMap((each) =>
      pointsOf(factor).map((point) => ({ ...each, [factor.name]: point })),
    );
  const middle = Object.fromEntries(
    factors.map((factor) => [
      factor.name,
      factor.kind === "quantity" ? (factor.low + factor.high) / 2 : factor.levels[0],
    ]),
  );
  const role: RunRole = factors.length === 1 ? "level" : "corner";
  type Planned = Pick<Run, "settings" | "role">;
  const all: Planned[] = [
    ...Array.from({ length: replicates }, (): Planned[] =>
      settings.map((each) => ({ settings: each, role })),
    ).flat(),
    ...Array.from({ length: centre }, (): Planned => ({ settings: middle, role: "centre" })),
  ];
  const shuffled = seededRandom(7).shuffle(all);
  const withAnchors: readonly Planned[] =
    anchor === undefined
      ? shuffled
      : shuffled.flatMap((each, index): Planned[] =>
          index % 4 === 0 ? [{ settings: anchor, role: "anchor" }, each] : [each],
        );
  return withAnchors.map((each, index) => ({
    run: index + 1,
    standard: index + 1,
    block: Math.floor((index * blocks) / withAnchors.length) + 1,
    ...each,
  }));
}
