import { extent } from "../numerics/index.ts";
import { convert, formatNumber, parseQuantity, valueIn, type UnitName } from "../units/index.ts";
import type { Trial } from "../trial/index.ts";
import type { Check, CutRun } from "./context.ts";
import type { Remark } from "./remark.ts";
import { feedMmPerRev, idealRaUm } from "./ideal-finish.ts";
import { runsInWords } from "./words.ts";

/**
 * Readings finer than the nose radius can leave at that feed point to the gauge, the unit, or a wiper, not to luck. On clean data: in 0.9 % of 10,000 trials of
 * 16 runs at 1.3 times the ideal with a scatter of 8 %.
 */
export const belowIdeal: Check = (context) => {
  const { trial, response, runs } = context;
  const spec = trial?.spec.responses.find(({ name }) => name === response);
  if (!trial || !spec || !/^Ra\b/i.test(response) || trial.spec.cutter?.wiper) return [];
  const below = runs.flatMap(({ run, settings }) => {
    const ideal = idealRaUm(trial.spec, settings);
    const values = trial.readings
      .filter((reading) => reading.run === run && reading.response === response && reading.void === "")
      .map((reading) => convert(reading.value, reading.unit as UnitName, "µm"));
    if (ideal === null || values.length === 0) return [];
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    return mean < ideal ? [{ run, mean, ideal }] : [];
  });
  if (below.length === 0) return [];
  const worst = below.reduce((least, next) =>
    next.mean / next.ideal < least.mean / least.ideal ? next : least,
  );
  return [
    {
      kind: "below-ideal",
      weight: "caution",
      title: `${response} reads finer than the nose radius can leave in ${runsInWords(below.map(({ run }) => run))}.`,
      evidence: `Run ${worst.run}: ${formatNumber(worst.mean, { digits: 3 })} µm read, ${formatNumber(worst.ideal, { digits: 3 })} µm is the ideal Ra at that feed and nose radius.`,
      mend: "Check the unit (µin read as µm?), the cut-off (too short filters the feed mark away), the tip and the direction of the trace, and whether the edge has a wiper flat; then the nose radius itself.",
      runs: below.map(({ run }) => run),
      addRuns: [],
    },
  ];
};

/** The trace must cross the lay, and the cut-off must pass the feed mark. Facts of how it was measured: no reading can raise them by chance. */
export const traceSetUp: Check = ({ trial, runs }) => {
  if (trial === null) return [];
  const { measurement } = trial.spec;
  if (measurement?.across === "along") {
    return [
      {
        kind: "trace-along-lay",
        weight: "caution",
        title: "The traces were taken along the lay: they read smoother than the surface is.",
        evidence:
          "measurement.across in trial.json says “along”. Surface texture is measured across the lay (ISO 21920-3, ASME B46.1).",
        mend: "Read each run again across the lay, as further spots, and void the readings along it.",
        runs: [],
        addRuns: [],
      },
    ];
  }
  return cutoffTooShort(trial, runs);
};

function cutoffTooShort(trial: Trial, runs: readonly CutRun[]): readonly Remark[] {
  const typed = trial.spec.measurement?.cutoff;
  if (typed === undefined) return [];
  const cutoffMm = valueIn(parseQuantity(typed, { unit: "mm" }), "mm");
  // ISO 4288:1996 table for periodic profiles (from memory): spacing above half the cut-off wants the next longer cut-off.
  const longestMm = cutoffMm / 2;
  const over = runs.filter(
    ({ settings }) => (feedMmPerRev(trial.spec, settings) ?? 0) > longestMm * (1 + 1e-9),
  );
  if (over.length === 0) return [];
  const feeds = over.map(({ settings }) => feedMmPerRev(trial.spec, settings) ?? 0);
  return [
    {
      kind: "cutoff-too-short",
      weight: "caution",
      title: `The cut-off of ${typed} is too short for the feed marks of ${runsInWords(over.map(({ run }) => run))}: part of the mark is filtered away.`,
      evidence: `Feed marks up to ${formatNumber(extent(feeds)[1], { digits: 3 })} mm apart; a ${typed} cut-off serves spacings up to ${formatNumber(longestMm, { digits: 2 })} mm (ISO 4288:1996, periodic profiles).`,
      mend: "Read these runs again with the next longer cut-off, and give every compared run the same one.",
      runs: over.map(({ run }) => run),
      addRuns: [],
    },
  ];
}
