import { readNumber } from "../units/index.ts";

export type DecimalSign = "point" | "comma";

const plain = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;
const grouped = /^[+-]?[1-9]\d{0,2}[.,]\d{3}$/;

/** What a cell says about the decimal sign of its file. */
export type DecimalEvidence = "point" | "comma" | "either-comma" | "either-point" | "none";

/**
 * "0,82" speaks for a decimal comma and "0.82" for a point; "1,234" and "1.234" can be a thousand and something, and say
 * nothing by themselves.
 */
export function decimalEvidence(cell: string): DecimalEvidence {
  const comma = cell.lastIndexOf(",");
  const point = cell.lastIndexOf(".");
  if (comma < 0 && point < 0) return "none";
  const text = cell.trim();
  if (comma < 0 && /^\d+\.\d+$/.test(text)) return grouped.test(text) ? "either-point" : "point";
  if (!/^[+−-]?[\d.,\s' ]*\d[\d.,\s' ]*(?:[eE][+-]?\d+)?$/.test(text)) return "none";
  if (grouped.test(text)) return comma >= 0 ? "either-comma" : "either-point";
  if (comma >= 0 && point >= 0) return comma > point ? "comma" : "point";
  const sign = comma >= 0 ? "," : ".";
  // Several of one sign part thousands, so the other one is the decimal sign.
  if (text.split(sign).length > 2) return sign === "," ? "point" : "comma";
  return sign === "," ? "comma" : "point";
}

/**
 * The number in a cell; null where it is no number, "ambiguous" where it can be read in two ways ("1.234" in a file with
 * decimal commas).
 *
 * @example numberInCell("0,82", "comma") // 0.82
 */
export function numberInCell(cell: string, decimal: DecimalSign): number | null | "ambiguous" {
  const text = cell.trim();
  // Nearly every cell is plain digits, and the careful road costs fifty times as much.
  if (plain.test(text) && !(decimal === "comma" && text.includes("."))) return finite(Number(text));
  const pointed = text.replace(",", ".");
  if (decimal === "comma" && !text.includes(".") && plain.test(pointed)) return finite(Number(pointed));
  // Words and times are most of what is no plain number; only what is made of digits can be one in another spelling.
  if (!/^[+\-−.,\d¼½¾⅐-⅞]/.test(text) || /[a-df-zA-DF-Z:]/.test(text)) return null;
  const answer = readNumber(text, { decimal });
  if (answer.kind === "value") return finite(answer.value);
  return answer.kind === "question" ? "ambiguous" : null;
}

/**
 * Like {@link numberInCell}, for the trial's own files, where one cell may be typed by hand: "1,234" among decimal points
 * may be a decimal comma, and is ambiguous whatever the other cells say.
 */
export function numberInOwnCell(cell: string, decimal: DecimalSign): number | null | "ambiguous" {
  const evidence = decimalEvidence(cell);
  const other = decimal === "point" ? "either-comma" : "either-point";
  return evidence === other ? "ambiguous" : numberInCell(cell, decimal);
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

/** A number as a file with this decimal sign shows it, in the fewest digits that read back to the same double. */
export function numberText(value: number, decimal: DecimalSign): string {
  const text = String(Object.is(value, -0) ? 0 : value);
  return decimal === "comma" ? text.replace(".", ",") : text;
}
