import { storeError } from "./error.ts";

/** Text as it was found in a file. */
export interface DecodedText {
  readonly text: string;
  readonly encoding: "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";
  readonly bom: boolean;
}

/**
 * The text of a file that a spreadsheet may have saved. UTF-8 with or without a byte order mark, UTF-16 with one; bytes
 * that are no UTF-8 are taken as Windows-1252, which spreadsheets on western Windows write. Refused: text with NUL in it
 * (a spreadsheet's own format, or a damaged file).
 */
export function decodeText(bytes: Uint8Array, file: string): DecodedText {
  const decoded = decode(bytes);
  if (decoded.text.includes("\0")) {
    throw storeError(
      { file },
      "this is no text file. Save it as CSV (comma or semicolon) and try again; nothing was changed.",
    );
  }
  return decoded;
}

function decode(bytes: Uint8Array): DecodedText {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) {
    return { text: new TextDecoder("utf-16le").decode(bytes), encoding: "utf-16le", bom: true };
  }
  if (bytes[0] === 0xfe && bytes[1] === 0xff) {
    return { text: new TextDecoder("utf-16be").decode(bytes), encoding: "utf-16be", bom: true };
  }
  const bom = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  try {
    return { text: new TextDecoder("utf-8", { fatal: true }).decode(bytes), encoding: "utf-8", bom };
  } catch {
    return { text: new TextDecoder("windows-1252").decode(bytes), encoding: "windows-1252", bom: false };
  }
}
