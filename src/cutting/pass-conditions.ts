import type { Setting, TrialSpec } from "../trial/index.ts";
import { passIdeal } from "./pass-ideal.ts";
import { passMotion } from "./pass-motion.ts";
import type { PassMotion } from "./pass-motion.ts";
import { lacking, whyNoFeedSpeed, whyNoRemovalRate } from "./pass-reasons.ts";
import type { PassKind } from "./pass-reasons.ts";
import type { PassRole } from "./pass-role.ts";
import { passSources } from "./pass-sources.ts";
import type { PassSources } from "./pass-sources.ts";
import { faceMillApproach, passTime } from "./pass-time.ts";
import { millingRemovalRate, turningRemovalRate } from "./removal-rate.ts";

/** What one run is cut with; null where the trial does not state enough, and `missing` says what is wanted. */
export interface PassConditions extends PassMotion {
  readonly kind: PassKind;
  /** Of the cutter in milling, of the workpiece in turning. */
  readonly diameterMm: number | null;
  readonly depthMm: number | null;
  /** Width of cut in milling; null in turning. */
  readonly widthMm: number | null;
  /** What is cut of the pass, without approach and overtravel. */
  readonly lengthMm: number | null;
  /** Minutes at feed speed of one pass, approach and overtravel included. */
  readonly minutes: number | null;
  readonly removalRateCm3PerMin: number | null;
  /** What nose radius and feed alone would leave, exact formula. */
  readonly idealRaUm: number | null;
  readonly idealHeightUm: number | null;
  readonly missing: readonly MissingCondition[];
  /** What was taken for granted, in words. */
  readonly assumptions: readonly string[];
}

export interface MissingCondition {
  readonly what: ComputedCondition;
  /** What is wanted, and where to state it. */
  readonly why: string;
}

export type ComputedCondition =
  | "spindleSpeedRevPerMin"
  | "surfaceSpeedMPerMin"
  | "feedSpeedMmPerMin"
  | "minutes"
  | "removalRateCm3PerMin"
  | "idealRaUm"
  | "idealHeightUm";

/**
 * Speeds, feeds, minutes, removal rate and ideal finish of a run, as far as the trial states enough. Quantities are found
 * among the factors (by dimension, lengths by name: depth, width, diameter), among what is held, and in `cutter` and
 * `pass`, in this order of rank; a surface speed, a feed per tooth or a feed speed serve as well as a spindle speed and a
 * feed per revolution. A run is turned where `pass.kind` says so, or where it says nothing, the cutter has neither diameter
 * nor teeth and a diameter is among factors or held; else it is milled. Without `pass.approach` a milled pass takes half
 * the cutter's diameter; without `pass.overtravel` nothing: both are told in `assumptions`.
 *
 * Nothing is refused: what can't be computed is null, with the reason in `missing`; statements that contradict each other
 * are told in `conflicts`. Formulas and sources as at the functions of this folder.
 *
 * @example passConditions(spec, { feed: 0.16, speed: 1000 }).feedSpeedMmPerMin // 160
 */
export function passConditions(spec: TrialSpec, settings: Readonly<Record<string, Setting>>): PassConditions {
  return passConditionsOf(spec)(settings);
}

/**
 * Like {@link passConditions}, for many runs of one trial: what the trial holds is read once.
 *
 * @example passConditionsOf(spec)({ feed: 0.16, speed: 1000 }).feedSpeedMmPerMin // 160
 */
export function passConditionsOf(
  spec: TrialSpec,
): (settings: Readonly<Record<string, Setting>>) => PassConditions {
  const sourcesOf = passSources(spec);
  return (settings) => conditionsFrom(spec, sourcesOf(settings));
}

function conditionsFrom(spec: TrialSpec, sources: PassSources): PassConditions {
  const kind = kindOf(spec, sources);
  const { stated } = sources;
  const motion = passMotion(sources, kind === "turning" ? 1 : (spec.cutter?.teeth ?? null));
  const assumptions: string[] = [];
  const missing: MissingCondition[] = [];
  const want = <T>(what: ComputedCondition, value: T | null, why: () => string): T | null => {
    if (value === null) missing.push({ what, why: why() });
    return value;
  };
  const lack = (roles: readonly PassRole[]): string => lacking(roles, sources, kind);

  const depthMm = stated.depth?.value ?? null;
  const widthMm = kind === "milling" ? (stated.width?.value ?? null) : null;
  const ideal = passIdeal(spec, sources, motion, kind);
  return {
    ...motion,
    kind,
    diameterMm: stated.diameter?.value ?? null,
    depthMm,
    widthMm,
    lengthMm: stated.length?.value ?? null,
    spindleSpeedRevPerMin: want("spindleSpeedRevPerMin", motion.spindleSpeedRevPerMin, () =>
      stated.surfaceSpeed ? lack(["diameter"]) : lack(["spindleSpeed"]),
    ),
    surfaceSpeedMPerMin: want("surfaceSpeedMPerMin", motion.surfaceSpeedMPerMin, () =>
      motion.spindleSpeedRevPerMin === null ? lack(["spindleSpeed"]) : lack(["diameter"]),
    ),
    feedSpeedMmPerMin: want("feedSpeedMmPerMin", motion.feedSpeedMmPerMin, () =>
      whyNoFeedSpeed(sources, motion, kind),
    ),
    minutes: want("minutes", minutesOf(sources, motion, kind, assumptions), () =>
      [
        ...(stated.length ? [] : [lack(["length"])]),
        ...(motion.feedSpeedMmPerMin === null ? [whyNoFeedSpeed(sources, motion, kind)] : []),
        ...(sources.unusable.approach ? [lack(["approach"])] : []),
        ...(sources.unusable.overtravel ? [lack(["overtravel"])] : []),
        ...(kind === "milling" && !stated.approach && !stated.diameter ? [lack(["diameter"])] : []),
      ].join(" "),
    ),
    removalRateCm3PerMin: want("removalRateCm3PerMin", removalOf(depthMm, widthMm, motion, kind), () =>
      whyNoRemovalRate(sources, motion, kind),
    ),
    idealRaUm: want("idealRaUm", ideal.raUm, () => ideal.why),
    idealHeightUm: want("idealHeightUm", ideal.heightUm, () => ideal.why),
    missing,
    assumptions,
  };
}

function kindOf(spec: TrialSpec, { stated }: PassSources): PassKind {
  if (spec.pass?.kind !== undefined) return spec.pass.kind;
  const cutterIsRound = spec.cutter?.diameter !== undefined || spec.cutter?.teeth !== undefined;
  return !cutterIsRound && stated.diameter !== undefined ? "turning" : "milling";
}

function minutesOf(
  { stated, unusable }: PassSources,
  { feedSpeedMmPerMin }: PassMotion,
  kind: PassKind,
  assumptions: string[],
): number | null {
  if (stated.length === undefined || feedSpeedMmPerMin === null) return null;
  if (unusable.approach !== undefined || unusable.overtravel !== undefined) return null;
  const approachMm = stated.approach?.value ?? approachTaken(stated.diameter?.value, kind, assumptions);
  if (approachMm === null) return null;
  if (stated.overtravel === undefined)
    assumptions.push("No overtravel is stated in pass.overtravel: 0 mm is taken.");
  return passTime({
    lengthMm: stated.length.value,
    approachMm,
    overtravelMm: stated.overtravel?.value ?? 0,
    feedSpeedMmPerMin,
  });
}

function approachTaken(diameterMm: number | undefined, kind: PassKind, assumptions: string[]): number | null {
  if (kind === "turning") {
    assumptions.push("No approach is stated in pass.approach: 0 mm is taken.");
    return 0;
  }
  if (diameterMm === undefined) return null;
  const approachMm = faceMillApproach(diameterMm);
  assumptions.push(
    `No approach is stated in pass.approach: half the cutter's diameter, ${approachMm} mm, is taken (common practice).`,
  );
  return approachMm;
}

function removalOf(
  depthMm: number | null,
  widthMm: number | null,
  { feedMmPerRev, feedSpeedMmPerMin, surfaceSpeedMPerMin }: PassMotion,
  kind: PassKind,
): number | null {
  if (depthMm === null) return null;
  if (kind === "turning") {
    if (feedMmPerRev === null || surfaceSpeedMPerMin === null) return null;
    return turningRemovalRate({ depthMm, feedMmPerRev, surfaceSpeedMPerMin });
  }
  if (widthMm === null || feedSpeedMmPerMin === null) return null;
  return millingRemovalRate({ depthMm, widthMm, feedSpeedMmPerMin });
}
