import type { Surface } from "../fit.ts";
import type { Solved } from "../solved.ts";
import { formatNumber } from "../../units/index.ts";
import { unitText } from "../words.ts";

/** "Ra is lowest near feed 0.12 mm/rev, speed 210 m/min, at 0.61 µm; that lies within what was cut." */
export function formatSurface(surface: Omit<Surface, "text">, { observations, design }: Solved): string {
  const { name, unit } = observations.response;
  if (surface.stationary === null || surface.value === null) {
    return `The surface of ${name} is a ridge: it has no single level point.`;
  }
  const place = Object.entries(surface.stationary)
    .map(
      ([factor, value]) =>
        `${factor} ${formatNumber(value, { digits: 3 })}${unitText(design.factors.find((one) => one.name === factor)!.unit)}`,
    )
    .join(", ");
  const value = `${formatNumber(surface.value, { digits: 4 })}${unitText(unit)}`;
  const where = surface.inside
    ? "that lies within what was cut"
    : "that lies outside what was cut and is no setting to trust";
  if (surface.shape === "saddle") {
    return `${name} is level near ${place}, at ${value}, a saddle: it rises one way and falls another; ${where}.`;
  }
  return `${name} is ${surface.shape === "maximum" ? "highest" : "lowest"} near ${place}, at ${value}; ${where}.`;
}
