import { expect, test } from "vitest";
import { findBrowser } from "../browser/find-browser.ts";

const only = (path: string) => (asked: string) => asked === path;

test("a browser named by TRYCUT_BROWSER is taken before any other", () => {
  const environment = { TRYCUT_BROWSER: "/opt/own/chrome", PATH: "/usr/bin" };
  expect(findBrowser({ platform: "linux", environment, isThere: () => true })).toBe("/opt/own/chrome");
});

test("a TRYCUT_BROWSER that can't be run is said, not passed over", () => {
  const environment = { TRYCUT_BROWSER: "/opt/own/chrome", PATH: "/usr/bin" };
  expect(() => findBrowser({ platform: "linux", environment, isThere: only("/usr/bin/chromium") })).toThrow(
    'TRYCUT_BROWSER is "/opt/own/chrome", which can\'t be run. Give the path of a Chromium, Chrome or Edge.',
  );
});

test("each system's usual places are searched", () => {
  const linux = { platform: "linux", environment: { PATH: "/bin:/home/me/bin" } } as const;
  expect(findBrowser({ ...linux, isThere: only("/home/me/bin/google-chrome") })).toBe(
    "/home/me/bin/google-chrome",
  );
  expect(findBrowser({ ...linux, isThere: only("/snap/bin/chromium") })).toBe("/snap/bin/chromium");
  const mac = "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome";
  expect(findBrowser({ platform: "darwin", environment: {}, isThere: only(mac) })).toBe(mac);
  const edge = "C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe";
  const environment = { "PROGRAMFILES(X86)": "C:\\Program Files (x86)" };
  expect(findBrowser({ platform: "win32", environment, isThere: only(edge) })).toBe(edge);
});

test("where there is no browser the answer is null", () => {
  expect(findBrowser({ platform: "linux", environment: { PATH: "/bin" }, isThere: () => false })).toBeNull();
});
