import {
  effectFigure,
  interactionFigure,
  layoutFigure,
  normalQuantileFigure,
  orderFigure,
  orderStripFigure,
  residualFigure,
  responseFigure,
} from "../figure/index.ts";
import { layOut } from "../layout/index.ts";
import { fitLinear, fitPowerLaw } from "../model/index.ts";
import { remarks } from "../review/index.ts";
import { formatReadings, readTable, trialChecksum } from "../store/index.ts";
import { parseTrialSpec, type Reading, type Run, type Trial } from "../trial/index.ts";
import { formatQuantity, parseQuantity } from "../units/index.ts";

/** The engine compiles what it has met a few times; more rounds than this gain nothing that was measured. */
const rounds = 3;

/**
 * Does ahead of time, on a small made-up trial, what every notebook does, so that the engine has met the code when a reader waits for
 * it (about 40 ms a page in place of 200). Nothing of it is kept or shown. Ends early, between two steps, where a run is wanted.
 */
export async function warmUp(isWanted: () => boolean): Promise<void> {
  for (const step of rehearsal()) {
    // What has come in the meantime is heard here.
    await new Promise((resolve) => setImmediate(resolve));
    if (isWanted()) return;
    step();
  }
  // The compiler of TypeScript is a process of its own; text that is not yet in its cache starts it.
  await import(`data:text/typescript,export const started: number = ${Date.now()};`).catch(() => {});
}

function* rehearsal(): Generator<() => unknown> {
  const trial = smallTrial();
  for (let round = 0; round < rounds; round++) {
    yield () => readTable(formatReadings(trial.readings));
    yield () => formatQuantity(parseQuantity("31 µin"), { system: "both" });
    for (const fit of [fitPowerLaw(trial), fitLinear(trial, { model: "interactions" })]) {
      yield () => responseFigure(fit, { factor: "feed", trial });
      yield () => effectFigure(fit);
      yield () => interactionFigure(fit, { factors: ["feed", "edge"] });
      yield () => orderFigure(fit, { trial });
      yield () => residualFigure(fit);
      yield () => normalQuantileFigure(fit);
      yield () => remarks(trial, fit);
      yield () => fit.recipes();
    }
    yield () => layoutFigure(trial);
    yield () => orderStripFigure(trial);
  }
}

/** A factorial of feed, speed and edge with two replicates; readings by a rule, without chance. */
function smallTrial(): Trial {
  const spec = parseTrialSpec({
    title: "rehearsal",
    dataKind: "invented",
    factors: [
      { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.1, high: 0.2 },
      { name: "speed", kind: "quantity", unit: "rev/min", low: 1000, high: 2000 },
      { name: "edge", kind: "category", levels: ["fresh", "used"] },
    ],
    responses: [{ name: "Ra", unit: "µm", limit: 1 }],
    layout: { kind: "factorial", replicates: 2, centrePoints: 2, seed: 1 },
  });
  const { runs } = layOut(spec);
  const parts = { spec, runs, asCut: [], readings: runs.flatMap(smallReadings) };
  return { name: "rehearsal", ...parts, checksum: trialChecksum(parts) };
}

function smallReadings({ run, settings }: Run): readonly Reading[] {
  const value =
    4 * Number(settings.feed) * (settings.edge === "used" ? 1.2 : 1) * (1 + 0.03 * Math.sin(9 * run));
  return [1, 2].map((spot) => ({
    run,
    response: "Ra",
    value: Number((value * (1 + 0.01 * spot)).toFixed(3)),
    unit: "µm",
    spot,
    repeat: 1,
    taken: "",
    note: "",
    void: "",
  }));
}
