import { listed } from "../units/index.ts";
import { LayoutError } from "./error.ts";
import { boxBehnken } from "./kinds/box-behnken.ts";
import { centralComposite } from "./kinds/central-composite.ts";
import { definitiveScreening } from "./kinds/definitive-screening.ts";
import { factorial } from "./kinds/factorial.ts";
import { fraction } from "./kinds/fraction.ts";
import { given } from "./kinds/given.ts";
import { latinSquare } from "./kinds/latin-square.ts";
import { optimal } from "./kinds/optimal.ts";
import { orthogonalArray } from "./kinds/orthogonal-array.ts";
import { plackettBurman } from "./kinds/plackett-burman.ts";
import { sweep } from "./kinds/sweep.ts";
import type { LayoutKind } from "./layout.ts";

/** The family of layouts, by name: a further kind is one file and one line here. */
export const kinds: ReadonlyMap<string, LayoutKind> = new Map(
  [
    sweep,
    factorial,
    fraction,
    plackettBurman,
    definitiveScreening,
    centralComposite,
    boxBehnken,
    orthogonalArray,
    latinSquare,
    optimal,
    given,
  ].map((kind) => [kind.kind, kind]),
);

/** The kind of that name; an unknown one is refused with those known. */
export function kindNamed(name: string): LayoutKind {
  const kind = kinds.get(name);
  if (kind) return kind;
  throw new LayoutError(
    `layout.kind: "${name}" is not a kind of layout. Known kinds are ${listed([...kinds.keys()])}.`,
  );
}
