import { parseHTML } from "linkedom";
import { describe, expect, test } from "vitest";
import { palette } from "../../src/figure/index.ts";
import { renderEntry, renderPage, sheetStyle, type Entry, type Page } from "../../src/notebook/index.ts";
import { withOwnIds } from "../../src/notebook/render-figure.ts";

const hostile = `<img src=x onerror=alert(1)>"'&</script><b>`;
const svg = `<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="a-title a-desc"><title id="a-title">T</title><desc id="a-desc">D</desc><clipPath id="c"><rect/></clipPath><g clip-path="url(#c)"/><use href="#c"/></svg>`;
const figure = {
  kind: "k",
  svg,
  title: hostile,
  description: "d",
  table: { columns: [hostile], rows: [[hostile]] },
};

const entries: readonly Entry[] = [
  { kind: "prose", markdown: hostile },
  { kind: "heading", text: hostile },
  { kind: "figure", figure, caption: hostile },
  { kind: "table", table: { columns: [hostile, "Ra [µm]"], rows: [[hostile, 0.8]] }, caption: hostile },
  {
    kind: "remarks",
    remarks: [
      {
        kind: "k",
        weight: "caution",
        title: hostile,
        evidence: hostile,
        mend: hostile,
        runs: [1, 2],
        addRuns: [{ [hostile]: hostile }],
      },
      { kind: "k", weight: "note", title: "t", evidence: "e", mend: "m", runs: [3], addRuns: [] },
    ],
  },
  { kind: "method", text: hostile },
  { kind: "cautions", cautions: [hostile] },
  { kind: "ask", ask: "quantity", label: hostile, refusal: hostile, answer: hostile, unit: "µm" },
  { kind: "ask", ask: "choice", label: "c", refusal: "", answer: hostile, choices: [hostile, "b"] },
  { kind: "progress", label: hostile, done: 1, of: 2 },
  { kind: "progress", label: hostile, done: 2, of: 2 },
  { kind: "error", message: hostile, file: hostile, line: 3 },
];

const page: Page = {
  title: hostile,
  entries,
  titleBlock: {
    title: hostile,
    trial: hostile,
    question: hostile,
    units: "metric",
    date: "2026-11-25",
    checksum: "0123456789abcdef".repeat(4),
    dataKind: "invented",
    source: hostile,
    softwareVersion: "0.1.0",
  },
  dependencies: [],
};

function parsed(html: string): Document {
  return parseHTML(html).document;
}

describe("text from data is escaped", () => {
  test.each(entries.map((entry) => [entry.kind, entry] as const))(
    "in %s, shown and as a form",
    (_, entry) => {
      for (const asks of ["text", "form"] as const) {
        const document = parsed(`<!doctype html><html><body>${renderEntry(entry, { asks })}</body></html>`);
        expect(document.querySelectorAll("img, script, b")).toHaveLength(0);
        for (const element of document.querySelectorAll("*")) {
          expect([...element.attributes].filter(({ name }) => name.startsWith("on"))).toEqual([]);
        }
      }
    },
  );

  test("in the page around them", () => {
    const document = parsed(renderPage(page));
    expect(document.querySelectorAll("img, script, b")).toHaveLength(0);
    expect(document.querySelector("h1")?.textContent).toBe(hostile);
    expect(document.querySelector("title")?.textContent).toBe(hostile);
    expect([...document.querySelectorAll(".title-block dd")].map((cell) => cell.textContent)).toContain(
      hostile,
    );
  });
});

describe("a page", () => {
  const html = renderPage(page);
  const document = parsed(html);

  test("needs nothing from outside", () => {
    expect(document.querySelector("meta[http-equiv]")?.getAttribute("content")).toBe(
      "default-src 'none'; style-src 'unsafe-inline'; img-src data:",
    );
    expect(document.querySelectorAll("link, script, iframe, object")).toHaveLength(0);
    expect(document.querySelectorAll("[src], [srcset], [poster], [background]")).toHaveLength(0);
    expect(html).not.toMatch(/url\((?!#)|@import/);
  });

  test("has one h1, a language, and no id twice", () => {
    expect(document.querySelectorAll("h1")).toHaveLength(1);
    expect(document.documentElement.getAttribute("lang")).toBe("en");
    const twice = renderPage({ ...page, entries: [...entries, ...entries] });
    const ids = [...parsed(twice).querySelectorAll("[id]")].map((element) => element.id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  test("says that data are invented before anything else, and in its title block", () => {
    expect(document.querySelector(".invented-notice")?.textContent).toContain("Invented data.");
    expect(document.querySelector(".title-block .invented dd")?.textContent).toBe("invented");
    const measured = { ...page, titleBlock: { ...page.titleBlock, dataKind: "measured" } };
    expect(renderPage(measured)).not.toContain("Invented data.");
    const mixed = { ...page, titleBlock: { ...page.titleBlock, dataKind: "measured and invented" } };
    expect(renderPage(mixed)).toContain("Some of the readings on this page");
  });

  test("has the same cells in its title block whatever there is to say", () => {
    const empty = {
      ...page.titleBlock,
      trial: "",
      question: "",
      units: "",
      checksum: "",
      dataKind: "",
      source: "",
    };
    const cells = parsed(renderPage({ ...page, titleBlock: empty })).querySelectorAll(".title-block dt");
    expect([...cells].map((cell) => cell.textContent)).toEqual([
      "Title",
      "Question",
      "Source",
      "Trial",
      "Data",
      "Units",
      "Date",
      "Checksum",
      "Made with",
    ]);
  });

  test("tells its colours by the figures' palette", () => {
    for (const colour of [palette.ink, palette.quiet, palette.rule, palette.accent, palette.caution]) {
      expect(sheetStyle).toContain(colour);
    }
  });
});

test("a figure's ids and what refers to them change together", () => {
  const renamed = withOwnIds(svg, "entry-4");
  expect(renamed).toContain('aria-labelledby="a-title-entry-4 a-desc-entry-4"');
  expect(renamed).toContain('<title id="a-title-entry-4">');
  expect(renamed).toContain("url(#c-entry-4)");
  expect(renamed).toContain('href="#c-entry-4"');
});

test("a question as a form can be answered by its label, and its refusal is tied to it", () => {
  const html = renderEntry(
    { kind: "ask", ask: "number", label: "Assurance", refusal: "no", answer: "0.95" },
    { asks: "form", index: 7 },
  );
  const document = parsed(`<!doctype html><html><body>${html}</body></html>`);
  const input = document.querySelector("input");
  expect(input?.getAttribute("name")).toBe("Assurance");
  expect(document.querySelector("label")?.getAttribute("for")).toBe(input?.id);
  expect(document.getElementById(input?.getAttribute("aria-describedby") ?? "")?.textContent).toBe("no");
});

test("a long table shows its first rows and says how many there are", () => {
  const rows = Array.from({ length: 2448 }, (_, at) => [at]);
  const html = renderEntry({ kind: "table", table: { columns: ["n"], rows }, caption: "" });
  expect(html.match(/<tr>/g)).toHaveLength(201);
  expect(html).toContain("The first 200 of 2448 rows.");
});

test("numbers, and texts that read as numbers, stand to the right", () => {
  const table = {
    columns: ["a", "b", "c"],
    rows: [
      [1, "0.72 µm", "used"],
      [2, "below 0.0001", "3"],
    ],
  };
  const html = renderEntry({ kind: "table", table, caption: "" });
  expect(html.match(/<th scope="col" class="number">/g)).toHaveLength(2);
});
