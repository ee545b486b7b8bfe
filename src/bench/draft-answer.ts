import { checkLimits, layOut, LayoutError, LimitError, type Layout } from "../layout/index.ts";
import type { TrialSpec } from "../trial/index.ts";
import type { DraftAnswer, DraftProblem } from "./api.ts";
import type { Draft, OutlookDraft } from "./draft.ts";
import { specFromDraft } from "./draft-to-spec.ts";
import { BenchError } from "./error.ts";
import { planView } from "./plan-view.ts";
import { checkNewTrialName } from "./project-path.ts";

/** "layout.replicates: …" belongs to that option of the form, anything else to the layout as a whole. */
function layoutProblem(error: LayoutError): DraftProblem {
  const option = /^layout\.((?:borders|warmUp|changes)\.\w+|\w+)/.exec(error.message)?.[1];
  return {
    field: option === undefined ? "layout" : `layout.${option}`,
    message: error.message,
    missing: false,
  };
}

function nameProblems(name: string, taken: readonly string[]): readonly DraftProblem[] {
  const typed = name.trim();
  if (typed === "") return [{ field: "name", message: "A name for the folder.", missing: true }];
  if (taken.some((other) => other.toLowerCase() === typed.toLowerCase())) {
    const message = `There is a trial "${typed}" already. Give this one another name; nothing is overwritten.`;
    return [{ field: "name", message, missing: false }];
  }
  try {
    checkNewTrialName(typed);
    return [];
  } catch (error) {
    if (!(error instanceof BenchError)) throw error;
    return [{ field: "name", message: error.message, missing: false }];
  }
}

export interface JudgedDraft {
  readonly problems: readonly DraftProblem[];
  readonly spec: TrialSpec | null;
  readonly layout: Layout | null;
}

/** How a form is laid out; null where its runs are still to be searched for. */
export type LayOutDraft = (spec: TrialSpec) => Layout | null;

/** Reads the form, lays it out and checks it against its limits, without writing anything. */
export function judgeDraft(
  draft: Draft,
  taken: readonly string[],
  layOutDraft: LayOutDraft = layOut,
): JudgedDraft {
  const read = specFromDraft(draft);
  const problems = [...nameProblems(draft.name, taken), ...read.problems];
  if (read.spec === null) return { problems, spec: null, layout: null };
  let layout: Layout | null;
  try {
    layout = layOutDraft(read.spec);
  } catch (error) {
    if (!(error instanceof LayoutError)) throw error;
    return { problems: [...problems, layoutProblem(error)], spec: read.spec, layout: null };
  }
  if (layout === null) return { problems, spec: read.spec, layout };
  try {
    checkLimits(read.spec, layout.runs);
    return { problems, spec: read.spec, layout };
  } catch (error) {
    if (!(error instanceof LimitError)) throw error;
    const over = error.findings.map(({ text }) => ({ field: "limits", message: text, missing: false }));
    return { problems: [...problems, ...over], spec: read.spec, layout };
  }
}

/** What the form would give: every slip with its field, and the plan with its cost and outlook as soon as there is one. */
export function draftAnswer(
  draft: Draft,
  outlook: OutlookDraft,
  taken: readonly string[],
  layOutDraft: LayOutDraft = layOut,
): DraftAnswer {
  let toSearch = false;
  const { problems, spec, layout } = judgeDraft(draft, taken, (wanted) => {
    const found = layOutDraft(wanted);
    toSearch = found === null;
    return found;
  });
  return {
    problems,
    toSearch,
    plan: spec === null || layout === null ? null : planView(spec, layout.runs, { layout, outlook }),
    json: problems.length > 0 || spec === null ? null : JSON.stringify(spec, null, 2),
  };
}
