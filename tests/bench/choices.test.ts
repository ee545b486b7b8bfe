import { beforeEach, expect, test } from "vitest";
import type { DraftAnswer } from "../../src/bench/api.ts";
import type { ChoiceAnswer, ComparisonAnswer, SearchTold } from "../../src/bench/choice-api.ts";
import type { Draft } from "../../src/bench/draft.ts";
import { emptyDraft } from "../../src/bench/empty-draft.ts";
import { layoutTexts } from "../../src/bench/layout-texts.ts";
import { noOutlook, scatterFrom } from "../../src/bench/outlook-view.ts";
import { searchDesk } from "../../src/bench/search-desk.ts";
import { specFromDraft } from "../../src/bench/draft-to-spec.ts";
import { layoutOfRuns } from "../../src/layout/index.ts";
import { benchUnderTest, type BenchUnderTest } from "./bench-under-test.ts";

let bench: BenchUnderTest;
beforeEach(async () => {
  bench = await benchUnderTest();
});

const quantity = (name: string, unit: string, low: string, high: string) =>
  ({
    kind: "quantity",
    name,
    unit,
    low,
    high,
    levels: "",
    scale: "linear",
    increment: "",
    change: "easy",
    today: "",
  }) as const;

const draft: Draft = {
  ...emptyDraft(new Date("2026-03-02T09:30:00Z")),
  name: "cover",
  title: "Pump cover",
  factors: [
    quantity("feed", "mm/rev", "0.08", "0.24"),
    quantity("speed", "rev/min", "1200", "2400"),
    { kind: "category", name: "edge", levels: "fresh, used", change: "easy", today: "" },
  ],
  budget: { passes: "16" },
};

const optimal: Draft["layout"] = {
  kind: "optimal",
  options: { terms: "surface", runs: "14", starts: "12", seed: "5" },
};

async function told<Answer>(path: string, body: unknown): Promise<Answer> {
  const response = await bench.post(path, body);
  expect(response.status).toBe(200);
  return (await response.json()) as Answer; // The routes' answers are typed by api.ts.
}

test("layouts that fit come side by side, each ready for the form, with a figure of them all", async () => {
  const outlook = { ...noOutlook, sigma: "0.05", effect: "0.1" };
  const answer = await told<ChoiceAnswer>("/api/choices", { draft, outlook });
  expect(answer.problems).toEqual([]);
  expect(answer.candidates.length).toBeGreaterThan(1);
  expect(answer.candidates[0]?.recommended).not.toBe("");
  expect(answer.candidates[0]?.cost[0]).toMatch(/^\d+ passes of 16$/);
  expect(answer.figures).toHaveLength(1);
  for (const { layout, runs, title } of answer.candidates) {
    const { spec, problems } = specFromDraft({ ...draft, layout });
    expect(problems, title).toEqual([]);
    const found = spec === null ? null : await searchDesk().layOut(spec, new AbortController().signal);
    expect(found?.runs.length, title).toBe(runs);
  }
});

test("passes that are not stated and a scatter that can't be are said at their fields", async () => {
  const unsaid = await told<ChoiceAnswer>("/api/choices", {
    draft: { ...draft, budget: {} },
    outlook: noOutlook,
  });
  expect(unsaid.problems).toEqual([
    { field: "budget.passes", message: "How many passes are at hand.", missing: true },
  ]);
  const wrong = await told<ChoiceAnswer>("/api/choices", { draft, outlook: { ...noOutlook, sigma: "-1" } });
  expect(wrong.problems.map(({ field }) => field)).toEqual(["sigma"]);
  const swapped = await told<ChoiceAnswer>("/api/choices", {
    draft,
    outlook: { ...noOutlook, sigma: "0.06 to 0.03" },
  });
  expect(swapped.problems.map(({ field }) => field)).toEqual(["sigma"]);
});

test("two layouts stand beside each other line by line", async () => {
  const layouts = [
    { title: "Full factorial", layout: { kind: "factorial", options: { replicates: "2" } } },
    { title: "Searched", layout: { kind: "optimal", options: { terms: "main", runs: "8", starts: "3" } } },
  ];
  const outlook = { ...noOutlook, sigma: "0.05", effect: "0.1" };
  const answer = await told<ComparisonAnswer>("/api/comparisons", { draft, outlook, layouts });
  expect(answer.titles).toEqual(["Full factorial", "Searched"]);
  expect(answer.lines[0]).toEqual({ what: "Passes", texts: ["16", "8"] });
  // 2³ in duplicate, main effects: t(0.975, 12) × 0.05 × 2/√16 = 2.1788 × 0.025 = 0.0545.
  expect(answer.lines.find(({ what }) => what === "feed")?.texts[0]).toMatch(
    /^± 0\.054 µm, seen with chance \d+ %$/,
  );
  expect(answer.figures).toHaveLength(1);
  expect(answer.own.map((figures) => figures.length)).toEqual([2, 2]);
});

test("a search is told line by line, and the form then shows the runs without another one", async () => {
  const searched = { ...draft, layout: optimal };
  const before = await told<DraftAnswer>("/api/drafts", { draft: searched, outlook: noOutlook });
  expect(before).toMatchObject({ toSearch: true, plan: null });
  const response = await bench.post("/api/searches", { search: "one", draft: searched });
  const lines = (await response.text())
    .trim()
    .split("\n")
    .map((line) => JSON.parse(line) as SearchTold);
  expect(lines.at(-1)).toEqual({ kind: "done" });
  expect(lines.some((line) => line.kind === "under-way" && line.startsDone > 0 && line.starts === 12)).toBe(
    true,
  );
  const after = await told<DraftAnswer>("/api/drafts", { draft: searched, outlook: noOutlook });
  expect(after.toSearch).toBe(false);
  expect(after.plan?.runs).toHaveLength(14);
});

test("a refusal of the search is told at the field of the form that asked for it", async () => {
  const layout = { kind: "optimal", options: { terms: "surface", runs: "4" } };
  const wrong = { ...draft, layout };
  await (await bench.post("/api/searches", { search: "two", draft: wrong })).text();
  const { problems } = await told<DraftAnswer>("/api/drafts", { draft: wrong, outlook: noOutlook });
  expect(problems.map(({ field }) => field)).toEqual(["layout.runs"]);
});

test("a search that is stopped keeps the best so far; one that is given up keeps nothing", async () => {
  const { spec } = specFromDraft({
    ...draft,
    layout: { ...optimal, options: { ...optimal.options, starts: "5000" } },
  });
  if (spec === null) throw new Error("no spec");
  const desk = searchDesk();
  const { signal } = new AbortController();
  await desk.search("slow", spec, { signal, onProgress: () => desk.stop("slow") });
  expect(desk.known(spec)?.runs).toHaveLength(14);

  const other = { ...spec, layout: { ...spec.layout, seed: 6 } };
  const gone = new AbortController();
  await desk.search("slow", other, { signal: gone.signal, onProgress: () => gone.abort() });
  expect(desk.known(other)).toBeNull();
});

test("runs that were searched for are known again from their plan, without a search", async () => {
  const { spec } = specFromDraft({ ...draft, layout: optimal });
  if (spec === null) throw new Error("no spec");
  const layout = await searchDesk().layOut(spec, new AbortController().signal);
  expect(layoutOfRuns(spec, layout.runs)?.orderRules).toEqual(layout.orderRules);
  expect(layoutOfRuns(spec, [...layout.runs].reverse())).toBeNull();
});

test("a layout shown as text is read back as it was", () => {
  const factors = specFromDraft(draft).spec?.factors ?? [];
  const layout = {
    kind: "optimal",
    runs: 14,
    criterion: "I",
    terms: [{ feed: 1 }, { speed: 1 }, { feed: 1, speed: 1 }, { feed: 2 }],
    seed: 7,
  };
  const texts = layoutTexts(layout, factors);
  expect(texts.options["terms"]).toBe("feed, speed, feed × speed, feed²");
  expect(
    specFromDraft({ ...draft, layout: { kind: texts.kind, options: { ...texts.options } } }).spec?.layout,
  ).toEqual(layout);
});

test("a guess of the scatter is a number, or from where to where", () => {
  expect(scatterFrom("", "µm")).toBeNull();
  expect(scatterFrom("0.05", "µm")).toEqual({ low: 0.05, high: 0.05 });
  expect(scatterFrom("0.03 to 0.06", "µm")).toEqual({ low: 0.03, high: 0.06 });
  expect(scatterFrom("1 to 2 µin", "µm")).toEqual({ low: 0.0254, high: 0.0508 }); // 1 µin = 0.0254 µm
});
