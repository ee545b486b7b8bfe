import { useEffect } from "preact/hooks";

export type Listeners = Readonly<Record<string, (data: unknown) => void>>;

/**
 * Listens to a live stream of the bench while the page shows. A hidden page lets go of its stream, as browsers allow
 * six to one server, and asks again for everything when it is shown.
 */
export function useLive(address: string, listeners: Listeners, onLost: () => void = () => undefined): void {
  useEffect(() => {
    let source: EventSource | undefined;
    const open = () => {
      source = new EventSource(address);
      for (const [event, listener] of Object.entries(listeners)) {
        source.addEventListener(event, (message) => listener(JSON.parse(String(message.data))));
      }
      source.addEventListener("error", onLost);
    };
    const close = () => {
      source?.close();
      source = undefined;
    };
    const onVisibility = () => {
      if (document.visibilityState === "hidden") close();
      else if (!source) open();
    };
    if (document.visibilityState !== "hidden") open();
    document.addEventListener("visibilitychange", onVisibility);
    return () => {
      document.removeEventListener("visibilitychange", onVisibility);
      close();
    };
    // The listeners of the first render are kept: they work on signals, never on what a render held.
  }, [address]);
}
