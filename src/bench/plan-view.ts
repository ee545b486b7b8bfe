import { cautions, passConditions, type PassConditions } from "../cutting/index.ts";
import { layoutOfRuns, planCost, type Layout } from "../layout/index.ts";
import { orderRulesOf } from "./order-rules.ts";
import { settingText, type Factor, type Run, type TrialSpec } from "../trial/index.ts";
import { formatNumber, parseQuantity, type UnitName } from "../units/index.ts";
import type { CostLine, FactorView, PlannedRunView, PlanView } from "./api.ts";
import type { OutlookDraft } from "./draft.ts";
import { isRefusal } from "./error.ts";
import { noOutlook, outlookView, planAsked } from "./outlook-view.ts";
import { planFigures } from "./plan-figures.ts";
import { setUpTexts } from "./set-up-texts.ts";
import { shown } from "./shown.ts";
import { usedSoFar } from "./used-so-far.ts";

function rangeText(spec: TrialSpec, factor: Factor): string {
  if (factor.kind === "category") return factor.levels.join(", ");
  const text = (setting: number) => settingText(factor, setting, spec.display);
  const ends = `${text(factor.low)} to ${text(factor.high)}`;
  return factor.levels === undefined ? ends : `${ends}, cut at ${factor.levels.map(text).join(", ")}`;
}

export function factorViews(spec: TrialSpec): readonly FactorView[] {
  return spec.factors.map((factor) => ({
    name: factor.name,
    kind: factor.kind,
    range: rangeText(spec, factor),
    unit: factor.kind === "quantity" ? factor.unit : "",
    levels: factor.kind === "category" ? factor.levels : [],
    hardToChange: factor.change === "hard",
  }));
}

/** What follows from the settings and helps at the machine: told where a run states enough and no factor says it already. */
const conditionKinds: readonly {
  readonly name: string;
  readonly unit: UnitName;
  readonly of: (pass: PassConditions) => number | null;
}[] = [
  { name: "spindle", unit: "rev/min", of: (pass) => pass.spindleSpeedRevPerMin },
  { name: "feed speed", unit: "mm/min", of: (pass) => pass.feedSpeedMmPerMin },
  { name: "time in cut", unit: "min", of: (pass) => pass.minutes },
];

export interface RunViews {
  readonly conditions: readonly string[];
  readonly runs: readonly PlannedRunView[];
}

/** The runs in cutting order with their settings as text, and what follows from the settings. */
export function runViews(spec: TrialSpec, runs: readonly Run[]): RunViews {
  const passes = runs.map((run) => passConditions(spec, run.settings));
  const units = new Set(spec.factors.map((factor) => (factor.kind === "quantity" ? factor.unit : "")));
  const kinds = conditionKinds.filter(
    ({ unit, of }) => !units.has(unit) && passes.some((pass) => of(pass) !== null),
  );
  const used = usedSoFar(spec, runs);
  const setUps = setUpTexts(spec, runs);
  const hasUsed = used.runs.some((text) => text !== "");
  return {
    conditions: [...kinds.map(({ name }) => name), ...(hasUsed ? ["used so far"] : [])],
    runs: runs.map((run, index) => ({
      run: run.run,
      standard: run.standard,
      block: run.block,
      role: run.role,
      settings: spec.factors.map((factor) =>
        settingText(factor, run.settings[factor.name] ?? "", spec.display),
      ),
      conditions: [
        ...kinds.map(({ unit, of }) => {
          const pass = passes[index];
          const value = pass === undefined ? null : of(pass);
          return value === null ? "" : shown(spec, value, unit);
        }),
        ...(hasUsed ? [used.runs[index] ?? ""] : []),
      ],
      endsBefore: used.ends.get(run.run) ?? [],
      setUp: setUps[index] ?? "",
    })),
  };
}

/** What the plan uses up, against what is at hand. */
export function costLines(spec: TrialSpec, runs: readonly Run[]): readonly CostLine[] {
  const { total } = planCost(spec, runs);
  const budget = spec.budget ?? {};
  const line = (
    what: string,
    used: number | null,
    atHand: number | undefined,
    text: (amount: number) => string,
  ): CostLine[] => {
    if (used === null && atHand === undefined) return [];
    return [
      {
        what,
        used: used === null ? "can't be reckoned" : text(used),
        atHand: atHand === undefined ? "" : text(atHand),
        share: used === null || atHand === undefined || atHand === 0 ? null : used / atHand,
      },
    ];
  };
  const count = (amount: number) => formatNumber(amount);
  const stockMm = budget.stock === undefined ? undefined : millimetres(budget.stock);
  return [
    ...line("Passes", runs.length, budget.passes, count),
    ...line("Minutes", total?.minutesSoFar ?? null, budget.minutes, (amount) =>
      formatNumber(amount, { digits: 3 }),
    ),
    ...line("Stock", total?.stockSoFarMm ?? null, stockMm, (amount) => shown(spec, amount, "mm")),
    ...line("Edges", total?.edgesSoFar ?? null, budget.edges, count),
  ];
}

function millimetres(text: string): number {
  return parseQuantity(text, { unit: "mm" }).value;
}

export interface PlanViewOptions {
  /** As just laid out; left out, it is found from the specification. */
  readonly layout?: Layout;
  readonly outlook: OutlookDraft;
}

/** What was typed; where it can't be read the outlook says so, and figures are in multiples of σ. */
function askedOf(spec: TrialSpec, outlook: OutlookDraft) {
  try {
    return planAsked(spec, outlook);
  } catch (error) {
    if (isRefusal(error)) return planAsked(spec, { ...noOutlook, model: outlook.model });
    throw error;
  }
}

/** A plan as it is shown, before and after it is committed. */
export function planView(
  spec: TrialSpec,
  runs: readonly Run[],
  { layout, outlook }: PlanViewOptions,
): PlanView {
  const laidOut = layout ?? layoutOfRuns(spec, runs);
  const { unknown, assumptions } = planCost(spec, runs);
  return {
    factors: factorViews(spec),
    held: Object.entries(spec.held),
    ...runViews(spec, runs),
    blocks: new Set(runs.map(({ block }) => block)).size,
    orderRules: orderRulesOf(spec, laidOut),
    notes: [...(laidOut?.notes ?? []), ...(laidOut?.aliases ?? []), ...assumptions, ...unknown],
    figures: planFigures(spec, runs, askedOf(spec, outlook)),
    cost: costLines(spec, runs),
    cautions: cautions(spec),
    outlook: outlookView(spec, runs, outlook),
  };
}
