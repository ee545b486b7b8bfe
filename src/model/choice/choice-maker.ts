import { dotProduct, seededRandom } from "../../numerics/index.ts";
import { BLOCK, type DrawnBlock } from "../resample/drawn-block.ts";
import { criterion } from "../screening/criterion.ts";
import { fittedModel, type FittedModel } from "./fitted-model.ts";
import {
  columnsOfModel,
  modelTree,
  type ModelTree,
  type ModelTreeOptions,
  type TreeColumn,
} from "./model-tree.ts";

/** All that the draws of a choice need: numbers only, so that they cross to another thread. */
export interface ChoiceOrder {
  readonly columns: readonly TreeColumn[];
  readonly search: ModelTreeOptions;
  /** What is told of each draw: the value of each column (of the base first) that goes with one of its coefficient. */
  readonly targets: readonly Float64Array[];
  /** Where the draws come from: the mean of every run, its scatter, and what the targets are there. */
  readonly centre: Float64Array;
  readonly scatter: number;
  readonly truth: Float64Array;
  readonly draws: number;
  readonly seed: number;
}

/** The model that a response chooses, by its place in the tree; −1 for the base alone. */
export function chooser(tree: ModelTree, base: readonly Float64Array[]): (response: Float64Array) => number {
  const { rows, units, parent, size } = tree;
  const left = new Float64Array(parent.length);
  const most = size.reduce((largest, one) => Math.max(largest, one), 0);
  const nothing = fittedModel([], [], base);
  return (response) => {
    const total = nothing.residual(response);
    const best = new Float64Array(most + 1).fill(Infinity);
    const at = new Int32Array(most + 1).fill(-1);
    best[0] = total;
    for (let model = 0; model < parent.length; model++) {
      let along = 0;
      const from = model * rows;
      for (let row = 0; row < rows; row++) along += units[from + row] * response[row];
      const value = (parent[model] < 0 ? total : left[parent[model]]) - along * along;
      left[model] = value;
      if (value < best[size[model]]) {
        best[size[model]] = value;
        at[size[model]] = model;
      }
    }
    let chosen = -1;
    let least = Infinity;
    best.forEach((value, terms) => {
      const score = criterion(value, { terms, rows, base: base.length, total });
      if (score < least) {
        least = score;
        chosen = at[terms];
      }
    });
    return chosen;
  };
}

/** Makes a block of draws: for each the targets, less what they are in truth, over the scatter that the chosen model shows; and the model chosen. */
export function choiceMaker(order: ChoiceOrder): (block: number) => DrawnBlock {
  const { columns, search, targets, centre, scatter, truth, draws, seed } = order;
  const tree = modelTree(columns, search);
  const choose = chooser(tree, search.base);
  const fitted = new Map<number, FittedModel>();
  const response = new Float64Array(centre.length);
  const width = targets.length + 1;
  return (block) => {
    const random = seededRandom(seed, { stream: block });
    const wanted = Math.min(BLOCK, draws - block * BLOCK);
    const values = new Float64Array(wanted * width);
    for (let draw = 0; draw < wanted; draw++) {
      for (let row = 0; row < response.length; row++) response[row] = centre[row] + scatter * random.normal();
      const chosen = choose(response);
      const model =
        fitted.get(chosen) ?? fittedModel(columns, columnsOfModel(tree, chosen), search.base, targets);
      if (fitted.size < mostKept) fitted.set(chosen, model);
      const sd = Math.sqrt(model.residual(response) / model.df);
      model.weights.forEach((weights, t) => {
        values[draw * width + t] = (dotProduct(weights, response) - truth[t]) / sd;
      });
      values[draw * width + targets.length] = chosen;
    }
    return { values, made: wanted, again: 0 };
  };
}

/** Models whose weights are kept between draws. */
const mostKept = 5000;
