import type { Factor, Setting, TrialSpec } from "../trial/index.ts";
import { convert, readQuantity } from "../units/index.ts";
import type { UnitName } from "../units/index.ts";
import { passRole, roleUnits } from "./pass-role.ts";
import type { PassRole } from "./pass-role.ts";

/** A number for a role, in the role's unit, and where it was stated. */
export interface Stated {
  readonly value: number;
  readonly from: string;
  /** What varies in the trial outranks what is held, and this outranks what describes cutter and pass: 0, 1, 2. */
  readonly rank: 0 | 1 | 2;
}

/** What a trial states about a pass: a value for a role, or why its statement can't be used. */
export interface PassSources {
  readonly stated: Readonly<Partial<Record<PassRole, Stated>>>;
  readonly unusable: Readonly<Partial<Record<PassRole, string>>>;
}

interface Candidate {
  readonly role: PassRole;
  readonly name: string;
  readonly from: string;
  readonly rank: 0 | 1 | 2;
  /** Null where `why` says what is wrong. */
  readonly value: number | null;
  readonly why: string;
}

/**
 * Reads every quantity that a trial states: what is held, cutter and pass at once, the settings of each run when it is
 * asked for.
 */
export function passSources(spec: TrialSpec): (settings: Readonly<Record<string, Setting>>) => PassSources {
  const still = [
    ...Object.entries(spec.held).flatMap(([name, text]) => fromText(name, text, `held ${name}`, 1)),
    ...partTexts(spec).flatMap(([role, text, from]) => fromPart(role, text, from)),
  ];
  return (settings) =>
    chosenSources([
      ...spec.factors.flatMap((factor) => fromFactor(factor, settings)),
      ...beyondFactors(spec, settings),
      ...still,
    ]);
}

/** For each role the statement of the best rank. */
function chosenSources(candidates: readonly Candidate[]): PassSources {
  const stated: Partial<Record<PassRole, Stated>> = {};
  const unusable: Partial<Record<PassRole, string>> = {};
  for (const role of Object.keys(roleUnits) as PassRole[]) {
    const ofRole = candidates.filter((candidate) => candidate.role === role);
    const rank = Math.min(...ofRole.map((candidate) => candidate.rank));
    const first = ofRole.filter((candidate) => candidate.rank === rank);
    const chosen =
      first.length > 1 ? (first.find(({ name }) => plainNames.has(name)) ?? null) : (first[0] ?? null);
    if (chosen === null) {
      if (first.length > 1) unusable[role] = `${first.map(({ from }) => from).join(" and ")} state it both`;
    } else if (chosen.value === null) unusable[role] = chosen.why;
    else stated[role] = { value: chosen.value, from: chosen.from, rank: chosen.rank };
  }
  return { stated, unusable };
}

/** Of two factors of one kind ("feed", "approach feed") the plainly named one is what the pass is cut with. */
const plainNames: ReadonlySet<string> = new Set(["feed", "speed", "depth", "width", "diameter", "length"]);

function fromFactor(factor: Factor, settings: Readonly<Record<string, Setting>>): Candidate[] {
  const setting = Object.hasOwn(settings, factor.name) ? settings[factor.name] : undefined;
  const from = `factor ${factor.name}`;
  // Levels such as "0.1 mm" are quantities too, though they were listed as a category.
  if (factor.kind === "category") {
    return typeof setting === "string" ? fromText(factor.name, setting, from, 0, { wordsAreFine: true }) : [];
  }
  const role = passRole(factor.name, factor.unit);
  if (role === null) return [];
  if (setting === undefined)
    return [unusable(role, factor.name, from, 0, `${from} has no setting in this run`)];
  if (typeof setting === "number") return [candidate(role, factor.name, from, 0, setting, factor.unit)];
  const answer = readQuantity(setting, { unit: factor.unit });
  if (answer.kind !== "value") return [unusable(role, factor.name, from, 0, whyNot(answer))];
  return [candidate(role, factor.name, from, 0, answer.value.value, answer.value.unit)];
}

/** Settings written for what the trial holds, such as today's speed where the trial varies the feed alone. */
function beyondFactors(spec: TrialSpec, settings: Readonly<Record<string, Setting>>): Candidate[] {
  const factors = new Set(spec.factors.map(({ name }) => name));
  return Object.entries(settings).flatMap(([name, setting]) =>
    factors.has(name) || typeof setting === "number" ? [] : fromText(name, setting, `setting ${name}`, 0),
  );
}

function fromText(
  name: string,
  text: string,
  from: string,
  rank: 0 | 1 | 2,
  { wordsAreFine = false } = {},
): Candidate[] {
  const answer = readQuantity(text);
  if (answer.kind === "value") {
    const role = passRole(name, answer.value.unit);
    return role === null ? [] : [candidate(role, name, from, rank, answer.value.value, answer.value.unit)];
  }
  // The words say nothing of a dimension, so that only the name tells for which role they were meant.
  const role = wordsAreFine ? null : (roleByName[name] ?? null);
  return role === null ? [] : [unusable(role, name, from, rank, `${from}: ${whyNot(answer)}`)];
}

const roleByName: Readonly<Partial<Record<string, PassRole>>> = {
  depth: "depth",
  width: "width",
  feed: "feedPerRev",
  speed: "spindleSpeed",
  diameter: "diameter",
};

function partTexts(spec: TrialSpec): (readonly [PassRole, string | undefined, string])[] {
  return [
    // In turning the surface speed is the workpiece's, whose diameter no field of the cutter holds.
    ["diameter", spec.pass?.kind === "turning" ? undefined : spec.cutter?.diameter, "cutter.diameter"],
    ["noseRadius", spec.cutter?.noseRadius, "cutter.noseRadius"],
    ["length", spec.pass?.length, "pass.length"],
    ["width", spec.pass?.width, "pass.width"],
    ["approach", spec.pass?.approach, "pass.approach"],
    ["overtravel", spec.pass?.overtravel, "pass.overtravel"],
  ];
}

function fromPart(role: PassRole, text: string | undefined, from: string): Candidate[] {
  if (text === undefined) return [];
  const answer = readQuantity(text, { dimension: "length" });
  if (answer.kind !== "value") return [unusable(role, from, from, 2, `${from}: ${whyNot(answer)}`)];
  return [candidate(role, from, from, 2, answer.value.value, answer.value.unit)];
}

function candidate(
  role: PassRole,
  name: string,
  from: string,
  rank: 0 | 1 | 2,
  value: number,
  unit: UnitName,
): Candidate {
  const zeroIsFine = role === "approach" || role === "overtravel";
  if (!Number.isFinite(value) || value < 0 || (value === 0 && !zeroIsFine)) {
    return unusable(role, name, from, rank, `${from} is ${value} ${unit}; expected a size above zero`);
  }
  return { role, name, from, rank, value: convert(value, unit, roleUnits[role]), why: "" };
}

function unusable(role: PassRole, name: string, from: string, rank: 0 | 1 | 2, why: string): Candidate {
  return { role, name, from, rank, value: null, why };
}

function whyNot(
  answer:
    | { readonly kind: "question"; readonly question: string }
    | { readonly kind: "refused"; readonly message: string },
): string {
  return answer.kind === "question" ? answer.question : answer.message;
}
