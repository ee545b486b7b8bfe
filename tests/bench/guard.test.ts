import { expect, test } from "vitest";
import { hostsFor } from "../../src/bench/guard.ts";
import { address, benchUnderTest, origin, token } from "./bench-under-test.ts";

async function errorOf(response: Response): Promise<string> {
  return ((await response.json()) as { error: string }).error;
}

test("nothing of the project is shown without the key, and the refusal says where the key is", async () => {
  const { raw } = await benchUnderTest();
  const answer = await raw("/api/session");
  expect(answer.status).toBe(401);
  expect(await errorOf(answer)).toBe(
    "Open the address that the bench printed when it was started: it carries this start's key.",
  );
  expect((await raw("/")).status).toBe(401);
  expect((await raw("/trials/seal-face/plan")).status).toBe(401);
});

test("a wrong token is no key", async () => {
  const { raw } = await benchUnderTest();
  for (const wrong of ["", "x", `${token}x`, token.slice(1)]) {
    const answer = await raw(`/?token=${wrong}`);
    expect(answer.status).toBe(401);
    expect(answer.headers.get("set-cookie")).toBeNull();
  }
});

test("the token of the opened address becomes a strict cookie and leaves the address", async () => {
  const { raw } = await benchUnderTest();
  const answer = await raw(`/trials?token=${token}&show=all`);
  expect(answer.status).toBe(303);
  expect(answer.headers.get("location")).toBe("/trials?show=all");
  const cookie = answer.headers.get("set-cookie") ?? "";
  expect(cookie).toMatch(/HttpOnly/);
  expect(cookie).toMatch(/SameSite=Strict/);
  expect(cookie).not.toContain(token);
});

test("a token in front of another server's address doesn't lead away", async () => {
  const { raw } = await benchUnderTest();
  const answer = await raw(`//evil.example/?token=${token}`);
  expect(answer.headers.get("location")).toBe("/evil.example/");
});

test("a request under another name than the bench's own is refused", async () => {
  const { bench, cookie } = await benchUnderTest();
  for (const host of ["evil.example", "evil.example:8127", "127.0.0.1", "127.0.0.1:80", "localhost:8128"]) {
    const answer = await bench.request("/api/session", { headers: { host, cookie } });
    expect(answer.status, host).toBe(403);
  }
  for (const host of ["127.0.0.1:8127", "localhost:8127", "LOCALHOST:8127", "[::1]:8127"]) {
    const answer = await bench.request("/api/session", { headers: { host, cookie } });
    expect(answer.status, host).toBe(200);
  }
});

test("a bench on a network card answers to that address alone", () => {
  expect([...hostsFor("192.168.1.20:8127")]).toEqual(["192.168.1.20:8127"]);
});

test("a change asked for by another page, or by none, is refused before it is read", async () => {
  const { raw, cookie } = await benchUnderTest();
  const others = [
    undefined,
    "null",
    "http://evil.example",
    "https://127.0.0.1:8127",
    "http://127.0.0.1:8128",
    "http://127.0.0.1:8127.evil.example",
  ];
  for (const other of others) {
    const headers = {
      cookie,
      "content-type": "application/json",
      ...(other === undefined ? {} : { origin: other }),
    };
    for (const method of ["POST", "PUT", "PATCH", "DELETE"]) {
      expect((await raw("/api/trials", { method, headers, body: "{}" })).status, `${method} ${other}`).toBe(
        403,
      );
    }
  }
});

test("a live stream is given to the bench's own pages only", async () => {
  const { raw, cookie } = await benchUnderTest();
  const live = (headers: Record<string, string>) =>
    raw("/api/live/changes", { headers: { cookie, ...headers } });
  expect((await live({})).status).toBe(403);
  expect((await live({ origin: "http://evil.example" })).status).toBe(403);
  expect((await live({ "sec-fetch-site": "cross-site" })).status).toBe(403);
  expect((await live({ origin: "http://evil.example", "sec-fetch-site": "same-origin" })).status).toBe(403);
  expect((await live({ "sec-fetch-site": "same-origin" })).status).not.toBe(403);
  expect((await live({ origin })).status).not.toBe(403);
});

test("every answer, refusals included, forbids foreign content, sniffing and framing", async () => {
  const { get, raw } = await benchUnderTest();
  for (const answer of [await get("/api/session"), await raw("/"), await get("/api/nothing")]) {
    const policy = answer.headers.get("content-security-policy") ?? "";
    expect(policy).toContain("default-src 'self'");
    expect(policy).toContain("img-src 'self' data:");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).not.toContain("unsafe");
    expect(answer.headers.get("x-content-type-options")).toBe("nosniff");
    expect(answer.headers.get("cache-control")).toBe("no-store");
  }
});

test("what a refusal repeats of the address is text on its page, not markup", async () => {
  const { get } = await benchUnderTest();
  const answer = await get("/<img src=x onerror=alert(1)>");
  expect(answer.status).toBe(404);
  expect(await answer.text()).not.toContain("<img");
});

test("the session tells the project's name to who has the key", async () => {
  const { get, root } = await benchUnderTest();
  const answer = await get("/api/session");
  expect(await answer.json()).toEqual({ project: root.split("/").at(-1), now: "2026-03-02T09:30:00.000Z" });
  expect(address).toBe("127.0.0.1:8127");
});
