import { spawn } from "node:child_process";

interface Surroundings {
  readonly platform: NodeJS.Platform;
  readonly environment: Readonly<Record<string, string | undefined>>;
}

/** The system's own way to open an address; null where nobody would see it (CI, no display, a remote shell). */
export function openerFor({ platform, environment }: Surroundings): readonly [string, ...string[]] | null {
  if (environment["CI"] !== undefined && environment["CI"] !== "" && environment["CI"] !== "false")
    return null;
  if (platform === "darwin") return environment["SSH_CONNECTION"] === undefined ? ["open"] : null;
  if (platform === "win32") return ["rundll32", "url.dll,FileProtocolHandler"];
  const hasDisplay = Boolean(environment["DISPLAY"]) || Boolean(environment["WAYLAND_DISPLAY"]);
  return hasDisplay ? ["xdg-open"] : null;
}

/** Opens the address where a browser can be opened; whether it could be tried. A failure is not worth an error: the address is printed too. */
export function openBrowser(
  address: string,
  { platform = process.platform, environment = process.env }: Partial<Surroundings> = {},
): boolean {
  const opener = openerFor({ platform, environment });
  if (!opener) return false;
  const [command, ...words] = opener;
  const child = spawn(command, [...words, address], { detached: true, stdio: "ignore" });
  child.on("error", () => undefined);
  child.unref();
  return true;
}
