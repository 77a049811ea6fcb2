/** The two thin ends of a command: what it may read and write. Tests put their own in its place. */
export interface Io {
  readonly cwd: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  /** whether standard output is a terminal */
  readonly isTerminal: boolean;
  /** whether standard error is one: progress is shown only there */
  readonly isErrorTerminal: boolean;
  /** width of the terminal in columns */
  readonly width: number;
  readonly color: boolean;
  out(text: string): void | Promise<void>;
  /** notes and problems; control characters are taken out */
  err(text: string): void;
  /** puts a line of progress in the place of the one before, '' takes it away; only on a terminal */
  progress(text: string): void;
  stdin(): AsyncIterable<Uint8Array>;
}
