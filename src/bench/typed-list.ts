/**
 * Several numbers in one line, as people write them: "0.08 0.12 0.18", "0,08; 0,12", "0.003, 0.006 in/rev". A unit that
 * only the last one carries stands for all of them.
 * @returns one text a number, each with the unit it was given or shares
 */
export function splitNumbers(text: string): readonly string[] {
  const plain = text.trim();
  if (plain === "") return [];
  const separator = plain.includes(";") ? /\s*;\s*/ : /\d\s+[-+.\d]|,\s/.test(plain) ? /,?\s+/ : /,/;
  const parts: string[] = [];
  for (const part of plain.split(separator).filter((piece) => piece !== "")) {
    if (/\d/.test(part) || parts.length === 0) parts.push(part);
    else parts[parts.length - 1] += ` ${part}`;
  }
  const unitOf = (part: string) => /\d\s*([^\d\s.,].*)$/.exec(part)?.[1] ?? "";
  const shared = unitOf(parts.at(-1) ?? "");
  const onlyLast = shared !== "" && parts.slice(0, -1).every((part) => unitOf(part) === "");
  return onlyLast
    ? parts.map((part, index) => (index === parts.length - 1 ? part : `${part} ${shared}`))
    : parts;
}

/** Several names in one line, parted by commas or semicolons. */
export function splitNames(text: string): readonly string[] {
  return text
    .split(/[,;]/)
    .map((name) => name.trim())
    .filter((name) => name !== "");
}
