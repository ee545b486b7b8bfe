const superscripts = "⁰¹²³⁴⁵⁶⁷⁸⁹";

/**
 * What people type, brought to one spelling before it is read: every kind of space (no-break U+00A0, narrow no-break
 * U+202F, thin U+2009, and so on) becomes a plain one; the Greek letter mu (U+03BC) becomes the micro sign (U+00B5); the
 * minus sign U+2212 becomes a hyphen; curly and prime marks become ' and "; 1.2×10⁻³ becomes 1.2e-3; ½ becomes " 1/2".
 */
export function plainText(text: string): string {
  return text
    .replace(/[\u2033\u201c\u201d\u201f\uff02]/g, '"')
    .replace(/[\u2032\u2018\u2019\u201b\uff07]/g, "'")
    .replace(/''/g, '"')
    .replace(/[\u00ba\u02da\u2218]/g, "°")
    .replace(
      /\s*[×x*·]\s*10\s*(?:\^\s*([+−-]?\d+)|([⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+))/g,
      (_, caret: string | undefined, raised = "") =>
        `e${caret ?? plainDigits(raised as string)}`.replace("−", "-"),
    )
    .replace(/[¼½¾⅐-⅞]/g, (fraction) => ` ${fraction}`)
    .normalize("NFKC")
    .replace(/\u2044/g, "/")
    .replace(/\u03bc/g, "µ")
    .replace(/[\u2212\u2010\u2011\u2013]/g, "-")
    .replace(/\s+/g, " ")
    .trim();
}

function plainDigits(raised: string): string {
  return [...raised]
    .map((sign) => (sign === "⁻" ? "-" : sign === "⁺" ? "+" : superscripts.indexOf(sign)))
    .join("");
}
