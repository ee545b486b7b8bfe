/*
 * Where is the seal face smoothest? Corners, axial and centre runs of feed and speed, so that the surface may bend. The readings are invented.
 */
import {
  bendIntervals,
  contourFigure,
  crossValidate,
  fitLinear,
  fitPowerLaw,
  leftOutFigure,
  normalQuantileFigure,
  notebook,
  openTrial,
  pathTable,
  remarks,
  residualFigure,
  ridgePath,
  slicesFigure,
  stationaryRegion,
  steepestPath,
  termsOf,
} from "trycut";

export default notebook({ title: "Seal face: the best feed and speed" }, async (page) => {
  const trial = await openTrial("seal-face-surface");
  page.prose(`**The question.** ${trial.spec.question}`);

  // Ra, feed and speed by their logarithms: scatter grows with Ra, and feed and speed were stepped in ratios.
  const terms = termsOf("surface", trial.spec.factors);
  const fit = fitPowerLaw(trial, { response: "Ra", terms });

  page.heading("Where Ra is level");
  if (fit.surface) page.prose(fit.surface.text);
  page.prose(stationaryRegion(fit).text);
  page.figure(
    contourFigure(trial, [fit], { along: "feed", up: "speed", mark: fit.surface?.stationary ?? {} }),
    {
      caption:
        "Ra over feed and speed; on the free ground 95 % of parts keep the trial's own limit, with 95 % assurance. The diamond is where Ra is level",
    },
  );
  page.figure(slicesFigure(fit, { quantities: ["feed", "speed"], trial }), {
    caption: "Ra against feed at the lowest, the middle and the highest speed",
  });
  page.figure(slicesFigure(fit, { quantities: ["speed", "feed"], trial }), {
    caption: "Ra against speed at the lowest, the middle and the highest feed",
  });
  page.method(
    "Second degree in feed and speed, least squares, all on logarithms. Region of the level point: Box and Hunter 1954, Biometrika 41, 190–199.",
  );

  page.heading("Does it bend, and which way?");
  page.prose(
    bendIntervals(fit)
      .map(({ text }) => `- ${text}`)
      .join("\n"),
  );
  page.method(
    "Intervals of the squares along the surface's own axes: Bisgaard and Ankenman 1996, Technometrics 38, 238–246.",
  );

  const increments = { feed: 0.005, speed: 10 };
  page.heading("Which way from the middle");
  const aim = page.ask.choice("Ra should become", { choices: ["smaller", "larger"] });
  const path = steepestPath(fit, { aim: aim === "larger" ? "larger" : "smaller", increments, steps: 4 });
  page.prose(path.text);
  page.table(
    pathTable(fit, ridgePath(fit, { aim: path.aim, increments, radii: [0, 0.2, 0.4, 0.6, 0.8, 1] })),
    {
      caption: `The ${path.aim === "smaller" ? "smoothest" : "roughest"} settings at each distance from the middle`,
    },
  );
  page.method(
    "Distances in half ranges of the factors. Steepest path: Box and Wilson 1951, Journal of the Royal Statistical Society B 13, 1–45. Best settings at each distance: Hoerl 1959; Draper 1963, Technometrics 5, 469–479. Settings are rounded to the steps of the machine before they are predicted.",
  );

  page.heading("Is the model to be believed?");
  page.figure(residualFigure(fit), { caption: "What the surface leaves over, against what it says" });
  page.figure(normalQuantileFigure(fit), { caption: "The same, sorted, against a normal distribution" });
  const leftOut = crossValidate(fit);
  page.prose(leftOut.sentence);
  page.figure(leftOutFigure(fit, leftOut, { trial }), { caption: "Each run as the others predict it" });
  page.remarks(remarks(trial, fit));

  page.heading("The same without logarithms");
  const plain = fitLinear(trial, { response: "Ra", model: "surface" });
  if (plain.surface) page.prose(`${plain.surface.text} ${stationaryRegion(plain).text}`);
  page.prose(
    "Where both say the same of the best settings, the choice between them matters little; where they part, cut there.",
  );
});
