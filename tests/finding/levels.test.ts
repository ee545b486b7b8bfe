import { parseHTML } from "linkedom";
import { describe, expect, test } from "vitest";
import { publish } from "../../src/finding/index.ts";
import { reading, trialOf } from "./trials.ts";

const date = "2026-11-25";
const documentOf = (html: string): Document => parseHTML(html).document;
const text = (document: Document, selector: string): string =>
  document.querySelector(selector)?.textContent ?? "";

describe("levels compared", () => {
  const edges = trialOf(
    {
      factors: [{ name: "edge", kind: "category", levels: ["ground", "honed", "coated"] }],
      layout: { kind: "factorial", replicates: 6, seed: 3 },
    },
    (run) => [
      reading(
        run.run,
        Number((0.5 + 0.02 * Math.sin(3 * run.run) + (run.settings.edge === "ground" ? 0.15 : 0)).toFixed(4)),
      ),
    ],
  );
  const page = documentOf(publish(edges, { date }).html);

  test("pairs are sentences with intervals that hold together, and no difference names what could have been missed", () => {
    const sentences = [...page.querySelectorAll("#levels ul.results li")].map((item) => item.textContent);
    expect(sentences).toHaveLength(3);
    expect(
      sentences.filter((sentence) => /95 % for all 3 pairs together: .* to /.test(sentence)),
    ).toHaveLength(3);
    expect(
      sentences.filter((sentence) => /^With edge .* lower than with ground/.test(sentence)),
    ).toHaveLength(2);
    const alike = sentences.filter((sentence) => sentence.startsWith("No difference"));
    expect(alike).toHaveLength(1);
    expect(alike[0]).toMatch(/could have been missed/);
  });

  test("the figure stands with them, with the method and its source", () => {
    expect(page.querySelectorAll('#levels svg[data-figure="comparison"]')).toHaveLength(1);
    expect(text(page, "#levels .quiet")).toMatch(/Tukey/);
  });

  test("a trial of quantities alone has no such section", () => {
    const feeds = trialOf(
      {
        factors: [{ name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24 }],
        layout: { kind: "factorial", replicates: 4, seed: 3 },
      },
      (run) => [reading(run.run, 0.5 + 0.02 * Math.sin(3 * run.run))],
    );
    expect(documentOf(publish(feeds, { date }).html).querySelector("#levels")).toBeNull();
  });
});
