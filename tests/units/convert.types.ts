// Compiled by `tsc --noEmit` and never run: each line marked as an error must fail to compile, or the compiler complains.
import { add, compare, convert, parseQuantity, quantity, subtract, valueIn } from "../../src/units/index.ts";
import type { Quantity } from "../../src/units/index.ts";

const depth = quantity(0.2, "mm");
const finish = quantity(0.8, "µm");
const speed = quantity(1000, "rev/min");
const feed = quantity(0.1, "mm/rev");

export const sum: Quantity<"length"> = add(depth, finish);
export const asAny: Quantity = sum;

// @ts-expect-error a length and a spindle speed can't be added
export const nonsense = add(depth, speed);
// @ts-expect-error a feed per revolution is no length
export const feedAsLength = subtract(depth, feed);
// @ts-expect-error a length and a spindle speed can't be compared
export const comparison = compare(finish, speed);
// @ts-expect-error a length has no number of rev/min
export const asSpeed = valueIn(depth, "rev/min");
// @ts-expect-error mm does not convert to rev/min
export const conversion = convert(1, "mm", "rev/min");
// @ts-expect-error "mmm" is no unit
export const unknownUnit = quantity(1, "mmm");
// @ts-expect-error a text read as a length is no feed
export const parsed: Quantity<"feed per revolution"> = parseQuantity("0.1", { unit: "mm" });
// @ts-expect-error a spindle speed is no surface speed
export const surface: Quantity<"speed"> = speed;

export const fromInches: number = convert(1, "in", "mm");
export const parsedFeed: Quantity<"feed per revolution"> = parseQuantity("0.010 ipr", { unit: "mm/rev" });
export const parsedTime: Quantity<"time"> = parseQuantity("3 min", { dimension: "time" });
