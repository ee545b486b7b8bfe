import { responseNamed } from "../../trial/index.ts";
import type { Cut } from "./growth.ts";
import type { How } from "./how.ts";

/** What stands behind a half-width: the response's unit where σ is known, else "σ". */
export function unitOf({ spec }: Pick<Cut, "spec">, { response, sigma }: How): string {
  if (sigma === undefined) return "σ";
  if (spec === null) return "";
  return response === undefined ? (spec.responses[0]?.unit ?? "") : responseNamed(spec, response).unit;
}
