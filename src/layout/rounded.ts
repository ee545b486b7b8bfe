import { listed } from "../units/index.ts";
import type { Factor, QuantityFactor, Settings } from "../trial/index.ts";
import { LayoutError } from "./error.ts";
import { settable } from "./levels.ts";
import type { StandardLayout } from "./layout.ts";

/**
 * A layout with every setting on the steps that the machine can set. Says what was moved; refuses where two settings of a
 * layout would fall together. Runs that came from elsewhere stand as they were cut.
 */
export function rounded(factors: readonly Factor[], standard: StandardLayout): StandardLayout {
  const stepped = factors.filter(
    (factor): factor is QuantityFactor => factor.kind === "quantity" && factor.increment !== undefined,
  );
  if (stepped.length === 0) return standard;
  const moves = stepped.map((factor) => ({ factor, move: moveOf(factor, standard) }));
  const round = (settings: Settings): Settings => ({
    ...settings,
    ...Object.fromEntries(
      moves.map(({ factor, move }) => {
        const setting = settings[factor.name];
        return [factor.name, (typeof setting === "number" ? move.get(setting) : undefined) ?? setting ?? ""];
      }),
    ),
  });
  return {
    ...standard,
    runs: standard.runs.map((run) =>
      run.role === "given" ? run : { ...run, settings: round(run.settings) },
    ),
    ...(standard.anchor ? { anchor: { ...standard.anchor, settings: round(standard.anchor.settings) } } : {}),
    notes: [...standard.notes, ...moves.flatMap(({ factor, move }) => moveNotes(factor, move))],
  };
}

/** From each setting of a factor to the nearest one that the machine can take. */
function moveOf(factor: QuantityFactor, standard: StandardLayout): ReadonlyMap<number, number> {
  const settings = [
    ...standard.runs.filter((run) => run.role !== "given"),
    ...(standard.anchor ? [standard.anchor] : []),
  ]
    .map((run) => run.settings[factor.name])
    .filter((setting) => typeof setting === "number");
  const move = new Map(settings.map((setting) => [setting, settable(factor, setting)]));
  const taken = new Map<number, number>();
  for (const [from, to] of [...move].sort(([one], [other]) => one - other)) {
    const before = taken.get(to);
    if (before !== undefined) {
      throw new LayoutError(
        `${factor.name}: settings ${before} and ${from} ${factor.unit} both become ${to} ${factor.unit} with an increment of ${factor.increment} ${factor.unit}. Take fewer levels, a wider range or a finer increment.`,
      );
    }
    taken.set(to, from);
  }
  return move;
}

function moveNotes(factor: QuantityFactor, move: ReadonlyMap<number, number>): readonly string[] {
  const moved = [...move].filter(
    ([from, to]) => Math.abs(from - to) > 1e-9 * (Math.abs(factor.high - factor.low) || 1),
  );
  if (moved.length === 0) return [];
  return [
    `${factor.name}: ${listed(moved.map(([from, to]) => `${Number(from.toPrecision(6))} becomes ${to}`))} ${factor.unit}, because the machine sets steps of ${factor.increment} ${factor.unit}.`,
  ];
}
