/**
 * What `npm run build` put into one file with all it needs: the library, the command, or the work of threads. Null where the file is
 * missing or older than one of its sources, which are then to be loaded one by one.
 * @param place the folder that holds the file and the list of its sources; default `src/built/`
 * @returns the file's address
 */
export function builtAhead(name: "library" | "command" | "threads", place?: URL): Promise<string | null>;
