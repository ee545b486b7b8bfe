import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { runCommand } from "../../src/cli/run.ts";
import { verbs } from "../../src/cli/verbs/index.ts";
import { readNonlinearSet } from "../reference/strd-nonlinear-models.ts";
import { listeningTerminal } from "./terminal.ts";

const set = readNonlinearSet("Misra1a");
const table = ["y,x", ...set.response.map((y, i) => `${y},${set.predictors[0][i]}`)].join("\n");
const call = ["--response", "y", "--expression", "b1*(1-exp(-b2*x))"];

async function curve(words: readonly string[], text = table) {
  const folder = await mkdtemp(join(tmpdir(), "trycut-curve-"));
  await writeFile(join(folder, "data.csv"), text);
  const terminal = listeningTerminal(folder);
  const code = await runCommand(["curve", "data.csv", ...words], verbs, terminal);
  return { code, said: terminal.said.join("\n"), complaints: terminal.complaints.join("\n") };
}

describe("trycut curve", () => {
  test("--json gives parameters, residuals and whether the search converged, to certified digits", async () => {
    const { code, said } = await curve([...call, "--start", "b1=500,b2=0.0001", "--json"]);
    const answer = JSON.parse(said) as {
      parameters: { name: string; estimate: number; standardError: number; low: number; high: number }[];
      residualSumOfSquares: number;
      residualSd: number;
      df: number;
      converged: boolean;
    };
    expect(code).toBe(0);
    expect(answer).toMatchObject({ converged: true, df: 12 });
    // NIST StRD Misra1a, certified to eleven digits.
    answer.parameters.forEach(({ estimate, standardError, low, high }, k) => {
      const certified = set.parameters[k];
      expect(estimate / certified.estimate).toBeCloseTo(1, 9);
      expect(standardError / certified.standardError).toBeCloseTo(1, 9);
      // t(0.975, 12) = 2.178813 (tables).
      expect((high - low) / (2 * standardError)).toBeCloseTo(2.178813, 6);
    });
    expect(answer.residualSumOfSquares / set.residualSumOfSquares).toBeCloseTo(1, 9);
    expect(answer.residualSd / set.residualSd).toBeCloseTo(1, 9);
  });

  test("people read the curve, a table of parameters and the scatter", async () => {
    const { code, said } = await curve([...call, "--start", "b1=500,b2=0.0001"]);
    expect(code).toBe(0);
    expect(said).toContain("y by b1*(1-exp(-b2*x)).");
    expect(said).toMatch(/b1\s+238\.9/);
    expect(said).toContain("12 degrees of freedom");
  });

  test("a slip in the expression is shown under a caret, exit code 1", async () => {
    const { code, complaints } = await curve([
      "--response",
      "y",
      "--expression",
      "b1*(1-exp(-b2*z))",
      "--start",
      "b1=1,b2=1",
    ]);
    expect(code).toBe(1);
    expect(complaints).toContain('Column 15 of the expression: the unknown name "z"');
    expect(complaints.endsWith("\n  b1*(1-exp(-b2*z))\n                ^")).toBe(true);
  });

  test("a start at which a row can't be computed is refused with the line", async () => {
    const { code, complaints } = await curve(
      ["--response", "y", "--expression", "log(b1*x)", "--start", "b1=1"],
      "y,x\n1,1\n2,0\n3,2\n",
    );
    expect(code).toBe(1);
    expect(complaints).toBe(
      "data.csv line 3 (x 0): the curve is without end at the start b1 = 1; expected a finite value in every row. Try another start, or leave the row out.",
    );
  });

  test("parameters that can't be told apart are an answer without intervals", async () => {
    const { code, said } = await curve([
      "--response",
      "y",
      "--expression",
      "b1*b2*x",
      "--start",
      "b1=1,b2=1",
      "--json",
    ]);
    expect(code).toBe(0);
    expect(JSON.parse(said)).toMatchObject({
      converged: false,
      parameters: [{ standardError: null }, { low: null }],
    });
  });

  test("a start that is no number, or given twice, is wrong usage", async () => {
    expect((await curve([...call, "--start", "b1"])).code).toBe(2);
    expect((await curve([...call, "--start", "b1=1,b1=2"])).code).toBe(2);
    expect((await curve(call)).code).toBe(2);
  });

  test("--starts searches from drawn starts and says how many reached the best; --at adds predictions", async () => {
    const words = [
      ...call,
      "--start",
      "b1=400,b2=0.001",
      "--starts",
      "8",
      "--seed",
      "1",
      "--at",
      "x=100; x=700",
    ];
    const { said } = await curve([...words, "--json"]);
    const answer = JSON.parse(said) as {
      starts: { tried: number; reached: number };
      predictions: { estimate: number; mean: { low: number; high: number } }[];
      covariance: number[][];
    };
    expect(answer.starts.tried).toBe(8);
    expect(answer.starts.reached).toBeGreaterThan(0);
    expect(answer.predictions).toHaveLength(2);
    const { low, high } = answer.predictions[0].mean;
    expect(low < answer.predictions[0].estimate && answer.predictions[0].estimate < high).toBe(true);
    // Certified standard errors are the roots of the diagonal.
    expect(Math.sqrt(answer.covariance[0][0]) / set.parameters[0].standardError).toBeCloseTo(1, 9);
    const shown = (await curve(words)).said.replace(/\s+/g, " ");
    expect(shown).toMatch(/of 8 starts \(seed 1\) reached the best fit\./);
    expect(shown).toContain("At x 100 y is");
  });

  test("--from and --to tell the difference between two settings, with the interval that the published slopes give", async () => {
    const words = [...call, "--start", "b1=500,b2=0.0001", "--from", "x=100", "--to", "x=700"];
    const { code, said } = await curve([...words, "--json"]);
    expect(code).toBe(0);
    const { contrast, covariance } = JSON.parse(said) as {
      contrast: Record<"estimate" | "low" | "high" | "standardError" | "df", number> & { as: string };
      covariance: number[][];
    };
    const [b1, b2] = set.parameters.map(({ estimate }) => estimate);
    // y(700) − y(100) = b1 (exp(−100 b2) − exp(−700 b2)) at the certified parameters, and its slopes by hand.
    const [near, far] = [100, 700].map((x) => Math.exp(-b2 * x));
    const slopes = [near - far, b1 * (700 * far - 100 * near)];
    const variance = slopes.reduce(
      (sum, a, j) => sum + a * slopes.reduce((all, b, k) => all + b * covariance[j][k], 0),
      0,
    );
    expect(contrast).toMatchObject({ as: "difference", df: 12 });
    expect(contrast.estimate / (b1 * (near - far))).toBeCloseTo(1, 9);
    expect(contrast.standardError / Math.sqrt(variance)).toBeCloseTo(1, 7);
    // t(0.975, 12) = 2.178813 (tables).
    expect((contrast.high - contrast.low) / (2 * contrast.standardError)).toBeCloseTo(2.178813, 6);
    const shown = (await curve(words)).said.replace(/\s+/g, " ");
    expect(shown).toContain(
      `Going from x 100 to x 700 raises y by ${(b1 * (near - far)).toFixed(2)} (95 % ${contrast.low.toFixed(2)} to ${contrast.high.toFixed(2)}).`,
    );
  });

  test("a contrast that can't be told gives the reason; half of one, or strange columns, are refused", async () => {
    const untold = [
      "--response",
      "y",
      "--expression",
      "b1*b2*x",
      "--start",
      "b1=1,b2=1",
      "--from",
      "x=100",
      "--to",
      "x=200",
    ];
    expect(JSON.parse((await curve([...untold, "--json"])).said)).toMatchObject({
      contrast: {
        low: null,
        high: null,
        reason: expect.stringContaining("can't be told from these rows") as string,
      },
    });
    const good = [...call, "--start", "b1=500,b2=0.0001"];
    expect(await curve([...good, "--from", "x=1"])).toMatchObject({
      code: 2,
      complaints: "--from goes with --to: two settings, such as --from x=1 --to x=2.",
    });
    expect(await curve([...good, "--from", "x=1", "--to", "z=2"])).toMatchObject({
      code: 1,
      complaints:
        "z in the setting to go to only; expected every factor that changes in both settings. Say which z it goes from.",
    });
    expect(await curve([...good, "--from", "z=1", "--to", "z=2"])).toMatchObject({
      code: 1,
      complaints: "a setting of z, which the curve doesn't use; expected settings of x.",
    });
    expect(await curve([...good, "--from", '{"x":1}', "--to", "x=2"])).toMatchObject({
      code: 2,
      complaints:
        '--from "{"x":1}": expected a column with its setting, such as x=2 (decimal point, commas between).',
    });
    expect(await curve([...good, "--from", "x=1", "--to", "x=1"])).toMatchObject({ code: 1 });
  });
});
