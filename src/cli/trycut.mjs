#!/usr/bin/env node
// The command. What `npm run build` put into one file starts several times as fast as the sources; while those are newer, they are read.
import { builtAhead } from "../built-ahead.mjs";

const built = await builtAhead("command");
if (built === null) {
  // Node can't read TypeScript by itself.
  const { register } = await import("tsx/esm/api");
  register();
}
await import(built ?? "./main.ts");
