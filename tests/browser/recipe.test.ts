import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { seriousFindings } from "./access.ts";
import { keepPicture, offLoopback, openWindow } from "./browser.ts";
import { ownBench } from "./own-bench.ts";
import { tabTo, typeInto } from "./keyboard.ts";

const name = "seal-face-factorial";

const own = ownBench([name]);

/** The feed that the panel says to set; waits until the recipe is for this limit. */
async function feedFor(page: Page, limit: string): Promise<number> {
  await page.locator(".decision .answer-block").getByText(limit).first().waitFor();
  return Number.parseFloat(await page.locator(".decision .facts.set dd").first().innerText());
}

test.each([1280, 768])(
  "a recipe is asked for by keyboard, at %i px",
  async (width) => {
    const { page, requests, complaints, context } = await openWindow(own.browser, { width, height: 1024 });
    await page.goto(own.bench.url);
    await page.goto(new URL(`/trials/${name}/review`, own.bench.url).href);
    const usual = await feedFor(page, "at or below 0.8 µm with 95 % assurance");
    // Nonsense is refused at its field; it stays there to be mended, and so does the rest of the page.
    await tabTo(page, "Limit on Ra", { most: 400 });
    await page.keyboard.type("smooth");
    const refusal = page.locator("#limit-0-refusal");
    await refusal.getByText('The limit "smooth" on Ra can\'t be read').waitFor();
    expect(await page.locator("#limit-0").inputValue()).toBe("smooth");
    expect(await page.locator("#limit-0").getAttribute("aria-invalid")).toBe("true");
    expect(await page.locator("section[aria-labelledby=effects] svg").count()).toBeGreaterThan(3);
    expect(await page.locator(".decision").count()).toBe(0);
    expect(await seriousFindings(page)).toEqual([]);
    await keepPicture(page, `recipe-refused-${width}`);
    await typeInto(page, "Limit on Ra", "28 µin");
    const tighter = await feedFor(page, "at or below 0.711 µm with 95 % assurance"); // 28 · 0.0254
    expect(tighter).toBeLessThan(usual);
    await typeInto(page, "Assurance, %", "99.9");
    expect(await feedFor(page, "at or below 0.711 µm with 99.9 % assurance")).toBeLessThanOrEqual(tighter);
    // The map, the proof's rule with both chances, and what stopping costs.
    const map = page.locator('.decision svg[data-figure="contours"]');
    expect(await map.locator("title").textContent()).toBe("Ra over feed and speed");
    expect(await map.locator("desc").textContent()).toContain("with the assurance asked for");
    await page.getByText(/A good recipe .* fails with chance .*; a bad one .* passes with chance/).waitFor();
    await page
      .getByText(/^Stopping now gives away/)
      .first()
      .waitFor();
    // Method and source are a key away, and so is the table.
    await page.locator("section[aria-labelledby=recipe]").getByText("Method and source").first().focus();
    await page.keyboard.press("Enter");
    await page
      .getByText(/Odeh and Owen 1980/)
      .first()
      .waitFor();
    await page.getByText("The limits as a table").focus();
    await page.keyboard.press("Enter");
    await page.getByRole("columnheader", { name: "assurance there" }).waitFor();
    expect(await seriousFindings(page)).toEqual([]);
    expect(
      await page.evaluate<number>("document.documentElement.scrollWidth - innerWidth"),
    ).toBeLessThanOrEqual(0);
    // Numbers of figures run through the sheet: no section begins anew.
    expect(
      await page.evaluate<string[]>(
        "[...new Set([...document.querySelectorAll('.sheet-body .entries')].map((one) => getComputedStyle(one).counterReset))]",
      ),
    ).toEqual(["none"]);
    await keepPicture(page, `recipe-${width}`);
    // The address is the memory: nothing typed is lost when the page is opened again.
    await page.reload();
    expect(await feedFor(page, "at or below 0.711 µm with 99.9 % assurance")).toBeGreaterThan(0);
    expect(await page.locator("#limit-0").inputValue()).toBe("28 µin");
    expect(offLoopback(requests)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  },
  240_000,
);
