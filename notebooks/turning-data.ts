/*
 * Real readings: 2,448 of Ra on turned shafts of free-cutting steel, an open data set (credit on the page).
 * Exponents with intervals, worn against new edge, and how much of the scatter is position on the shaft.
 */
import {
  effectFigure,
  fitPowerLaw,
  formatNumber,
  notebook,
  openTrial,
  remarks,
  responseFigure,
  scatterShareFigure,
} from "trycut";

export default notebook({ title: "Turned shafts: an open data set read again" }, async (page) => {
  const trial = await openTrial("turning-12l14");
  page.prose(`**Source.** ${trial.spec.source}`);
  const fit = fitPowerLaw(trial, { response: "Ra" });

  page.heading("Exponents");
  // In a power law the coefficients of the quantities are exponents; a pure nose-radius cusp would give 2 for the feed.
  for (const factor of ["feed", "speed", "depth"]) {
    const exponent = fit.coefficients.find(({ label }) => label === factor);
    if (!exponent || exponent.low === null || exponent.high === null) continue;
    const [estimate, low, high] = [exponent.estimate, exponent.low, exponent.high].map((value) =>
      formatNumber(value, { digits: 2 }),
    );
    page.prose(
      `- Ra follows the ${factor} to the power ${estimate}, 95 % ${low} to ${high}: doubling it multiplies Ra by ${fit.ratio(factor, 2).text}.`,
    );
  }
  page.figure(responseFigure(fit, { factor: "feed", trial }), { caption: "Ra against feed, every reading" });

  page.heading("Worn against new edge, and the rest");
  page.figure(effectFigure(fit), { caption: "Each factor over its whole range" });
  page.prose(fit.effects.map((effect) => `- ${effect.sentence}`).join("\n"));

  page.heading("Where the scatter comes from");
  if (fit.repeats) {
    page.figure(scatterShareFigure(fit.repeats, { response: fit.response }), {
      caption: "Shares of the variance of the logarithm of one reading",
    });
  }
  page.remarks(remarks(trial, fit));
});
