import { layoutFigure, shareKnownFigure } from "../figure/index.ts";
import { halfWidthsAt, judge, planCost, statedVarianceRatio, type Layout } from "../layout/index.ts";
import { seededRandom } from "../numerics/index.ts";
import { naturalValue, type Settings, type TrialSpec } from "../trial/index.ts";
import { formatNumber, formatQuantity, quantity } from "../units/index.ts";
import type { ComparisonAnswer } from "./choice-api.ts";
import type { OutlookDraft } from "./draft.ts";
import { confidenceFrom, scatterFrom, typedIn } from "./outlook-view.ts";
import { drawn, movesWith } from "./plan-figures.ts";
import { costLines } from "./plan-view.ts";

/** A layout with what it is called. */
export interface Compared {
  readonly title: string;
  readonly spec: TrialSpec;
  readonly layout: Layout;
}

const places = 1000;

/** Layouts beside each other: the same lines of each, one figure of both, and figures of each by itself. */
export function comparisonAnswer(compared: readonly Compared[], outlook: OutlookDraft): ComparisonAnswer {
  const [first] = compared;
  if (first === undefined) return { titles: [], lines: [], figures: [], own: [] };
  const { factors, responses, display } = first.spec;
  const unit = responses[0]?.unit ?? "1";
  const scatter = scatterFrom(outlook.sigma, unit);
  const sigma = scatter?.high ?? 1;
  const effect = scatter === null ? null : typedIn(outlook.effect, unit);
  const confidence = confidenceFrom(outlook.confidence);
  const asked = {
    model: outlook.model,
    sigma,
    confidence,
    unit: scatter === null ? "σ" : unit,
    // One belief about the set-ups for all, or they would not be comparable.
    varianceRatio: compared.map(({ spec }) => statedVarianceRatio(spec)).find((ratio) => ratio !== undefined),
  };
  const width = (value: number) =>
    scatter === null
      ? `± ${formatNumber(value, { digits: 2 })} σ`
      : `± ${formatQuantity(quantity(value, unit), { digits: 2 })}`;
  const judged = compared.map(({ layout }) => judge(layout.runs, factors, { ...asked, effect }));
  const labels = judged[0]?.terms.map(({ label }) => label) ?? [];
  const costs = compared.map(({ spec, layout }) => costLines(spec, layout.runs));
  const lines = [
    ...["Passes", "Minutes", "Stock", "Edges"].flatMap((what) => {
      const texts = costs.map((cost) => cost.find((line) => line.what === what)?.used ?? "");
      return texts.every((text) => text === "") ? [] : [{ what, texts }];
    }),
    {
      what: "Left to judge the scatter",
      texts: judged.map(({ df, dfPureError }) => `${df}, of them ${dfPureError} from like passes`),
    },
    ...labels.map((what, place) => ({
      what,
      texts: judged.map(({ terms }) => {
        const term = terms[place];
        if (!term || term.halfWidth === null) return "can't be told";
        const chance =
          term.power === null ? "" : `, seen with chance ${formatNumber(100 * term.power, { digits: 2 })} %`;
        return `${width(term.halfWidth)}${chance}`;
      }),
    })),
    {
      what: "Mixed up",
      texts: judged.map(({ inseparable }) =>
        inseparable.length === 0 ? "nothing of this" : inseparable.map(({ text }) => text).join(" "),
      ),
    },
    {
      what: "Run where a budget ends",
      texts: compared.map(({ spec, layout }) => {
        const { ends } = planCost(spec, layout.runs);
        return ends.length === 0
          ? "none ends"
          : ends.map(({ budget, run }) => `${budget} before run ${run}`).join(", ");
      }),
    },
  ];
  const over = settingsOver(first.spec);
  return {
    titles: compared.map(({ title }) => title),
    lines,
    figures: drawn([
      [
        () =>
          shareKnownFigure(
            compared.map(({ title, layout }) => ({
              label: title,
              halfWidths: halfWidthsAt(layout.runs, factors, over, asked),
            })),
            { unit: asked.unit, display },
          ),
        "How much of the region each would know to within a half-width: the line further left knows more.",
      ],
    ]),
    own: compared.map(({ title, layout }) =>
      drawn([
        [
          () => layoutFigure({ runs: layout.runs, factors }, { display, title }),
          `The runs of: ${title.toLowerCase()}.`,
        ],
        [() => movesWith(first.spec, layout.runs, outlook), "What moves with what in it."],
      ]),
    ),
  };
}

/** Settings drawn evenly over the region, the same for every layout. */
function settingsOver({ factors }: TrialSpec): readonly Settings[] {
  const random = seededRandom(1);
  return Array.from({ length: places }, () =>
    Object.fromEntries(
      factors.map((factor) => [
        factor.name,
        factor.kind === "quantity"
          ? naturalValue(factor, 2 * random.next() - 1)
          : (factor.levels[random.integer(factor.levels.length)] ?? ""),
      ]),
    ),
  );
}
