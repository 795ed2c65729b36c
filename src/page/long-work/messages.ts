/** What page and worker say to each other. */
export interface Request {
  readonly job: string;
  readonly input: unknown;
}

/** What is being done may end here; a job in steps answers with what it has. */
export interface Stop {
  readonly stop: true;
}

export type Reply =
  | { readonly kind: "progress"; readonly share: number }
  | { readonly kind: "done"; readonly output: unknown }
  /** A fault of ours: no input of a user's leads here. */
  | { readonly kind: "failed"; readonly message: string };
