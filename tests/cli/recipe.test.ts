import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { runCommand } from "../../src/cli/run.ts";
import { verbs } from "../../src/cli/verbs/index.ts";
import { listeningTerminal } from "./terminal.ts";

const project = fileURLToPath(new URL("../../", import.meta.url));

async function call(...words: string[]) {
  const terminal = listeningTerminal(project);
  const code = await runCommand(words, verbs, terminal);
  return { code, text: terminal.said.join("\n"), complaint: terminal.complaints.join("\n") };
}

test("finds the fastest setting of a recorded trial, with its proof runs and what to cut next", async () => {
  const { code, text, complaint } = await call(
    ...["recipe", "seal-face-factorial", "--limit", "Ra 0.8 µm", "--for", "mean", "--next"],
  );
  expect(complaint).toBe("");
  expect(code).toBe(0);
  expect(text.replaceAll(/\s+/g, " ")).toMatch(/Ra: the mean at or below 0\.8 µm with 95 % assurance/);
  expect(text.replaceAll(/\s+/g, " ")).toMatch(/Proof runs: Ra: Cut \d+ parts/);
  expect(text).toContain("Stopping now gives away");
});

test("gives the whole answer as JSON, by the trial's own limits where none is typed", async () => {
  const { text } = await call("recipe", "seal-face-factorial", "--json", "--share", "0.9");
  const recipe = JSON.parse(text) as {
    readonly outcome: string;
    readonly limits: readonly { readonly limit: number; readonly share: number; readonly margin: number }[];
    readonly search: { readonly exact: boolean };
  };
  expect(recipe.limits[0]).toMatchObject({ limit: 0.8, share: 0.9, for: "share" });
  expect(recipe.search.exact).toBe(true);
});

test("takes a limit in inches as the same limit", async () => {
  const settings = async (limit: string): Promise<unknown> =>
    (
      JSON.parse((await call("recipe", "seal-face-factorial", "--json", "--limit", limit)).text) as {
        settings: unknown;
      }
    ).settings;
  expect(await settings("Ra 31.496 µin")).toEqual(await settings("Ra 0.8 µm"));
});

test.each([
  [["--limit", "Rq 1 µm"], /expected a response \(Ra\)/],
  [["--limit", "Ra 0.8 kW"], /Ra is read in µm; expected a number and such a unit, such as "Ra 0\.8 µm"/],
  [["--limit", "Ra smooth"], /expected a number and such a unit/],
  [["--assurance", "2"], /For 2 % write 0\.02/],
  [["--parts", "3"], /--parts goes with --for next; here the limit is for share/],
  [["--for", "mean", "--share", "0.9"], /--share goes with --for share/],
  [["--small-sample", "kenward-roger"], /goes with --random/],
  [["--random", "day"], /unknown random source "day"; expected one of block/],
  [["--limit", "Ra 0.8 µm", "--limit", "Ra 1 µm"], /Ra has a limit already/],
  [["--for", "all"], /expected one of mean, share, next/],
  [["--hold", '{"tilt":1}'], /unknown factor "tilt"/],
])("refuses %j", async (words, message) => {
  const { code, complaint } = await call("recipe", "seal-face-factorial", ...words);
  expect(code).not.toBe(0);
  expect(complaint).toMatch(message);
});

test("says what the next step would break, and that a limit far from all readings may be in another unit", async () => {
  const { text } = await call("recipe", "seal-face-factorial", "--for", "mean");
  expect(text.replaceAll(/\s+/g, " ")).toMatch(
    /What stops more: feed 0\.18 mm\/rev would break the limit on Ra; speed 2400 rev\/min is the end of what was cut\./,
  );
  expect(text).toContain("feed (steps of 0.01), speed (steps of 10)");
  const far = await call("recipe", "seal-face-factorial", "--limit", "Ra 0.8 mm");
  expect(far.text.replaceAll(/\s+/g, " ")).toMatch(
    /the limit on Ra, 800 µm, is far from all that was read \(.* µm to .* µm\): check its unit/,
  );
});

test("sends a trial without a quantity to the comparison of levels", async () => {
  const { code, complaint } = await call("recipe", "cover-edge-comparison", "--limit", "Ra 0.8 µm");
  expect(code).toBe(1);
  expect(complaint).toMatch(/changed only edge: compare levels instead/);
});

test("takes set-ups that runs share as a source of scatter, by itself or where it is named", async () => {
  const planned = await call("recipe", "seal-face-set-ups", "--json");
  const named = await call("recipe", "seal-face-set-ups", "--json", "--random", "whole plot");
  expect(named.text).toBe(planned.text);
  const { text } = await call("recipe", "seal-face-set-ups", "--for", "next", "--parts", "2");
  expect(text.replaceAll(/\s+/g, " ")).toContain(
    "each of the next 2 parts (each in a set-up of its own) at or below 0.8 µm with 95 % assurance",
  );
  expect(text.replaceAll(/\s+/g, " ")).toContain("The 32 runs stand in 8 set-ups of edge (whole plots)");
});
