import { expect, test } from "vitest";
import * as library from "../../src/index.ts";
import { openTrial } from "../../src/store/index.ts";

test("times builds a term of a model; a quantity is multiplied by multiplied", () => {
  expect(library.times("feed", "speed")).toEqual({ feed: 1, speed: 1 });
  expect(library.multiplied(library.quantity(0.1, "mm/rev"), 3).value).toBe(0.3);
});

test("a trial is opened through the notebook's own door, so that the page knows of it", () => {
  expect(library.openTrial).not.toBe(openTrial);
});

test("nothing of the library is undefined", () => {
  expect(Object.entries(library).filter(([, value]) => value === undefined)).toEqual([]);
});
