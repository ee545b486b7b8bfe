import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import type { Entry, Page, Runner, RunOptions } from "../../src/notebook/index.ts";
import { benchUnderTest, newProject } from "./bench-under-test.ts";

const titleBlock = {
  title: "Hello",
  trial: "",
  question: "",
  units: "",
  date: "2026-03-02",
  checksum: "",
  dataKind: "",
  source: "",
  softwareVersion: "0.1.0",
};

/** A runner that writes what it is told to, in the place of a worker with the whole library. */
function scripted(entriesOf: (options: RunOptions) => readonly Entry[], { endless = false } = {}): Runner {
  return {
    warm: async () => undefined,
    close: async () => undefined,
    run: async (file, options = {}) => {
      const entries = [...entriesOf(options)];
      entries.forEach((entry, index) => options.onEntry?.(entry, index));
      if (endless) {
        await new Promise((resolve) => options.signal?.addEventListener("abort", resolve, { once: true }));
        const stopped: Entry = { kind: "error", message: "Stopped by hand", file, line: null };
        options.onEntry?.(stopped, entries.length);
        entries.push(stopped);
      }
      return { title: "Hello", entries, titleBlock, dependencies: [file] } satisfies Page;
    },
  };
}

async function projectWithNotebook(): Promise<string> {
  const root = await newProject();
  await writeFile(join(root, "notebooks", "hello.ts"), "export default 1;\n");
  return root;
}

test("the notebooks of the project are listed", async () => {
  const { get } = await benchUnderTest({ root: await projectWithNotebook(), runner: scripted(() => []) });
  expect(await (await get("/api/notebooks")).json()).toEqual({ notebooks: ["hello"] });
});

test("a live page tells each entry as the HTML of a published page, then its title block", async () => {
  const root = await projectWithNotebook();
  const runner = scripted(() => [{ kind: "prose", markdown: "Ra <b>0.8</b> **µm**" }]);
  const { live } = await benchUnderTest({ root, runner });
  const stream = await live("/api/live/notebooks/hello");
  expect(stream.response.headers.get("content-type")).toContain("text/event-stream");
  const { data } = await stream.next("entry");
  expect(data).toMatchObject({ index: 0, kind: "prose" });
  expect((data as { html: string }).html).toContain("<strong>µm</strong>");
  expect((data as { html: string }).html).not.toContain("<b>");
  expect((await stream.next("page")).data).toEqual({ title: "Hello", titleBlock, entries: 1, failed: false });
});

test("saving the file runs the notebook again", async () => {
  const root = await projectWithNotebook();
  let runs = 0;
  const runner = scripted(() => [{ kind: "prose", markdown: `run ${(runs += 1)}` }]);
  const { live } = await benchUnderTest({ root, runner });
  const stream = await live("/api/live/notebooks/hello");
  await stream.next("page");
  await writeFile(join(root, "notebooks", "hello.ts"), "export default 2;\n");
  expect(((await stream.next("entry")).data as { html: string }).html).toContain("run 2");
});

test("answers come with the address of the page", async () => {
  const root = await projectWithNotebook();
  const runner = scripted(({ answers }) => [{ kind: "prose", markdown: JSON.stringify(answers) }]);
  const { live } = await benchUnderTest({ root, runner });
  const stream = await live("/api/live/notebooks/hello?answer.Limit+on+Ra=0.8+%C2%B5m&other=1");
  const { html } = (await stream.next("entry")).data as { html: string };
  expect(html).toContain("{&quot;Limit on Ra&quot;:&quot;0.8 µm&quot;}");
});

test("the stop button ends a run that would not end, and what came before stays", async () => {
  const root = await projectWithNotebook();
  const runner = scripted(() => [{ kind: "prose", markdown: "before" }], { endless: true });
  const { live, post } = await benchUnderTest({ root, runner });
  const stream = await live("/api/live/notebooks/hello");
  const started = (await stream.next("start")).data as { stream: string };
  await stream.next("entry");
  expect((await post("/api/notebooks/stop", started)).status).toBe(200);
  expect((await stream.next("page")).data).toMatchObject({ entries: 2, failed: true });
});

test("a page that was closed can't be stopped, and says so", async () => {
  const { post } = await benchUnderTest({ runner: scripted(() => []) });
  const answer = await post("/api/notebooks/stop", { stream: "8a0f1c9e-5b0a-4c69-9d3a-0d8c7ff0f9d1" });
  expect(answer.status).toBe(404);
  expect(await answer.json()).toEqual({
    error: "That page is not open any more, so there is nothing to stop.",
  });
});

test("a notebook outside the folder can't be run, however its name is written", async () => {
  const { raw, cookie } = await benchUnderTest({ runner: scripted(() => []) });
  const headers = { cookie, "sec-fetch-site": "same-origin" };
  for (const name of ["%2e%2e%2fsecret", "..%2fsecret", "%2Fetc%2Fpasswd", "a%00b", "missing"]) {
    const answer = await raw(`/api/live/notebooks/${name}`, { headers });
    expect([400, 404], name).toContain(answer.status);
  }
});
