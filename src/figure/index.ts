// Figures: one SVG for bench, notebook and published page, each with its text alternative and the table behind it.
export type { Figure, FigureTable } from "./figure.ts";
export type { FigureOptions } from "./options.ts";
export type { Display } from "./shown.ts";
export { lettering, palette } from "./palette.ts";
export { blankDocument } from "./document.ts";

export { responseFigure, type ResponseOptions } from "./response-figure.ts";
export { effectFigure, type EffectOptions } from "./effect-figure.ts";
export { comparisonFigure } from "./comparison-figure.ts";
export { equivalenceFigure } from "./equivalence-figure.ts";
export { locationScatterFigure } from "./location-scatter-figure.ts";
export { transformFigure } from "./transform-figure.ts";
export { interactionFigure, type InteractionOptions } from "./interaction-figure.ts";
export { orderFigure, type OrderOptions } from "./order-figure.ts";
export { residualFigure, type ResidualOptions } from "./residual-figure.ts";
export { normalQuantileFigure, type NormalQuantileOptions } from "./normal-quantile-figure.ts";
export { slicesFigure, type SlicesOptions } from "./slices-figure.ts";
export { influenceFigure } from "./influence-figure.ts";
export { leftOutFigure } from "./left-out-figure.ts";
export { drawsFigure, type DrawsOptions } from "./draws-figure.ts";
export { floorFigure, type FloorFigureOptions } from "./floor-figure.ts";
export { profileFigure } from "./profile-figure.ts";
export { halfNormalFigure } from "./half-normal-figure.ts";
export { varianceShareFigure } from "./variance-share-figure.ts";
export { scatterShareFigure, type ScatterShareOptions } from "./scatter-share-figure.ts";

export { layoutFigure, type LayoutOptions } from "./layout-figure.ts";
export { orderStripFigure, type OrderStripOptions } from "./order-strip-figure.ts";
export { choiceFigure, type ChoiceOptions } from "./choice-figure.ts";
export { movesWithFigure, type MovesWithOptions } from "./moves-with-figure.ts";
export { contourFigure, type ContourOptions } from "./contour-figure.ts";
export { knownSliceFigure, type KnownSliceOptions } from "./known-slice-figure.ts";
export { shareKnownFigure, type KnownOver, type ShareKnownOptions } from "./share-known-figure.ts";
export { powerFigure, type PowerOptions } from "./power-figure.ts";
export type { PowerCurve } from "./power-curve.ts";
export type { PlannedRuns } from "./planned-runs.ts";

export { FigureError } from "./error.ts";
