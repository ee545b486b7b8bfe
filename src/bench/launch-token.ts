import { createHash, randomBytes, timingSafeEqual } from "node:crypto";

/** A new launch token: 192 random bits, safe in an address. */
export function createLaunchToken(): string {
  return randomBytes(24).toString("base64url");
}

/** Compares two secrets in a time that tells nothing about where they differ. */
export function isSameSecret(given: string, expected: string): boolean {
  const digest = (text: string) => createHash("sha256").update(text).digest();
  return timingSafeEqual(digest(given), digest(expected));
}

/** What the cookie holds: made from the token, so that the token itself is nowhere but in the opened address. */
export function cookieValueFor(token: string): string {
  return createHash("sha256").update(`trycut bench ${token}`).digest("base64url");
}

/** Cookies know no ports, so that two benches on one machine need two names. */
export function cookieNameFor(address: string): string {
  return `trycut-bench-${address.replace(/^.*:/, "")}`;
}
