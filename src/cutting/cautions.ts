import type { TrialSpec } from "../trial/index.ts";
import { readQuantity, valueIn } from "../units/index.ts";

/**
 * The cautions to print on a plan, a run sheet and a page, one sentence or two each: the limits that the trial states,
 * what its material, coolant and cutter bring with them, and the usual ones. They remind; they replace neither the
 * machine's manual nor the tool maker's limits, local codes or licensed practice, and say so.
 * Source: common practice.
 *
 * @example cautions(spec)[0] // "Speed limits stated in this trial: machine 6000 rev/min, cutter 8000 rev/min. …"
 */
export function cautions(spec: TrialSpec): readonly string[] {
  return [
    speedLimits(spec),
    ...unbalanced(spec),
    ...feedLimit(spec),
    "Clamp for an interrupted cut, and check the clearance of cutter, holder and clamps over the full travel before run 1.",
    stock(spec),
    "Keep guards shut and wear eye and ear protection. No gloves near the spindle; clear chips only when it stands still.",
    ...fire(spec),
    "Fluids and mist: extract or ventilate, protect the skin, and read the safety data sheet.",
    "Let part and spindle reach working temperature before run 1.",
    "Settings that hold on this machine may not hold on another: cut the stated proof runs before production parts.",
    "The machine's manual, the tool maker's limits, local codes and licensed practice go before anything printed here.",
  ];
}

function speedLimits(spec: TrialSpec): string {
  const limits = (
    [
      ["machine", spec.machine?.maxSpeed],
      ["cutter", spec.cutter?.maxSpeed],
    ] as const
  ).flatMap(([part, text]) => (text === undefined ? [] : [{ part, text, revPerMin: inRevPerMin(text) }]));
  const stay = "Stay under the lowest limit of spindle, cutter and holder";
  if (limits.length === 0)
    return `No speed limit is stated in this trial: look them up before cutting. ${stay}.`;
  const stated = limits.map(({ part, text }) => `${part} ${text}`).join(", ");
  // A limit on the rim ("300 m/min") can't be set beside one on the spindle: then none is called the lowest.
  const [lowest] = limits.every(({ revPerMin }) => revPerMin !== null)
    ? [...limits].sort((a, b) => (a.revPerMin ?? 0) - (b.revPerMin ?? 0))
    : [];
  const which =
    limits.length > 1 && lowest !== undefined ? `, here at most ${lowest.text} (${lowest.part})` : "";
  return `Speed limits stated in this trial: ${stated}. ${stay}${which}; the holder's is to be looked up.`;
}

function inRevPerMin(text: string): number | null {
  const answer = readQuantity(text, { unit: "rev/min" });
  return answer.kind === "value" ? valueIn(answer.value, "rev/min") : null;
}

/** A single tooth can't be balanced by another one, and a large rim runs fast. */
function unbalanced(spec: TrialSpec): string[] {
  const { teeth, diameter } = spec.cutter ?? {};
  const size = diameter === undefined ? null : readQuantity(diameter, { unit: "mm" });
  const large = size?.kind === "value" && valueIn(size.value, "mm") >= 100;
  if (spec.pass?.kind === "turning" || (teeth !== 1 && !large)) return [];
  const which = teeth === 1 ? "A cutter with a single tooth" : `A cutter of ${diameter ?? "this size"}`;
  return [
    `${which} is limited far below the spindle: keep to its maker's speed, balance it, and check the insert's seat and screw.`,
  ];
}

function feedLimit(spec: TrialSpec): string[] {
  const limit = spec.machine?.maxFeedSpeed;
  return limit === undefined ? [] : [`Feed limit stated in this trial: ${limit}.`];
}

function stock(spec: TrialSpec): string {
  const stated = spec.budget?.stock;
  const check = "measure that the stock left allows every planned pass";
  return stated === undefined
    ? `No stock is stated in this trial: ${check}.`
    : `Stock stated in this trial: ${stated}; ${check}, with the clamps still out of reach of the cutter.`;
}

/** Metals whose fines burn, by the words that name them; alloy codes of magnesium are two letters and two digits (AZ91). */
const burning = [
  {
    metal: "magnesium",
    pattern: /\b[Mm]agnesium\b|\bMAGNESIUM\b|\b(AZ|AM|ZK|WE|AE|EZ)\d{2}[A-Z]?\b/,
    extinguisher: "class D",
  },
  { metal: "titanium", pattern: /\btitanium\b|\bTi-?6Al-?4V\b/i, extinguisher: "class D" },
  {
    metal: "aluminium",
    pattern: /\balumini?um\b|\bAlSi|\bAlMg|\bAlCu/i,
    extinguisher: "one for burning metal fines",
  },
] as const;

function fire(spec: TrialSpec): string[] {
  const words = allWords(spec);
  const named = burning.filter(({ pattern }) => pattern.test(words));
  const general =
    "Oil mist, aluminium and magnesium fines, and dry cutting of either, are fire hazards: the right extinguisher within reach " +
    "(class D for magnesium), no compressed air on dust, fines swept up and kept dry in a closed metal bin.";
  const special = named.map(({ metal, extinguisher }) =>
    metal === "magnesium"
      ? "This trial names magnesium: class D extinguisher or dry sand at the machine, never water on a fire, sharp edges, no dwell, and chips removed after every run. " +
        "Water-based fluid sets hydrogen free: use only what its maker allows for magnesium."
      : `This trial names ${metal}: its fines burn; have ${extinguisher} within reach and remove chips often.`,
  );
  const dry = /\bdry\b/i.test(words)
    ? ["Runs cut dry: watch for heat, smoke and glowing chips, and stop at the first."]
    : [];
  return [general, ...special, ...dry];
}

function allWords(spec: TrialSpec): string {
  const levels = spec.factors.flatMap((factor) =>
    factor.kind === "category" ? [factor.name, ...factor.levels] : [],
  );
  return [spec.title, spec.question, spec.source, ...Object.values(spec.held), ...levels].join(" | ");
}
