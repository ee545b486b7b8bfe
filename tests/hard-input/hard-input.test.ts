import { describe, expect, test } from "vitest";
import { families } from "./families.ts";
import { hardInputs, soundInput } from "./inputs.ts";
import { unreadable } from "./unreadable.ts";

/** The errors that are refusals: each says what was given and what was expected. Any other is a fault. */
const refusals = [
  "ModelError",
  "NumericsError",
  "TrialError",
  "FigureError",
  "ReviewError",
  "ExpressionError",
];

/** What is wrong with one answer; nothing where it can be read or was refused in words. */
function faultOf(ask: () => unknown, citesNonFinite: boolean): readonly string[] {
  let answer: unknown;
  try {
    answer = ask();
  } catch (error) {
    const { name, message, stack = "" } = error as Error;
    if (!refusals.includes(name)) return [`${name}: ${message} ${stack.split("\n").slice(1, 4).join(" ")}`];
    const told = citesNonFinite ? message.replace(/NaN|Infinity/gu, "") : message;
    const badly = unreadable(told);
    return message.length > 20 && badly.length === 0 ? [] : [`refused as "${message}"`];
  }
  return unreadable(answer);
}

describe.each(families)("$name", ({ ask }) => {
  test.each(hardInputs)("$name: an answer that can be read, or a refusal in words", (input) => {
    const faults = ask(input).flatMap((one, k) =>
      faultOf(one, input.citesNonFinite === true)
        .slice(0, 3)
        .map((fault) => `${k}: ${fault}`),
    );
    expect(faults).toEqual([]);
  });
  test("sound runs are answered", () => {
    const faults = ask(soundInput).flatMap((one, k) => faultOf(one, false).map((fault) => `${k}: ${fault}`));
    expect(faults).toEqual([]);
  });
});
