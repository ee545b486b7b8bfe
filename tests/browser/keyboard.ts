import type { Page } from "playwright-core";

/** Runs in the page; a text, so that no build step can reach into it. */
const nameOfFocus = `(() => {
  const element = document.activeElement;
  if (!element || element === document.body) return "";
  const text = (node) => (node ? node.textContent.replace(/\\s+/g, " ").trim() : "");
  const labelled = element.getAttribute("aria-label");
  if (labelled) return labelled.trim();
  const by = element.getAttribute("aria-labelledby");
  if (by) return by.split(" ").map((id) => text(document.getElementById(id))).join(" ");
  return element.labels && element.labels.length > 0 ? text(element.labels[0]) : text(element);
})()`;

/** The name that the element in focus has for a screen reader: its label, else its text. */
function nameInFocus(page: Page): Promise<string> {
  return page.evaluate<string>(nameOfFocus);
}

/**
 * Presses Tab until an element with this name is in focus. Throws, with the names that were passed, where the keyboard never gets there: a
 * page that can't be worked from the keyboard fails its test.
 */
export async function tabTo(
  page: Page,
  name: string | RegExp,
  { most = 150 }: { most?: number } = {},
): Promise<void> {
  const passed: string[] = [];
  const fits = (text: string) => (typeof name === "string" ? text === name : name.test(text));
  for (let index = 0; index < most; index += 1) {
    const focused = await nameInFocus(page);
    if (fits(focused)) return;
    passed.push(focused);
    await page.keyboard.press("Tab");
  }
  throw new Error(`Tab never reached ${String(name)}; it passed ${[...new Set(passed)].join(" | ")}`);
}

/** Tabs to a field and types over what stands in it. */
export async function typeInto(page: Page, name: string | RegExp, text: string): Promise<void> {
  await tabTo(page, name);
  await page.keyboard.press("ControlOrMeta+a");
  await page.keyboard.type(text);
}

/** Tabs to a button or link and presses it. */
export async function press(page: Page, name: string | RegExp): Promise<void> {
  await tabTo(page, name);
  await page.keyboard.press("Enter");
}
