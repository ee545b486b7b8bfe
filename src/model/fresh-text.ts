import { listed } from "../units/index.ts";

/** "in a set-up of its own", "on a fresh day": what a further part brings of its own; empty for a fit without random sources. */
export function freshText(sources: readonly string[]): string {
  const others = sources.filter((name) => name !== "whole plot");
  const parts = [
    ...(others.length < sources.length ? ["in a set-up of its own"] : []),
    ...(others.length > 0 ? [`on a fresh ${listed(others)}`] : []),
  ];
  return parts.join(", ");
}
