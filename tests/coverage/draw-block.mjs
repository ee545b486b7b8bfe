// The first file of a worker: TypeScript can be read once this is registered.
import { register } from "tsx/esm/api";
register();
await import("./draw-block.ts");
