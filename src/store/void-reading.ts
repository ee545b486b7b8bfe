import { adopted } from "./adopt.ts";
import { storeError } from "./error.ts";
import { keyRow } from "./journal-readings.ts";
import { asTrialFolder, type TrialFolder } from "./open-trial.ts";
import { keyText, keyWords, type ReadingKey } from "./reading-key.ts";
import { withTrial, type ChangeOptions } from "./settle.ts";
import { tidyNote } from "./typed-text.ts";
import { writeChange } from "./write-change.ts";

/**
 * Marks a reading as not to be used. It stays in readings.csv with the reason. Refused: a reading that is not there or is
 * void already, and a reason that is missing.
 */
export async function voidReading(
  folder: string,
  key: ReadingKey,
  reason: string,
  options: ChangeOptions = {},
): Promise<TrialFolder> {
  const why = tidyNote(reason);
  if (why === "") {
    throw storeError(
      { run: key.run, field: key.response },
      `${keyWords(key)}: a reading is voided with a reason. Say in a few words what was wrong; nothing was written.`,
    );
  }
  return setVoid(folder, key, "voided", why, options);
}

/** Takes a reading into use again. The journal keeps that it was void, and why it is no more. */
export async function takeBackVoid(
  folder: string,
  key: ReadingKey,
  reason: string,
  options: ChangeOptions = {},
): Promise<TrialFolder> {
  return setVoid(folder, key, "void-taken-back", tidyNote(reason), options);
}

async function setVoid(
  folder: string,
  key: ReadingKey,
  kind: "voided" | "void-taken-back",
  reason: string,
  options: ChangeOptions,
): Promise<TrialFolder> {
  return withTrial(
    folder,
    async (held, now) => {
      const place = { run: key.run, field: key.response };
      const reading = held.state.readings.find((one) => keyText(one) === keyText(key));
      if (reading === undefined)
        throw storeError(
          place,
          `there is no reading of ${keyWords(key)}. Check the numbers; nothing was written.`,
        );
      if ((reading.void === "") !== (kind === "voided")) {
        const state = kind === "voided" ? `is void already (${reading.void})` : "is in use";
        throw storeError(place, `${keyWords(key)} ${state}; nothing was written.`);
      }
      const change = { kind, readings: [[...keyRow(key)] as [number, string, number, number]], reason };
      const after = await writeChange(await adopted(held, now), change, { now });
      return asTrialFolder(folder, after.state, after.spec, after.notices);
    },
    options,
  );
}
