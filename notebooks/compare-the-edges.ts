/*
 * Does a used edge cut as well as a fresh one? The invented seal-face factorial once more, asked about its edges: how far apart they are, whether that matters, and which
 * settings are steady. The readings are invented.
 */
import {
  comparisonFigure,
  compareLevels,
  equivalence,
  equivalenceFigure,
  findTransform,
  fitLinear,
  locationScatterFigure,
  notebook,
  openTrial,
  robustFit,
  scatterFromReplicates,
  transformFigure,
} from "trycut";

export default notebook({ title: "Seal face: used edges against fresh ones" }, async (page) => {
  const trial = await openTrial("seal-face-factorial");

  page.heading("On which scale");
  const transform = findTransform(trial, { response: "Ra" });
  page.prose(transform.text);
  page.figure(transformFigure(transform), { caption: "What the readings say of logarithms" });

  page.heading("How far apart the edges are");
  const fit = fitLinear(trial, { response: "Ra", log: true });
  const comparison = compareLevels(fit, { factor: "edge", control: "fresh" });
  page.figure(comparisonFigure(comparison), { caption: "Used against fresh, feed and speed allowed for" });
  page.prose(`${comparison.methodText} ${robustFit(fit).text}`);

  page.heading("Does it matter?");
  const margin = page.ask.number("Largest factor that counts as none", { default: 1.25, low: 1.01, high: 3 });
  page.figure(equivalenceFigure(equivalence(fit, { factor: "edge", margin })), {
    caption: "The margin is chosen from what the seal can bear, before looking",
  });

  page.heading("Which settings are steady");
  const scatter = scatterFromReplicates(fit);
  page.prose(scatter.scatter.map(({ sentence }) => `- ${sentence}`).join("\n"));
  page.figure(locationScatterFigure(scatter), { caption: "Ra and its scatter, setting by setting" });
});
