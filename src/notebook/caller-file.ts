import { realpathSync } from "node:fs";
import { fileURLToPath } from "node:url";

/**
 * The file from which `callee` was called, as an absolute path; empty where it can't be told. The engine's own list of calls is
 * asked, not the printed stack, so that spaces, brackets, drive letters and source maps make no difference.
 */
export function callerFile(callee: (...args: never[]) => unknown): string {
  // Kept to be put back, never called from here.
  // eslint-disable-next-line @typescript-eslint/unbound-method
  const printer = Error.prepareStackTrace;
  const limit = Error.stackTraceLimit;
  try {
    Error.stackTraceLimit = 1;
    Error.prepareStackTrace = (_error, calls) => calls[0]?.getFileName() ?? "";
    const holder: { readonly stack?: unknown } = {};
    Error.captureStackTrace(holder, callee);
    return typeof holder.stack === "string" ? pathOf(holder.stack) : "";
  } finally {
    Error.prepareStackTrace = printer;
    Error.stackTraceLimit = limit;
  }
}

/** Path of a module as the engine names it: an address with, perhaps, a query, or a plain path. */
export function pathOf(module: string): string {
  if (!module.startsWith("file:")) return module.startsWith("node:") ? "" : module;
  const address = new URL(module);
  address.search = "";
  address.hash = "";
  return fileURLToPath(address);
}

/** True where both paths lead to one file, by whatever links and letter case the file system allows. */
export function isSameFile(one: string, other: string): boolean {
  if (one === "" || other === "") return false;
  return one === other || realPath(one) === realPath(other);
}

function realPath(path: string): string {
  try {
    return realpathSync.native(path);
  } catch {
    return path;
  }
}
