import {
  comparisonFigure,
  contourFigure,
  effectFigure,
  equivalenceFigure,
  floorFigure,
  halfNormalFigure,
  interactionFigure,
  locationScatterFigure,
  normalQuantileFigure,
  orderFigure,
  profileFigure,
  residualFigure,
  responseFigure,
  transformFigure,
  varianceShareFigure,
} from "../../src/figure/index.ts";
import {
  bendIntervals,
  besideCusp,
  bootstrap,
  compareLevels,
  crossValidate,
  effectsWithoutRun,
  equivalence,
  findTransform,
  fitCurve,
  fitFloor,
  fitJson,
  fitLinear,
  fitMixed,
  fitPowerLaw,
  fitRestricted,
  jointRecipe,
  keptRegion,
  largestSetting,
  leftInResiduals,
  linesOrPowerLaw,
  main,
  meanOverMedian,
  mixedFitJson,
  modelsWithinReach,
  mostDesirable,
  mostInfluential,
  pathTable,
  permutationTest,
  proofOfRecipe,
  recipes,
  ridgePath,
  robustFit,
  scatterFromReplicates,
  scatterFromResiduals,
  secondOpinion,
  secondOpinionOn,
  settingFor,
  stationaryRegion,
  steepestPath,
  twoStageScreening,
  validateChoice,
  type Fit,
} from "../../src/model/index.ts";
import { fitRemarks, remarks, whatNext } from "../../src/review/index.ts";
import { observed, trialOf, type HardInput } from "./inputs.ts";

/** One thing that a user can ask; each answer of a list is asked for by itself, so that a refusal of one doesn't hide another. */
export interface Family {
  readonly name: string;
  readonly ask: (input: HardInput) => readonly (() => unknown)[];
}

const quantities = ["feed", "speed"];
const factors = ["feed", "speed", "edge"];

/** All that a page shows of a fit: its table, sentences, predictions, remarks and figures. */
function shown(fit: () => Fit): readonly (() => unknown)[] {
  const make = once(fit);
  return [
    make,
    () => fitJson(make(), { at: [{}] }),
    () => make().predict({}),
    () => make().predict({ feed: 0.1 }),
    () => make().ratio("feed", 0.5),
    () => fitRemarks(make()),
    () => secondOpinionOn(make()),
    () => effectFigure(make()),
    () => responseFigure(make()),
    () => residualFigure(make()),
    () => normalQuantileFigure(make()),
    () => orderFigure(make()),
    () => interactionFigure(make()),
    () => halfNormalFigure(make()),
  ];
}

/** Made once, and again only where it was refused. */
function once<Made>(make: () => Made): () => Made {
  let made: { readonly value: Made } | null = null;
  return () => (made ??= { value: make() }).value;
}

const family = (name: string, ask: Family["ask"]): Family => ({ name, ask });

export const families: readonly Family[] = [
  family("fitLinear, main effects", (input) => shown(() => fitLinear(observed(input, factors)))),
  family("fitLinear, products, coded", (input) =>
    shown(() => fitLinear(observed(input, factors), { model: "interactions", coded: true })),
  ),
  family("fitLinear, surface", (input) =>
    shown(() => fitLinear(observed(input, quantities), { model: "surface" })),
  ),
  family("fitLinear, logarithm", (input) => shown(() => fitLinear(observed(input, factors), { log: true }))),
  family("fitPowerLaw", (input) => [
    ...shown(() => fitPowerLaw(observed(input, factors))),
    () => besideCusp(fitPowerLaw(observed(input, factors)), "feed"),
    () => meanOverMedian(fitPowerLaw(observed(input, factors))),
  ]),
  family("fitRestricted", (input) => [
    () => fitRestricted(observed(input, factors), { model: "power-law" }, [{ of: { feed: 1 }, value: 2 }]),
    () => fitRestricted(observed(input, factors), {}, [{ of: { speed: 1 }, value: 0 }]),
  ]),
  family("fitFloor", (input) => {
    const made = once(() => fitFloor(observed(input, quantities)));
    return [
      made,
      () => fitFloor(observed(input, ["feed"]), { form: "sum" }),
      () => made().predict({ feed: 0.1, speed: 1000 }),
      () => floorFigure(made(), { factor: "feed" }),
      () => {
        const profile = made().profile();
        return profile === null ? null : profileFigure(profile);
      },
    ];
  }),
  family("fitCurve", (input) => {
    const make = (expression: string, start: Record<string, number>) =>
      fitCurve(observed(input, ["feed"]), { response: "Ra", expression, start });
    return [
      () => make("b1*exp(b2*feed)", { b1: 1, b2: 1 }),
      () => make("b1 + b2*feed^b3", { b1: 0.1, b2: 5, b3: 1 }),
      () => make("b1 + b2*feed", { b1: 0, b2: 1 }).predict({ feed: 0.1 }),
      () => settingFor(make("b1*feed^b2", { b1: 1, b2: 1 }), { factor: "feed", response: 0.8 }),
    ];
  }),
  family("fitMixed", (input) => {
    const make = (smallSample: "satterthwaite" | "kenward-roger") =>
      fitMixed(observed(input, factors, ["day"]), { smallSample });
    return [
      () => make("satterthwaite"),
      () => make("kenward-roger"),
      () => mixedFitJson(make("satterthwaite")),
      () => make("satterthwaite").predict({}),
      () => fitRemarks(make("satterthwaite")),
      () => varianceShareFigure(make("satterthwaite")),
      () => effectFigure(make("satterthwaite")),
      () => fitMixed(observed(input, factors, ["day"]), { model: "power-law" }),
    ];
  }),
  family("surfaces", (input) => {
    const make = (log: boolean) => fitLinear(observed(input, quantities), { model: "surface", log });
    return [
      () => stationaryRegion(make(false)),
      () => bendIntervals(make(false)),
      () => bendIntervals(make(true)),
      () => ridgePath(make(false), { aim: "smaller" }),
      () => steepestPath(fitLinear(observed(input, quantities)), { aim: "smaller" }),
      () => {
        const fit = fitLinear(observed(input, quantities));
        return pathTable(fit, steepestPath(fit, { aim: "smaller" }).steps);
      },
    ];
  }),
  family("screening", (input) => [
    () => twoStageScreening(observed(input, quantities)),
    () => twoStageScreening(observed(input, quantities), { log: true }),
    () => modelsWithinReach(observed(input, factors)),
    () => modelsWithinReach(observed(input, quantities), { log: true, heredity: "strong" }),
  ]),
  family("compareLevels", (input) => [
    () => compareLevels(observed(input, ["edge"])),
    () => comparisonFigure(compareLevels(observed(input, ["edge"]))),
    () => compareLevels(observed(input, factors), { factor: "edge", control: "fresh" }),
    () => compareLevels(observed(input, ["edge"]), { scatter: "unequal" }),
    () => compareLevels(observed(input, ["edge"]), { by: "ranks" }),
    () => compareLevels(observed(input, ["edge"]), { adjust: "holm", log: true }),
    () => compareLevels(fitMixed(observed(input, factors, ["day"])), { factor: "edge" }),
    () => compareLevels(observed(input, ["day"])),
    () => compareLevels(observed(input, ["day"]), { scatter: "unequal" }),
  ]),
  family("equivalence", (input) => [
    () => equivalence(observed(input, ["edge"]), { margin: 0.2 }),
    () => equivalenceFigure(equivalence(observed(input, ["edge"]), { margin: 0.2 })),
    () => equivalence(observed(input, ["edge"]), { margin: 1.25, log: true }),
    () => equivalence(observed(input, ["edge"]), { margin: 0.2, scatter: "unequal" }),
  ]),
  family("scatter as a response", (input) => [
    () => scatterFromReplicates(observed(input, ["edge"])),
    () => scatterFromReplicates(observed(input, ["edge"]), { log: true }),
    () => locationScatterFigure(scatterFromReplicates(observed(input, ["edge"]))),
    () => scatterFromResiduals(observed(input, factors), { draws: 99 }),
    () => scatterFromResiduals(observed(input, factors), { draws: 99, log: true }),
  ]),
  family("findTransform", (input) => [
    () => findTransform(observed(input, factors)),
    () => transformFigure(findTransform(observed(input, factors))),
  ]),
  family("robustFit", (input) => [
    () => robustFit(fitLinear(observed(input, factors))),
    () => robustFit(fitPowerLaw(observed(input, factors))),
    () => secondOpinion(fitLinear(observed(input, ["feed"])), "feed"),
    () => secondOpinion(fitPowerLaw(observed(input, ["feed"])), "feed"),
  ]),
  family("settingFor and largestSetting", (input) => [
    () => settingFor(fitLinear(observed(input, ["feed"])), { factor: "feed", response: 0.8 }),
    () => settingFor(fitPowerLaw(observed(input, factors)), { factor: "feed", response: 0.8 }),
    () => largestSetting(fitLinear(observed(input, factors)), { factor: "feed", limit: 0.8 }),
    () =>
      largestSetting(fitPowerLaw(observed(input, factors)), { factor: "feed", limit: 0.8, increment: 0.01 }),
  ]),
  family("bootstrap and permutation", (input) => [
    () => bootstrap(fitLinear(observed(input, factors)), { draws: 200, at: [{}] }),
    () => bootstrap(fitPowerLaw(observed(input, factors)), { draws: 200, by: "runs" }),
    () => permutationTest(fitLinear(observed(input, factors)), { draws: 200 }),
    () => permutationTest(fitPowerLaw(observed(input, factors)), { draws: 200 }),
  ]),
  family("what one run changes", (input) => [
    () => effectsWithoutRun(fitLinear(observed(input, factors)), 1),
    () => mostInfluential(fitLinear(observed(input, factors))),
    () =>
      leftInResiduals(
        fitLinear(observed(input, factors)),
        input.runs.map((_, i) => i),
      ),
  ]),
  family("crossValidate", (input) => [
    () => crossValidate(fitLinear(observed(input, factors))),
    () => crossValidate(fitPowerLaw(observed(input, factors))),
    () =>
      validateChoice(observed(input, quantities), linesOrPowerLaw(), {
        how: "the better of a line and a power law",
      }),
  ]),
  family("recipes and remarks of a trial", (input) => {
    const make = once(() =>
      fitPowerLaw(trialOf(input), { response: "Ra", terms: [main("feed"), main("speed"), main("edge")] }),
    );
    const told = once(() => recipes(trialOf(input), make()));
    return [
      told,
      () => jointRecipe(trialOf(input), [make()]),
      () => jointRecipe(trialOf(input), [fitLinear(trialOf(input))]),
      () => keptRegion(trialOf(input), [make()]),
      () => contourFigure(trialOf(input), [make()]),
      () =>
        mostDesirable(trialOf(input), [make()], { wishes: { Ra: { aim: "smaller", good: 0.4, bad: 1.2 } } }),
      () => whatNext(trialOf(input), [make()]),
      () => remarks(trialOf(input), make()),
      () => told().recipes.map((recipe) => proofOfRecipe(recipe, make())),
    ];
  }),
];
