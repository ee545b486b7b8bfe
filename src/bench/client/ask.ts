/** Why the bench did not do what it was asked: its own message, meant to be shown whole. */
export class Refused extends Error {
  override readonly name = "Refused";
  readonly status: number;

  constructor(status: number, message: string) {
    super(message);
    this.status = status;
  }
}

const unreachable =
  "The bench does not answer. Its window may be closed: start it again; what is typed here is kept until then.";

const lostKey =
  "The bench was started anew, and this page still holds the old key. Open the address that the bench printed; readings that said saved are there.";

async function answerOf<Answer>(send: () => Promise<Response>): Promise<Answer> {
  let response: Response;
  try {
    response = await send();
  } catch {
    throw new Refused(0, unreachable);
  }
  const body: unknown = await response.json().catch(() => ({}));
  if (response.ok) return body as Answer; // The server's answers are typed by api.ts, which both sides share.
  if (response.status === 401) throw new Refused(401, lostKey);
  const message =
    typeof body === "object" && body !== null && "error" in body && typeof body.error === "string"
      ? body.error
      : `The bench answered ${response.status} without a reason.`;
  throw new Refused(response.status, message);
}

/** Reads an answer of the bench. */
export function ask<Answer>(address: string, { signal }: { signal?: AbortSignal } = {}): Promise<Answer> {
  return answerOf(() =>
    fetch(address, { headers: { Accept: "application/json" }, ...(signal ? { signal } : {}) }),
  );
}

/** Asks the bench to do something. */
export function tell<Answer>(
  address: string,
  body: unknown,
  { signal }: { signal?: AbortSignal } = {},
): Promise<Answer> {
  return answerOf(() =>
    fetch(address, {
      method: "POST",
      headers: { "Content-Type": "application/json", Accept: "application/json" },
      body: JSON.stringify(body),
      ...(signal ? { signal } : {}),
    }),
  );
}

/** What to show of an error. */
export function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
