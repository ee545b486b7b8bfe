import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/numerics/index.ts";
import { questionsAbout } from "../../src/store/index.ts";
import { parseTrialSpec, type Reading, type Run, type Trial } from "../../src/trial/index.ts";
import { frozen } from "../trial/example-spec.ts";
import { sampleRuns, sampleSpec } from "./sample-trial.ts";

const spec = parseTrialSpec(sampleSpec);

function reading(run: number, value: number, repeat = 1, more: Partial<Reading> = {}): Reading {
  return { run, response: "Ra", value, unit: "µm", spot: 1, repeat, taken: "", note: "", void: "", ...more };
}

function trialOf(readings: readonly Reading[]): Trial {
  return frozen({ name: "seal-face", spec, runs: sampleRuns, asCut: [], readings, checksum: "" });
}

const alike = [0.7, 0.78, 0.74, 0.9, 0.82].map((value, index) => reading(6, value, index + 1));

function asked(value: number, more: Partial<Reading> = {}): readonly string[] {
  return questionsAbout(trialOf(alike), [reading(6, value, 9, more)]).map(({ text }) => text);
}

describe("questionsAbout", () => {
  it("names file, line, run and the mend of microinches read as micrometres", () => {
    const [question] = questionsAbout(trialOf(alike), [reading(6, 31, 9)], {
      file: "readings.csv",
      lines: [14],
    });
    expect(question.text).toBe(
      'readings.csv line 14, run 6: Ra 31 µm is about 40 times the other readings (0.7 to 0.9 µm). If it is 31 µin, write "31 µin" (0.79 µm).',
    );
    expect(question).toMatchObject({
      id: "run 6 Ra spot 1 31 µm",
      kind: "unit-slip",
      line: 14,
      run: 6,
      field: "Ra",
    });
    expect(question.choices.map(({ id }) => id)).toEqual([
      "write 31 µin",
      "write 1.22047 µm",
      "keep",
      "void",
      "leave-out",
    ]);
    expect(question.choices[0].mend).toEqual({ value: 31, unit: "µin", text: "31 µin" });
  });

  it.each([
    [
      "25.4 times off",
      20.3,
      {},
      'run 6: Ra 20.3 µm is about 26 times the other readings (0.7 to 0.9 µm). If it is 0.799213 µm, write "0.799213 µm".',
    ],
    [
      "micrometres read as microinches",
      0.8,
      { unit: "µin" },
      'run 6: Ra 0.8 µin is about 1/38 of the other readings (0.7 to 0.9 µm). If it is 0.8 µm, write "0.8 µm".',
    ],
    [
      "millimetres read as micrometres",
      0.0008,
      {},
      'run 6: Ra 0.0008 µm is about 1/980 of the other readings (0.7 to 0.9 µm). If it is 0.0008 mm, write "0.0008 mm" (0.80 µm).',
    ],
    [
      "the decimal point one place off",
      8.2,
      {},
      'run 6: Ra 8.2 µm is about 11 times the other readings (0.7 to 0.9 µm). If it is 0.82 µm, write "0.82 µm".',
    ],
    [
      "an outlier",
      3.1,
      {},
      "run 6: Ra 3.1 µm stands far off: about 4.0 times the other readings (0.7 to 0.9 µm). Read the spot again, or say why it is to be kept.",
    ],
    [
      "zero",
      0,
      {},
      "run 6: Ra 0 µm is not above zero, and the other readings are. Read the spot again, or say why it is to be kept.",
    ],
  ])("asks about %s", (_, value, more, text) => {
    expect(asked(value, more)).toEqual([text]);
  });

  it("leaves alone what fits, what is void, and what was kept before", () => {
    expect(asked(0.95)).toEqual([]);
    expect(asked(31, { unit: "µin" })).toEqual([]);
    expect(asked(31, { void: "wrong unit" })).toEqual([]);
    expect(asked(31, { note: "kept: the edge had chipped" })).toEqual([]);
  });

  it("asks nothing of a first reading, and compares responses with themselves only", () => {
    expect(questionsAbout(trialOf([]), [reading(1, 31)])).toEqual([]);
    expect(questionsAbout(trialOf(alike), [reading(6, 31, 1, { response: "Rz" })])).toEqual([]);
  });

  it("sees an outlier only where a spot's own readings are alike: other spots may differ", () => {
    const atSpot = (spot: number, middle: number): readonly Reading[] =>
      [1, 1.03, 0.98, 1.01, 0.97, 1.02].map((factor, index) =>
        reading(1, middle * factor, index + 1, { spot }),
      );
    const trial = trialOf([...atSpot(1, 0.8), ...atSpot(2, 2.4), ...atSpot(3, 0.8)]);
    expect(questionsAbout(trial, trial.readings)).toEqual([]);
    const [question] = questionsAbout(trial, [reading(1, 2.4, 9, { spot: 3 })]);
    expect(question.kind).toBe("outlier");
  });

  it("compares single readings with the runs at the same settings, else with the main effects of all", () => {
    const single = [0.8, 1.6, 1.2, 2.4, 0.84, 1.55, 1.15].map((value, index) => reading(index + 1, value));
    const [question] = questionsAbout(trialOf(single), [reading(8, 93)]);
    expect(question.text).toContain('If it is 93 µin, write "93 µin" (2.4 µm).');
    expect(questionsAbout(trialOf(single), [reading(8, 2.3)])).toEqual([]);
  });
});

// Invented trials of which the truth is known: run means by feed and edge, scatter from run to run and from reading to
// reading as standard deviations of logarithms. Counts are of 150 trials with a fixed seed; the limits leave room for
// three standard deviations of a count.
describe("of 150 simulated trials", () => {
  const feeds = [0.08, 0.12, 0.18, 0.24];
  const wide = parseTrialSpec({
    ...sampleSpec,
    factors: [{ ...sampleSpec.factors[0], low: 0.08, high: 0.24, scale: "log" }, sampleSpec.factors[1]],
  });
  const runs: readonly Run[] = Array.from({ length: 16 }, (_, index) => ({
    run: index + 1,
    standard: index + 1,
    block: 1,
    role: "given",
    settings: { feed: feeds[(index >> 1) % 4], edge: index % 2 === 0 ? "fresh" : "used" },
  }));

  function simulated(
    random: ReturnType<typeof seededRandom>,
    repeats: number,
    betweenRuns: number,
    withinRun: number,
  ): Trial {
    const readings = runs.flatMap(({ run, settings }) => {
      const middle =
        0.8 *
        (Number(settings.feed) / 0.1) ** 1.4 *
        (settings.edge === "used" ? 1.3 : 1) *
        Math.exp(betweenRuns * random.normal());
      return Array.from({ length: repeats }, (_, index) =>
        reading(run, Number((middle * Math.exp(withinRun * random.normal())).toPrecision(2)), index + 1),
      );
    });
    return { name: "", spec: wide, runs, asCut: [], readings, checksum: "" };
  }

  it.each([
    [1, 0.1, 0.1],
    [2, 0.1, 0.1],
    [3, 0.1, 0.2],
  ])(
    "with %i readings a run, clean ones are hardly ever asked about and slips nearly always are",
    (repeats, betweenRuns, withinRun) => {
      const random = seededRandom(20261125);
      let falseAlarms = 0;
      let [microinches, inches] = [0, 0];
      for (let count = 0; count < 150; count++) {
        const trial = simulated(random, repeats, betweenRuns, withinRun);
        if (questionsAbout(trial, trial.readings).length > 0) falseAlarms++;
        const at = random.integer(trial.readings.length);
        const slipped = (factor: number): readonly string[] => {
          const readings = trial.readings.map((one, index) =>
            index === at ? { ...one, value: one.value * factor } : one,
          );
          const found = questionsAbout({ ...trial, readings }, [readings[at]]);
          return found.flatMap(({ choices }) =>
            choices.flatMap(({ mend }) =>
              mend === null
                ? []
                : [mend.unit === "µin" ? "µin" : (readings[at].value / mend.value).toFixed(1)],
            ),
          );
        };
        if (slipped(1 / 0.0254).includes("µin")) microinches++;
        if (slipped(25.4).includes("25.4")) inches++;
      }
      expect(falseAlarms).toBeLessThanOrEqual(6);
      expect(microinches).toBeGreaterThanOrEqual(146);
      expect(inches).toBeGreaterThanOrEqual(146);
    },
  );
});
