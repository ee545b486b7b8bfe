import { createServer, type RequestListener, type Server } from "node:http";
import { networkInterfaces } from "node:os";
import { BenchError } from "./error.ts";

export interface ListenOptions {
  /** "127.0.0.1" unless the owner says otherwise. */
  readonly host: string;
  /** The first port to try; 0 takes any that is free. */
  readonly port: number;
  /** How many ports to try, one after the other. */
  readonly tries: number;
}

const loopback = new Set(["127.0.0.1", "localhost", "::1"]);

/** What to warn of before listening on `host`; empty on this machine's own loopback. */
export function exposureWarning(host: string): string {
  if (loopback.has(host)) return "";
  return (
    `Warning: the bench will listen on ${host}, where other machines on the network can reach it. ` +
    "Whoever learns the printed address can read and change the trials here. It is not encrypted."
  );
}

/** An address of one network card; "every card" would leave the bench unable to tell its own name. */
export function checkHostOption(host: string): void {
  if (host !== "0.0.0.0" && host !== "::" && host !== "") return;
  const own = Object.values(networkInterfaces())
    .flatMap((cards) => cards ?? [])
    .filter((card) => card.family === "IPv4")
    .map((card) => card.address);
  throw new BenchError(
    422,
    `The bench listens on one address at a time, not on "${host}". This machine has ${own.join(", ")}; 127.0.0.1 keeps it to this machine.`,
  );
}

function tryPort(server: Server, host: string, port: number): Promise<"listening" | "taken"> {
  return new Promise((resolve, reject) => {
    const onError = (error: NodeJS.ErrnoException) => {
      server.off("listening", onListening);
      if (error.code === "EADDRINUSE" || error.code === "EACCES") resolve("taken");
      else reject(error);
    };
    const onListening = () => {
      server.off("error", onError);
      resolve("listening");
    };
    server.once("error", onError);
    server.once("listening", onListening);
    server.listen({ host, port, exclusive: true });
  });
}

/**
 * Listens on the first free port from `port` on.
 * @param makeListener called with the address ("127.0.0.1:8127") as soon as it is known
 * @returns the server and its address
 */
export async function listen(
  { host, port, tries }: ListenOptions,
  makeListener: (address: string) => RequestListener,
): Promise<{ readonly server: Server; readonly address: string }> {
  checkHostOption(host);
  const server = createServer();
  for (let attempt = 0; attempt < tries; attempt += 1) {
    if ((await tryPort(server, host, port === 0 ? 0 : port + attempt)) === "listening") {
      const bound = server.address();
      if (bound === null || typeof bound === "string") throw new BenchError(500, "The system gave no port.");
      const address = `${host.includes(":") ? `[${host}]` : host}:${bound.port}`;
      server.on("request", makeListener(address));
      return { server, address };
    }
  }
  throw new BenchError(
    422,
    `Ports ${port} to ${port + tries - 1} on ${host} are all taken. Close what uses them, or give another port with --port.`,
  );
}
