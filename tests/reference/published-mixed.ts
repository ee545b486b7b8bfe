import { fitLinear, fitMixed, observeTable, type MixedFit } from "../../src/model/index.ts";
import { mixedFixture } from "./mixed-models.ts";
import { published, type PublishedGroup } from "./published-group.ts";
import { workedExample } from "./worked-example.ts";

function fitted(
  fixture: string,
  asked: Parameters<typeof observeTable>[1],
  model: "main" | "interactions" = "main",
): MixedFit {
  const columns = Object.entries(mixedFixture(fixture)).map(([name, values]) => ({ name, unit: "", values }));
  return fitMixed(observeTable({ columns }, asked), { model });
}

const paper = published("paper-split-plot, by REML (Montgomery, chapter 14)", (compare) => {
  const factors = ["method", "temperature"];
  const { analysis } = fitted(
    "paper-split-plot",
    { response: "strength", factors, categories: factors, random: ["replicate", ["replicate", "method"]] },
    "interactions",
  );
  const printed = [
    ["method", "7.08", "2", "4"],
    ["temperature", "36.43", "3", "18"],
    ["method × temperature", "3.15", "6", "18"],
  ] as const;
  printed.forEach(([what, f, df, dfScatter], i) => {
    compare(`F of ${what}`, f, analysis[i].f);
    compare(`degrees of freedom of ${what}`, df, analysis[i].df);
    compare(`and of its error`, dfScatter, analysis[i].denominatorDf);
  });
});

const oats = published("oats-split-plot, all terms by REML (Yates 1935)", (compare) => {
  const factors = ["variety", "nitrogen"];
  const fit = fitted(
    "oats-split-plot",
    { response: "yield", factors, categories: factors, random: ["block", ["block", "variety"]] },
    "interactions",
  );
  const printed = ["1.485", "37.69", "0.303"];
  printed.forEach((f, i) => compare(`F of ${fit.analysis[i].source}`, f, fit.analysis[i].f));
  // Pinheiro and Bates 2000, all effects fixed.
  ["14.645", "10.299", "13.307"].forEach((sd, i) =>
    compare(`standard deviation of ${fit.variances[i].source}`, sd, fit.variances[i].standardDeviation),
  );
});

const oatsLine = published(
  "oats-split-plot, nitrogen as a line (Pinheiro and Bates 2000, ch. 1)",
  (compare) => {
    const fit = fitted("oats-split-plot", {
      response: "yield",
      factors: ["nitrogen"],
      random: ["block", ["block", "variety"]],
    });
    ["14.506", "11.005", "12.867"].forEach((sd, i) =>
      compare(`standard deviation of ${fit.variances[i].source}`, sd, fit.variances[i].standardDeviation),
    );
    const [constant, slope] = fit.coefficients;
    compare("intercept", "81.872", constant.estimate);
    compare("its standard error", "6.945", constant.standardError);
    compare("slope", "73.667", slope.estimate);
    // The printed 6.782 is 6.7815 and a little less: lme4 gives 6.78148 as well, so a whole unit of the last digit is allowed.
    compare("its standard error", "6.782", slope.standardError, { allowed: 0.001 });
  },
);

const gauge = published(
  "gauge-study-10x3x3, analysis of variance (Measurement Systems Analysis)",
  (compare) => {
    const fit = fitted("gauge-study-10x3x3", {
      response: "value",
      factors: [],
      random: ["part", "appraiser", ["part", "appraiser"]],
    });
    const sd = new Map(fit.variances.map(({ source, standardDeviation }) => [source, standardDeviation]));
    const [repeat, appraiser, part] = [sd.get("residual")!, sd.get("appraiser")!, sd.get("part")!];
    compare("repeatability", "0.199933", repeat);
    compare("reproducibility", "0.226838", appraiser);
    compare("parts", "1.042327", part);
    compare("total", "1.085", Math.hypot(repeat, appraiser, part));
    compare("categories told apart", "4.86", (1.41 * part) / Math.hypot(repeat, appraiser));
  },
);

const gear = published("gear-diameter-10-batches, batches by chance (e-Handbook 1.3.5.4)", (compare) => {
  const { columns } = workedExample("gear-diameter-10-batches");
  const fit = fitMixed(observeTable({ columns }, { response: "diameter", factors: [], random: ["batch"] }));
  const [batch, within] = fit.variances;
  compare("within a batch", "0.005938574", within.standardDeviation);
  compare("between batches: sum of squares", "0.000729", 9 * (within.variance + 10 * batch.variance));
});

const labs = published("ceramic-strength-480, laboratories by chance (e-Handbook 1.4.2.10)", (compare) => {
  const { columns } = workedExample("ceramic-strength-480");
  const fit = fitMixed(observeTable({ columns }, { response: "strength", factors: [], random: ["lab"] }));
  const [lab, within] = fit.variances;
  // 60 readings of each of 8 laboratories: the published sums of squares are those of the two variances.
  compare("within a laboratory: sum of squares", "2597691.93", 472 * within.variance);
  compare("between laboratories: sum of squares", "70754.64", 7 * (within.variance + 60 * lab.variance));
  compare("degrees of freedom of the mean", "7", fit.coefficients[0].df);
});

const resistivity = published(
  "gauge-nested-resistivity, days of six readings (e-Handbook 2.4.4.1)",
  (compare) => {
    const column = (name: string) =>
      workedExample("gauge-nested-resistivity")
        .columns.find((one) => one.name === name)!
        .values.map(Number);
    // The six readings of a day are not published: any six with its mean and standard deviation have the same sums of squares.
    const pattern = [-5, -3, -1, 1, 3, 5].map((step) => step / Math.sqrt(14));
    const days = column("day mean").flatMap((mean, day) =>
      pattern.map((step) => ({ day: `day ${day}`, value: mean + step * column("day sd")[day] })),
    );
    const fit = fitLinear(
      observeTable(
        {
          columns: [
            { name: "day", unit: "", values: days.map(({ day }) => day) },
            { name: "resistivity", unit: "", values: days.map(({ value }) => value) },
          ],
        },
        { response: "resistivity", factors: ["day"] },
      ),
    );
    compare("repeatability", "0.07871", fit.residualSd);
    compare("its degrees of freedom", "60", fit.residualDf);
    compare(
      "its sum of squares",
      "0.37176",
      fit.analysis.find(({ source }) => source === "residual")?.sumOfSquares,
    );
    const means = fitMixed(
      observeTable(workedExample("gauge-nested-resistivity"), {
        response: "day mean",
        factors: [],
        random: ["trial"],
      }),
    );
    const [trial, day] = means.variances;
    // Two trials of six days: √(s_trial² + s_day²/6) is the standard deviation of a trial's mean.
    compare("between trials", "0.02885", Math.sqrt(trial.variance + day.variance / 6));
    compare("its degrees of freedom", "1", means.coefficients[0].df);
  },
);

export const publishedMixedGroups: readonly PublishedGroup[] = [
  paper,
  oats,
  oatsLine,
  gauge,
  gear,
  labs,
  resistivity,
];
