import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { fitLinear, main, observeTable, settingFor, squared } from "../../src/model/index.ts";
import type { TableColumn } from "../../src/model/index.ts";

// NIST/SEMATECH e-Handbook 4.6.1: the quadratic holds; load at a deflection of 1.239722, one reading.
test("the load-cell calibration gives the published load and its limits to the last digit", () => {
  const file = new URL("../fixtures/worked-examples/load-cell-calibration.json", import.meta.url);
  const { columns } = JSON.parse(readFileSync(file, "utf8")) as { columns: readonly TableColumn[] };
  const observed = observeTable({ columns }, { response: "deflection", factors: ["load"] });
  const fit = fitLinear(observed, { terms: [main("load"), squared("load")] });
  const { estimate, pieces } = settingFor(fit, { factor: "load", response: 1.239722 });
  expect(Math.round(estimate!)).toBe(1705106);
  expect(pieces.map(({ low, high }) => [Math.round(low!), Math.round(high!)])).toEqual([[1704513, 1705698]]);
});
