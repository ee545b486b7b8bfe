import type { PassMotion } from "./pass-motion.ts";
import type { PassRole } from "./pass-role.ts";
import type { PassSources } from "./pass-sources.ts";

export type PassKind = "milling" | "turning";

/** What is wanted for a role, and where it can be stated. */
const wanted: Readonly<Record<PassRole, string>> = {
  spindleSpeed: 'a speed: a factor in rev/min or m/min, or held, such as "speed": "1000 rev/min"',
  surfaceSpeed: 'a surface speed: a factor in m/min, or held, such as "speed": "200 m/min"',
  feedPerRev: 'a feed: a factor in mm/rev or mm/tooth, or held, such as "feed": "0.1 mm/rev"',
  feedPerTooth: 'a feed: a factor in mm/tooth, or held, such as "feed": "0.1 mm/tooth"',
  feedSpeed: 'a feed speed: a factor in mm/min, or held, such as "feed speed": "200 mm/min"',
  depth: 'the depth of cut: a factor named depth, or held, such as "depth": "0.1 mm"',
  width: "the width of cut: pass.width, or a factor named width",
  diameter: "the cutter's diameter: cutter.diameter",
  noseRadius: "the nose radius: cutter.noseRadius",
  length: "the length of the pass: pass.length",
  approach: "the approach: pass.approach",
  overtravel: "the overtravel: pass.overtravel",
};

/** Why roles have no value: what is wrong with their statements, or that there is none and where to put one. */
export function lacking(roles: readonly PassRole[], { unusable }: PassSources, kind: PassKind): string {
  return roles
    .map((role) => `Wants ${unusable[role] === undefined ? wantedIn(role, kind) : because(unusable[role])}.`)
    .join(" ");
}

function wantedIn(role: PassRole, kind: PassKind): string {
  return role === "diameter" && kind === "turning"
    ? 'the workpiece\'s diameter: a factor named diameter, or held, such as "diameter": "50 mm"'
    : wanted[role];
}

function because(why: string): string {
  return `a statement that can be used: ${why.replace(/\.$/, "")}`;
}

export function whyNoFeedSpeed(sources: PassSources, motion: PassMotion, kind: PassKind): string {
  const { stated } = sources;
  const reasons: string[] = [];
  if (motion.feedMmPerRev === null) {
    reasons.push(
      stated.feedPerTooth === undefined
        ? lacking(["feedPerRev"], sources, kind)
        : "Wants the number of teeth: cutter.teeth.",
    );
  }
  if (motion.spindleSpeedRevPerMin === null) {
    reasons.push(lacking([stated.surfaceSpeed === undefined ? "spindleSpeed" : "diameter"], sources, kind));
  }
  return reasons.join(" ");
}

export function whyNoRemovalRate(sources: PassSources, motion: PassMotion, kind: PassKind): string {
  const { stated } = sources;
  const reasons = stated.depth === undefined ? [lacking(["depth"], sources, kind)] : [];
  if (kind === "turning") {
    if (motion.feedMmPerRev === null) reasons.push(lacking(["feedPerRev"], sources, kind));
    if (motion.surfaceSpeedMPerMin === null) {
      reasons.push(
        lacking([motion.spindleSpeedRevPerMin === null ? "spindleSpeed" : "diameter"], sources, kind),
      );
    }
    return reasons.join(" ");
  }
  if (stated.width === undefined) reasons.push(lacking(["width"], sources, kind));
  if (motion.feedSpeedMmPerMin === null) reasons.push(whyNoFeedSpeed(sources, motion, kind));
  return reasons.join(" ");
}
