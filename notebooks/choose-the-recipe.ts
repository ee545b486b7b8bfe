/*
 * How fast may the seal face be cut? Two limits at once, on finish and on power, each with the assurance that is asked for; where they leave room, what stops more,
 * what to cut next and what would prove the recipe. The readings are invented.
 */
import {
  cautions,
  contourFigure,
  fitPowerLaw,
  jointRecipe,
  keptRegion,
  keptRegionMethod,
  nextPassesMethod,
  notebook,
  openTrial,
  proofMethod,
  recipeMethods,
  whatNext,
} from "trycut";

export default notebook({ title: "Seal face: the fastest recipe" }, async (page) => {
  const trial = await openTrial("seal-face-recipe");
  page.prose(`**The question.** ${trial.spec.question}`);

  const ra = page.ask.quantity("Limit on Ra", { default: "0.8 µm" });
  const power = page.ask.quantity("Limit on power", { default: "0.12 kW" });
  const assurance = page.ask.number("Assurance of each limit", { default: 0.95, low: 0.5, high: 0.999 });
  const whom = page.ask.choice("Each limit holds for", {
    choices: ["95 % of parts", "the mean", "the next 10 parts"],
  });
  const promise = {
    for: whom === "the mean" ? "mean" : whom === "the next 10 parts" ? "next" : "share",
    parts: whom === "the next 10 parts" ? 10 : 1,
  } as const;
  const limits = {
    Ra: { limit: ra, assurance, ...promise },
    power: { limit: power, assurance, ...promise },
  };
  const fits = [fitPowerLaw(trial, { response: "Ra" }), fitPowerLaw(trial, { response: "power" })];

  page.heading("The recipe");
  const recipe = jointRecipe(trial, fits, { limits });
  page.prose(recipe.text);
  page.table(recipe.table, { caption: "Each limit at these settings" });
  if (recipe.notes.length > 0) page.prose(`To know: ${recipe.notes.join("; ")}.`);
  page.method(recipeMethods(recipe).join(" "));

  page.heading("How much room there is");
  const region = keptRegion(trial, fits, {
    limits: { Ra: { limit: ra, ...promise }, power: { limit: power, ...promise } },
    assurance,
  });
  page.prose(region.text);
  for (const of of ["Ra", "power"])
    page.figure(
      contourFigure(trial, fits, {
        of,
        limits,
        along: "feed",
        up: "speed",
        at: recipe.settings,
        mark: recipe.settings,
      }),
      { caption: `${of} over feed and speed at the recipe's depth; the free ground keeps both limits` },
    );
  page.method(keptRegionMethod);

  page.heading("What to cut next");
  const next = whatNext(trial, fits, { limits });
  page.prose(next.text);
  page.table(next.table, { caption: "The passes that would tell most" });
  page.method(nextPassesMethod);

  page.heading("What would prove it");
  const plans = recipe.proof.map(({ response, plan, reason }) =>
    plan === null
      ? `- **${response}.** ${reason}`
      : plan.outcome === "none"
        ? `- **${response}.** ${plan.reason}`
        : `- **${response}.** ${plan.ruleText} ${plan.chancesText}`,
  );
  page.prose(
    plans.length === 0
      ? "There is nothing to prove yet: no setting keeps every limit so surely."
      : `Decided before the first proof part is cut:\n\n${plans.join("\n")}`,
  );
  const rules = recipe.proof.flatMap(({ plan }) => (plan === null ? [] : [plan.rule]));
  if (rules.length > 0) page.method([...new Set(rules)].map(proofMethod).join(" "));
  page.cautions(cautions(trial.spec));
});
