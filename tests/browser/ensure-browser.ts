// Run before the browser tests: finds a browser, or installs one where that can be done without asking anybody.
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { findBrowser } from "./find-browser.ts";

const asked = `Install Chromium, Chrome or Edge:
  Debian, Ubuntu   sudo apt-get update && sudo apt-get install -y chromium
  Fedora           sudo dnf install chromium
  macOS            brew install --cask chromium
  Windows          winget install --id Hibbiki.Chromium (or any Chrome or Edge)
or set TRYCUT_BROWSER to the path of one that is there already.`;

function run(command: string, words: readonly string[]): boolean {
  console.log(`> ${[command, ...words].join(" ")}`);
  return spawnSync(command, words, { stdio: "inherit" }).status === 0;
}

function installWithSystem(): void {
  const isRoot = process.getuid?.() === 0;
  if (process.platform !== "linux" || !isRoot || !existsSync("/usr/bin/apt-get")) return;
  run("apt-get", ["update"]);
  run("apt-get", ["install", "-y", "chromium"]);
}

/** The driver's own installer puts a browser into the user's cache; its path is asked for afterwards. */
async function installWithDriver(): Promise<string | null> {
  const packageFile = createRequire(import.meta.url).resolve("playwright-core/package.json");
  if (!run(process.execPath, [join(dirname(packageFile), "cli.js"), "install", "chromium"])) return null;
  const { chromium } = await import("playwright-core");
  const path = chromium.executablePath();
  return existsSync(path) ? path : null;
}

async function ensureBrowser(): Promise<string | null> {
  const found = findBrowser();
  if (found !== null) return found;
  installWithSystem();
  return findBrowser() ?? (await installWithDriver());
}

const browser = await ensureBrowser();
if (browser === null) {
  console.error(`No browser was found for the tests, and none could be installed.\n${asked}`);
  process.exitCode = 1;
} else console.log(`Browser for the tests: ${browser}`);
