/** A figure: the same SVG on the bench, in a notebook's file and in a published page. */
export interface Figure {
  /** Kebab-case kind, such as "response-against-factor". */
  readonly kind: string;
  /** Complete `<svg>…</svg>`, no outside references, text escaped, with `<title>`, `<desc>` and role="img". */
  readonly svg: string;
  readonly title: string;
  /** The text alternative: what a reader should see in it, with the numbers. */
  readonly description: string;
  /** The table behind it. */
  readonly table: FigureTable;
}

export interface FigureTable {
  /** With the unit in brackets: "Ra [µm]". */
  readonly columns: readonly string[];
  readonly rows: readonly (readonly (string | number | null)[])[];
}
