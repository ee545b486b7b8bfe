import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  formatAsCut,
  formatPlan,
  formatReadings,
  openTrial,
  createTrial,
  type Dialect,
} from "../../src/store/index.ts";
import { parseAsCut } from "../../src/store/as-cut-file.ts";
import { decodeEntry, encodeEntry } from "../../src/store/journal-line.ts";
import { readingOf, rowOf } from "../../src/store/journal-readings.ts";
import { parsePlan } from "../../src/store/plan-file.ts";
import { keyText } from "../../src/store/reading-key.ts";
import { parseReadings } from "../../src/store/readings-file.ts";
import { readTable, type DataTable } from "../../src/store/read-table.ts";
import { parseTrialSpec, type AsCut, type Reading, type Run } from "../../src/trial/index.ts";
import { freshRoot, sampleSpec, steadyClock } from "./sample-trial.ts";

const seed = 20261125;
// A category whose levels are as awkward as names may be.
const levels = ["fresh", "=used", "-2", "a,b;c"];
const spec = parseTrialSpec({
  ...sampleSpec,
  factors: [sampleSpec.factors[0], { name: "edge", kind: "category", levels }],
});

const dialects = fc.record<Dialect>({
  delimiter: fc.constantFrom(",", ";"),
  decimal: fc.constantFrom("point", "comma"),
  bom: fc.boolean(),
  newline: fc.constantFrom("\n", "\r\n"),
});
const number = fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => value + 0);
const note = fc
  .string({ unit: fc.constantFrom(..."abµ =+-@'\",;\t\n".split("")), maxLength: 10 })
  .map((text) => text.trim());
const taken = fc.constantFrom("", "2026-11-25", "2026-11-25T09:00:00.000Z", "2026-11-25T09:00:00+01:00");

const runs = fc
  .array(
    fc.record({ feed: number, edge: fc.constantFrom(...levels), block: fc.integer({ min: 1, max: 4 }) }),
    { minLength: 1, maxLength: 12 },
  )
  .map((list): readonly Run[] =>
    list.map(({ feed, edge, block }, index) => ({
      run: index + 1,
      standard: list.length - index,
      block,
      role: "corner",
      settings: { feed, edge },
    })),
  );
/** A number, or one that was typed with more digits than it needs. */
const typed = fc.oneof(
  number.map((value) => ({ value })),
  fc.tuple(fc.integer({ min: 0, max: 99 }), fc.integer({ min: 0, max: 99 })).map(([whole, decimals]) => {
    const text = `${whole}.${decimals}0`;
    return { value: Number(text), text };
  }),
);
const readings = (count: number): fc.Arbitrary<readonly Reading[]> =>
  fc
    .uniqueArray(
      fc.record({
        run: fc.integer({ min: 1, max: count }),
        response: fc.constantFrom("Ra", "Rz"),
        spot: fc.integer({ min: 1, max: 9 }),
        repeat: fc.integer({ min: 1, max: 9 }),
        typed,
        unit: fc.constantFrom("µm", "µin", "mm"),
        taken,
        note,
        void: note,
      }),
      { selector: keyText },
    )
    .map((list) => list.map(({ typed: value, ...reading }) => ({ ...reading, ...value })));

const read = (text: string, { delimiter, decimal }: Dialect): DataTable =>
  readTable(text, { delimiter, decimal });

describe("a trial's files give back what was written", () => {
  it("plan.csv", () => {
    fc.assert(
      fc.property(runs, dialects, (plan, dialect) => {
        expect(parsePlan(read(formatPlan(spec, plan, dialect), dialect), spec)).toEqual(plan);
      }),
      { seed },
    );
  });

  it("as-cut.csv", () => {
    const notes = fc.array(
      fc.oneof(
        typed.map((value) => ({ factor: "feed", ...value, unit: "in/rev" })),
        fc.constantFrom(...levels).map((value) => ({ factor: "edge", value, unit: "" })),
      ),
    );
    fc.assert(
      fc.property(
        runs,
        notes,
        fc.array(note, { minLength: 20, maxLength: 20 }),
        dialects,
        (plan, list, reasons, dialect) => {
          const asCut = list.map((one, index): AsCut => ({
            run: 1 + (index % plan.length),
            ...one,
            reason: reasons[index % 20],
          }));
          expect(parseAsCut(read(formatAsCut(asCut, dialect), dialect), spec, plan)).toEqual(asCut);
        },
      ),
      { seed },
    );
  });

  it("readings.csv", () => {
    fc.assert(
      fc.property(
        runs.chain((plan) => fc.tuple(fc.constant(plan), readings(plan.length))),
        dialects,
        ([plan, list], dialect) => {
          expect(parseReadings(read(formatReadings(list, dialect), dialect), spec, plan)).toEqual(list);
        },
      ),
      { seed },
    );
  });

  it("journal.ndjson, line by line, and no line with a changed sign passes", () => {
    fc.assert(
      fc.property(readings(5), fc.integer({ min: 1, max: 9999 }), fc.nat(), (list, sequence, where) => {
        const change = { kind: "recorded" as const, readings: list.map(rowOf), note: "" };
        const line = encodeEntry({
          sequence,
          at: "2026-11-25T09:00:00.000Z",
          change,
          files: { "readings.csv": "abc" },
        });
        const entry = decodeEntry(line.trimEnd());
        expect(entry?.sequence).toBe(sequence);
        expect(entry?.change.kind === "recorded" ? entry.change.readings.map(readingOf) : null).toEqual(list);
        const at = where % (line.length - 1);
        expect(
          decodeEntry(`${line.slice(0, at)}${line[at] === "x" ? "y" : "x"}${line.slice(at + 1).trimEnd()}`),
        ).toBeNull();
      }),
      { seed },
    );
  });

  it("the whole folder", async () => {
    const root = await freshRoot();
    let count = 0;
    await fc.assert(
      fc.asyncProperty(
        runs.chain((plan) => fc.tuple(fc.constant(plan), readings(plan.length))),
        async ([plan, list]) => {
          const made = await createTrial(root, `trial-${++count}`, spec, plan, {
            readings: list,
            now: steadyClock(),
          });
          const opened = await openTrial(made.folder);
          expect(opened).toMatchObject({
            spec,
            runs: plan,
            readings: list,
            checksum: made.checksum,
            notices: [],
          });
        },
      ),
      { seed, numRuns: 25 },
    );
  });
});
