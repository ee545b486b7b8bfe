/*
 * Which of many things move Ra? Six factors of a finishing pass in seventeen runs that mirror one another, and five factors in sixteen runs, each
 * cut once. The readings of both trials are invented.
 */
import {
  fitPowerLaw,
  halfNormalFigure,
  modelsWithinReach,
  notebook,
  observe,
  openTrial,
  remarks,
  responseFigure,
  termsOf,
  twoStageScreening,
  validateTwoStages,
} from "trycut";

export default notebook({ title: "Port face: which factors move Ra" }, async (page) => {
  const screening = await openTrial("port-face-screening");
  page.prose(`**The first question.** ${screening.spec.question}`);

  page.heading("Six factors, in runs that mirror one another");
  const runs = observe(screening, "Ra", { log: true });
  const found = twoStageScreening(runs);
  page.prose(found.sentences.map((sentence) => `- ${sentence}`).join("\n"));
  page.table(
    found.mains.map(({ label, estimate, standardError, p, active }) => ({
      factor: label,
      "middle to high, on ln Ra": Number(estimate.toFixed(3)),
      "standard error": Number(standardError.toFixed(3)),
      p: p < 0.0001 ? "below 0.0001" : p.toPrecision(2),
      "stands out": active,
    })),
    { caption: "Main effects, judged by the pairs of runs that they don't need" },
  );
  page.method(
    "Two stages: main effects from the differences of mirror runs, then products and squares from their means. Jones and Nachtsheim 2017, Technometrics 59, 319–329.",
  );

  page.prose(`**What the choice costs.** ${validateTwoStages(runs, { log: true }).sentence}`);
  page.method(
    "Each run is left out in turn and the choice made anew without it and its mirror: Hastie, Tibshirani and Friedman, The Elements of Statistical Learning (second edition 2009), section 7.10.2.",
  );

  page.heading("What else would do as well");
  const within = modelsWithinReach(runs, { heredity: found.heredity });
  page.prose(within.sentences.map((sentence) => `- ${sentence}`).join("\n"));
  page.table(
    within.models.slice(0, 8).map(({ labels, behind, rSquared }) => ({
      model: labels.join(", "),
      behind: Number(behind.toFixed(1)),
      "share explained": rSquared === null ? null : `${Math.round(100 * rSquared)} %`,
    })),
    { caption: "The best models, and how far each is behind" },
  );
  page.method(
    "Every subset of factors, products of two and squares, compared by Akaike's criterion corrected for few runs: Hurvich and Tsai 1989, Biometrika 76, 297–307.",
  );

  const once = await openTrial("port-face-fraction");
  page.heading("Five factors, each pass cut once");
  page.prose(`**The second question.** ${once.spec.question}`);
  const saturated = fitPowerLaw(once, { response: "Ra", terms: termsOf("interactions", once.spec.factors) });
  page.figure(halfNormalFigure(saturated), { caption: "Sizes of the effects, judged by one another" });
  page.method(
    "Pseudo standard error: Lenth 1989, Technometrics 31, 469–473, with limits drawn for this number of effects. Half-normal places: Daniel 1959, Technometrics 1, 311–341.",
  );
  page.remarks(remarks(once, saturated));

  page.heading("With what stands out alone");
  const terms = saturated.unreplicated?.exact.terms ?? [];
  const smaller = fitPowerLaw(once, { response: "Ra", terms });
  page.prose(smaller.effects.map(({ sentence }) => `- ${sentence}`).join("\n"));
  page.prose(smaller.notes.map((note) => `- ${note}`).join("\n"));
  page.figure(responseFigure(smaller, { factor: "feed", trial: once }), { caption: "Ra against feed" });
});
