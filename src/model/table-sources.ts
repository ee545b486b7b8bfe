import { modelError } from "./error.ts";
import type { ObservedSource } from "./observations.ts";
import { columnNamed, textIn } from "./table-column.ts";
import type { TableColumn } from "./table-column.ts";

/** The column that names a source's levels, or several whose combinations do. */
export type RandomColumns = string | readonly string[];

export interface TableSource {
  readonly name: string;
  readonly columns: readonly string[];
  readonly levelAt: (line: number) => string;
}

/** How a source is called: its column, or its columns joined. */
export function sourceName(columns: RandomColumns): string {
  return typeof columns === "string" ? columns : columns.join(" + ");
}

/** The sources asked for, read from the table. Refuses unknown columns, a source twice, and spots without the run that they lie on. */
export function tableSources(
  columns: readonly TableColumn[],
  random: readonly RandomColumns[],
): readonly TableSource[] {
  const names = random.map(sourceName);
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice !== undefined) throw modelError(`the random source ${twice} twice`, "each source once");
  return random.map((asked, i) => {
    const own = typeof asked === "string" ? [asked] : asked;
    if (own.length === 0) throw modelError("a random source without a column", "at least one column");
    // A spot is a place on one surface: spot 1 of one run is not spot 1 of another.
    const spot = own.length === 1 && own[0] === "spot";
    if (spot && !names.includes("run")) {
      throw modelError(
        "the random source spot without run",
        "the runs that the spots lie on as a source too",
        "Name run as well.",
      );
    }
    const read = (spot ? ["run", "spot"] : own).map((name) => columnNamed(columns, name));
    return {
      name: names[i],
      columns: own,
      levelAt: (line) => read.map((column) => textIn(column, line)).join(" / "),
    };
  });
}

/** A source for the rows, each given by the first of its lines. */
export function observedSource(source: TableSource, lines: readonly number[]): ObservedSource {
  return sourceOf(
    source.name,
    lines.map((line) => source.levelAt(line)),
  );
}

/** A source from the name of each row's level, levels in order of appearance. */
export function sourceOf(name: string, levelOf: readonly string[]): ObservedSource {
  const places = new Map<string, number>();
  const of = levelOf.map((level) => {
    let place = places.get(level);
    if (place === undefined) places.set(level, (place = places.size));
    return place;
  });
  return { name, levels: [...places.keys()], of };
}
