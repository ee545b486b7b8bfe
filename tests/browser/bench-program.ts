// Started by the browser tests as a process of its own, so that it can be killed like one.
import { startBench } from "../../src/bench/index.ts";

const [root = ".", port = "0"] = process.argv.slice(2);
const bench = await startBench({ root, port: Number(port), open: "never" });
await bench.closed;
