import { computed, signal } from "@preact/signals";

/** Where the reader is: the address is the only memory of it, so that a page can be opened again or sent on. */
export interface Place {
  readonly path: string;
  readonly query: URLSearchParams;
}

function readPlace(): Place {
  return { path: location.pathname, query: new URLSearchParams(location.search) };
}

const current = signal<Place>(readPlace());

export const place = computed(() => current.value);

/** Set before leaving a page with something unsaved; returns why to stay, or an empty text. */
export const reasonToStay = signal<() => string>(() => "");

function mayLeave(): boolean {
  const reason = reasonToStay.value();
  return reason === "" || confirm(`${reason}\n\nLeave all the same?`);
}

/** Goes to another page of the bench. */
export function go(address: string): void {
  if (!mayLeave()) return;
  reasonToStay.value = () => "";
  history.pushState(null, "", address);
  current.value = readPlace();
  window.scrollTo(0, 0);
}

/** Changes the address of the page that is open, for settings that belong to it. */
export function changeQuery(change: Readonly<Record<string, string | null>>): void {
  const query = new URLSearchParams(location.search);
  for (const [name, value] of Object.entries(change)) {
    if (value === null) query.delete(name);
    else query.set(name, value);
  }
  const text = query.toString();
  history.replaceState(null, "", location.pathname + (text === "" ? "" : `?${text}`));
  current.value = readPlace();
}

function isPlainClick(event: MouseEvent): boolean {
  return event.button === 0 && !event.metaKey && !event.ctrlKey && !event.shiftKey && !event.altKey;
}

/** Follows links of the bench without loading the page anew. */
export function followLinks(): void {
  addEventListener("popstate", () => {
    current.value = readPlace();
  });
  addEventListener("beforeunload", (event) => {
    if (reasonToStay.value() !== "") event.preventDefault();
  });
  document.addEventListener("click", (event) => {
    const link = event.target instanceof Element ? event.target.closest("a") : null;
    if (!link || !isPlainClick(event) || link.origin !== location.origin) return;
    if (link.target !== "" || link.hasAttribute("download") || link.pathname.startsWith("/api/")) return;
    if (link.pathname === location.pathname && link.hash !== "") return;
    event.preventDefault();
    go(link.pathname + link.search);
  });
}

/** The parts of an address, decoded: "/trials/seal-face/plan" is ["trials", "seal-face", "plan"]. */
export function partsOf(path: string): readonly string[] {
  return path
    .split("/")
    .filter((part) => part !== "")
    .map((part) => decodeURIComponent(part));
}

/** An address made of parts, encoded. */
export function addressOf(...parts: readonly string[]): string {
  return `/${parts.map((part) => encodeURIComponent(part)).join("/")}`;
}
