import type { Context, MiddlewareHandler } from "hono";
import { getCookie, setCookie } from "hono/cookie";
import { BenchError } from "./error.ts";
import { cookieNameFor, cookieValueFor, isSameSecret } from "./launch-token.ts";

export interface GuardOptions {
  /** Where the bench listens, such as "127.0.0.1:8127". */
  readonly address: string;
  readonly token: string;
}

const loopback = new Set(["127.0.0.1", "localhost", "[::1]"]);

/** The values of the Host header that mean this bench: another name that leads here is an attack by name service. */
export function hostsFor(address: string): ReadonlySet<string> {
  const colon = address.lastIndexOf(":");
  const [host, port] = [address.slice(0, colon), address.slice(colon + 1)];
  return new Set(loopback.has(host) ? [...loopback].map((name) => `${name}:${port}`) : [address]);
}

/** What every answer carries. */
const headers: Readonly<Record<string, string>> = {
  "Content-Security-Policy": [
    "default-src 'self'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' data:",
    "connect-src 'self'",
    "frame-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join("; "),
  "X-Content-Type-Options": "nosniff",
  "X-Frame-Options": "DENY",
  "Referrer-Policy": "same-origin",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Resource-Policy": "same-origin",
  "Cache-Control": "no-store",
};

/** Sets the protecting headers; a route may have set a stricter one of its own. */
export function protect(): MiddlewareHandler {
  return async (context, next) => {
    await next();
    for (const [name, value] of Object.entries(headers)) {
      if (!context.res.headers.has(name)) context.res.headers.set(name, value);
    }
  };
}

/** Refuses a request that was sent to another name than the bench's own. */
export function checkHost({ address }: GuardOptions): MiddlewareHandler {
  const hosts = hostsFor(address);
  return async (context, next) => {
    const host = context.req.header("host") ?? new URL(context.req.url).host;
    if (!hosts.has(host.toLowerCase())) {
      throw new BenchError(403, `This bench answers to ${[...hosts].join(", ")}, not to "${host}".`);
    }
    await next();
  };
}

function originIsOurs(context: Context, hosts: ReadonlySet<string>): boolean {
  const origin = context.req.header("origin");
  return origin?.startsWith("http://") === true && hosts.has(origin.slice("http://".length).toLowerCase());
}

/** Refuses a change, or a live stream, that another page asked for. */
export function checkOrigin({ address }: GuardOptions): MiddlewareHandler {
  const hosts = hostsFor(address);
  return async (context, next) => {
    const { method, path } = context.req;
    const isStream = path.startsWith("/api/live/");
    if (method !== "GET" && method !== "HEAD") {
      if (!originIsOurs(context, hosts)) throw otherPage(context.req.header("origin"));
    } else if (isStream && context.req.header("origin") === undefined) {
      // Browsers leave Origin out when a page reads from its own server, and say so in Sec-Fetch-Site.
      if (context.req.header("sec-fetch-site") !== "same-origin") throw otherPage(undefined);
    } else if (isStream && !originIsOurs(context, hosts)) throw otherPage(context.req.header("origin"));
    await next();
  };
}

function otherPage(origin: string | undefined): BenchError {
  return new BenchError(
    403,
    `Only a page of this bench may ask for this${origin === undefined ? "; the request names no origin" : `, not ${origin}`}.`,
  );
}

const closedDoor =
  "Open the address that the bench printed when it was started: it carries this start's key.";

/** Exchanges the token of the opened address for a cookie; without either, nothing of the project is shown. */
export function checkToken({ address, token }: GuardOptions): MiddlewareHandler {
  const name = cookieNameFor(address);
  const value = cookieValueFor(token);
  return async (context, next) => {
    const given = context.req.query("token");
    if (given !== undefined && context.req.method === "GET" && isSameSecret(given, token)) {
      setCookie(context, name, value, { httpOnly: true, sameSite: "Strict", path: "/" });
      const target = new URL(context.req.url);
      target.searchParams.delete("token");
      return context.redirect(`${target.pathname.replace(/^\/+/, "/")}${target.search}`, 303);
    }
    const cookie = getCookie(context, name);
    if (cookie === undefined || !isSameSecret(cookie, value)) throw new BenchError(401, closedDoor);
    return next();
  };
}
