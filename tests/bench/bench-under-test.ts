import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Hono } from "hono";
import { afterEach } from "vitest";
import { createBench } from "../../src/bench/index.ts";
import type { Runner } from "../../src/notebook/index.ts";
import { liveStream, type LiveStream } from "./live-stream.ts";

export const address = "127.0.0.1:8127";
export const origin = `http://${address}`;
const token = "a-token-for-tests";

const ends: (() => Promise<void> | void)[] = [];

afterEach(async () => {
  for (const end of ends.splice(0)) await end();
});

/** A new empty project that is deleted after the test. */
export async function newProject(): Promise<string> {
  const root = await mkdtemp(join(tmpdir(), "trycut-bench-"));
  ends.push(() => rm(root, { recursive: true, force: true }));
  await mkdir(join(root, "experiments"));
  await mkdir(join(root, "notebooks"));
  return root;
}

export interface BenchUnderTest {
  readonly root: string;
  readonly bench: Hono;
  readonly faults: unknown[];
  /** A request with nothing but what is given. */
  readonly raw: (path: string, init?: RequestInit) => Promise<Response>;
  /** As the bench's own page asks: with its cookie, host and origin. */
  readonly get: (path: string) => Promise<Response>;
  readonly post: (path: string, body: unknown) => Promise<Response>;
  /** A live stream, as the bench's own page opens it. */
  readonly live: (path: string) => Promise<LiveStream>;
  readonly cookie: string;
}

/** A bench without a port, with a page's cookie already taken. */
export async function benchUnderTest({
  root,
  runner,
}: { root?: string; runner?: Runner } = {}): Promise<BenchUnderTest> {
  const project = root ?? (await newProject());
  const faults: unknown[] = [];
  const stop = new AbortController();
  const clientFolder = join(project, "built");
  await mkdir(clientFolder, { recursive: true });
  await writeFile(join(clientFolder, "index.html"), "<!doctype html><title>the client</title>");
  ends.push(() => stop.abort());
  const bench = createBench({
    root: project,
    address,
    token,
    clientFolder,
    signal: stop.signal,
    clock: () => new Date("2026-03-02T09:30:00Z"),
    onFault: (fault) => faults.push(fault),
    ...(runner ? { runner } : {}),
  });
  const raw = async (path: string, init?: RequestInit) => bench.request(`${origin}${path}`, init);
  const opened = await raw(`/?token=${token}`);
  const cookie = (opened.headers.get("set-cookie") ?? "").split(";")[0];
  const get = (path: string) => raw(path, { headers: { cookie } });
  const post = (path: string, body: unknown) =>
    raw(path, {
      method: "POST",
      headers: { cookie, origin, "content-type": "application/json" },
      body: typeof body === "string" ? body : JSON.stringify(body),
    });
  const live = async (path: string) => {
    const headers = { cookie, "sec-fetch-site": "same-origin" };
    const stream = liveStream(await raw(path, { headers }));
    ends.push(stream.close);
    return stream;
  };
  return { root: project, bench, faults, raw, get, post, live, cookie };
}

export { token };
