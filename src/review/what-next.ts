import {
  nextPasses,
  type Fit,
  type NextPasses,
  type NextPassesOptions,
  type Outlook,
} from "../model/index.ts";
import { settingText, type Trial } from "../trial/index.ts";
import { formatNumber, listed } from "../units/index.ts";

/** What to cut next and what stopping costs, in sentences, with the figures behind them. */
export interface WhatNext extends NextPasses {
  /** Whether to go on, in one sentence. */
  readonly advice: "stop" | "cut" | "no recipe yet";
  readonly sentences: readonly string[];
  readonly text: string;
  /** The passes to cut, one a row, with the doubt that is left after each. */
  readonly table: {
    readonly columns: readonly string[];
    readonly rows: readonly (readonly (string | number)[])[];
  };
}

/** A gain below this share is not worth a pass, and is less than the scatter of most machines. */
const worthwhile = 0.005;

/**
 * What to cut next: the few passes that narrow a recipe's doubt most, what they may be expected to gain, and what stopping now gives away, in plain sentences. See
 * `nextPasses` for how they are found and what is refused.
 * Example: `whatNext(trial, fits).sentences[0]` is "Stopping now gives away 12 % of removal: …".
 */
export function whatNext(trial: Trial, fits: readonly Fit[], options: NextPassesOptions = {}): WhatNext {
  const next = nextPasses(trial, fits, options);
  const { now, expected, ifKnown, gain, costOfStopping } = next;
  const advice = !now.kept ? "no recipe yet" : (gain ?? 0) < worthwhile ? "stop" : "cut";
  const sentences =
    advice === "no recipe yet" ? withoutRecipe(next, trial) : [stopping(next), cutting(next, trial, advice)];
  if (expected.kept || now.kept)
    sentences.push("This supposes that estimates and scatter stay where they are; the passes may move both.");
  const own = [...new Set(fits.flatMap((fit) => fit.evaluator?.().fresh ?? []))];
  if (own.length > 0)
    sentences.push(
      `It supposes too that each pass brings a fresh ${listed(own)}: passes that share one tell less.`,
    );
  const doubt = (share: number): string => `${formatNumber(Math.round(100 * share))} %`;
  return {
    ...next,
    advice,
    sentences,
    text: sentences.join(" "),
    table: {
      columns: [
        "pass",
        ...trial.spec.factors.map(({ name }) => name),
        ...next.narrowed.map((name) => `doubt of ${name} left`),
      ],
      rows: next.passes.map(({ settings, doubtLeft }, k) => [
        k + 1,
        ...trial.spec.factors.map((factor) =>
          settingText(factor, settings[factor.name] ?? "", trial.spec.display),
        ),
        ...next.narrowed.map((name) => doubt(doubtLeft[name] ?? 1)),
      ]),
    },
  };

  function withoutRecipe({ passes, narrowed }: NextPasses, of: Trial): string[] {
    if (!ifKnown.kept)
      return [
        `No setting keeps every limit even by the estimates themselves: more passes at these settings won't mend ${listed(narrowed)}. Move the limit, or try what was not cut yet.`,
      ];
    const then = expected.kept
      ? `With ${count(passes.length)} the bounds would leave ${told(expected)}.`
      : `${count(passes.length)} more would not be enough.`;
    return [
      `No setting keeps every limit with this assurance yet, though the estimates themselves would allow ${told(ifKnown)}: the doubt is in the way, of ${listed(narrowed)} above all.`,
      `${then} Most would be learnt at ${placesText(next, of)}.`,
    ];
  }

  function stopping({ narrowed }: NextPasses): string {
    if ((costOfStopping ?? 0) < worthwhile)
      return "Stopping now gives away nothing: the estimates themselves would allow no faster setting.";
    return `Stopping now gives away ${share(costOfStopping ?? 0)}: the estimates themselves would allow ${told(ifKnown)}, the bounds of ${listed(narrowed)} allow ${told(now)}.`;
  }
}

function cutting(next: NextPasses, trial: Trial, advice: WhatNext["advice"]): string {
  const { passes, gain, expected, now } = next;
  if (advice === "stop")
    return `${count(passes.length)} more, where most is learnt, would not move the recipe by an increment that matters: stop, and cut the proof runs.`;
  const less =
    now.minutes === null || expected.minutes === null || now.minutes - expected.minutes <= 0
      ? ""
      : `, ${formatNumber(now.minutes - expected.minutes, { digits: 2 })} min a part less`;
  return `Most would be learnt from ${count(passes.length).toLowerCase()} at ${placesText(next, trial)}: ${told(expected)} may then be expected, ${share(gain ?? 0)} more${less}.`;
}

function count(passes: number): string {
  return passes === 1 ? "One pass" : `${passes} passes`;
}

/** "2.10 cm³/min", "1.37 min a pass". */
function told({ removalRateCm3PerMin, minutes, score }: Outlook): string {
  if (removalRateCm3PerMin !== null) return `${formatNumber(removalRateCm3PerMin, { digits: 3 })} cm³/min`;
  if (minutes !== null) return `${formatNumber(minutes, { digits: 3 })} min a pass`;
  return score === null ? "no setting" : `a product of ${formatNumber(score, { digits: 3 })}`;
}

function share(gain: number): string {
  return `${formatNumber(Number((100 * gain).toPrecision(2)))} %`;
}

/** The passes by their settings, those at one place counted. */
function placesText({ passes }: NextPasses, { spec }: Trial): string {
  const counts = new Map<string, number>();
  for (const { settings } of passes) {
    const place = spec.factors
      .map((factor) => `${factor.name} ${settingText(factor, settings[factor.name] ?? "", spec.display)}`)
      .join(", ");
    counts.set(place, (counts.get(place) ?? 0) + 1);
  }
  return listed([...counts].map(([place, times]) => (times === 1 ? place : `${place} (${times} times)`)));
}
