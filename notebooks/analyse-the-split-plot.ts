/*
 * Feed and speed changed from run to run, the edge only with a set-up: what each is judged by, and what plain least squares would have claimed. The readings
 * are invented.
 */
import {
  effectFigure,
  fitMixed,
  notebook,
  openTrial,
  orderFigure,
  remarks,
  varianceShareFigure,
} from "trycut";

export default notebook({ title: "Seal face: two edges that take a set-up" }, async (page) => {
  const trial = await openTrial("seal-face-set-ups");
  page.prose(
    `${trial.spec.question} The edge is hard to change, so runs at one edge were cut together: what the edge does shows only between set-ups, and what feed and speed do within them.`,
  );
  const fit = fitMixed(trial, { response: "Ra", random: ["whole plot"], model: "power-law" });

  page.heading("What each factor does");
  for (const { sentence } of fit.effects) page.prose(sentence);
  page.figure(effectFigure(fit), { caption: "Effect of each factor from low to high, with its interval" });
  page.method(
    "Set-ups are a random source, by restricted likelihood (Patterson and Thompson 1971); degrees of freedom by Satterthwaite.",
  );

  page.heading("Where the scatter comes from");
  page.figure(varianceShareFigure(fit), { caption: "Shares of the variance, with their intervals" });
  for (const note of fit.notes) page.prose(note);

  page.heading("What plain least squares would have claimed");
  page.prose(
    "Taken as if each run had been set up anew, the same readings promise more about the edge than the set-ups bear, and less about feed and speed.",
  );
  for (const { text } of fit.plainClaims) if (text !== "") page.prose(text);
  page.table({
    columns: [
      "factor",
      "half-width as cut (ln)",
      "on df",
      "half-width by plain least squares (ln)",
      "on df, it says",
    ],
    rows: fit.plainClaims.map(({ factor, halfWidth, df, plainHalfWidth, plainDf }) => [
      factor,
      Number(halfWidth.toPrecision(3)),
      Number(df.toPrecision(3)),
      Number(plainHalfWidth.toPrecision(3)),
      plainDf,
    ]),
  });

  page.heading("Is the model to be believed");
  page.figure(orderFigure(fit), {
    caption: "In cutting order: what drifts here is wear, warm-up or the gauge",
  });
  page.remarks(remarks(trial, fit));
});
