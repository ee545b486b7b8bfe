/*
 * Three edges on a pump-cover seal face: which cuts the finer surface, whether the difference matters, and which is the steadier. The readings are invented.
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

export default notebook({ title: "Seal face: ground, honed and coated edges" }, async (page) => {
  const trial = await openTrial("cover-edge-comparison");
  page.prose(
    `${trial.spec.question} Each edge cut ${trial.runs.length / 3} faces, as many on each blank; blanks are allowed for throughout.`,
  );

  page.heading("On which scale");
  const transform = findTransform(trial, { response: "Ra" });
  page.prose(`${transform.text} ${transform.notes[0]}`);
  page.figure(transformFigure(transform), { caption: "What the readings say of logarithms" });

  page.prose(
    "Logarithms are taken all the same, so that edges are told as ratios. What the readings object to is that one edge scatters more than the others, which no power of Ra mends: see the last figure.",
  );

  page.heading("Every edge with every other");
  const fit = fitLinear(trial, { response: "Ra", log: true });
  const pairs = compareLevels(fit);
  page.prose(pairs.pairs.map(({ sentence }) => `- ${sentence}`).join("\n"));
  page.figure(comparisonFigure(pairs), { caption: "Ra with each edge, and how far apart the edges are" });
  page.prose(`${pairs.methodText} ${robustFit(fit).text}`);

  page.heading("Is it worth leaving the ground edge?");
  const control = compareLevels(fit, { control: "ground" });
  page.prose(control.pairs.map(({ sentence }) => `- ${sentence}`).join("\n"));
  page.prose(
    `Two comparisons share the chance of error here and not three, so their intervals are narrower. ${control.methodText}`,
  );

  page.heading("Are two of them alike for all that matters?");
  const margin = page.ask.number("Largest factor that counts as none", { default: 1.1, low: 1.01, high: 3 });
  const alike = equivalence(fit, { margin });
  page.prose(alike.pairs.map(({ sentence }) => `- ${sentence}`).join("\n"));
  page.figure(equivalenceFigure(alike), {
    caption: "The margin is chosen from what the seal can bear, before looking",
  });

  page.heading("Which edge is steady");
  const scatter = scatterFromReplicates(fit);
  page.prose(scatter.scatter.map(({ sentence }) => `- ${sentence}`).join("\n"));
  page.figure(locationScatterFigure(scatter), { caption: "Ra and its scatter, edge by edge on each blank" });
  page.prose(
    "The intervals further up take one scatter for all edges. As the ground edge scatters more, its intervals are somewhat narrower than they should be, and that between honed and coated is wider than it need be; neither changes what is said here.",
  );
});
