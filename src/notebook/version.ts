import { readFileSync } from "node:fs";

/** The version of Trycut that is running, as in package.json: it stands in every title block and in every published page. */
export const softwareVersion: string = readVersion();

function readVersion(): string {
  const stated: unknown = JSON.parse(readFileSync(new URL("../../package.json", import.meta.url), "utf8"));
  if (typeof stated !== "object" || stated === null || !("version" in stated)) return "unknown";
  return typeof stated.version === "string" ? stated.version : "unknown";
}
