/* Takes the picture of README.md again: `npx tsx tests/browser/readme-picture.ts`. */
import { fileURLToPath } from "node:url";
import { startBenchProcess } from "./bench-process.ts";
import { launchBrowser, openWindow } from "./browser.ts";

const project = fileURLToPath(new URL("../..", import.meta.url));
const target = fileURLToPath(new URL("readme.png", import.meta.url));

const browser = await launchBrowser();
const bench = await startBenchProcess(project);
try {
  const { page } = await openWindow(browser, { width: 1180, height: 1000 });
  await page.goto(bench.url);
  await page.getByRole("link", { name: "Pump-cover seal face: feed, speed and edge", exact: true }).click();
  await page.locator("figure svg").first().waitFor();
  await page.screenshot({ path: target });
  console.log(target);
} finally {
  await bench.end();
  await browser.close();
}
