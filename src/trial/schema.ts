import { z } from "zod";
import { readQuantity, readUnit, unitNames, type Dimension, type UnitName } from "../units/index.ts";
import { nearestName } from "./nearest-name.ts";

// Each message below is "expected … . How to mend it." with the first word left out; parse-trial-spec.ts puts the file,
// the path and what was given before it.
const wants = (expected: string, mend: string): { readonly error: string } => ({
  error: `${expected}|${mend}`,
});

const finite = (what: string): z.ZodNumber =>
  z.number(wants(`${what}, a number`, 'Write it without quotes, such as 0.08; the unit stands in "unit".'));
const words = (what: string): z.ZodString => z.string(wants(`${what}, as text`, "Write it in quotes."));
const choice = <const T extends readonly [string, ...string[]]>(
  values: T,
): z.ZodEnum<{ [K in T[number]]: K }> =>
  z.enum(values, wants(`one of ${values.map((value) => `"${value}"`).join(", ")}`, "Write one of these."));
const count = (what: string): z.ZodNumber =>
  z
    .number(wants(`${what}, a whole number`, "Write it without quotes, such as 12."))
    .int(wants(`${what}, a whole number`, "Write it without decimals."))
    .min(1, wants(`${what}, at least 1`, "Raise it, or leave it out."));

/** A unit as people type it ("um", "mm / rev"), turned into its canonical name. */
const unit = words("a unit").transform((text, context): UnitName => {
  const answer = readUnit(text);
  if (answer.kind === "value") return answer.value;
  const near = answer.kind === "refused" ? nearestName(text, unitNames) : null;
  const mend = answer.kind === "question" ? answer.question : answer.message;
  issue(context, "a unit that Trycut knows", near === null ? mend : `Did you mean "${near}"?`);
  return z.NEVER;
});

/** A quantity written as text with its unit, of one dimension; the text stays as it was typed. */
function quantityText(
  dimension: Dimension,
  example: string,
  { least = "above zero" } = {},
): z.ZodType<string> {
  const expected = `a ${dimension} as text with its unit, such as "${example}"`;
  return z.string(wants(expected, "Write number and unit in quotes.")).superRefine((text, context) => {
    const answer = readQuantity(text, { dimension });
    if (answer.kind === "question") issue(context, expected, answer.question);
    else if (answer.kind === "refused") issue(context, expected, answer.message);
    else if (answer.value.value < 0 || (answer.value.value === 0 && least === "above zero")) {
      issue(context, `${expected}, ${least}`, "Give the size itself.");
    }
  });
}

function issue(context: z.RefinementCtx, expected: string, mend: string): void {
  context.addIssue({ code: "custom", message: `${expected}|${mend}` });
}

const change = choice(["easy", "hard"]).default("easy");
const factorName = words("the factor's name");

const quantityFactor = {
  kind: z.literal("quantity"),
  name: factorName,
  unit,
  low: finite("the lowest setting"),
  high: finite("the highest setting"),
  scale: choice(["linear", "log"]).default("linear"),
  levels: z.array(finite("a level"), wants("a list of numbers", "Write [0.08, 0.16, 0.24].")).optional(),
  increment: finite("the smallest step the machine can set")
    .positive(wants("a step above zero", "Raise it or leave it out."))
    .optional(),
  change,
};

const categoryFactor = {
  kind: z.literal("category"),
  name: factorName,
  levels: z.array(words("the name of a level"), wants("a list of level names", 'Write ["fresh", "used"].')),
  change,
};

const response = {
  name: words("the response's name"),
  unit,
  aim: choice(["smaller", "larger", "target"]).default("smaller"),
  limit: finite("the limit in the response's unit").optional(),
};

const cutter = {
  diameter: quantityText("length", "80 mm").optional(),
  noseRadius: quantityText("length", "0.8 mm").optional(),
  teeth: count("the number of teeth").optional(),
  maxSpeed: quantityText("spindle speed", "8000 rev/min").optional(),
  wiper: quantityText("length", "1.2 mm").optional(),
};

const machine = {
  maxSpeed: quantityText("spindle speed", "6000 rev/min").optional(),
  maxFeedSpeed: quantityText("speed", "5000 mm/min").optional(),
};

const pass = {
  length: quantityText("length", "180 mm").optional(),
  width: quantityText("length", "60 mm").optional(),
  approach: quantityText("length", "40 mm", { least: "zero or more" }).optional(),
  overtravel: quantityText("length", "5 mm", { least: "zero or more" }).optional(),
  kind: choice(["milling", "turning"]).optional(),
};

const budget = {
  passes: count("the passes at hand").optional(),
  minutes: finite("the minutes at hand")
    .positive(wants("minutes above zero", "Raise it or leave it out."))
    .optional(),
  stock: quantityText("length", "3 mm").optional(),
  edges: count("the edges at hand").optional(),
  minutesBetween: finite("the minutes between passes")
    .min(0, wants("minutes, zero or more", "Raise it."))
    .optional(),
};

const measurement = {
  cutoff: quantityText("length", "0.8 mm").optional(),
  tipRadius: quantityText("length", "2 µm").optional(),
  across: choice(["lay", "along"]).optional(),
};

const texts = z.record(
  z.string(),
  words("a quantity or a few words"),
  wants("names with texts", 'Write { "depth": "0.1 mm" }.'),
);
const section = <S extends z.ZodRawShape>(shape: S): z.ZodOptional<z.ZodObject<S, z.core.$strict>> =>
  z.strictObject(shape, wants("an object in braces", "Write { … } or leave it out.")).optional();

const trial = {
  format: z
    .literal("trycut-trial/1", wants('"trycut-trial/1"', "This version reads no other format."))
    .default("trycut-trial/1"),
  title: words("the title").default("Untitled trial"),
  question: words("the question that the trial is to answer").default(""),
  dataKind: choice(["measured", "published", "invented"]).default("measured"),
  source: words("where the readings come from").default(""),
  display: choice(["metric", "inch"]).default("metric"),
  factors: z.array(
    z.discriminatedUnion(
      "kind",
      [z.strictObject(quantityFactor), z.strictObject(categoryFactor)],
      wants('a factor of kind "quantity" or "category"', 'Write { "name": "feed", "kind": "quantity", … }.'),
    ),
    wants("a list of factors", 'Write [{ "name": "feed", "kind": "quantity", … }].'),
  ),
  responses: z
    .array(
      z.strictObject(response, wants("a response", 'Write { "name": "Ra", "unit": "µm" }.')),
      wants("a list of responses", 'Write [{ "name": "Ra", "unit": "µm" }].'),
    )
    .default([]),
  layout: z.looseObject(
    { kind: words("the kind of layout") },
    wants("a layout with its kind", 'Write { "kind": "sweep" }.'),
  ),
  held: texts.default({}),
  cutter: section(cutter),
  machine: section(machine),
  pass: section(pass),
  budget: section(budget),
  measurement: section(measurement),
  today: z
    .record(
      z.string(),
      z.union(
        [z.number(), z.string()],
        wants("a number in the factor's unit, a quantity as text, or a level", 'Write { "feed": 0.12 }.'),
      ),
      wants("names with today's settings", 'Write { "feed": 0.12 }.'),
    )
    .optional(),
};

/** The shape of trial.json; what concerns several fields at once is checked in check-factors.ts. */
export const trialSchema = z.strictObject(
  trial,
  wants("one object in braces", 'Write { "title": "…", "factors": [ … ], … }.'),
);

/** The keys that each part of trial.json may have, by the part's path with list places left out. */
export function knownKeys(part: string, kind: unknown): readonly string[] {
  if (part === "factors") return Object.keys(kind === "category" ? categoryFactor : quantityFactor);
  const shapes: Readonly<Record<string, object>> = {
    "": trial,
    responses: response,
    cutter,
    machine,
    pass,
    budget,
    measurement,
  };
  return Object.keys(shapes[part] ?? {});
}
