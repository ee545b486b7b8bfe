import { mkdir, rm } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { startBench } from "../../src/bench/index.ts";
import { newProject } from "./bench-under-test.ts";

async function started({ signal }: { signal?: AbortSignal } = {}) {
  const root = await newProject();
  const printed: string[] = [];
  const warned: string[] = [];
  const bench = await startBench({
    root,
    port: 0,
    open: "never",
    out: (text) => printed.push(text),
    error: (text) => warned.push(text),
    ...(signal ? { signal } : {}),
  });
  return { bench, root, printed, warned };
}

test("a started bench prints its address, and the address opens it", async () => {
  const { bench, printed, warned } = await started();
  expect(printed[0]).toBe(`Trycut bench: ${bench.url}`);
  expect(bench.url).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/\?token=[\w-]{32}$/);
  expect(warned).toEqual([]);
  const opened = await fetch(bench.url, { redirect: "manual" });
  expect(opened.status).toBe(303);
  const cookie = opened.headers.get("set-cookie")?.split(";")[0] ?? "";
  const page = await fetch(`http://${bench.address}/trials`, { headers: { cookie } });
  expect(page.status).toBe(200);
  expect(await page.text()).toContain("<title>Trycut</title>");
  await bench.close();
});

test("two starts have two keys", async () => {
  const [first, second] = [await started(), await started()];
  expect(new URL(first.bench.url).search).not.toBe(new URL(second.bench.url).search);
  const opened = await fetch(first.bench.url, { redirect: "manual" });
  const cookie = opened.headers.get("set-cookie")?.split(";")[0] ?? "";
  expect((await fetch(`http://${second.bench.address}/api/session`, { headers: { cookie } })).status).toBe(
    401,
  );
  await Promise.all([first.bench.close(), second.bench.close()]);
});

test("a bench that is told to stop ends its live streams and frees its port", async () => {
  const stop = new AbortController();
  const { bench, root } = await started({ signal: stop.signal });
  await mkdir(join(root, "experiments", "seal-face"));
  const opened = await fetch(bench.url, { redirect: "manual" });
  const cookie = opened.headers.get("set-cookie")?.split(";")[0] ?? "";
  const headers = { cookie, "sec-fetch-site": "same-origin" };
  const stream = await fetch(`http://${bench.address}/api/live/changes`, { headers });
  expect(stream.status).toBe(200);
  stop.abort();
  await bench.closed;
  await stream.text();
  await expect(fetch(`http://${bench.address}/`)).rejects.toThrow();
  await rm(root, { recursive: true, force: true });
});

test("a body beyond the limit is refused, whatever its length is said to be", async () => {
  const { bench } = await started();
  const opened = await fetch(bench.url, { redirect: "manual" });
  const cookie = opened.headers.get("set-cookie")?.split(";")[0] ?? "";
  const headers = { cookie, origin: `http://${bench.address}`, "content-type": "application/json" };
  const body = JSON.stringify({ draft: "x".repeat(33 * 1024 * 1024) });
  const answer = await fetch(`http://${bench.address}/api/drafts`, { method: "POST", headers, body });
  expect(answer.status).toBe(413);
  await bench.close();
});
