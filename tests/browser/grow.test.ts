import { readFileSync } from "node:fs";
import { readFile, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { join } from "node:path";
import { expect, test } from "vitest";
import { keepPicture, offLoopback, openWindow } from "./browser.ts";
import { ownBench } from "./own-bench.ts";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const name = "seal-face-factorial";

const own = ownBench([name], {
  // More is at hand than the invented trial planned for.
  prepare: async (root) => {
    const file = join(root, "experiments", name, "trial.json");
    const spec = JSON.parse(await readFile(file, "utf8")) as Record<string, unknown>;
    await writeFile(file, `${JSON.stringify({ ...spec, budget: { passes: 200 } }, null, 2)}\n`);
  },
});

test.each([1280, 768])(
  "a trial is grown from its review by keyboard, at %i px",
  async (width) => {
    const { page, requests, complaints, context } = await openWindow(own.browser, { width, height: 1024 });
    await page.goto(own.bench.url);
    await page.goto(new URL(`/trials/${name}/review`, own.bench.url).href);
    await page.getByText("Grow this trial").focus();
    await page.keyboard.press("Enter");
    const submit = page.getByText("Show what this would add");
    await submit.waitFor();
    // What can't be had is told in words, and nothing is lost.
    await submit.focus();
    await page.keyboard.press("Enter");
    await page.getByRole("alert").getByText("frees nothing").waitFor();
    await keepPicture(page, `grow-refused-${width}`);
    await page.getByLabel("What should the runs do?").selectOption("replicate");
    await page.getByLabel("Which effect decides").focus();
    await page.keyboard.type("feed × edge");
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "4 runs would be added" }).waitFor();
    await page
      .getByText(/The effect of feed × edge: ± .* µm becomes ± .* µm with 4 runs/)
      .first()
      .waitFor();
    await keepPicture(page, `grow-${width}`);
    await page.evaluate(axe);
    const { violations } = await page.evaluate<{ violations: { id: string; impact: string }[] }>("axe.run()");
    expect(violations.filter(({ impact }) => impact === "serious" || impact === "critical")).toEqual([]);
    expect(
      await page.evaluate<number>("document.documentElement.scrollWidth - innerWidth"),
    ).toBeLessThanOrEqual(0);
    // A form that was changed since must be looked at again.
    await page.getByLabel("Which effect decides").fill("feed");
    await page.getByText("The form was changed since: look again before adding.").waitFor();
    expect(await page.getByText("Add these 4 runs to the plan").isDisabled()).toBe(true);
    await page.keyboard.press("Enter");
    await page
      .getByText(/The effect of feed: ± .* with 4 runs/)
      .first()
      .waitFor();
    await page.getByText("Add these 4 runs to the plan").focus();
    await page.keyboard.press("Enter");
    await page.locator(".done-note").getByText("4 runs were added to the plan.").waitFor();
    await page.getByText("Cut them by the run sheet").focus();
    await page.keyboard.press("Enter");
    const last = width === 1280 ? 24 : 28;
    await page
      .locator("th.run-number")
      .nth(last - 1)
      .waitFor();
    expect(offLoopback(requests)).toEqual([]);
    // The refusals above are answers with the status 422, which a browser notes.
    expect(complaints.filter((text) => !/422/.test(text))).toEqual([]);
    await context.close();
  },
  120_000,
);
