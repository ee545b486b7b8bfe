import { listed } from "../../units/index.ts";
import { layoutFigure, orderStripFigure } from "../../figure/index.ts";
import { layOut, LayoutError } from "../../layout/index.ts";
import { settingsAsCut, settingText, type Factor, type Trial } from "../../trial/index.ts";
import type { Part, Section } from "../part.ts";
import { counted, typedInBothSystems } from "../words.ts";
import { figurePart } from "./found.ts";

/** How it was cut: layout and order, factors, machine, what stayed still, the runs, and what was cut otherwise than planned. */
export function planSection(trial: Trial): Section {
  const { spec } = trial;
  return {
    id: "plan",
    title: "How it was cut",
    parts: [
      { kind: "facts", facts: planFacts(trial) },
      factorTable(trial),
      ...figurePart(
        () => layoutFigure(trial),
        "The runs where they stand, each with its place in cutting order.",
      ),
      ...figurePart(() => orderStripFigure(trial), "What each factor was set to, run by run."),
      {
        kind: "folded",
        summary: `The run table: ${counted(trial.runs.length, "run")}`,
        parts: [runTable(trial)],
      },
      ...asCutParts(trial, spec.factors),
    ],
  };
}

const layoutNames: Readonly<Record<string, string>> = {
  sweep: "sweep of one factor",
  factorial: "factorial",
  fraction: "fraction of a factorial",
  "plackett-burman": "Plackett–Burman",
  "definitive-screening": "definitive screening",
  "central-composite": "central composite",
  "box-behnken": "Box–Behnken",
  "orthogonal-array": "orthogonal array",
  "latin-square": "Latin square",
  optimal: "optimal",
  given: "given: the runs were chosen elsewhere",
};

function planFacts(trial: Trial): readonly (readonly [string, string])[] {
  const { spec, runs } = trial;
  const blocks = new Set(runs.map((run) => run.block)).size;
  const facts: (readonly [string, string])[] = [
    ["Layout", layoutNames[spec.layout.kind] ?? spec.layout.kind],
    ["Runs", `${runs.length}${blocks > 1 ? ` in ${blocks} blocks` : ""}`],
  ];
  const rules = orderRules(trial);
  if (rules.length > 0) facts.push(["Order", rules.join(" ")]);
  for (const [name, text] of Object.entries(spec.held))
    facts.push([`Held: ${name}`, typedInBothSystems(text)]);
  const { diameter, noseRadius, teeth, wiper } = spec.cutter ?? {};
  const cutter = [
    diameter === undefined ? "" : `diameter ${typedInBothSystems(diameter)}`,
    noseRadius === undefined ? "" : `nose radius ${typedInBothSystems(noseRadius)}`,
    teeth === undefined ? "" : counted(teeth, "tooth", "teeth"),
    wiper === undefined ? "" : `wiper ${typedInBothSystems(wiper)}`,
  ].filter((text) => text !== "");
  if (cutter.length > 0) facts.push(["Cutter", cutter.join(", ")]);
  const { maxSpeed, maxFeedSpeed } = spec.machine ?? {};
  const machine = [maxSpeed, maxFeedSpeed].filter((text) => text !== undefined).map(typedInBothSystems);
  if (machine.length > 0) facts.push(["Machine", `at most ${listed(machine)}`]);
  const { length, width } = spec.pass ?? {};
  const pass = [
    length === undefined ? "" : `${typedInBothSystems(length)} long`,
    width === undefined ? "" : `${typedInBothSystems(width)} wide`,
  ].filter((text) => text !== "");
  if (pass.length > 0) facts.push(["Pass", pass.join(", ")]);
  return facts;
}

/** The rules that the order obeys, where the plan is still the one that its layout gives (runs may have been added after it). */
function orderRules({ spec, runs }: Trial): readonly string[] {
  try {
    const layout = layOut(spec);
    const same = layout.runs.every(
      (run, at) => JSON.stringify(runs[at]?.settings) === JSON.stringify(run.settings),
    );
    return same ? layout.orderRules : [];
  } catch (error) {
    // Options that this version can't lay out: the runs stand in the table all the same.
    if (error instanceof LayoutError) return [];
    throw error;
  }
}

function factorTable({ spec, runs, asCut }: Trial): Part {
  const settings = runs.map((run) => settingsAsCut({ spec, runs, asCut }, run));
  return {
    kind: "table",
    caption: "The factors.",
    table: {
      columns: ["factor", "from", "to", "settings cut"],
      rows: spec.factors.map((factor) => {
        const cut = [...new Set(settings.map((each) => each[factor.name]))];
        if (factor.kind === "category")
          return [factor.name, null, null, listed(factor.levels.filter((level) => cut.includes(level)))];
        const numbers = cut.map(Number).sort((a, b) => a - b);
        const both = (value: number): string => settingText(factor, value, "both");
        const many = numbers.length > 12;
        const list = many
          ? `${numbers.length} settings`
          : `${numbers.map((value) => Number(value.toPrecision(6))).join(", ")} ${factor.unit}`;
        return [factor.name, both(numbers[0] ?? factor.low), both(numbers.at(-1) ?? factor.high), list];
      }),
    },
  };
}

function runTable({ spec, runs, asCut }: Trial): Part {
  const blocked = new Set(runs.map((run) => run.block)).size > 1;
  const heads = spec.factors.map((factor) =>
    factor.kind === "quantity" ? `${factor.name} [${factor.unit}]` : factor.name,
  );
  return {
    kind: "table",
    caption: "Runs in cutting order, as they were cut.",
    table: {
      columns: ["run", ...(blocked ? ["block"] : []), "role", ...heads],
      rows: runs.map((run) => {
        const settings = settingsAsCut({ spec, runs, asCut }, run);
        return [
          run.run,
          ...(blocked ? [run.block] : []),
          run.role,
          ...spec.factors.map((factor) => settings[factor.name] ?? null),
        ];
      }),
    },
  };
}

function asCutParts({ asCut }: Trial, factors: readonly Factor[]): readonly Part[] {
  if (asCut.length === 0) return [];
  const unitOf = (name: string, unit: string): string => {
    const factor = factors.find((each) => each.name === name);
    return unit === "" && factor?.kind === "quantity" ? factor.unit : unit;
  };
  return [
    {
      kind: "table",
      caption: "Cut otherwise than planned; the analysis uses what was cut.",
      table: {
        columns: ["run", "factor", "cut at", "reason"],
        rows: asCut.map(({ run, factor, value, unit, reason }) => [
          run,
          factor,
          `${value} ${unitOf(factor, unit)}`.trim(),
          reason,
        ]),
      },
    },
  ];
}
