/** The columns that the files of a trial and its tables have of their own. */
export const reservedNames: readonly string[] = Object.freeze([
  "run",
  "standard",
  "block",
  "role",
  "whole plot",
  "order",
  "response",
  "value",
  "unit",
  "spot",
  "repeat",
  "taken",
  "note",
  "void",
  "factor",
  "reason",
]);

/**
 * Why a name of a factor or response can't stand as a header in the CSV files, with the way out; null where it can.
 * The unit in brackets follows the name there, "edge=used" names a level in a model, and a spreadsheet runs cells that
 * begin like a formula.
 */
export function whyNotAHeader(name: string): { readonly expected: string; readonly mend: string } | null {
  if (name.trim() === "") return { expected: "a name", mend: 'Name it in a word or two, such as "feed".' };
  if (name !== name.trim())
    return { expected: "a name without spaces around it", mend: `Write "${name.trim()}".` };
  if (/[\p{Cc}\p{Zl}\p{Zp}]/u.test(name))
    return { expected: "a name on one line", mend: "Leave line breaks and tabs out." };
  const sign = /[[\](){},;"=|]/.exec(name)?.[0];
  if (sign !== undefined) {
    return {
      expected: "a name that can be a column header",
      mend: `Leave ${sign} out: it has its own meaning in headers and models. The unit stands in "unit".`,
    };
  }
  if (/^[+\-@'=＝＋－＠]/.test(name)) {
    return {
      expected: "a name that a spreadsheet does not run as a formula",
      mend: `Begin with a letter, not with ${name[0]}.`,
    };
  }
  if (reservedNames.includes(name.toLowerCase())) {
    return {
      expected: "a name of its own",
      mend: `The files of a trial have a column "${name.toLowerCase()}" already; add a word to the name.`,
    };
  }
  // Settings are kept by name in plain objects, where these names stand for something else.
  if (name in {})
    return {
      expected: "a name of its own",
      mend: "The name is taken by the language of the tool; add a word to it.",
    };
  return name.length > 60 ? { expected: "a name of at most 60 letters", mend: "Shorten it." } : null;
}
