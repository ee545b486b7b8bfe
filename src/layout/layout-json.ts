import type { Layout } from "./layout.ts";
import type { Judgement } from "./judgement.ts";

/**
 * A layout as the command line prints it for machines: runs in cutting order, then generators, resolution and aliases where
 * the kind has them. Example: `layoutJson(layout).runs[0]` is `{ run: 1, standard: 3, block: 1, role: "corner", settings: { feed: 0.08 } }`.
 */
export function layoutJson(layout: Layout) {
  return {
    kind: layout.kind,
    runs: layout.runs.map(({ run, standard, block, role, settings, wholePlot }) => ({
      run,
      standard,
      block,
      role,
      settings,
      ...(wholePlot === undefined ? {} : { wholePlot }),
    })),
    generators: layout.generators ?? [],
    definingRelation: layout.definingRelation ?? [],
    resolution: layout.resolution ?? null,
    aliases: layout.aliases ?? [],
    orderRules: layout.orderRules,
    notes: layout.notes,
    ...(layout.analysis ? { analysis: layout.analysis } : {}),
    strata: layout.strata.map(({ name, count, df, text }) => ({ name, count, df, text })),
  };
}

/** A judgement as the command line prints it for machines. Numbers that can't be had are null; the sentences say why. */
export function judgementJson(judgement: Judgement) {
  return {
    runs: judgement.runs,
    df: judgement.df,
    dfPureError: judgement.dfPureError,
    dfLackOfFit: judgement.dfLackOfFit,
    efficiency: judgement.efficiency,
    efficiencyReference: judgement.efficiencyReference,
    sigma: judgement.sigma,
    varianceRatio: judgement.varianceRatio,
    effect: judgement.effect,
    confidence: judgement.confidence,
    terms: judgement.terms,
    sets: judgement.sets,
    inseparable: judgement.inseparable,
    strata: judgement.strata,
    biases: judgement.biases,
    losses: judgement.losses,
    worstLoss: judgement.worstLoss,
    sentences: judgement.sentences,
  };
}
