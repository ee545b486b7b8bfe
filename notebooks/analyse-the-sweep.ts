/*
 * A feed sweep as it is often cut: rising feed, each setting once, and a last pass in which everything was changed at once.
 * What such a trial can say, and what it can't. The readings are invented.
 */
import { effectFigure, fitPowerLaw, notebook, openTrial, orderFigure, remarks, responseFigure } from "trycut";

export default notebook({ title: "Seal face: what the feed sweep can say" }, async (page) => {
  const trial = await openTrial("seal-face-feed-sweep");
  page.prose(`**The question.** ${trial.spec.question}`);

  // Finish follows feed as a power, and scatter grows with size: so fit logarithms, and read effects as ratios.
  const fit = fitPowerLaw(trial, { response: "Ra" });

  page.figure(responseFigure(fit, { factor: "feed", by: null, at: trial.spec.today, trial }), {
    caption:
      "Ra against feed: every reading, the fitted power law with its 95 % band, and the ideal finish of the nose radius",
  });
  page.prose(`Halving the feed multiplies Ra by ${fit.ratio("feed", 0.5).text}.`);
  page.figure(effectFigure(fit), { caption: "Each factor from low to high, with 95 % intervals" });
  page.figure(orderFigure(fit, { trial }), { caption: "Ra in the order in which the runs were cut" });

  page.heading("What these runs can't say");
  // Cautions first: the last pass changed three things at once, and the feed rose from run to run.
  page.remarks(remarks(trial, fit));
});
