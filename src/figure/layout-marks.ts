import * as Plot from "@observablehq/plot";
import type { Framed } from "./frame.ts";
import type { KeyEntry } from "./key.ts";
import { lettering, palette } from "./palette.ts";
import { roleNames } from "./planned-runs.ts";
import type { Cluster } from "./run-clusters.ts";
import type { Run, RunRole } from "../trial/index.ts";

/** The marks of the runs at one place, each with its number, drawn by role. */
export function clusterMarks(cluster: Cluster, on: Framed): readonly Plot.Markish[] {
  return cluster.marks.map(({ x, y, text, radius, role }) => {
    const place = [{ x: on.x.back(x), y: on.y.back(y) }];
    const filled = isFilled(role);
    return [
      Plot.dot(place, {
        x: "x",
        y: "y",
        r: radius,
        symbol: symbols[shapeOf(role)],
        fill: filled ? (role === "anchor" ? palette.ink : palette.accent) : palette.paper,
        stroke: role === "anchor" ? palette.ink : palette.accent,
        strokeWidth: 1.4,
        strokeDasharray: role === "added" || role === "proof" ? "3 2" : "none",
        className: "part-runs",
      }),
      Plot.text(place, {
        x: "x",
        y: "y",
        text: () => text,
        fontSize: lettering.small,
        fill: filled ? palette.paper : palette.ink,
        className: "part-run-numbers",
      }),
    ];
  });
}

const symbols = { circle: "circle", diamond: "diamond2", square: "square2" } as const;

function shapeOf(role: RunRole): keyof typeof symbols {
  if (role === "axial" || role === "edge") return "diamond";
  return role === "anchor" ? "square" : "circle";
}

function isFilled(role: RunRole): boolean {
  return role === "centre" || role === "anchor";
}

/** What the marks stand for, where there is more than one role. */
export function roleKey(runs: readonly Run[]): readonly KeyEntry[] {
  const roles = [...new Set(runs.map((run) => run.role))];
  if (roles.length < 2) return [];
  return roles.map((role) => ({
    sign: "dot" as const,
    fill: isFilled(role) ? (role === "anchor" ? palette.ink : palette.accent) : palette.paper,
    stroke: role === "anchor" ? palette.ink : palette.accent,
    radius: 5.5,
    shape: shapeOf(role),
    text: `${roleNames[role]} (${runs.filter((run) => run.role === role).length})`,
  }));
}
