#!/usr/bin/env node
// The installed command: Node can't read TypeScript from node_modules by itself, so tsx is registered first.
import { register } from "tsx/esm/api";

register();
await import("./main.ts");
