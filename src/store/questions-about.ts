import { responseNamed, type Reading, type Response, type Trial } from "../trial/index.ts";
import { formatNumber, isUnit, withUnit, type UnitName } from "../units/index.ts";
import { placeText } from "./error.ts";
import { expectations, valueInUnit, type Expectation, type Judged } from "./fellows.ts";
import { choice, type Question } from "./question.ts";
import { keyText } from "./reading-key.ts";
import { slipsOf, timesText, type Slip } from "./unit-slips.ts";

export interface QuestionOptions {
  /** The file that the readings come from, for the messages. */
  readonly file?: string;
  /** The line of each reading in it. */
  readonly lines?: readonly number[];
}

// A slip of units is a factor of 25 and more, of the decimal point 10: what is less than 6 times off is no slip.
const leastSlip = Math.log(6);
const slipDeviations = 4;
// The mended value must stand among its fellows: within this factor, or their scatter where that is wider.
const slipRoom = Math.log(1.6);
// Six robust deviations, and half as much again as the fellows: see tests/store/questions.test.ts for how often clean
// trials are asked about (about 1 in 100) and slips are found.
const outlierDeviations = 6;
const leastOutlier = Math.log(1.5);
// Where too few readings tell the scatter, distance counts from the nearest of all others: three times outside readings
// that should be alike; four and eight times (a slip, an outlier) outside those of runs at other settings.
const outsideAlike = Math.log(3);
const slipOutsideOthers = Math.log(4);
const outsideOthers = Math.log(8);

/**
 * Asks about readings that look wrong beside their fellows (the other readings at the spot, on the surface, at the same
 * settings, or what the main effects of the other runs lead to expect): off by about the ratio of two units, with the
 * mends that would bring them among their fellows; or outliers by median and median absolute deviation of logarithms.
 * Use it before readings are written, and on a whole trial to review it.
 *
 * `readings` may be new or the trial's own; voided ones are not judged. A reading that bears a note "kept: …" was asked
 * about before and is left alone.
 */
export function questionsAbout(
  trial: Pick<Trial, "spec" | "runs" | "asCut" | "readings">,
  readings: readonly Reading[],
  { file, lines = [] }: QuestionOptions = {},
): readonly Question[] {
  const given = new Set(readings.map(keyText));
  const names = [...new Set(readings.map((reading) => reading.response))];
  const questions = names.flatMap((name) => {
    const response = responseNamed(trial.spec, name);
    const judged = readings.flatMap((reading, index) => asJudged(reading, index, response));
    const others = trial.readings.filter((reading) => !given.has(keyText(reading)));
    const all = [...judged, ...others.flatMap((reading) => asJudged(reading, -1, response))];
    const positive = all.filter(({ value }) => value > 0);
    const toJudge = judged.filter(({ value, reading }) => value > 0 && !reading.note.includes(keptMark));
    const notPositive = judged.filter(({ value }) => !(value > 0));
    const place = ({ index, reading }: Judged): string =>
      placeText({ file, line: lines[index], run: reading.run });
    const expected = expectations(trial, toJudge, positive);
    // Where half of the values are zero or less, the response is no size and says nothing on a ratio.
    const asRatios = positive.length > all.length / 2;
    return [
      ...(asRatios
        ? notPositive.map((one) => ({ one, question: askZero(one, response, place(one), lines[one.index]) }))
        : []),
      ...toJudge.flatMap((one, index) => {
        const question = asRatios
          ? judge(one, expected[index], response, place(one), lines[one.index])
          : null;
        return question === null ? [] : [{ one, question }];
      }),
    ];
  });
  return questions.sort((a, b) => a.one.index - b.one.index).map(({ question }) => question);
}

/**
 * The id of a question about a reading. It says what the question is about, and not which repeat it is: when another
 * reading comes in between question and answer, the answer must not go to a neighbour.
 */
export function questionId({ run, response, spot, value, unit }: Reading): string {
  return `run ${run} ${response} spot ${spot} ${value} ${unit}`;
}

/** What stands in the note of a reading that was asked about and kept. */
export const keptMark = "kept: ";

function asJudged(reading: Reading, index: number, { name, unit }: Response): readonly Judged[] {
  if (reading.response !== name || reading.void !== "") return [];
  const value = valueInUnit(reading, unit);
  return value === null ? [] : [{ index, reading, value }];
}

function judge(
  one: Judged,
  expected: Expectation | null,
  response: Response,
  place: string,
  line?: number,
): Question | null {
  if (expected === null) return null;
  const { reading, value } = one;
  const { middle, low, high, logScatter } = expected;
  const away = Math.log(value / middle);
  const outside = Math.max(Math.log(value / high), Math.log(low / value));
  const othersDiffer = expected.among === "trial" && logScatter === null;
  const asSlip =
    Math.abs(away) > Math.max(leastSlip, slipDeviations * (logScatter ?? 0)) &&
    (logScatter !== null || outside > (othersDiffer ? slipOutsideOthers : outsideAlike));
  const unit = reading.unit;
  const slips =
    asSlip && isUnit(unit) ? fittingSlips(slipsOf(reading.value, unit, response.unit), expected, away) : [];
  const isOutlier =
    logScatter === null
      ? outside > (othersDiffer ? outsideOthers : outsideAlike)
      : Math.abs(away) > Math.max(leastOutlier, outlierDeviations * logScatter);
  if (slips.length === 0 && !isOutlier) return null;
  const shown = `${place}: ${response.name} ${numberShown(reading)} ${unit}`;
  const beside = `${timesText(value / middle)} ${fellowsText(expected)} (${rangeText(low, high, response.unit)})`;
  if (slips.length > 0) {
    const [best] = slips;
    const inUnit =
      best.unit === response.unit ? "" : ` (${withUnit(show(best.inResponseUnit), response.unit)})`;
    const text = `${shown} is ${beside}. If it is ${best.text}, write "${best.text}"${inUnit}.`;
    return question("unit-slip", one, text, slips, line);
  }
  const led =
    expected.among === "trial" && logScatter !== null
      ? `where the other runs lead to expect about ${withUnit(show(middle), response.unit)}`
      : beside;
  const text = `${shown} stands far off: ${led}. Read the spot again, or say why it is to be kept.`;
  return question("outlier", one, text, [], line);
}

function rangeText(low: number, high: number, unit: UnitName): string {
  const top = withUnit(formatNumber(high), unit);
  return low === high ? top : `${formatNumber(low)} to ${top}`;
}

/** The slips whose mended value stands among the fellows, the nearest first. */
function fittingSlips(slips: readonly Slip[], expected: Expectation, away: number): readonly Slip[] {
  const { among, middle, low, high, logScatter } = expected;
  const othersDiffer = among === "trial" && logScatter === null;
  const room = othersDiffer
    ? slipRoom
    : Math.min(Math.max(slipRoom, 4 * (logScatter ?? 0)), Math.abs(away) / 2);
  const off = ({ inResponseUnit: mended }: Slip): number =>
    othersDiffer
      ? Math.max(0, Math.log(mended / high), Math.log(low / mended))
      : Math.abs(Math.log(mended / middle));
  return slips.filter((slip) => off(slip) <= room).sort((a, b) => off(a) - off(b));
}

function askZero(one: Judged, response: Response, place: string, line?: number): Question {
  const shown = `${response.name} ${numberShown(one.reading)} ${one.reading.unit}`;
  const text = `${place}: ${shown} is not above zero, and the other readings are. Read the spot again, or say why it is to be kept.`;
  return question("outlier", one, text, [], line);
}

function question(
  kind: "unit-slip" | "outlier",
  { reading }: Judged,
  text: string,
  slips: readonly Slip[],
  line?: number,
): Question {
  return {
    id: questionId(reading),
    kind,
    text,
    line: line ?? null,
    run: reading.run,
    field: reading.response,
    choices: [
      ...slips.map(({ value, unit, text: typed }) =>
        choice(`write ${typed}`, `It is ${typed}`, { mend: { value, unit, text: typed } }),
      ),
      choice("keep", "It is right as it stands", { needsNote: true }),
      choice("void", "Write it down as void", { needsNote: true }),
      choice("leave-out", "Leave it out: it is to be read again"),
    ],
  };
}

function fellowsText({ among }: Expectation): string {
  if (among === "settings") return "the readings at the same settings";
  return among === "trial" ? "the readings of the other runs" : "the other readings";
}

function numberShown(reading: Reading): string {
  return reading.text ?? formatNumber(reading.value);
}

function show(value: number): string {
  return formatNumber(value, { digits: 2 });
}
