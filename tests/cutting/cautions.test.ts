import { describe, expect, it } from "vitest";
import { cautions } from "../../src/cutting/index.ts";
import { parseTrialSpec } from "../../src/trial/index.ts";

function cautionsFor(changes: Readonly<Record<string, unknown>> = {}): readonly string[] {
  const trial = {
    format: "trycut-trial/1",
    title: "Seal face",
    factors: [{ name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24 }],
    responses: [{ name: "Ra", unit: "µm" }],
    layout: { kind: "sweep" },
    ...changes,
  };
  return cautions(parseTrialSpec(trial, "trial.json"));
}

describe("cautions", () => {
  it("states the limits of the trial and the lowest of them, whatever their order and unit", () => {
    const [first] = cautionsFor({ machine: { maxSpeed: "6 000 rpm" }, cutter: { maxSpeed: "8000 rev/min" } });
    expect(first).toBe(
      "Speed limits stated in this trial: machine 6 000 rpm, cutter 8000 rev/min. " +
        "Stay under the lowest limit of spindle, cutter and holder, here at most 6 000 rpm (machine); the holder's is to be looked up.",
    );
    const [other] = cautionsFor({ machine: { maxSpeed: "100 rev/s" }, cutter: { maxSpeed: "5000 rev/min" } });
    expect(other).toContain("here at most 5000 rev/min (cutter)");
  });

  it("calls no limit the lowest where one of them is on the rim", () => {
    const spec = parseTrialSpec(
      {
        title: "Seal face",
        factors: [{ name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24 }],
        layout: { kind: "sweep" },
        machine: { maxSpeed: "6000 rev/min" },
      },
      "trial.json",
    );
    const [first] = cautions({ ...spec, cutter: { maxSpeed: "300 m/min" } });
    expect(first).toContain(
      "machine 6000 rev/min, cutter 300 m/min. Stay under the lowest limit of spindle, cutter and holder; the",
    );
  });

  it("says where no limit is stated", () => {
    expect(cautionsFor()[0]).toBe(
      "No speed limit is stated in this trial: look them up before cutting. Stay under the lowest limit of spindle, cutter and holder.",
    );
  });

  it("covers every trial with clamping, stock, guards, fire, fluids, warm-up, proof and the manuals", () => {
    const text = cautionsFor().join("\n");
    for (const word of [
      "Clamp",
      "full travel",
      "stock left",
      "guards shut",
      "eye and ear protection",
      "No gloves",
      "stands still",
      "fire hazards",
      "class D for magnesium",
      "no compressed air on dust",
      "safety data sheet",
      "temperature before run 1",
      "proof runs before production parts",
      "machine's manual",
      "local codes",
      "licensed practice",
    ]) {
      expect(text).toContain(word);
    }
  });

  it("asks for a class D extinguisher where the trial names magnesium, by word or by alloy code", () => {
    for (const material of ["magnesium die casting", "AZ91D", "WE43"]) {
      expect(cautionsFor({ held: { material } }).join("\n")).toContain(
        "This trial names magnesium: class D extinguisher",
      );
    }
    expect(cautionsFor({ held: { material: "grey iron" } }).join("\n")).not.toContain("This trial names");
    expect(cautionsFor({ title: "At 10 am60 parts" }).join("\n")).not.toContain("This trial names");
  });

  it("warns of aluminium, titanium and dry cutting where they are named", () => {
    const text = cautionsFor({
      held: { material: "AlSi10Mg" },
      factors: [{ name: "coolant", kind: "category", levels: ["flood", "dry"] }],
    }).join("\n");
    expect(text).toContain("This trial names aluminium: its fines burn");
    expect(text).toContain("Runs cut dry: watch for heat");
    expect(cautionsFor({ held: { material: "Ti-6Al-4V" } }).join("\n")).toContain("names titanium");
  });

  it("limits single-tooth and large cutters far below the spindle, and leaves turning tools alone", () => {
    const rule = "limited far below the spindle";
    expect(cautionsFor({ cutter: { teeth: 1 } }).join("\n")).toContain(
      `A cutter with a single tooth is ${rule}`,
    );
    expect(cautionsFor({ cutter: { diameter: "6 in", teeth: 5 } }).join("\n")).toContain(
      `A cutter of 6 in is ${rule}`,
    );
    expect(cautionsFor({ cutter: { diameter: "50 mm", teeth: 5 } }).join("\n")).not.toContain(rule);
    expect(cautionsFor({ cutter: { teeth: 1 }, pass: { kind: "turning" } }).join("\n")).not.toContain(rule);
  });

  it("repeats the stated stock and feed limit", () => {
    const text = cautionsFor({ budget: { stock: "3 mm" }, machine: { maxFeedSpeed: "5000 mm/min" } }).join(
      "\n",
    );
    expect(text).toContain("Stock stated in this trial: 3 mm");
    expect(text).toContain("Feed limit stated in this trial: 5000 mm/min.");
  });
});
