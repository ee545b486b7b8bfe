import { formatNumber } from "../units/index.ts";

const superscripts: Readonly<Record<string, string>> = {
  "-": "⁻",
  "0": "⁰",
  "1": "¹",
  "2": "²",
  "3": "³",
  "4": "⁴",
  "5": "⁵",
  "6": "⁶",
  "7": "⁷",
  "8": "⁸",
  "9": "⁹",
};

/** A number for a figure: a true minus sign, thin spaces from five digits on, powers of ten outside 0.0001 to 999 999. */
export function numberText(value: number, decimals: number): string {
  const size = Math.abs(value);
  if (size !== 0 && (size >= 1e6 || size < 1e-4)) {
    const power = Math.floor(Math.log10(size));
    const raised = [...String(power)].map((character) => superscripts[character] ?? "").join("");
    return `${signed(Number((value / 10 ** power).toPrecision(3)).toString())}×10${raised}`;
  }
  const [whole = "0", part] = value.toFixed(decimals).split(".");
  const grouped = whole.replace("-", "").length > 4 ? whole.replace(/\B(?=(\d{3})+$)/gu, "\u202f") : whole;
  return signed(part === undefined ? grouped : `${grouped}.${part}`);
}

function signed(text: string): string {
  // Minus nothing is nothing.
  return /^-0(\.0*)?$/u.test(text) ? text.slice(1) : text.replace("-", "−");
}

/** How many decimals tell each of these numbers as it is, six at most. */
export function decimalsOf(values: readonly number[]): number {
  for (let decimals = 0; decimals < 6; decimals++) {
    if (
      values.every(
        (value) => Math.abs(value - Number(value.toFixed(decimals))) <= Math.abs(value) * 1e-9 + 1e-15,
      )
    ) {
      return decimals;
    }
  }
  return 6;
}

/** One text for each tick, all with the same decimals; on a scale of ratios each with its own. */
export function tickTexts(ticks: readonly number[], scale: "linear" | "log"): readonly string[] {
  const common = decimalsOf(ticks);
  return ticks.map((tick) =>
    numberText(tick, scale === "log" ? decimalsOf([Number(tick.toPrecision(4))]) : common),
  );
}

/** Three significant digits, or as many as the whole part has: for numbers whose uncertainty is shown by the picture. */
export function roundedText(value: number, digits = 3): string {
  if (value === 0) return "0";
  const rounded = Number(value.toPrecision(digits));
  const decimals = Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(rounded))));
  return numberText(rounded, Math.min(decimals, 8));
}

/**
 * A number to the places that a half-width can bear: up to its second digit where it begins with 10 to 35, else up to its
 * first, as the sentences of a fit have it.
 */
export function toHalfWidth(value: number, halfWidth: number): string {
  if (!(halfWidth > 0 && Number.isFinite(halfWidth))) return roundedText(value);
  const lead = halfWidth / 10 ** Math.floor(Math.log10(halfWidth));
  return formatNumber(value, { uncertainty: lead < 3.55 ? halfWidth : 10 * halfWidth });
}

/**
 * A ratio to the places that its interval can bear: by half-width where the interval is narrow, else two digits, since the low end of a
 * wide interval of ratios would lose all of its own.
 */
export function ratioText(value: number, low: number, high: number): string {
  const wide = !(low > 0) || high / low > 2;
  return wide ? formatNumber(value, { digits: 2 }) : toHalfWidth(value, (high - low) / 2);
}
