import { layOut } from "../../src/layout/index.ts";
import { trialChecksum } from "../../src/store/index.ts";
import { parseTrialSpec, type Reading, type Run, type Trial } from "../../src/trial/index.ts";

type SpecParts = Readonly<Record<string, unknown>>;

const feed = { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24, scale: "log" };
const edge = { name: "edge", kind: "category", levels: ["fresh", "used"] };

/** A reading of Ra after a run; fields may be given otherwise. */
export function reading(run: number, value: number, more: Partial<Reading> = {}): Reading {
  return {
    run,
    response: "Ra",
    value,
    unit: "µm",
    spot: 1,
    repeat: 1,
    taken: "",
    note: "",
    void: "",
    ...more,
  };
}

/** A trial in memory, laid out from its spec; readings by a rule, without chance. */
export function trialOf(
  parts: SpecParts,
  readings: (run: Run) => readonly Reading[],
  more: Partial<Pick<Trial, "name" | "asCut">> = {},
): Trial {
  const spec = parseTrialSpec({
    title: "Seal face",
    question: "How fast may it be fed?",
    dataKind: "invented",
    factors: [feed, edge],
    responses: [{ name: "Ra", unit: "µm", limit: 0.8 }],
    layout: { kind: "factorial", replicates: 2, centrePoints: 2, seed: 7 },
    held: { depth: "0.1 mm" },
    cutter: { diameter: "80 mm", noseRadius: "0.8 mm", teeth: 1 },
    pass: { length: "180 mm", width: "60 mm" },
    measurement: { cutoff: "0.8 mm", tipRadius: "2 µm", across: "lay" },
    ...parts,
  });
  const { runs } = layOut(spec);
  const { name = "seal-face", asCut = [] } = more;
  const body = { spec, runs, asCut, readings: runs.flatMap(readings) };
  return { name, ...body, checksum: trialChecksum(body) };
}

/** Ra of a power law in feed with a used edge a fifth rougher, and a ripple that stands for scatter. */
export function rippled({ run, settings }: Run): number {
  const scatter = 1 + 0.04 * Math.sin(12.9898 * run);
  return 4 * Number(settings.feed) ** 1.2 * (settings.edge === "used" ? 1.2 : 1) * scatter;
}

/** Two spots on each of ten runs. */
export function sealFace(more: SpecParts = {}): Trial {
  return trialOf(more, (run) =>
    [1, 2].map((spot) => reading(run.run, Number((rippled(run) * (1 + 0.01 * spot)).toFixed(3)), { spot })),
  );
}

/** Names and notes as an attacker, or a careless typist, would choose them. */
export const hostileTexts = [
  `<img src=x onerror=alert(1)>`,
  `</script><script>alert(1)</script>`,
  `<!--`,
  `"><svg onload=alert(1)>`,
  `=cmd|'/c calc'!A1`,
  `@SUM(1+1)`,
  `javascript:alert(1)`,
  `]]>&amp;&#60;`,
] as const;

/** Hostile text wherever a trial takes text. */
export function hostileTrial(): Trial {
  const text = hostileTexts.join(" ");
  const trial = trialOf(
    {
      title: text,
      question: text,
      source: text,
      factors: [feed, { name: "edge", kind: "category", levels: [hostileTexts[0], hostileTexts[4]] }],
      held: { depth: "0.1 mm", coolant: text },
      dataKind: "measured",
    },
    (run) => [
      reading(run.run, Number(rippled({ ...run, settings: { ...run.settings, edge: "fresh" } }).toFixed(3)), {
        note: hostileTexts[run.run % hostileTexts.length] ?? "",
      }),
      reading(run.run, 9, { repeat: 2, void: hostileTexts[(run.run + 4) % hostileTexts.length] ?? "" }),
    ],
  );
  const asCut = [{ run: 1, factor: "feed", value: 0.1, unit: "mm/rev", reason: text }];
  const body = { spec: trial.spec, runs: trial.runs, asCut, readings: trial.readings };
  return { name: "hostile", ...body, checksum: trialChecksum(body) };
}
