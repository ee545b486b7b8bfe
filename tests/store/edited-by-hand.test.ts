import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { openTrial, record } from "../../src/store/index.ts";
import { edit, lines, recorded } from "./changed-folder.ts";
import { steadyClock } from "./sample-trial.ts";

describe("edits by hand", () => {
  it("are taken up reading by reading, and a reading taken out becomes void", async () => {
    const { folder } = await recorded();
    await edit(
      folder,
      "readings.csv",
      (text) =>
        `${text.replace("0.80", "0.790").replace(/^1,Ra,0.85.*\n/m, "")}2,Rz,5.5,µm,,,,turned over,\n`,
    );
    const trial = await openTrial(folder);
    expect(trial.notices).toEqual([
      "readings.csv was edited by hand: 1 reading changed, 1 added, 1 removed (kept as void: removed from readings.csv by hand).",
    ]);
    expect(trial.readings.map(({ value, text, void: why }) => [value, text, why])).toEqual([
      [0.79, "0.790", ""],
      [31, undefined, "chip under the stylus"],
      [0.85, undefined, "removed from readings.csv by hand"],
      [5.5, undefined, ""],
    ]);
    // The journal knows what it was before; opening again finds nothing more to do.
    expect((await lines(folder, "journal.ndjson")).at(-1)).toContain(
      '"changed":[[[1,"Ra",0.8,"µm",1,1,"2026-11-25T09:00:00.000Z","","","0.80"],[1,"Ra",0.79,',
    );
    expect((await openTrial(folder)).notices).toEqual([]);
  });

  it("may come from a spreadsheet: semicolons, decimal commas, CRLF and a byte order mark, which the file keeps", async () => {
    const { folder } = await recorded();
    const sheet = (text: string): string =>
      `\ufeff${text.replaceAll(",", ";").replaceAll(".000Z", "\u0000").replaceAll(".", ",").replaceAll("\u0000", ".000Z").replaceAll("\n", "\r\n")}`;
    await edit(folder, "readings.csv", (text) => sheet(text.replace("0.85", "0.86")));
    const trial = await openTrial(folder);
    expect(trial.notices).toEqual(["readings.csv was edited by hand: 1 reading changed."]);
    expect(trial.readings.map(({ value }) => value)).toEqual([0.8, 31, 0.86]);
    await record(folder, [{ run: 2, response: "Ra", value: 1.25 }], { now: steadyClock() });
    const text = await readFile(join(folder, "readings.csv"), "utf8");
    expect(text.startsWith("\ufeffrun;response;value;unit")).toBe(true);
    expect(text).toContain("\r\n1;Ra;0,80;µm;1;1;");
    expect(text).toContain("\r\n2;Ra;1,25;µm;1;1;2026-11-25T09:00:00.000Z;;\r\n");
    expect((await openTrial(folder)).notices).toEqual([]);
  });

  it("that only change how the file is written are no change", async () => {
    const { folder } = await recorded();
    const before = await readFile(join(folder, "journal.ndjson"));
    await edit(folder, "readings.csv", (text) =>
      text.split("\n").reverse().join("\n").trimStart().split("\n").reverse().join("\n").replaceAll(",", ";"),
    );
    expect((await openTrial(folder)).notices).toEqual([]);
    expect(await readFile(join(folder, "journal.ndjson"))).toEqual(before);
  });

  it.each([
    [
      "readings.csv",
      (text: string) => `${text}9,Ra,1,µm,,,,,\n`,
      "readings.csv line 5, run 9, run: the plan has no run 9. Mend the number, or add the run to plan.csv.",
    ],
    [
      "readings.csv",
      (text: string) => text.replace("0.85", "O.85"),
      'readings.csv line 4, run 1, value: "O.85" is not a quantity',
    ],
    [
      "readings.csv",
      (text: string) => text.replace("µin", "bar"),
      "readings.csv line 3, run 1, unit: got bar, which measures pressure; expected a unit of length such as µm.",
    ],
    [
      "readings.csv",
      (text: string) => text.replace("0.85,µm", "0.85,"),
      "readings.csv line 4, run 1, unit: the unit is missing; expected one such as µm. Write it in its cell.",
    ],
    [
      "readings.csv",
      (text: string) => text.replace(",1,3,", ",1,1,"),
      "readings.csv line 4, run 1, repeat: run 1, Ra, spot 1, repeat 1 stands on line 2 already.",
    ],
    [
      "readings.csv",
      (text: string) => text.replace("1,Ra,0.85", "1,Rx,0.85"),
      'readings.csv line 4, run 1, response: got "Rx"; expected one of Ra, Rz. Did you mean "Ra"?',
    ],
    [
      "readings.csv",
      (text: string) => text.replace("0.85", '"1,234"'),
      'readings.csv line 4, run 1, value: "1,234" can be read in two ways.',
    ],
    [
      "readings.csv",
      (text: string) => text.replace("response", "respons"),
      'readings.csv line 1, respons: got the unknown column "respons"; expected run, response, value, unit, spot, repeat, taken, note, void. Did you mean "response"?',
    ],
    [
      "plan.csv",
      (text: string) => text.replace("given,0.2,used", "given,,used"),
      "plan.csv line 5, run 4, feed: got nothing; expected a number of mm/rev. Mend the cell.",
    ],
    [
      "plan.csv",
      (text: string) => text.replace("given,0.2,used", "given,0.2,blunt"),
      'plan.csv line 5, run 4, edge: got "blunt"; expected one of "fresh", "used". Mend the cell.',
    ],
    [
      "plan.csv",
      (text: string) => text.replace(/^1,.*\n/m, ""),
      "plan.csv line 8, run 8: the file has 7 runs; expected runs 1 to 7, in cutting order. Number them without gaps.",
    ],
    [
      "as-cut.csv",
      (text: string) => `${text}2,feeed,0.1,mm/rev,dial\n`,
      'as-cut.csv line 2, run 2, factor: got "feeed"; expected one of feed, edge. Did you mean "feed"?',
    ],
    [
      "trial.json",
      (text: string) => text.replace('"Rz"', '"Rmax"').replace('"Ra"', '"Rp"'),
      "readings.csv, run 1: there are readings of Ra, and the trial has no such response.",
    ],
    [
      "trial.json",
      (text: string) => text.replace('"feed"', '"fee"'),
      "plan.csv, run 1, fee: got nothing; expected a number of mm/rev. Mend plan.csv, or the factor in trial.json.",
    ],
    [
      "trial.json",
      (text: string) => text.replace('"low": 0.1', '"low": 0.9'),
      "trial.json, factors[0].low: got 0.9; expected a number below high (0.2 mm/rev).",
    ],
  ])("with an error in %s are refused, and nothing is changed", async (file, change, message) => {
    const { folder } = await recorded();
    await edit(folder, file, change);
    const before = await Promise.all(
      ["journal.ndjson", file].map((name) => readFile(join(folder, name), "utf8")),
    );
    await expect(openTrial(folder)).rejects.toThrow(message);
    await expect(record(folder, [{ run: 2, response: "Ra", value: 1 }])).rejects.toThrow(message);
    expect(
      await Promise.all(["journal.ndjson", file].map((name) => readFile(join(folder, name), "utf8"))),
    ).toEqual(before);
  });

  it("of the plan and of trial.json are taken up together: a new factor with its column", async () => {
    const { folder } = await recorded();
    await edit(folder, "trial.json", (text) =>
      text.replace(
        '"levels": [\n        "fresh",\n        "used"\n      ]\n    }',
        '"levels": ["fresh", "used"]\n    },\n    { "name": "depth", "kind": "quantity", "unit": "mm", "low": 0.1, "high": 0.3 }',
      ),
    );
    await edit(folder, "plan.csv", (text) =>
      text
        .replace(/\n(?=\d)/g, "\n")
        .replace(/^(run.*)$/m, "$1,depth [mm]")
        .replace(/^(\d.*)$/gm, "$1,0.2"),
    );
    const trial = await openTrial(folder);
    expect(trial.notices).toEqual([
      "trial.json was edited by hand: changed: factors.",
      "plan.csv was edited by hand: 8 runs changed.",
    ]);
    expect(trial.runs[0].settings).toEqual({ feed: 0.1, edge: "fresh", depth: 0.2 });
  });

  it("of a factor's unit convert the plan's settings exactly", async () => {
    const { folder } = await recorded();
    await edit(folder, "trial.json", (text) =>
      text
        .replace('"mm/rev"', '"µm/rev"')
        .replace('"low": 0.1', '"low": 100')
        .replace('"high": 0.2', '"high": 200'),
    );
    const trial = await openTrial(folder);
    expect(trial.runs.map((run) => run.settings.feed)).toEqual([100, 200, 100, 200, 100, 200, 100, 200]);
    expect((await lines(folder, "plan.csv"))[0]).toBe("run,standard,block,role,feed [µm/rev],edge");
    expect((await openTrial(folder)).notices).toEqual([]);
  });
});
