/*
 * The same seal face, cut so that the answer can be trusted: two fresh runs at each corner, centre runs, random order, three spots read
 * twice after each run. The readings are invented.
 */
import {
  bootstrap,
  cautions,
  contrast,
  drawsFigure,
  effectFigure,
  fitPowerLaw,
  influenceFigure,
  interactionFigure,
  normalQuantileFigure,
  notebook,
  openTrial,
  orderFigure,
  recipes,
  remarks,
  residualFigure,
  responseFigure,
  scatterShareFigure,
} from "trycut";

export default notebook({ title: "Seal face: what moves Ra, and how fast may it be fed" }, async (page) => {
  const trial = await openTrial("seal-face-factorial");
  page.prose(`**The question.** ${trial.spec.question}`);

  const fit = fitPowerLaw(trial, { response: "Ra" });

  page.heading("What moves Ra");
  // Each effect is a sentence with its interval; the coefficients stand behind the figure.
  page.prose(fit.effects.map((effect) => `- ${effect.sentence}`).join("\n"));
  page.figure(effectFigure(fit), { caption: "Each factor from low to high, with 95 % intervals" });
  page.figure(responseFigure(fit, { factor: "feed", trial }), { caption: "Ra against feed" });
  page.figure(interactionFigure(fit, { factors: ["feed", "edge"] }), { caption: "Feed and edge together" });
  // Two factors at once, over a step of our own.
  page.prose(contrast(fit, { feed: 0.2, edge: "used" }, { feed: 0.12, edge: "fresh" }).sentence);

  page.heading("How fast may it be fed");
  const limit = page.ask.quantity("Limit on Ra", { default: "0.8 µm" });
  const assurance = page.ask.number("Assurance", { default: 0.95, low: 0.5, high: 0.999 });
  page.table(recipes(trial, fit, { limit, assurance, factor: "feed", at: { edge: "used" } }), {
    caption: `The largest feed that keeps Ra under ${limit.text} with a used edge`,
  });

  page.heading("Where the scatter comes from");
  if (fit.repeats) {
    page.figure(scatterShareFigure(fit.repeats, { response: fit.response }), {
      caption: "Shares of the variance of a single reading",
    });
  }

  page.heading("Is the model to be believed?");
  page.figure(residualFigure(fit), { caption: "What the model leaves over, against what it says" });
  page.figure(normalQuantileFigure(fit), { caption: "The same, sorted, against a normal distribution" });
  page.figure(orderFigure(fit, { trial }), { caption: "Ra in cutting order" });
  page.figure(residualFigure(fit, { trial, against: "minutes" }), {
    caption: "What is left along minutes of cut: wear would show as a slope",
  });
  page.figure(influenceFigure(fit, { trial }), { caption: "What the effects would be without each run" });
  const drawn = bootstrap(fit, { draws: 4000, seed: 7 });
  page.figure(drawsFigure(fit, drawn, { trial }), {
    caption: "The effect of feed by drawing anew, which supposes no normal scatter",
  });
  page.prose(drawn.notes.join(" "));
  page.remarks(remarks(trial, fit));
  page.cautions(cautions(trial.spec));
});
