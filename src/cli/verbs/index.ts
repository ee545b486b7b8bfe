import type { VerbEntry } from "../run.ts";

/** Every verb with its file, loaded when it is called. */
export const verbs: readonly VerbEntry[] = [
  {
    name: "bench",
    summary: "start the local page",
    load: async () => (await import("./bench.ts")).bench,
  },
  {
    name: "lay-out",
    summary: "lay out the runs of a trial from its description",
    load: async () => (await import("./lay-out.ts")).layOutVerb,
  },
  {
    name: "choose",
    summary: "compare the layouts that fit a question and the passes at hand",
    load: async () => (await import("./choose.ts")).chooseVerb,
  },
  {
    name: "judge",
    summary: "say what a layout can tell, before a chip is cut",
    load: async () => (await import("./judge.ts")).judgeVerb,
  },
  {
    name: "grow",
    summary: "add runs to a trial: fold, axial, replicate, separate, proof",
    load: async () => (await import("./grow.ts")).growVerb,
  },
  {
    name: "fit",
    summary: "fit a model to a table of runs",
    load: async () => (await import("./fit.ts")).fitVerb,
  },
  {
    name: "compare",
    summary: "compare edges, coolants, cutters: how far apart, and how sure",
    load: async () => (await import("./compare.ts")).compareVerb,
  },
  {
    name: "curve",
    summary: "fit a curve given by an expression",
    load: async () => (await import("./curve.ts")).curveVerb,
  },
  {
    name: "recipe",
    summary: "find the fastest setting that keeps limits on several responses",
    load: async () => (await import("./recipe.ts")).recipeVerb,
  },
  {
    name: "record",
    summary: "write readings of a run into a trial",
    load: async () => (await import("./record.ts")).recordVerb,
  },
  {
    name: "status",
    summary: "say where a trial stands and what to do next",
    load: async () => (await import("./status.ts")).statusVerb,
  },
  {
    name: "import",
    summary: "bring readings in from a table, or make a trial of it",
    load: async () => (await import("./import.ts")).importVerb,
  },
  {
    name: "publish",
    summary: "make the page and the data package of a trial",
    load: async () => (await import("./publish.ts")).publishVerb,
  },
];
