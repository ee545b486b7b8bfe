import { z } from "zod";
import { taylorLife, type PassConditions } from "../../cutting/index.ts";
import type { Factor, Settings } from "../../trial/index.ts";
import { parseQuantity, valueIn, type UnitName, listed } from "../../units/index.ts";
import { LayoutError } from "../error.ts";
import type { Predicate } from "../layout.ts";

const bound = { atMost: z.number().optional(), atLeast: z.number().optional() };
const quantityBound = { atMost: z.string().optional(), atLeast: z.string().optional() };

/**
 * What a run may not do. `sum` weighs settings of quantities in their own units: { "sum": { "feed": 1000, "speed": 0.1 },
 * "atMost": 300 }. `limit` bounds what follows from the settings by the trial's cutter and pass. `never` names settings that
 * are not cut together.
 */
export const constraintSchema = z.union(
  [
    z.strictObject({ sum: z.record(z.string(), z.number()), ...bound }),
    z.strictObject({
      limit: z.enum(["removal rate", "surface speed", "spindle speed", "feed speed"]),
      ...quantityBound,
    }),
    /** Taylor's V·Tⁿ = C, with C the surface speed of one minute's life. */
    z.strictObject({
      limit: z.literal("tool life"),
      exponent: z.number().positive(),
      constant: z.string(),
      atLeast: z.string(),
    }),
    z.strictObject({ never: z.record(z.string(), z.union([z.number(), z.string()])) }),
  ],
  {
    error:
      'one of { "sum": { "feed": 1000, "speed": 0.1 }, "atMost": 300 }, { "limit": "surface speed", "atMost": "250 m/min" } (or removal rate, spindle speed, feed speed), { "limit": "tool life", "exponent": 0.25, "constant": "300 m/min", "atLeast": "15 min" }, { "never": { "edge": "used", "coolant": "dry" } }',
  },
);

export type Constraint = z.output<typeof constraintSchema>;

/** Constraints as predicates with reasons. `conditions` is missing where the trial says nothing about cutting. */
export function predicatesOf(
  factors: readonly Factor[],
  constraints: readonly Constraint[],
  conditions: ((settings: Settings) => PassConditions) | undefined,
): readonly Predicate[] {
  return constraints.map((constraint, index) => {
    const path = `layout.constraints.${index}`;
    if ("sum" in constraint) return sumPredicate(factors, constraint, path);
    if ("never" in constraint) return neverPredicate(factors, constraint.never, path);
    if (!conditions) {
      throw new LayoutError(
        `${path}: a limit on ${constraint.limit} needs the trial's cutter, pass and held settings.`,
      );
    }
    return limitPredicate(constraint, conditions, path);
  });
}

function sumPredicate(
  factors: readonly Factor[],
  constraint: Extract<Constraint, { sum: unknown }>,
  path: string,
): Predicate {
  const { sum, atMost = Number.POSITIVE_INFINITY, atLeast = Number.NEGATIVE_INFINITY } = constraint;
  for (const name of Object.keys(sum)) {
    const factor = factors.find((candidate) => candidate.name === name);
    if (factor?.kind !== "quantity") {
      const quantities = factors
        .filter((candidate) => candidate.kind === "quantity")
        .map((candidate) => candidate.name);
      throw new LayoutError(
        `${path}.sum: "${name}" is not a factor that is a quantity. Those are ${listed(quantities)}.`,
      );
    }
  }
  if (constraint.atMost === undefined && constraint.atLeast === undefined) throw noBound(path);
  const words = Object.entries(sum)
    .map(([name, weight]) => `${weight} × ${name}`)
    .join(" + ");
  return (settings) => {
    const total = Object.entries(sum).reduce(
      (all, [name, weight]) => all + weight * Number(settings[name]),
      0,
    );
    const slack =
      1e-9 * (Math.abs(atMost) === Number.POSITIVE_INFINITY ? Math.abs(atLeast) : Math.abs(atMost));
    if (total > atMost + slack) return `${words} is above ${atMost}`;
    if (total < atLeast - slack) return `${words} is below ${atLeast}`;
    return null;
  };
}

function neverPredicate(factors: readonly Factor[], never: Settings, path: string): Predicate {
  for (const [name, setting] of Object.entries(never)) {
    const factor = factors.find((candidate) => candidate.name === name);
    if (!factor) {
      throw new LayoutError(
        `${path}.never: "${name}" is not a factor. Factors are ${listed(factors.map((candidate) => candidate.name))}.`,
      );
    }
    if (factor.kind === "category" && !factor.levels.includes(String(setting))) {
      throw new LayoutError(
        `${path}.never: ${JSON.stringify(setting)} is not a level of ${name}. Its levels are ${listed(factor.levels)}.`,
      );
    }
  }
  const words = Object.entries(never).map(([name, setting]) => `${name} ${setting}`);
  return (settings) =>
    Object.entries(never).every(([name, setting]) => settings[name] === setting)
      ? `${listed(words)} are never cut together`
      : null;
}

const limits = {
  "removal rate": { field: "removalRateCm3PerMin", unit: "cm³/min" },
  "surface speed": { field: "surfaceSpeedMPerMin", unit: "m/min" },
  "spindle speed": { field: "spindleSpeedRevPerMin", unit: "rev/min" },
  "feed speed": { field: "feedSpeedMmPerMin", unit: "mm/min" },
} as const;

function limitPredicate(
  constraint: Extract<Constraint, { limit: unknown }>,
  conditions: (settings: Settings) => PassConditions,
  path: string,
): Predicate {
  if (constraint.limit === "tool life") return lifePredicate(constraint, conditions, path);
  const { field, unit } = limits[constraint.limit];
  const [most, least] = [constraint.atMost, constraint.atLeast].map((text) =>
    text === undefined ? undefined : numberIn(text, unit, path),
  );
  if (most === undefined && least === undefined) throw noBound(path);
  return (settings) => {
    const pass = conditions(settings);
    const value = pass[field];
    if (value === null) {
      throw new LayoutError(
        `${path}: the ${constraint.limit} can't be reckoned. ${pass.missing.find(({ what }) => what === field)?.why ?? ""}`,
      );
    }
    if (most !== undefined && value > most * (1 + 1e-9))
      return `the ${constraint.limit} is above ${constraint.atMost}`;
    if (least !== undefined && value < least * (1 - 1e-9))
      return `the ${constraint.limit} is below ${constraint.atLeast}`;
    return null;
  };
}

function lifePredicate(
  constraint: { readonly exponent: number; readonly constant: string; readonly atLeast: string },
  conditions: (settings: Settings) => PassConditions,
  path: string,
): Predicate {
  const constant = numberIn(constraint.constant, "m/min", path);
  const least = numberIn(constraint.atLeast, "min", path);
  return (settings) => {
    const speed = conditions(settings).surfaceSpeedMPerMin;
    if (speed === null)
      throw new LayoutError(
        `${path}: the tool life needs a surface speed. State a speed and the cutter's diameter.`,
      );
    const life = taylorLife(speed, { exponent: constraint.exponent, speedForOneMinuteMPerMin: constant });
    return life < least ? `the tool life is below ${constraint.atLeast}` : null;
  };
}

function numberIn(text: string, unit: UnitName, path: string): number {
  try {
    return valueIn(parseQuantity(text, { unit }), unit);
  } catch (cause) {
    throw new LayoutError(`${path}: ${cause instanceof Error ? cause.message : String(cause)}`, { cause });
  }
}

function noBound(path: string): LayoutError {
  return new LayoutError(`${path}: a constraint needs "atMost" or "atLeast".`);
}
