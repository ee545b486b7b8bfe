/** A computation about cutting that was refused: what was given, what was expected, how to mend it. */
export class CuttingError extends Error {
  override readonly name = "CuttingError";
}

/** Checks numbers at the door by the names that the caller knows: finite and above zero. */
export function checkPositive(values: Readonly<Record<string, number>>): void {
  for (const [name, value] of Object.entries(values)) {
    if (Number.isFinite(value) && value > 0) continue;
    throw new CuttingError(
      `${name} is ${value}; expected a finite number above zero. Give the size in the unit of the name.`,
    );
  }
}

/** Like {@link checkPositive}, where nothing at all is a size too. */
export function checkNotNegative(values: Readonly<Record<string, number>>): void {
  for (const [name, value] of Object.entries(values)) {
    if (Number.isFinite(value) && value >= 0) continue;
    throw new CuttingError(
      `${name} is ${value}; expected a finite number, zero or more. Give the size in the unit of the name.`,
    );
  }
}

/** Edge angles: above 0°, at most 90°. */
export function checkEdgeAngle(angles: Readonly<Record<string, number>>): void {
  for (const [name, angle] of Object.entries(angles)) {
    if (Number.isFinite(angle) && angle > 0 && angle <= 90) continue;
    throw new CuttingError(
      `${name} is ${angle}; expected an angle above 0° and at most 90°. Measure it from the feed direction.`,
    );
  }
}
