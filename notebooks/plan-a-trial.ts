/*
 * How many passes a trial needs when the layout is known: lay the runs out, see what they can tell, cut them more often until they
 * can tell enough. Where the layout is the question as well, see `plan-and-compare.ts`. Run it with `npx tsx notebooks/plan-a-trial.ts`, or open it on the bench and change the answers.
 */
import {
  cautions,
  checkLimits,
  judge,
  layOut,
  layoutFigure,
  notebook,
  orderStripFigure,
  parseTrialSpec,
  powerFigure,
  valueIn,
} from "trycut";

export default notebook({ title: "How many passes a trial on a seal face needs" }, async (page) => {
  page.prose(`
The question: which of feed, speed and edge moves Ra on the seal face of a pump cover? We may vary the three, keep the depth
at 0.1 mm, and have two hours and two edges. The plan below is for an **invented** shop; change the answers to make it yours.
`);

  const replicates = page.ask.number("Fresh runs at each setting", { default: 2, low: 1, high: 6 });
  const sigma = page.ask.quantity("Scatter from run to run, your guess", { default: "0.05 µm" });
  const effect = page.ask.quantity("Smallest change of Ra worth knowing", { default: "0.1 µm" });

  const spec = parseTrialSpec({
    title: "Pump-cover seal face: feed, speed and edge",
    dataKind: "invented",
    factors: [
      {
        name: "feed",
        kind: "quantity",
        unit: "mm/rev",
        low: 0.08,
        high: 0.24,
        scale: "log",
        increment: 0.01,
      },
      {
        name: "speed",
        kind: "quantity",
        unit: "rev/min",
        low: 1200,
        high: 2400,
        scale: "log",
        increment: 10,
      },
      { name: "edge", kind: "category", levels: ["fresh", "used"] },
    ],
    responses: [{ name: "Ra", unit: "µm", limit: 0.8 }],
    layout: { kind: "factorial", replicates, centrePoints: 2, order: "drift-proof", seed: 20261125 },
    held: { depth: "0.1 mm", material: "aluminium casting" },
    cutter: { diameter: "80 mm", noseRadius: "4 mm", teeth: 1, maxSpeed: "8000 rev/min" },
    machine: { maxSpeed: "6000 rev/min", maxFeedSpeed: "5000 mm/min" },
    pass: { length: "180 mm", width: "60 mm" },
    budget: { minutes: 120, stock: "6 mm", edges: 2 },
  });

  const layout = layOut(spec);
  // A plan that the machine, the cutter, the stock or the clock does not allow stops here, with the run that does it.
  checkLimits(spec, layout.runs);

  page.heading("The runs");
  page.figure(layoutFigure({ runs: layout.runs, factors: spec.factors }), {
    caption: `${layout.runs.length} runs, each dot a fresh pass`,
  });
  page.figure(orderStripFigure({ runs: layout.runs, factors: spec.factors }), {
    caption: "The same runs in the order in which they are cut",
  });
  page.prose(layout.orderRules.map((rule) => `- ${rule}`).join("\n"));

  page.heading("What they can tell");
  const judged = (count: number) => {
    const runs = layOut({ ...spec, layout: { ...spec.layout, replicates: count } }).runs;
    return judge(runs, spec.factors, {
      model: "main",
      sigma: valueIn(sigma, "µm"),
      effect: valueIn(effect, "µm"),
      unit: "µm",
    });
  };
  const judgement = judged(replicates);
  page.prose(judgement.sentences.map((sentence) => `- ${sentence}`).join("\n"));

  const points = [1, 2, 3, 4, 5, 6].map((count) => {
    const { runs, terms } = judged(count);
    return { x: runs, power: terms[0].power ?? 0 };
  });
  page.figure(powerFigure([{ label: "", points }], { along: "passes", whole: "only" }), {
    caption: `Chance of seeing a change of ${effect.text} in Ra from low to high feed`,
  });

  page.cautions(cautions(spec));
});
