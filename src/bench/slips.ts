import { UnitError } from "../units/index.ts";
import type { DraftProblem } from "./api.ts";

/** Gathers what can't stand while a form is read, so that all of it is told at once. */
export class Slips {
  readonly found: DraftProblem[] = [];

  missing(field: string, message: string): undefined {
    this.found.push({ field, message, missing: true });
    return undefined;
  }

  wrong(field: string, message: string): undefined {
    this.found.push({ field, message, missing: false });
    return undefined;
  }

  /** What `read` gives, or nothing and a problem in its place. */
  try<Value>(field: string, read: () => Value): Value | undefined {
    try {
      return read();
    } catch (error) {
      if (!(error instanceof UnitError)) throw error;
      return this.wrong(field, error.message);
    }
  }
}
