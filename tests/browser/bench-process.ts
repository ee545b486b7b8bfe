import { spawn, type ChildProcess } from "node:child_process";
import { once } from "node:events";
import { fileURLToPath } from "node:url";

const command = fileURLToPath(new URL("../../src/cli/trycut.mjs", import.meta.url));

export interface BenchProcess {
  /** The address that it printed, with its token. */
  readonly url: string;
  readonly port: number;
  readonly child: ChildProcess;
  /** Ends it; resolves when it is gone. */
  readonly end: (signal?: NodeJS.Signals) => Promise<void>;
}

/**
 * Starts a bench on a project as a process of its own.
 * @param root the project's folder
 * @param options `port`: the port to take; by default any free one
 */
export async function startBenchProcess(
  root: string,
  { port = 0 }: { port?: number } = {},
): Promise<BenchProcess> {
  const words = [command, "bench", "--port", String(port)];
  const child = spawn(process.execPath, words, { cwd: root, stdio: ["ignore", "pipe", "pipe"] });
  let said = "";
  const url = await new Promise<string>((resolve, reject) => {
    const listen = (chunk: Buffer) => {
      said += chunk.toString();
      const found = /http:\/\/\S+/.exec(said)?.[0];
      if (found) resolve(found);
    };
    child.stdout.on("data", listen);
    child.stderr.on("data", listen);
    child.once("exit", (code) => reject(new Error(`The bench ended with code ${code}: ${said}`)));
  });
  const end = async (signal: NodeJS.Signals = "SIGTERM") => {
    if (child.exitCode !== null || child.signalCode !== null) return;
    const gone = once(child, "exit");
    child.kill(signal);
    await gone;
  };
  return { url, port: Number(new URL(url).port), child, end };
}
