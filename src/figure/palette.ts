/**
 * The colours of a drawing sheet: ink and greys, layout-fluid blue as the one accent, amber for cautions.
 * Text colours (`ink`, `quiet`, `accent`, `caution`) keep a contrast of at least 4.5 : 1 on `paper`. No figure tells
 * things apart by colour alone: dash and shape differ with it, so that a grey print reads the same.
 */
export const palette = {
  ink: "#17212b",
  quiet: "#55606b",
  rule: "#8c97a2",
  hair: "#e3e7eb",
  shade: "#f3f5f7",
  paper: "#ffffff",
  accent: "#1c4d94",
  caution: "#a85800",
} as const;

/** Sizes in units of the 640 wide drawing: text is never below 12. */
export const lettering = {
  family: "Helvetica Neue, Helvetica, Arial, Liberation Sans, sans-serif",
  small: 12,
  usual: 13,
} as const;

/** How one of several groups is drawn: never by colour alone. */
export interface GroupStyle {
  readonly colour: string;
  readonly dash: string;
  readonly symbol: "circle" | "diamond2" | "triangle2" | "square2";
}

/** In the order in which groups are given; a fifth group starts again, so figures refuse more than four. */
export const groupStyles: readonly GroupStyle[] = [
  { colour: palette.accent, dash: "none", symbol: "circle" },
  { colour: palette.ink, dash: "7 4", symbol: "diamond2" },
  { colour: palette.quiet, dash: "2 3", symbol: "triangle2" },
  { colour: palette.caution, dash: "9 3 2 3", symbol: "square2" },
];
