import { listed } from "../../units/index.ts";
import type { RemlRefused } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import type { Observations, ObservedSource } from "../observations.ts";

/** Why the variances can't be told, with what to do about it. */
export function refusal(
  { why, sources: told, plain }: RemlRefused,
  observations: Observations,
  sources: readonly ObservedSource[],
): Error {
  const { rows, response } = observations;
  const names = told.filter((k) => k < sources.length).map((k) => sources[k].name);
  if (why === "no-rows-left") {
    return modelError(
      `${rows.length} rows for ${plain.rank} terms that are fixed`,
      "more rows than terms, so that some scatter is left to part among its sources",
      "Ask for fewer terms, or cut more runs.",
    );
  }
  if (why === "no-scatter") {
    const same = rows.every((row) => row.value === rows[0].value);
    return modelError(
      same
        ? `${response.name} is ${rows[0].value} in every row`
        : `the fixed terms meet every ${response.name} exactly`,
      "some scatter to part among its sources",
      same ? "Read with a finer gauge, or look for a gauge that sticks." : "Ask for fewer terms.",
    );
  }
  if (why === "residual-vanishes") {
    return modelError(
      `rows that share ${listed(sources.map(({ name }) => name))} read exactly as the terms say`,
      "some scatter within them",
      "Leave out the finest source, or give the readings with more digits.",
    );
  }
  if (why === "spanned") return spanned(sources[told[0]], observations);
  return tied(names, told.includes(sources.length), observations);
}

function spanned(source: ObservedSource, { factors, rows, blocks }: Observations): Error {
  const still = factors
    .filter(({ name }) =>
      constantWithin(
        source,
        rows.map((row) => row.settings[name]),
      ),
    )
    .map(({ name }) => name);
  if (
    blocks !== undefined &&
    constantWithin(
      source,
      rows.map((row) => row.block),
    )
  )
    still.push(blocks.name);
  const moved = still.length === 0 ? "the terms" : listed(still);
  return modelError(
    `${source.name} as a random source, where every difference between its ${source.levels.length} levels is one of ${moved} as well`,
    `settings that were cut on more than one ${source.name}`,
    `Whether ${moved} or ${source.name} made the difference can't be told: leave one of them out, or cut each setting on a second ${source.name}.`,
  );
}

function tied(names: readonly string[], residual: boolean, { rows }: Observations): Error {
  if (residual && names.length === 1) {
    return modelError(
      `${names[0]} as a random source, which is another one in each of ${rows.length} rows`,
      "several rows on some of its levels",
      `Its scatter is what is called residual: leave ${names[0]} out, or give every reading a line of its own.`,
    );
  }
  return modelError(
    `${listed(names)} as random sources, which ${residual ? "and the residual " : ""}always change together`,
    "sources of which one changes while another stays",
    `Name ${names.length === 2 && !residual ? "one of the two" : "fewer sources"}.`,
  );
}

function constantWithin(source: ObservedSource, values: readonly unknown[]): boolean {
  const seen = new Map<number, unknown>();
  return values.every((value, i) => {
    const level = source.of[i];
    if (!seen.has(level)) seen.set(level, value);
    return seen.get(level) === value;
  });
}
