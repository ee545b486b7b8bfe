import { describe, expect, test } from "vitest";
import { contrast, fitLinear, fitPowerLaw, observeTable, type Contrast } from "../../../src/model/index.ts";
import { observed, products, table } from "./by-r.ts";

describe("sentences", () => {
  const linear = fitLinear(observed("day"), { terms: products });

  test("say what was changed, what it did, how sure, and what it hangs on", () => {
    const law = fitPowerLaw(observed());
    const found = contrast(law, { feed: 0.2, edge: "used" }, { feed: 0.12, edge: "honed" });
    const [estimate, range] = found.value.text.split(", ");
    expect(found.sentence).toBe(
      `Going from feed 0.2 mm/rev, edge used to feed 0.12 mm/rev, edge honed multiplies Ra by ${estimate} (${range}).`,
    );
    expect(contrast(linear, { feed: 0.24 }, { feed: 0.08 }).sentence).toBe(
      "With edge evenly over fresh, used and honed, going from feed 0.24 mm/rev to feed 0.08 mm/rev lowers Ra by 0.666 µm (95 % 0.636 to 0.696). How much depends on edge: name it to ask elsewhere.",
    );
    expect(contrast(linear, { feed: 0.24, edge: "used" }, { feed: 0.3 }).sentence).toMatch(
      /^With edge used, going from feed 0\.24 mm\/rev to feed 0\.3 mm\/rev raises Ra by 0\.\d+ µm \(95 % 0\.\d+ to 0\.\d+\)\. Outside what was cut: feed\.$/,
    );
  });

  test("of no difference name what could have been missed", () => {
    const law = fitPowerLaw(observed());
    const shut = contrast(law, { speed: 200 }, { speed: 210 }, { confidence: 0.9999 });
    expect(shut.sentence).toMatch(
      /^No difference in Ra between speed 200 m\/min and speed 210 m\/min was seen; one by a factor up to 1\.0\d+ could have been missed \(99\.99 % 0\.9\d+ to 1\.0\d+, p 0\.\d+\)\.$/,
    );
  });

  test("say why there is no answer, or no interval", () => {
    const together = observeTable(
      table({ feed: [0.1, 0.1, 0.2, 0.2], speed: [100, 100, 200, 200], Ra: [1, 1.1, 2, 2.1] }),
      { response: "Ra", factors: ["feed", "speed"] },
    );
    const fit = fitLinear(together);
    expect(contrast(fit, { feed: 0.1 }, { feed: 0.2 }).sentence).toBe(
      "What going from feed 0.1 mm/rev to feed 0.2 mm/rev does to Ra can't be told: feed and speed moved together in every run.",
    );
    // Along the way that both went together there is an answer.
    expect(contrast(fit, { feed: 0.1, speed: 100 }, { feed: 0.2, speed: 200 }).value.estimate).toBeCloseTo(
      1,
      12,
    );
    const some = fitLinear(together, { terms: [{ feed: 1 }] });
    expect(contrast(some, { speed: 100 }, { speed: 200 }).sentence).toBe(
      "What going from speed 100 m/min to speed 200 m/min does to Ra can't be told: speed is not in the model.",
    );
    const bare = observeTable(table({ feed: [0.1, 0.2], Ra: [1, 2] }), { response: "Ra", factors: ["feed"] });
    expect(contrast(fitLinear(bare), { feed: 0.1 }, { feed: 0.15 }).sentence).toMatch(
      /^Going from feed 0\.1 mm\/rev to feed 0\.15 mm\/rev raises Ra by 0\.500 µm\. No interval: the model has as many terms/,
    );
  });

  test("are not made of settings that say nothing", () => {
    const refuse = (from: object, to: object): (() => Contrast) => {
      // What a notebook may pass is any record; that is what is tried.
      return () => contrast(linear, from as Record<string, number>, to as Record<string, number>);
    };
    expect(refuse({ feed: 0.1 }, { feed: 0.1 })).toThrow(
      "the same setting to go from and to; expected two settings that differ in one factor or more.",
    );
    expect(refuse({ feed: 0.1 }, { feed: 0.2, edge: "used" })).toThrow(
      "edge in the setting to go to only; expected every factor that changes in both settings. Say which edge it goes from.",
    );
    expect(refuse({ feed: 0.1 }, { feed: Number.NaN })).toThrow("feed NaN; expected a finite number.");
    expect(refuse({ feet: 0.1 }, { feet: 0.2 })).toThrow('a setting of the unknown factor "feet"');
    expect(refuse({ edge: "used" }, { edge: "blunt" })).toThrow(
      "edge blunt; expected one of fresh, used or honed.",
    );
  });
});
