/** What a command may ask of the world around it; tests hand in one of their own. */
export interface Environment {
  /** Results. */
  readonly stdout: (text: string) => void;
  /** Everything else: diagnostics, progress, what was written where. */
  readonly stderr: (text: string) => void;
  /**
   * The first `limit` bytes of a file; `-` is standard input. Throws as Node does, with a `code` such
   * as `ENOENT`.
   */
  readonly readFile: (path: string, limit: number) => Uint8Array;
  /** Throws as Node does. */
  readonly writeFile: (path: string, text: string) => void;
  /** The interactive page as it was built; nothing if it was not. */
  readonly page?: () => string | undefined;
  /** Names in a folder; none if it cannot be listed. */
  readonly listFolder: (path: string) => readonly string[];
  /** Shows how far a long run has come, in place of what it showed before; nothing where nobody watches. */
  readonly progress?: (text: string) => void;
  /** Whether somebody has asked for an end, such as by Ctrl-C, since `pause` was last called. */
  readonly interrupted?: () => boolean;
  /** Lets the world around have its turn. */
  readonly pause?: () => Promise<void>;
  /** Standard input is a person typing, who may not know that somebody waits. */
  readonly keyboard?: boolean;
  /** Characters to a line. */
  readonly width: number;
  /** Whether results, and whether diagnostics, may be coloured. */
  readonly color: boolean;
  readonly errorColor: boolean;
}
