export interface LiveEvent {
  readonly event: string;
  readonly data: unknown;
}

export interface LiveStream {
  readonly response: Response;
  /** The next event of this name; others on the way are passed over. */
  readonly next: (event: string) => Promise<LiveEvent>;
  readonly close: () => Promise<void>;
}

function parsed(block: string): LiveEvent {
  const line = (name: string) =>
    block
      .split("\n")
      .filter((each) => each.startsWith(`${name}:`))
      .map((each) => each.slice(name.length + 1).trim())
      .join("\n");
  return { event: line("event"), data: JSON.parse(line("data")) as unknown };
}

/** Reads server-sent events from an answer, one after the other. */
export function liveStream(response: Response): LiveStream {
  const reader = response.body?.getReader();
  const decoder = new TextDecoder();
  let text = "";
  const next = async (event: string): Promise<LiveEvent> => {
    for (;;) {
      const end = text.indexOf("\n\n");
      if (end >= 0) {
        const found = parsed(text.slice(0, end));
        text = text.slice(end + 2);
        if (found.event === event) return found;
        continue;
      }
      const chunk = await reader?.read();
      if (chunk === undefined || chunk.done) throw new Error(`The stream ended without "${event}".`);
      text += decoder.decode(chunk.value, { stream: true });
    }
  };
  return { response, next, close: async () => reader?.cancel() };
}
