import { accessSync, constants } from "node:fs";
import { delimiter, join } from "node:path";

interface Surroundings {
  readonly platform: NodeJS.Platform;
  readonly environment: Readonly<Record<string, string | undefined>>;
  readonly isThere: (path: string) => boolean;
}

const commands = [
  "chromium",
  "chromium-browser",
  "google-chrome",
  "google-chrome-stable",
  "microsoft-edge",
  "microsoft-edge-stable",
];

const macApplications = [
  "Google Chrome.app/Contents/MacOS/Google Chrome",
  "Chromium.app/Contents/MacOS/Chromium",
  "Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
];

const windowsPrograms = [
  "Google\\Chrome\\Application\\chrome.exe",
  "Chromium\\Application\\chrome.exe",
  "Microsoft\\Edge\\Application\\msedge.exe",
];

function canRun(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** The places where a browser that Chromium's protocol drives may be, best first. */
export function browserPlaces({
  platform,
  environment,
}: Pick<Surroundings, "platform" | "environment">): readonly string[] {
  if (platform === "darwin") {
    const folders = [
      "/Applications",
      ...(environment["HOME"] ? [join(environment["HOME"], "Applications")] : []),
    ];
    return folders.flatMap((folder) => macApplications.map((name) => `${folder}/${name}`));
  }
  if (platform === "win32") {
    const folders = ["PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA"].flatMap(
      (name) => environment[name] ?? [],
    );
    return folders.flatMap((folder) => windowsPrograms.map((name) => `${folder}\\${name}`));
  }
  const folders = [...(environment["PATH"] ?? "").split(delimiter), "/usr/bin", "/snap/bin"].filter(Boolean);
  return commands.flatMap((command) => folders.map((folder) => `${folder}/${command}`));
}

/**
 * Finds a browser for the tests: `TRYCUT_BROWSER` first, then the usual places of this system.
 * @returns its path, or null where there is none
 * @throws Error where TRYCUT_BROWSER names something that can't be run: a wish that fails isn't passed over
 */
export function findBrowser({
  platform = process.platform,
  environment = process.env,
  isThere = canRun,
}: Partial<Surroundings> = {}): string | null {
  const wish = environment["TRYCUT_BROWSER"];
  if (wish) {
    if (isThere(wish)) return wish;
    throw new Error(
      `TRYCUT_BROWSER is "${wish}", which can't be run. Give the path of a Chromium, Chrome or Edge.`,
    );
  }
  return browserPlaces({ platform, environment }).find(isThere) ?? null;
}
