// Records reading after reading and prints each acknowledgement, until it is killed: see survives-kill.test.ts. The
// library was bundled beforehand into one file, so that a process is recording a moment after it was started.
import process from "node:process";

const [library, folder, from] = process.argv.slice(2);
const { record } = await import(library);

for (let value = Number(from); ; value++) {
  const readings = [
    { run: 1 + (value % 8), response: "Ra", value: (value % 50) / 1000 + 0.8, note: `n${value}` },
  ];
  const { kind } = await record(folder, readings);
  if (kind === "recorded") process.stdout.write(`${value}\n`);
}
