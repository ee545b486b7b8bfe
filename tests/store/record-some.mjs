// Records readings one by one into a folder, with a breath between them in which another may write: see two-writers.test.ts.
import process from "node:process";
import { setTimeout as wait } from "node:timers/promises";

const [library, folder, writer, count] = process.argv.slice(2);
const { record } = await import(library);

process.stdout.write("ready\n");
await new Promise((resolve) => process.stdin.once("data", resolve));
for (let number = 1; number <= Number(count); number++) {
  await record(folder, [{ run: 1, response: "Ra", value: 0.8 + number / 1000, note: `${writer}-${number}` }]);
  await wait(5);
}
process.exit(0);
