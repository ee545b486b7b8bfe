import { parseHTML } from "linkedom";

/** A fresh, empty document to draw on; each figure that is not given one takes its own, so that nothing is shared. */
export function blankDocument(): Document {
  return parseHTML("<!doctype html><html><body></body></html>").document;
}
