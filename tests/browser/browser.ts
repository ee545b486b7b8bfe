import { existsSync } from "node:fs";
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium, type Browser, type BrowserContext, type Page } from "playwright-core";
import { findBrowser } from "./find-browser.ts";

const flags = [
  "--headless",
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/** The pictures that the tests take, to be looked at; git ignores them. */
export const picturesFolder = fileURLToPath(new URL("pictures/", import.meta.url));

/** The driver's own browser, where `ensure-browser.ts` had to fetch it. */
function driversBrowser(): string | null {
  const path = chromium.executablePath();
  return existsSync(path) ? path : null;
}

/** Opens a browser without a window. */
export async function launchBrowser(): Promise<Browser> {
  const executablePath = findBrowser() ?? driversBrowser();
  if (executablePath === null)
    throw new Error("No browser: run npx tsx tests/browser/ensure-browser.ts first.");
  return chromium.launch({ executablePath, args: flags });
}

export interface WatchedContext {
  readonly context: BrowserContext;
  readonly page: Page;
  /** Every address that was asked for, in order. */
  readonly requests: string[];
  /** What the page complained of: errors, refused content. */
  readonly complaints: string[];
}

/** A fresh window that remembers what it asked for and what it complained of. */
export async function openWindow(
  browser: Browser,
  { width = 1280, height = 900 } = {},
): Promise<WatchedContext> {
  const context = await browser.newContext({ viewport: { width, height }, locale: "en-GB" });
  const requests: string[] = [];
  const complaints: string[] = [];
  context.on("request", (request) => requests.push(request.url()));
  const page = await context.newPage();
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
  });
  return { context, page, requests, complaints };
}

/** Addresses that lead off this machine. */
export function offLoopback(requests: readonly string[]): readonly string[] {
  return requests.filter((address) => {
    const url = new URL(address);
    return (
      !["data:", "blob:", "about:"].includes(url.protocol) &&
      !["127.0.0.1", "localhost", "[::1]"].includes(url.hostname)
    );
  });
}

/** Keeps a picture of the whole page. */
export async function keepPicture(page: Page, name: string): Promise<void> {
  await mkdir(picturesFolder, { recursive: true });
  await page.screenshot({ path: join(picturesFolder, `${name}.png`), fullPage: true });
}
