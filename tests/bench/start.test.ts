import { createServer } from "node:http";
import { mkdir, mkdtemp, rm, utimes, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, expect, test } from "vitest";
import { isClientStale } from "../../src/bench/build-client.ts";
import { checkHostOption, exposureWarning, listen } from "../../src/bench/listen.ts";

const ends: (() => Promise<unknown>)[] = [];

afterEach(async () => {
  for (const end of ends.splice(0)) await end();
});

function closing(server: { close: (done: () => void) => void }): void {
  ends.push(() => new Promise<void>((resolve) => server.close(() => resolve())));
}

test("a port that is taken is passed over for the next one", async () => {
  const taken = createServer();
  await new Promise<void>((resolve) => taken.listen({ host: "127.0.0.1", port: 0 }, resolve));
  closing(taken);
  const bound = taken.address();
  const port = typeof bound === "object" && bound !== null ? bound.port : 0;
  const { server, address } = await listen(
    { host: "127.0.0.1", port, tries: 20 },
    () => (_, answer) => answer.end(),
  );
  closing(server);
  expect(address).toMatch(/^127\.0\.0\.1:\d+$/);
  expect(Number(address.split(":")[1])).toBeGreaterThan(port);
});

test("where every port is taken, the message says what may be done", async () => {
  const taken = createServer();
  await new Promise<void>((resolve) => taken.listen({ host: "127.0.0.1", port: 0 }, resolve));
  closing(taken);
  const bound = taken.address();
  const port = typeof bound === "object" && bound !== null ? bound.port : 0;
  await expect(listen({ host: "127.0.0.1", port, tries: 1 }, () => () => undefined)).rejects.toThrow(
    `Ports ${port} to ${port} on 127.0.0.1 are all taken. Close what uses them, or give another port with --port.`,
  );
});

test("listening beyond this machine is warned of, listening on all cards refused", () => {
  for (const host of ["127.0.0.1", "localhost", "::1"]) expect(exposureWarning(host)).toBe("");
  expect(exposureWarning("192.168.1.20")).toContain("other machines on the network can reach it");
  expect(() => checkHostOption("0.0.0.0")).toThrow(/one address at a time/);
  expect(() => checkHostOption("::")).toThrow(/one address at a time/);
  expect(() => checkHostOption("127.0.0.1")).not.toThrow();
});

test("the built client is stale when it is missing or older than a source, and not otherwise", async () => {
  const folder = await mkdtemp(join(tmpdir(), "trycut-client-"));
  ends.push(() => rm(folder, { recursive: true }));
  const place = {
    sources: join(folder, "client"),
    built: join(folder, "built"),
    config: join(folder, "vite.config.ts"),
  };
  await mkdir(join(place.sources, "deep"), { recursive: true });
  await mkdir(place.built);
  const source = join(place.sources, "deep", "main.tsx");
  const built = join(place.built, "index.html");
  await writeFile(source, "");
  await writeFile(place.config, "");
  expect(await isClientStale(place)).toBe(true);
  await writeFile(built, "");
  const at = (file: string, seconds: number) => utimes(file, seconds, seconds);
  await Promise.all([at(place.sources, 1000), at(join(place.sources, "deep"), 1000), at(place.config, 1000)]);
  await at(source, 1000);
  await at(built, 2000);
  expect(await isClientStale(place)).toBe(false);
  await at(source, 3000);
  expect(await isClientStale(place)).toBe(true);
  await at(source, 1000);
  await at(place.config, 3000);
  expect(await isClientStale(place)).toBe(true);
});

test("a shipped client without its sources is not stale", async () => {
  const folder = await mkdtemp(join(tmpdir(), "trycut-client-"));
  ends.push(() => rm(folder, { recursive: true }));
  await writeFile(join(folder, "index.html"), "");
  const place = { sources: join(folder, "none"), built: folder, config: join(folder, "none.ts") };
  expect(await isClientStale(place)).toBe(false);
});
