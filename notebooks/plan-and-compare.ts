/*
 * How to plan a trial when only the question is known: say what is at stake and how well the scatter is known, get the layouts that fit
 * side by side, compare two of them, judge the one that is taken, and see its order, wear and cost. Run it with `npx tsx notebooks/plan-and-compare.ts`, or open it on the bench and change the answers.
 */
import {
  cautions,
  checkLimits,
  chooseLayout,
  choiceFigure,
  costSoFar,
  halfWidthsAt,
  judge,
  knownSliceFigure,
  layOut,
  layoutFigure,
  minutesInCut,
  movesWithFigure,
  notebook,
  orderStripFigure,
  parseTrialSpec,
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
  // From where to where: nobody knows the scatter before the first passes are cut, and the advice says whether that matters.
  const low = valueIn(page.ask.quantity("Scatter from pass to pass, at least", { default: "0.04 µm" }), "µm");
  const sigma = valueIn(
    page.ask.quantity("Scatter from pass to pass, at most", { default: "0.06 µm" }),
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
    sigma: { low, high: sigma },
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
    return { title, spec, layout: layOut(spec) };
  });

  page.heading("Two of them beside each other");
  const [plan] = plans;
  const { runs } = plan.layout;
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
      plans.map(({ layout }, place) => ({
        label: `layout ${place + 1}`,
        halfWidths: halfWidthsAt(layout.runs, factors, places, asAsked),
      })),
      { unit: "µm" },
    ),
    { caption: "The share of the region that each would know to within a half-width" },
  );
  page.prose(
    plans
      .map(({ title, spec, layout }, place) => {
        const cost = costSoFar(spec, layout.runs).sentence;
        return `- Layout ${place + 1}, ${title}. ${cost}`;
      })
      .join("\n"),
  );

  page.heading(`Taken: ${plan.title}`);
  checkLimits(plan.spec, runs);
  page.figure(layoutFigure({ runs, factors }), { caption: "The runs among the factors" });
  const found = minutesInCut(plan.spec, runs);
  page.figure(orderStripFigure({ runs, factors }, found.kind === "known" ? { minutes: found.minutes } : {}), {
    caption: "The runs in the order in which they are cut, along the minutes in cut",
  });
  page.prose(plan.layout.orderRules.map((rule) => `- ${rule}`).join("\n"));

  page.heading("What it can tell");
  page.prose(
    judge(runs, factors, { ...asAsked, effect })
      .sentences.map((sentence) => `- ${sentence}`)
      .join("\n"),
  );
  page.figure(
    movesWithFigure(
      termCorrelations(runs, factors, { model: "surface", omitted: [times("feed", "speed", "depth")] }),
    ),
    { caption: "What moves with what" },
  );
  page.figure(knownSliceFigure({ runs, factors }, { ...asAsked, at: { depth: 0.2 }, wanted: effect / 2 }), {
    caption: "How well the mean of Ra is known over feed and speed",
  });

  page.cautions(cautions(plan.spec));
});
