/*
 * How smooth can the seal face become by feeding slower? A sweep down to small feeds shows the floor that no feed gets below; the usual feeds alone can't
 * tell it. At the end, minutes of cut from an edge by a curve of its own. All readings are invented.
 */
import {
  besideCusp,
  contrast,
  fitCurve,
  fitFloor,
  fitPowerLaw,
  floorFigure,
  meanOverMedian,
  notebook,
  observe,
  openTrial,
  profileFigure,
} from "trycut";

const list = (sentences: readonly string[]): string =>
  sentences.map((sentence) => `- ${sentence}`).join("\n");

export default notebook({ title: "Seal face: what no feed removes" }, async (page) => {
  const small = await openTrial("seal-face-small-feeds");
  page.prose(`**The question.** ${small.spec.question}`);

  page.heading("Down to small feeds");
  const floor = fitFloor(small, { response: "Ra" });
  page.prose(list(floor.sentences));
  page.prose(contrast(floor, { feed: 0.1 }, { feed: 0.05 }).sentence);
  page.figure(floorFigure(floor, { trial: small }), {
    caption: "Ra against feed, with the floor and without",
  });
  const profile = floor.profile();
  if (profile) page.figure(profileFigure(profile), { caption: "How sharply the floor is placed" });
  page.method(
    "Ra² = floor² + (C feedᵃ)², least squares on logarithms; intervals by profile likelihood: Bates and Watts 1988, Nonlinear Regression Analysis, section 6.1.",
  );

  page.heading("The other form");
  const added = fitFloor(small, { response: "Ra", form: "sum" });
  page.prose("Were the floor added to the feed marks outright, and not as squares:");
  page.prose(list(added.sentences));

  page.heading("From the usual feeds alone");
  const usual = await openTrial("seal-face-usual-feeds");
  const untold = fitFloor(usual, { response: "Ra" });
  page.prose(list(untold.sentences));
  page.figure(floorFigure(untold, { trial: usual }), {
    caption: "The same question, asked of the usual feeds",
  });
  const law = fitPowerLaw(usual, { response: "Ra" });
  page.prose(`${besideCusp(law, "feed").text} ${meanOverMedian(law).text}`);
  page.method(
    "Feed² is the height that a nose radius leaves: Shaw, Metal Cutting Principles. Mean over median by smearing: Duan 1983, Journal of the American Statistical Association 78, 605–610.",
  );

  page.heading("Another curve: how long an edge lasts");
  const edges = await openTrial("port-face-edge-life");
  const { rows } = observe(edges, "life");
  const wanted = page.ask.number("Minutes that an edge should last", { default: 60, low: 10, high: 200 });
  const life = fitCurve(
    {
      columns: [
        { name: "speed", unit: "m/min", values: rows.map(({ settings }) => settings["speed"]) },
        { name: "life", unit: "min", values: rows.map(({ value }) => value) },
      ],
    },
    {
      response: "log(life)",
      expression: `log(${wanted}) - steepness * log(speed / allowed)`,
      start: { steepness: 3, allowed: 180 },
      intervals: "profile",
    },
  );
  page.table(
    life.parameters.map(({ name, estimate, low, high }) => ({
      parameter: name === "allowed" ? "allowed speed [m/min]" : name,
      estimate: estimate.toPrecision(3),
      "95 % from": low === null ? "no bound" : low.toPrecision(3),
      to: high === null ? "no bound" : high.toPrecision(3),
    })),
    { caption: `The speed at which an edge lasts ${wanted} minutes, and how steeply life falls with speed` },
  );
  const allowed = life.profile("allowed");
  if (allowed)
    page.figure(profileFigure({ ...allowed, name: "allowed speed", unit: "m/min" }), {
      caption: `The speed for ${wanted} minutes`,
    });
  page.method(
    "Life in proportion to speed to a power: Taylor 1907, On the Art of Cutting Metals. Curve fitted by its expression, intervals by profile likelihood: Bates and Watts 1988.",
  );
});
