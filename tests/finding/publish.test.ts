import { parseHTML } from "linkedom";
import { describe, expect, test } from "vitest";
import { FindingError, publish } from "../../src/finding/index.ts";
import { fitLinear } from "../../src/model/index.ts";
import type { Trial } from "../../src/trial/index.ts";
import { hostileTrial, hostileTexts, reading, rippled, sealFace, trialOf } from "./trials.ts";

const date = "2026-11-25";
const documentOf = (html: string): Document => parseHTML(html).document;
const text = (document: Document, selector: string): string =>
  document.querySelector(selector)?.textContent ?? "";

const twoResponses = (): Trial =>
  trialOf(
    {
      responses: [
        { name: "Ra", unit: "µm", limit: 0.8 },
        { name: "bore", unit: "mm", aim: "target", limit: 20 },
      ],
    },
    (run) => [
      reading(run.run, Number(rippled(run).toFixed(3))),
      reading(run.run, Number((0.01 * Math.cos(run.run)).toFixed(4)), { response: "bore", unit: "mm" }),
    ],
  );

const pages: readonly (readonly [string, Trial])[] = [
  ["a replicated factorial", sealFace()],
  ["two responses", twoResponses()],
  ["hostile text", hostileTrial()],
  [
    "one category",
    trialOf(
      {
        factors: [{ name: "edge", kind: "category", levels: ["fresh", "used"] }],
        layout: { kind: "factorial", replicates: 4, seed: 1 },
      },
      (run) => [reading(run.run, 0.5 + 0.02 * Math.sin(run.run) + (run.settings.edge === "used" ? 0.1 : 0))],
    ),
  ],
  ["a single reading", { ...sealFace(), readings: [reading(1, 0.5)] }],
  [
    "no limit, no cutter, no measurement",
    sealFace({
      responses: [{ name: "Ra", unit: "µm" }],
      cutter: undefined,
      measurement: undefined,
      pass: undefined,
    }),
  ],
];

describe.each(pages)("the page of %s", (_, trial) => {
  const { html } = publish(trial, { date });
  const document = documentOf(html);

  test("needs nothing from outside and runs nothing", () => {
    expect(text(document, "meta[http-equiv]")).toBe("");
    expect(document.querySelector("meta[http-equiv]")?.getAttribute("content")).toMatch(
      /^default-src 'none';/,
    );
    expect(
      document.querySelectorAll("link, iframe, object, embed, form, base, [src], [srcset]"),
    ).toHaveLength(0);
    const scripts = [...document.querySelectorAll("script")];
    expect(scripts.map((script) => script.getAttribute("type"))).toEqual(["application/json"]);
    for (const link of document.querySelectorAll("a")) {
      expect(link.getAttribute("href")).toMatch(
        /^(?:#[a-z-]+|data:application\/zip;base64,[A-Za-z0-9+/=]+)$/,
      );
    }
    for (const element of document.querySelectorAll("*")) {
      expect([...element.attributes].filter(({ name }) => name.startsWith("on"))).toEqual([]);
    }
  });

  test("is well formed: one h1, headings without a gap, ids once, links that lead somewhere, figures with a text alternative", () => {
    expect(html.startsWith("<!doctype html>\n")).toBe(true);
    expect(document.documentElement.getAttribute("lang")).toBe("en");
    const levels = [...document.querySelectorAll("h1, h2, h3, h4, h5, h6")].map((heading) =>
      Number(heading.tagName[1]),
    );
    expect(levels.filter((level) => level === 1)).toEqual([1]);
    levels.forEach((level, at) => expect(level).toBeLessThanOrEqual((levels[at - 1] ?? 0) + 1));
    const ids = [...document.querySelectorAll("[id]")].map((element) => element.id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const link of document.querySelectorAll('a[href^="#"]')) {
      expect(ids).toContain(link.getAttribute("href")?.slice(1));
    }
    for (const svg of document.querySelectorAll("svg")) {
      expect(svg.getAttribute("role")).toBe("img");
      const named = (svg.getAttribute("aria-labelledby") ?? "").split(" ");
      expect(named).toHaveLength(2);
      for (const id of named) expect(document.getElementById(id)?.textContent).not.toBe("");
    }
    for (const table of document.querySelectorAll("table")) {
      const heads = table.querySelectorAll("thead th[scope=col]").length;
      expect(heads).toBeGreaterThan(0);
      for (const row of table.querySelectorAll("tbody tr"))
        expect(row.querySelectorAll("td")).toHaveLength(heads);
    }
  });

  test("shows no NaN, no undefined and no object", () => {
    const words = document.body.textContent.replace(text(document, "script"), "");
    expect(words).not.toMatch(/NaN|undefined|\[object|Infinity/);
  });

  test("is the same byte for byte when it is published again", () => {
    const again = publish(trial, { date });
    expect(again.html).toBe(html);
    expect(again.packageZip).toEqual(publish(trial, { date }).packageZip);
  });
});

describe("a page", () => {
  const trial = sealFace();
  const { html, checksum } = publish(trial, { date });
  const document = documentOf(html);

  test("changes only in its dates when it is published on another day", () => {
    const other = publish(trial, { date: "2027-01-31" }).html;
    const withoutZip = (page: string): string => page.replace(/base64,[A-Za-z0-9+/=]+/, "");
    expect(withoutZip(other).replaceAll("2027-01-31", date)).toBe(withoutZip(html));
  });

  test("says first that its data are invented and what was asked, then the recipe and what was found, then the rest", () => {
    const head = text(document, "header");
    expect(head).toContain("How fast may it be fed?");
    expect(head).toContain("Invented data.");
    const sections = [...document.querySelectorAll("main section.part > h2")].map(
      (heading) => heading.textContent,
    );
    expect(sections).toEqual([
      "Which settings keep the limits",
      "What was found",
      "Levels compared",
      "What the data can't say",
      "Cautions",
      "How it was cut",
      "How it was measured",
      "Readings",
      "Is the model to be believed",
      "Data and software",
    ]);
    expect(text(document, "#cautions")).toContain("Before you cut");
  });

  test("carries the checksum in full and in its title block, with the software's version", () => {
    expect(checksum).toBe(trial.checksum);
    expect(text(document, "#data")).toContain(trial.checksum);
    expect(text(document, ".title-block")).toContain(trial.checksum.slice(0, 12));
    expect(text(document, ".title-block")).toMatch(/Trycut \d+\.\d+\.\d+/);
  });

  test("has each effect as a sentence, and the analysis of variance folded away", () => {
    expect(document.querySelectorAll("#found ul.results li")).toHaveLength(2);
    const folded = [...document.querySelectorAll("details")].find((each) =>
      each.textContent.includes("Analysis of variance"),
    );
    expect(folded?.hasAttribute("open")).toBe(false);
  });

  test("has every reading in its table", () => {
    const rows = document.querySelectorAll("#readings details tbody tr");
    expect(rows).toHaveLength(trial.readings.length);
  });

  test("sums up runs that were read many times, and lists those that were read a few times", () => {
    const many = trialOf({}, (run) =>
      Array.from({ length: 9 }, (_, at) =>
        reading(run.run, Number((0.5 + 0.01 * at).toFixed(2)), { spot: at + 1 }),
      ),
    );
    const table = documentOf(publish(many, { date }).html).querySelector("#readings table");
    const cells = [...(table?.querySelectorAll("tbody tr:first-child td") ?? [])].map(
      (cell) => cell.textContent,
    );
    expect(cells.slice(-4)).toEqual(["9", "0.54", "0.50", "0.58"]);
    expect(text(document, "#readings tbody tr:first-child")).toMatch(/\d\.\d{3}, \d\.\d{3}/);
  });

  test("has the model that its author names, or a fit that was already made", () => {
    const named = documentOf(publish(trial, { date, models: { Ra: "main" } }).html);
    expect(text(named, "#found")).toContain(
      "Fitted: each factor by itself. The model was chosen by the author of this page.",
    );
    const fit = fitLinear(trial, { model: "interactions", confidence: 0.9 });
    const given = documentOf(publish(trial, { date, models: { Ra: fit } }).html);
    expect(text(given, "#found")).toContain("90 %");
  });

  test("says of a model picked in place of the plan's that it was, above the effects; the plan's own has no such word", () => {
    const named = documentOf(publish(trial, { date, models: { Ra: "main" } }).html);
    const caution = text(named, "#found .remark.caution");
    expect(caution).toContain("This model was picked after the readings were in");
    expect(caution).toContain("in place of the plan's (power law)");
    expect(caution).toMatch(
      /Leaving out each run in turn, Ra of a run that the model has not seen is missed by/,
    );
    expect(named.querySelector("#found .entry")?.querySelectorAll(".caution")).toHaveLength(1);
    const theirs = documentOf(publish(trial, { date, models: { Ra: "power-law" } }).html);
    for (const page of [document, theirs]) expect(page.querySelector("#found .remark")).toBeNull();
  });

  test("tells beside the checks how far runs left out are missed", () => {
    expect(text(document, "#checks")).toMatch(
      /Leaving out each run in turn, Ra of a run that the model has not seen is missed by \d\.\d % of its value \(root mean square\)/,
    );
    expect(text(document, "#checks > details")).toContain("Allen 1974");
  });

  test("keeps a response without readings, with the reason why there is no model of it", () => {
    const half = twoResponses();
    const readings = half.readings.filter((one) => one.response === "Ra");
    const without = documentOf(publish({ ...half, readings }, { date }).html);
    expect(text(without, "#found")).toContain("No model of bore: no reading in use of bore");
  });
});

describe("hostile text", () => {
  const { html, packageFiles } = publish(hostileTrial(), { date });
  const document = documentOf(html);

  test("is on the page as the text it is", () => {
    expect(text(document, "h1")).toBe(hostileTexts.join(" "));
    expect(document.querySelectorAll("img")).toHaveLength(0);
    expect([...document.querySelectorAll("svg")].every((svg) => svg.getAttribute("role") === "img")).toBe(
      true,
    );
    expect(text(document, "#readings")).toContain("=cmd|");
  });

  test("can't end the block of data", () => {
    expect(html.match(/<script/g)).toHaveLength(1);
    expect(html.match(/<\/script>/g)).toHaveLength(1);
    expect(html.indexOf("<!--")).toBe(-1);
  });

  test("is no formula in any cell of the package", () => {
    for (const [path, content] of Object.entries(packageFiles)) {
      if (!path.endsWith(".csv")) continue;
      for (const cell of content.split(/[,\n]/)) expect(cell).not.toMatch(/^"?[=@+]/);
    }
    expect(packageFiles["readings.csv"]).toContain("'=cmd|");
  });

  test("is no markup in the package's README", () => {
    expect(packageFiles["README.md"]).not.toMatch(/(?<!\\)<(?:img|script|svg)/);
  });
});

describe("refused", () => {
  const trial = sealFace();

  test.each(["25.11.2026", "2026-02-30", "2026-1-1", ""])("is the date %j", (given) => {
    expect(() => publish(trial, { date: given })).toThrow(
      new FindingError(`publish: the date is "${given}"; expected year, month and day as in "2026-11-25".`),
    );
  });

  test("is a trial without runs, or without a reading in use", () => {
    expect(() => publish({ ...trial, runs: [] }, { date })).toThrow(
      "seal-face has no runs: there is nothing to publish.",
    );
    const voided = trial.readings.map((one) => ({ ...one, void: "gauge fell" }));
    expect(() => publish({ ...trial, readings: voided }, { date })).toThrow(
      "seal-face has no reading in use",
    );
  });

  test("is a model for a response that the trial does not have, or of another response", () => {
    expect(() => publish(trial, { date, models: { Rz: "main" } })).toThrow(
      'models names the response "Rz"; the trial has Ra. Name one of these.',
    );
    const other = fitLinear(twoResponses(), { response: "bore" });
    expect(() => publish(twoResponses(), { date, models: { Ra: other } })).toThrow(
      "models.Ra is a fit of bore. Give the fit of Ra.",
    );
  });
});

test("publishing changes nothing of the trial", () => {
  const deep = (value: object): object => {
    for (const part of Object.values(value))
      if (typeof part === "object" && part !== null) deep(part as object);
    return Object.freeze(value);
  };
  const trial = deep(structuredClone(sealFace())) as Trial;
  expect(publish(trial, { date }).checksum).toBe(trial.checksum);
});
