/** Digits that a number in a table keeps: enough to tell two readings apart, no more than a reader can use. */
const significantDigits = 5;
/** A column that would need more digits than this to share its decimals writes each number by itself. */
const widestNumber = 9;

/**
 * The texts of one column. Numbers share as many decimals as their five significant digits need, so that points stand under one
 * another; minus is U+2212; an empty cell is an en dash. For show only: what is computed on is the number itself.
 *
 * @example columnText([0.08, 0.16, 0.1, null]) // ["0.08", "0.16", "0.10", "–"]
 */
export function columnText(cells: readonly (string | number | null)[]): readonly string[] {
  const numbers = cells.filter((cell) => typeof cell === "number" && cell !== 0) as readonly number[];
  const decimals = Math.max(0, ...numbers.map(decimalsOf));
  const whole = Math.max(1, ...numbers.map((value) => Math.floor(Math.log10(Math.abs(value))) + 1));
  const shared = decimals + whole <= widestNumber;
  return cells.map((cell) => {
    if (cell === null) return "–";
    if (typeof cell === "string") return cell;
    const text =
      Number.isInteger(cell) && decimals === 0
        ? cell.toString()
        : shared
          ? cell.toFixed(decimals)
          : alone(cell);
    return text.replaceAll("-", "\u2212");
  });
}

/** Decimals that the first five significant digits of a number need, trailing zeros left off. */
function decimalsOf(value: number): number {
  if (Number.isInteger(value)) return 0;
  const [digits = "", power = "0"] = value.toExponential(significantDigits - 1).split("e");
  const kept = digits.replace(/^-?\d\.?/, "").replace(/0+$/, "").length;
  return Math.max(0, kept - Number(power));
}

function alone(value: number): string {
  const magnitude = Math.abs(value);
  if (value !== 0 && (magnitude < 1e-4 || magnitude >= 1e9)) {
    const [digits = "", power = "0"] = value.toExponential(2).split("e");
    return `${digits} × 10${superscript(Number(power))}`;
  }
  return Number(value.toPrecision(significantDigits)).toString();
}

const raised = ["⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"];

function superscript(power: number): string {
  const digits = [...Math.abs(power).toString()].map((digit) => raised[Number(digit)] ?? digit).join("");
  return power < 0 ? `⁻${digits}` : digits;
}
