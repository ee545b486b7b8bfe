import { effect, signal } from "@preact/signals";
import type { CandidateView, ChoiceAnswer, ComparisonAnswer } from "../../choice-api.ts";
import { announce } from "../announce.tsx";
import { messageOf, tell } from "../ask.ts";
import { change, changeOutlook, draft, outlook } from "./draft-state.ts";
import { orderOptions } from "./option-words.ts";

/** The layouts that fit, once they were asked for. */
export const choice = signal<ChoiceAnswer | null>(null);
export const choosing = signal(false);
export const choiceFailure = signal("");
/** Ids of the candidates that are compared, in the order in which they were marked; two at most. */
export const marked = signal<readonly string[]>([]);
export const comparison = signal<ComparisonAnswer | null>(null);

const pauseMs = 500;

/** What the candidates depend on; the layout that stands in the form is none of it. */
function asked(): string {
  const { factors, responses, held, cutter, machine, pass, budget } = draft.value ?? {};
  return JSON.stringify([factors, responses, held, cutter, machine, pass, budget, outlook.value]);
}

/** What was said about the order stays when a layout is taken: it is no part of which runs are cut. */
function isAboutOrder(name: string): boolean {
  return name === "order" || orderOptions.includes(name);
}

const modelFor = {
  "which-matter": "main",
  "how-they-combine": "interactions",
  "how-curved": "surface",
  "best-setting": "surface",
} as const;

/** Asks for the layouts that fit. */
export async function choose(): Promise<void> {
  choosing.value = true;
  choiceFailure.value = "";
  try {
    const got = await tell<ChoiceAnswer>("/api/choices", { draft: draft.value, outlook: outlook.value });
    choice.value = got;
    const kept = marked.value.filter((id) => got.candidates.some((candidate) => candidate.id === id));
    marked.value = kept;
    announce(
      got.candidates.length === 0
        ? "No layout fits yet."
        : `${got.candidates.length} layouts fit. ${got.advice[0] ?? ""}`,
    );
    await compare();
  } catch (error) {
    choiceFailure.value = messageOf(error);
  } finally {
    choosing.value = false;
  }
}

/** Once layouts stand side by side, they follow what is typed. */
export function watchChoice(): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let last = asked();
  const stop = effect(() => {
    const now = asked();
    if (choice.peek() === null || now === last) {
      last = now;
      return;
    }
    last = now;
    clearTimeout(timer);
    timer = setTimeout(() => void choose(), pauseMs);
  });
  return () => {
    stop();
    clearTimeout(timer);
    choice.value = null;
    comparison.value = null;
    marked.value = [];
  };
}

/** Puts a candidate into the form. */
export function take({ layout, title }: CandidateView): void {
  const kept = Object.entries(draft.value?.layout.options ?? {}).filter(([name]) => isAboutOrder(name));
  change({ layout: { kind: layout.kind, options: { ...Object.fromEntries(kept), ...layout.options } } });
  changeOutlook({ model: modelFor[outlook.value.stake] });
  announce(`Taken: ${title}.`);
}

/** Whether the form holds this candidate's layout. */
export function isTaken({ layout }: CandidateView): boolean {
  const now = draft.value?.layout;
  if (now?.kind !== layout.kind) return false;
  const own = Object.entries(now.options).filter(([name, text]) => text !== "" && !isAboutOrder(name));
  const wanted = Object.entries(layout.options).filter(([name]) => !isAboutOrder(name));
  return own.length === wanted.length && own.every(([name, text]) => layout.options[name] === text);
}

/** Marks a candidate for comparison or takes the mark away; a third mark lets the first go. */
export function mark(id: string, on: boolean): void {
  const others = marked.value.filter((each) => each !== id);
  marked.value = on ? [...others, id].slice(-2) : others;
  void compare();
}

async function compare(): Promise<void> {
  const candidates = marked.value.flatMap(
    (id) => choice.value?.candidates.find((candidate) => candidate.id === id) ?? [],
  );
  if (candidates.length < 2) {
    comparison.value = null;
    return;
  }
  const model = modelFor[outlook.value.stake];
  try {
    comparison.value = await tell<ComparisonAnswer>("/api/comparisons", {
      draft: draft.value,
      outlook: { ...outlook.value, model },
      layouts: candidates.map(({ title, layout }) => ({ title, layout })),
    });
    announce(`Compared: ${candidates.map(({ title }) => title).join(" and ")}.`);
  } catch (error) {
    choiceFailure.value = messageOf(error);
  }
}
