import { expect, test } from "vitest";
import { interactionFigure } from "../../src/figure/index.ts";
import { factorialFit, sweepFit } from "./hand-made-fit.ts";
import { elementsOf, partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

test("one line a level, told apart by dash and mark, with every run's mean", async () => {
  const figure = interactionFigure(factorialFit(), { factors: ["feed", "edge"] });
  const root = expectSound(figure);
  expect(partOf(root, "curve").length).toBe(2);
  expect(partOf(root, "run-means").length).toBe(16);
  expect(partOf(root, "labels").map((text) => text.text)).toEqual(["edge fresh", "edge used"]);
  await expectPicture(figure, "interaction-quantity");
});

test("factors that act apart on a power law are parallel lines", () => {
  const root = expectSound(interactionFigure(factorialFit(), { factors: ["feed", "edge"] }));
  const ends = partOf(root, "curve").map((line) => {
    const places = [...line.attributes["d"].matchAll(/([\d.]+),([\d.]+)/gu)].map((each) => Number(each[2]));
    return places[0] - places.at(-1)!;
  });
  expect(ends[0]).toBeCloseTo(ends[1], 1); // two decimals of the drawing at each end
});

test("a category along the frame gets bars, a quantity apart its lowest and highest setting", async () => {
  const figure = interactionFigure(factorialFit(), { factors: ["edge", "feed"] });
  const root = expectSound(figure);
  expect(partOf(root, "band-mean").length).toBe(4);
  expect(figure.table.rows.length).toBe(4);
  expect(elementsOf(root).filter((each) => each.attributes["data-part"] === "curve").length).toBe(2);
  await expectPicture(figure, "interaction-category");
});

test("without an interval there are lines and the reason", () => {
  const figure = interactionFigure(factorialFit({ t: null }));
  expect(partOf(expectSound(figure), "band-mean")).toEqual([]);
  expect(figure.description).toContain("No interval:");
});

test("one factor is refused", () => {
  expect(() => interactionFigure(sweepFit())).toThrow(
    "a fit of 1 factor: expected two different factors of the fit.",
  );
});
