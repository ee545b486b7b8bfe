import { describe } from "vitest";
import * as units from "../../src/units/index.ts";
import { runExamples } from "./run-examples.ts";

describe("examples in the comments of src/units", () => {
  runExamples(new URL("../../src/units/", import.meta.url), { ...units });
});
