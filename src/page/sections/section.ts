import type { FunctionComponent } from "preact";

/** A numbered section of the sheet. */
export interface Section {
  /** Its place in the address, and the key under which it keeps what is its own. */
  readonly id: string;
  readonly title: string;
  readonly Content: FunctionComponent;
}
