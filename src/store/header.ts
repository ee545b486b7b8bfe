/** A column header taken apart: "feed [mm/rev]" is name "feed" with unit "mm/rev". */
export interface Header {
  readonly header: string;
  readonly name: string;
  /** As typed; empty where the header has none. */
  readonly unit: string;
}

/** The unit in square brackets, or in round ones, is not part of the name. */
export function parseHeader(text: string): Header {
  const header = text.trim();
  const match = /^(.*\S)\s*[[(]\s*([^[\]()]*?)\s*[\])]$/su.exec(header);
  return match === null ? { header, name: header, unit: "" } : { header, name: match[1], unit: match[2] };
}

/** @example headerText("feed", "mm/rev") // "feed [mm/rev]" */
export function headerText(name: string, unit: string): string {
  return unit === "" ? name : `${name} [${unit}]`;
}
