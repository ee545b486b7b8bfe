/*
 * How to choose among layouts before a chip is cut: say what is at stake, get the layouts that fit side by side, compare two of them,
 * and judge the one that is taken. Run it with `npx tsx notebooks/plan-and-compare.ts`, or open it on the bench and change the answers.
 */
import {
  checkLimits,
  chooseLayout,
  choiceFigure,
  halfWidthsAt,
  judge,
  knownSliceFigure,
  layOut,
  layoutFigure,
  movesWithFigure,
  notebook,
  orderStripFigure,
  parseTrialSpec,
  planCost,
  shareKnownFigure,
  termCorrelations,
  times,
  valueIn,
} from "trycut";

export default notebook({ title: "Choosing a plan for a sealing face" }, async (page) => {
  page.prose(`
The question: which setting gives the best sealing face on a pump cover? Feed, speed and depth may be varied. The shop below is
**invented**; change the answers to make it yours.
`);

  const passes = page.ask.number("Passes at hand", { default: 20, low: 4, high: 64 });
  const sigma = valueIn(
    page.ask.quantity("Scatter from pass to pass, your guess", { default: "0.05 µm" }),
    "µm",
  );
  const effect = valueIn(
    page.ask.quantity("Smallest change of Ra worth knowing", { default: "0.15 µm" }),
    "µm",
  );

  const trial = {
    title: "Pump-cover sealing face: feed, speed and depth",
    dataKind: "invented",
    factors: [
      { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24, increment: 0.01 },
      { name: "speed", kind: "quantity", unit: "rev/min", low: 1200, high: 2400, increment: 10 },
      { name: "depth", kind: "quantity", unit: "mm", low: 0.1, high: 0.3, increment: 0.01 },
    ],
    responses: [{ name: "Ra", unit: "µm", limit: 0.8 }],
    held: { material: "aluminium casting", edge: "fresh" },
    cutter: { diameter: "80 mm", noseRadius: "4 mm", teeth: 1, maxSpeed: "8000 rev/min" },
    machine: { maxSpeed: "6000 rev/min", maxFeedSpeed: "5000 mm/min" },
    pass: { length: "180 mm", width: "60 mm", approach: "40 mm", overtravel: "5 mm" },
    budget: { passes, minutes: 120, minutesBetween: 3 },
  } as const;
  const asked = parseTrialSpec({ ...trial, layout: { kind: "factorial" } });
  const { factors } = asked;

  page.heading("The layouts that fit");
  const choice = chooseLayout({
    factors,
    stake: "best-setting",
    passes,
    sigma,
    effect,
    unit: "µm",
    trial: asked,
    seed: 20261125,
  });
  page.prose(choice.advice.map((sentence) => `- ${sentence}`).join("\n"));
  if (choice.candidates.length === 0) {
    page.prose(
      [...choice.enough.sentences, ...choice.instead.map(({ text }) => text)]
        .map((text) => `- ${text}`)
        .join("\n"),
    );
    return;
  }
  page.figure(choiceFigure(choice), { caption: "How finely each layout would know the effects" });

  // The first is the recommended one; the second is what one would give up or gain.
  const [first, second = first] = choice.candidates;
  const plans = (first === second ? [first] : [first, second]).map(({ title, layout }) => {
    const spec = parseTrialSpec({ ...trial, layout });
    return { title, spec, runs: layOut(spec).runs };
  });

  page.heading("Two of them beside each other");
  const [plan] = plans;
  const asAsked = { model: "surface", sigma, unit: "µm" } as const;
  // Places spread evenly over the region: every combination of thirteen settings each.
  const thirteen = Array.from({ length: 13 }, (_, step) => step / 12);
  const places = thirteen.flatMap((a) =>
    thirteen.flatMap((b) =>
      thirteen.map((c) => ({ feed: 0.08 + 0.16 * a, speed: 1200 + 1200 * b, depth: 0.1 + 0.2 * c })),
    ),
  );
  page.figure(
    shareKnownFigure(
      plans.map(({ runs }, place) => ({
        label: `layout ${place + 1}`,
        halfWidths: halfWidthsAt(runs, factors, places, asAsked),
      })),
      { unit: "µm" },
    ),
    { caption: "The share of the region that each would know to within a half-width" },
  );
  page.prose(
    plans
      .map(({ title, spec, runs }, place) => {
        const minutes = planCost(spec, runs).total?.minutesSoFar;
        const time = minutes === null || minutes === undefined ? "" : `, ${minutes.toFixed(0)} minutes`;
        return `- Layout ${place + 1}, ${title}: ${runs.length} passes${time}`;
      })
      .join("\n"),
  );

  page.heading(`Taken: ${plan.title}`);
  checkLimits(plan.spec, plan.runs);
  page.figure(layoutFigure({ runs: plan.runs, factors }), { caption: "The runs among the factors" });
  page.figure(orderStripFigure({ runs: plan.runs, factors }), {
    caption: "The runs in the order in which they are cut",
  });
  page.prose(
    judge(plan.runs, factors, { ...asAsked, effect })
      .sentences.map((sentence) => `- ${sentence}`)
      .join("\n"),
  );
  page.figure(
    movesWithFigure(
      termCorrelations(plan.runs, factors, { model: "surface", omitted: [times("feed", "speed", "depth")] }),
    ),
    { caption: "What moves with what" },
  );
  page.figure(
    knownSliceFigure({ runs: plan.runs, factors }, { ...asAsked, at: { depth: 0.2 }, wanted: effect / 2 }),
    { caption: "How well the mean of Ra is known over feed and speed" },
  );
});
