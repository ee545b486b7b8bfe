import { expect, test } from "vitest";
import { draftAnswer } from "../../src/bench/draft-answer.ts";
import { specFromDraft } from "../../src/bench/draft-to-spec.ts";
import type { Draft } from "../../src/bench/draft.ts";
import { emptyDraft } from "../../src/bench/empty-draft.ts";
import { judge, kinds, layOut } from "../../src/layout/index.ts";
import { splitNames, splitNumbers } from "../../src/bench/typed-list.ts";
import { powerCurves } from "../../src/bench/power-curves.ts";
import { planView } from "../../src/bench/plan-view.ts";
import { noOutlook, outlookView } from "../../src/bench/outlook-view.ts";

const empty = emptyDraft(new Date("2026-03-02T09:30:00Z"));

const feed = {
  kind: "quantity",
  name: "feed",
  unit: "mm/rev",
  low: "0.08",
  high: "0.24",
  levels: "",
  scale: "linear",
  increment: "",
  change: "easy",
  today: "",
} as const;

const edge = { kind: "category", name: "edge", levels: "fresh, used", change: "easy", today: "" } as const;

function filled(part: Partial<Draft> = {}): Draft {
  return { ...empty, name: "seal-face", title: "Seal face", factors: [feed, edge], held: [], ...part };
}

test("numbers in one line are parted as people part them", () => {
  expect(splitNumbers("0.08 0.12  0.18")).toEqual(["0.08", "0.12", "0.18"]);
  expect(splitNumbers("0.08, 0.12, 0.18")).toEqual(["0.08", "0.12", "0.18"]);
  expect(splitNumbers("0.08,0.12,0.18")).toEqual(["0.08", "0.12", "0.18"]);
  expect(splitNumbers("0,08; 0,12;0,18")).toEqual(["0,08", "0,12", "0,18"]);
  expect(splitNumbers("0,08 0,12 0,18")).toEqual(["0,08", "0,12", "0,18"]);
  expect(splitNumbers("")).toEqual([]);
});

test("a unit behind the last number stands for all, one behind each for its own", () => {
  expect(splitNumbers("0.003 0.006 in/rev")).toEqual(["0.003 in/rev", "0.006 in/rev"]);
  expect(splitNumbers("0.1 mm/rev; 0.006 in/rev")).toEqual(["0.1 mm/rev", "0.006 in/rev"]);
});

test("names in one line are parted by commas and semicolons", () => {
  expect(splitNames("fresh, lightly used;; worn out ")).toEqual(["fresh", "lightly used", "worn out"]);
});

test("an empty form is not reproached; what it needs is named", () => {
  const { problems, plan } = draftAnswer(empty, noOutlook, []);
  expect(plan).toBeNull();
  expect(problems.every(({ missing }) => missing)).toBe(true);
  expect(problems.map(({ field }) => field)).toEqual(["name", "title", "factors"]);
});

test("a filled form becomes a checked specification", () => {
  const { problems, spec } = specFromDraft(filled());
  expect(problems).toEqual([]);
  expect(spec).toMatchObject({
    format: "trycut-trial/1",
    title: "Seal face",
    factors: [
      { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24 },
      { name: "edge", kind: "category", levels: ["fresh", "used"] },
    ],
    responses: [{ name: "Ra", unit: "µm", aim: "smaller" }],
    layout: { kind: "factorial", seed: 20260302, replicates: 2 },
  });
});

test("a number typed with another unit is converted exactly", () => {
  const { spec } = specFromDraft(
    filled({
      factors: [{ ...feed, low: "0.004 in/rev", high: "0.010 in/rev" }],
      responses: [{ name: "Ra", unit: "um", aim: "smaller", limit: "32 µin" }],
    }),
  );
  expect(spec?.factors[0]).toMatchObject({ low: 0.1016, high: 0.254 }); // 1 in = 25.4 mm
  expect(spec?.responses[0]).toMatchObject({ unit: "µm", limit: 0.8128 }); // 32 × 0.0254
});

test("settings that are listed give the range where none is typed", () => {
  const { spec } = specFromDraft(
    filled({ factors: [{ ...feed, low: "", high: "", levels: "0.18 0.08 0.12" }] }),
  );
  expect(spec?.factors[0]).toMatchObject({ low: 0.08, high: 0.18, levels: [0.08, 0.12, 0.18] });
});

test("a slip is told at its field, with the library's own message", () => {
  const { problems } = specFromDraft(filled({ factors: [{ ...feed, low: "0.3" }, edge] }));
  expect(problems).toHaveLength(1);
  expect(problems[0]).toMatchObject({ field: "factors.0.low", missing: false });
  expect(problems[0]?.message).toContain("0.3");
});

test("an ambiguous number is asked about, never guessed", () => {
  const speed = { ...feed, name: "speed", unit: "rev/min", low: "1,000", high: "2,000" };
  const { problems } = specFromDraft(filled({ factors: [speed] }));
  expect(problems.map(({ field }) => field)).toEqual(["factors.0.low", "factors.0.high"]);
});

test("a wrong unit is refused at its field", () => {
  const { problems } = specFromDraft(filled({ factors: [{ ...feed, unit: "furlong" }] }));
  expect(problems[0]).toMatchObject({ field: "factors.0.unit", missing: false });
});

test("a plan can be judged before it has a title or a response", () => {
  const { problems, plan } = draftAnswer(filled({ title: "", responses: [] }), noOutlook, []);
  expect(problems.map(({ field }) => field)).toEqual(["title", "responses"]);
  expect(plan?.runs).toHaveLength(8);
});

test("a name that is taken, or would lead out of the folder, is refused", () => {
  const problemsOf = (name: string) => draftAnswer(filled({ name }), noOutlook, ["Seal-Face"]).problems;
  expect(problemsOf("seal-face")).toEqual([
    {
      field: "name",
      message: 'There is a trial "seal-face" already. Give this one another name; nothing is overwritten.',
      missing: false,
    },
  ]);
  expect(problemsOf("../seal-face")[0]?.field).toBe("name");
});

test("a plan over a stated limit is refused with the run that passes it, and shown all the same", () => {
  const { problems, plan, json } = draftAnswer(filled({ budget: { passes: "6" } }), noOutlook, []);
  expect(problems).toHaveLength(1);
  expect(problems[0]?.field).toBe("limits");
  expect(problems[0]?.message).toContain("Run 7 is one pass too many");
  expect(plan?.cost[0]).toMatchObject({ what: "Passes", used: "8", atHand: "6", share: 8 / 6 });
  expect(json).toBeNull();
});

test("an option that a layout can't take is told at the option", () => {
  const layout = { kind: "factorial", options: { replicates: "0" } };
  const { problems } = draftAnswer(filled({ layout }), noOutlook, []);
  expect(problems[0]?.field).toBe("layout.replicates");
});

test("with a guess of the scatter the widths are in the response's unit, without one in multiples of it", () => {
  const widths = (sigma: string) => {
    const { plan } = draftAnswer(filled(), { ...noOutlook, sigma }, []);
    if (plan === null || "refusal" in plan.outlook) throw new Error("no outlook");
    return plan.outlook.rows.map(({ halfWidth }) => halfWidth);
  };
  // 2 × 2 in duplicate, main effects: t(0.975, 5) × σ × 2/√8 = 2.570582 × 0.707107 σ = 1.817675 σ
  expect(widths("")).toEqual(["± 1.8 σ", "± 1.8 σ"]);
  expect(widths("0.1")).toEqual(["± 0.18 µm", "± 0.18 µm"]);
  expect(widths("4 µin")).toEqual(["± 0.18 µm", "± 0.18 µm"]); // 4 µin is 0.1016 µm: 0.184…
});

test("a scatter that is no number is said, and the plan stays in sight", () => {
  const { plan } = draftAnswer(filled(), { ...noOutlook, sigma: "little" }, []);
  expect(plan?.runs).toHaveLength(8);
  expect(plan?.outlook).toHaveProperty("refusal");
});

test("options typed for another kind of layout wait, and are not refused", () => {
  const options = { replicates: "2", anchorEvery: "4", resolution: "5", seed: "7" };
  const { problems, spec } = specFromDraft(filled({ layout: { kind: "factorial", options } }));
  expect(problems).toEqual([]);
  expect(spec?.layout).toEqual({ kind: "factorial", replicates: 2, seed: 7 });
});

test("generators are a list of texts", () => {
  const options = { generators: "D = ABC; E = ABD" };
  const { spec } = specFromDraft(filled({ layout: { kind: "fraction", options } }));
  expect(spec?.layout).toEqual({ kind: "fraction", generators: ["D = ABC", "E = ABD"] });
});

test("every kind of layout that the form offers can be laid out from it", () => {
  const quantity = (name: string) => ({ ...feed, name, unit: "mm", low: "1", high: "2" });
  const factors = ["a", "b", "c", "d"].map(quantity);
  for (const kind of [...kinds.keys()].filter((name) => name !== "given")) {
    const draft = filled({
      factors: kind === "latin-square" ? factors.slice(0, 3) : factors,
      layout: { kind, options: {} },
    });
    const { problems, plan } = draftAnswer(draft, noOutlook, []);
    expect(problems, kind).toEqual([]);
    expect(plan?.runs.length, kind).toBeGreaterThan(3);
    expect(plan?.figures.length, kind).toBeGreaterThan(0);
  }
});

test("the chance of seeing the stated change is drawn against the passes, once for effects known alike", () => {
  const draft = filled();
  const { spec } = specFromDraft(draft);
  if (spec === null) throw new Error("no spec");
  const { runs } = layOut(spec);
  const curves = powerCurves(runs, spec.factors, { sigma: 0.1, effect: 0.2 });
  expect(curves).toHaveLength(1);
  expect(curves[0]?.points.map(({ x }) => x)).toEqual([8, 16, 24, 32, 40]);
  const powers = curves[0]?.points.map(({ power }) => power) ?? [];
  expect([...powers].sort((a, b) => a - b)).toEqual(powers);
  const { plan } = draftAnswer(draft, { ...noOutlook, sigma: "0.1", effect: "0.2" }, []);
  expect(plan?.outlook).toHaveProperty("figures.0", expect.stringContaining("<svg"));
});

test("a plan is judged at the variance ratio for which it was laid out", () => {
  const { spec } = specFromDraft(filled({ factors: [feed, { ...edge, change: "hard" }] }));
  if (spec === null) throw new Error("no spec");
  const stated = { ...spec, layout: { kind: "optimal", runs: 12, wholePlots: 6, varianceRatio: 9 } };
  const { runs } = layOut(stated);
  const asked = { ...noOutlook, sigma: "0.1", effect: "0.2" };
  const view = outlookView(stated, runs, asked);
  if ("refusal" in view) throw new Error(view.refusal);
  const chance = (varianceRatio: number) =>
    judge(runs, spec.factors, { sigma: 0.1, effect: 0.2, varianceRatio }).terms.find(({ label }) =>
      label.startsWith("edge"),
    )?.power ?? 0;
  expect(chance(9)).toBeLessThan(0.8 * chance(1));
  const shown = Number.parseFloat(view.rows.find(({ label }) => label.startsWith("edge"))?.power ?? "");
  expect(Math.abs(shown - 100 * chance(9))).toBeLessThan(0.5);
});

test("a plan says what is set up before which runs, also where the setting stays, and draws what it can tell", () => {
  const { spec } = specFromDraft(
    filled({ factors: [feed, { ...feed, name: "depth", unit: "mm" }, { ...edge, change: "hard" }] }),
  );
  if (spec === null) throw new Error("no spec");
  const { runs } = layOut({ ...spec, layout: { kind: "factorial", replicates: 2 } });
  const view = planView(spec, runs, { outlook: noOutlook });
  const said = view.runs.map(({ setUp }) => setUp).filter((text) => text !== "");
  expect(said).toHaveLength(4);
  expect(said[0]).toMatch(/^Set-up 1, for runs 1 to 4: edge (fresh|used)$/);
  runs.forEach((run, place) => {
    const before = runs[place - 1];
    const anew = before?.wholePlot !== run.wholePlot;
    expect(view.runs[place]?.setUp !== "").toBe(anew);
    const stays = anew && before?.settings["edge"] === run.settings["edge"];
    expect(view.runs[place]?.setUp.endsWith("set anew though the setting stays")).toBe(stays);
  });
  for (const title of ["What moves with what", "How well the mean is known over feed and depth"])
    expect(
      view.figures.some((html) => html.includes(title)),
      title,
    ).toBe(true);
});
