import { expect, test } from "vitest";
import { openerFor } from "../../src/bench/open-browser.ts";

test("no browser is opened in CI or where there is no display", () => {
  expect(openerFor({ platform: "linux", environment: { CI: "true", DISPLAY: ":0" } })).toBeNull();
  expect(openerFor({ platform: "darwin", environment: { CI: "1" } })).toBeNull();
  expect(openerFor({ platform: "linux", environment: {} })).toBeNull();
  expect(openerFor({ platform: "darwin", environment: { SSH_CONNECTION: "10.0.0.2 22" } })).toBeNull();
});

test("each system's own opener is used", () => {
  expect(openerFor({ platform: "linux", environment: { DISPLAY: ":0" } })).toEqual(["xdg-open"]);
  expect(openerFor({ platform: "linux", environment: { WAYLAND_DISPLAY: "wayland-0" } })).toEqual([
    "xdg-open",
  ]);
  expect(openerFor({ platform: "darwin", environment: {} })).toEqual(["open"]);
  // Not "cmd /c start", which would read the & of an address as a command of its own.
  expect(openerFor({ platform: "win32", environment: {} })).toEqual([
    "rundll32",
    "url.dll,FileProtocolHandler",
  ]);
});
