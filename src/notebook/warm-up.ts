import { markdownHtml } from "./markdown.ts";

/**
 * Does once, ahead of time, what every notebook does, so that the engine has met the code when a reader waits for it. Leaves nothing
 * behind.
 */
export async function warmUp(): Promise<void> {
  markdownHtml("**warm**");
  // The compiler of TypeScript is a process of its own; text that is not yet in its cache starts it.
  await import(`data:text/typescript,export const started: number = ${Date.now()};`).catch(() => {});
}
