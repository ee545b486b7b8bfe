import type { PassRole } from "./pass-role.ts";
import type { PassSources, Stated } from "./pass-sources.ts";
import { feedSpeed, spindleSpeed, surfaceSpeed } from "./speed.ts";

/** Speeds and feeds of a pass as far as they follow from what is stated. */
export interface PassMotion {
  readonly spindleSpeedRevPerMin: number | null;
  readonly surfaceSpeedMPerMin: number | null;
  readonly feedMmPerRev: number | null;
  readonly feedMmPerTooth: number | null;
  readonly feedSpeedMmPerMin: number | null;
  /** Statements that contradict each other, each with the one that was followed. */
  readonly conflicts: readonly string[];
}

/** Two statements that differ by less than this share agree: handbook speeds are rounded to two or three digits. */
const agreement = 0.005;

/** Speeds and feeds from whichever of them are stated, diameter and teeth. */
export function passMotion({ stated }: PassSources, teeth: number | null): PassMotion {
  const conflicts: string[] = [];
  const diameterMm = stated.diameter?.value;
  const feedByRev = feedPerRevStated(stated, teeth, conflicts);
  const speed = spindleSpeedStated(stated, conflicts);

  // Feed and feed speed together fix the spindle speed where nothing else does.
  const spindleSpeedRevPerMin =
    speed?.value ?? (stated.feedSpeed && feedByRev ? stated.feedSpeed.value / feedByRev.value : null);
  const follows = feedFollowed(stated.feedSpeed, feedByRev, spindleSpeedRevPerMin, conflicts);
  const feedMmPerRev = follows.feedMmPerRev;
  return {
    spindleSpeedRevPerMin,
    surfaceSpeedMPerMin:
      spindleSpeedRevPerMin !== null && diameterMm !== undefined
        ? surfaceSpeed({ diameterMm, spindleSpeedRevPerMin })
        : (stated.surfaceSpeed?.value ?? null),
    feedMmPerRev,
    feedMmPerTooth:
      feedMmPerRev !== null && teeth !== null ? feedMmPerRev / teeth : (stated.feedPerTooth?.value ?? null),
    feedSpeedMmPerMin: follows.feedSpeedMmPerMin,
    conflicts,
  };
}

type StatedRoles = Readonly<Partial<Record<PassRole, Stated>>>;

function spindleSpeedStated(stated: StatedRoles, conflicts: string[]): Stated | null {
  const { spindleSpeed: direct, surfaceSpeed: surface, diameter } = stated;
  if (surface === undefined || diameter === undefined) return direct ?? null;
  const derived = {
    ...surface,
    value: spindleSpeed({ diameterMm: diameter.value, surfaceSpeedMPerMin: surface.value }),
  };
  return followed(direct, derived, "spindle speed", "rev/min", conflicts);
}

function feedPerRevStated(stated: StatedRoles, teeth: number | null, conflicts: string[]): Stated | null {
  const { feedPerRev, feedPerTooth } = stated;
  if (feedPerTooth === undefined || teeth === null) return feedPerRev ?? null;
  return followed(
    feedPerRev,
    { ...feedPerTooth, value: feedPerTooth.value * teeth },
    "feed",
    "mm/rev",
    conflicts,
  );
}

/** Feed per revolution and feed speed from whichever of them outranks the other. */
function feedFollowed(
  speed: Stated | undefined,
  byRev: Stated | null,
  spindleSpeedRevPerMin: number | null,
  conflicts: string[],
): { readonly feedMmPerRev: number | null; readonly feedSpeedMmPerMin: number | null } {
  if (spindleSpeedRevPerMin === null) {
    return { feedMmPerRev: byRev?.value ?? null, feedSpeedMmPerMin: speed?.value ?? null };
  }
  const derived = byRev && {
    ...byRev,
    value: feedSpeed({ feedMmPerRev: byRev.value, spindleSpeedRevPerMin }),
  };
  const chosen = derived === null ? speed : followed(speed, derived, "feed speed", "mm/min", conflicts);
  if (chosen === undefined) return { feedMmPerRev: null, feedSpeedMmPerMin: null };
  return {
    // The feed as it was stated, not there and back through the spindle speed.
    feedMmPerRev: byRev !== null && chosen === derived ? byRev.value : chosen.value / spindleSpeedRevPerMin,
    feedSpeedMmPerMin: chosen.value,
  };
}

/** Of a direct and a derived statement, the one of the better rank; the direct one of equals. A contradiction is noted. */
function followed(
  direct: Stated | undefined,
  derived: Stated,
  what: string,
  unit: string,
  conflicts: string[],
): Stated {
  if (direct === undefined) return derived;
  const chosen = derived.rank < direct.rank ? derived : direct;
  const other = chosen === direct ? derived : direct;
  if (Math.abs(chosen.value - other.value) > agreement * chosen.value) {
    conflicts.push(
      `${chosen.from} gives a ${what} of ${round(chosen.value)} ${unit} and ${other.from} one of ${round(other.value)} ${unit}; ` +
        `${chosen.from} is followed. Correct or leave out one of them.`,
    );
  }
  return chosen;
}

function round(value: number): string {
  return String(Number(value.toPrecision(5)));
}
