/** What the client is told before it shows anything. */
export interface Session {
  /** The name of the project's folder. */
  readonly project: string;
  /** ISO 8601. */
  readonly now: string;
}
