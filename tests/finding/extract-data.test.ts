import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { extractData, FindingError, publish } from "../../src/finding/index.ts";
import { fitPowerLaw } from "../../src/model/index.ts";
import { hostileTrial, reading, rippled, sealFace, trialOf } from "./trials.ts";

const date = "2026-11-25";

describe("the data of a published page", () => {
  test.each([
    ["a factorial", sealFace()],
    ["hostile text", hostileTrial()],
  ])("of %s come back as they were", (_, trial) => {
    const { trial: back, checksum, published, models } = extractData(publish(trial, { date }).html);
    const { name, spec, runs, asCut, readings } = trial;
    expect(back).toEqual({ name, spec, runs, asCut, readings });
    expect(checksum).toBe(trial.checksum);
    expect(published).toBe(date);
    expect(Object.keys(models)).toEqual(["Ra"]);
  });

  test("carry the checksum of what was published, not of what was read before", () => {
    const trial = sealFace();
    const fewer = { ...trial, readings: trial.readings.slice(1) };
    const finding = publish(fewer, { date });
    expect(finding.checksum).not.toBe(trial.checksum);
    expect(extractData(finding.html).checksum).toBe(finding.checksum);
  });

  test("give the same fit again, digit for digit", () => {
    const trial = sealFace();
    const received = extractData(publish(trial, { date }).html);
    const again = fitPowerLaw({ ...received.trial, checksum: received.checksum });
    expect(
      received.models.Ra?.coefficients.map((one) => [one.label, one.estimate, one.low, one.high]),
    ).toEqual(again.coefficients.map((one) => [one.label, one.estimate, one.low, one.high]));
  });

  test("come back whatever the notes say", () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: "binary" }), { minLength: 10, maxLength: 10 }), (notes) => {
        // A lone surrogate can't be written in UTF-8; the store never holds one.
        const note = (at: number): string =>
          (notes[at % notes.length] ?? "").replace(/[\ud800-\udfff]/g, "?");
        const trial = trialOf({}, (run) => [reading(run.run, rippled(run), { note: note(run.run) })]);
        expect(extractData(publish(trial, { date }).html).trial.readings).toEqual(trial.readings);
      }),
      { numRuns: 12, seed: 20261125 },
    );
  });
});

describe("refused, with what is wrong", () => {
  const { html } = publish(sealFace(), { date });
  const changed = (from: string | RegExp, to: string): string => {
    const page = html.replace(from, to);
    expect(page).not.toBe(html);
    return page;
  };

  test("a page without data", () => {
    expect(() => extractData("<!doctype html><p>nothing</p>")).toThrow("The page has no block of data");
    expect(() => extractData(html.slice(0, html.indexOf("</script>")))).toThrow(FindingError);
  });

  test("a block that is no JSON", () => {
    expect(() => extractData(changed('{"format"', '{"format'))).toThrow(
      "The block of data in the page is no JSON: it is damaged.",
    );
  });

  test("a reading that was changed after publication", () => {
    expect(() => extractData(changed(/("run":1,"response":"Ra","value":)[\d.]+/, "$19.99"))).toThrow(
      /^The data in the page give the checksum [0-9a-f]{12}…, the page states [0-9a-f]{12}…: they were changed after publication\./,
    );
  });

  test("another form, an unknown field, a reading that is no number", () => {
    expect(() => extractData(changed("trycut-finding/1", "trycut-finding/9"))).toThrow(
      "The block of data in the page, format:",
    );
    expect(() => extractData(changed('"trial":{', '"trial":{"more":1,'))).toThrow(
      "The block of data in the page, trial:",
    );
    expect(() => extractData(changed(/("run":1,"response":"Ra","value":)[\d.]+/, '$1"high"'))).toThrow(
      "The block of data in the page, trial.readings.",
    );
  });

  test("a trial that is none, in the trial's own words", () => {
    expect(() => extractData(changed('"kind":"quantity"', '"kind":"quantities"'))).toThrow(
      "the page's trial.json",
    );
  });
});
