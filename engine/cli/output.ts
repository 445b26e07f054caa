/** Where a command writes. */
export interface Output {
  readonly out: (text: string) => void;
  readonly error: (text: string) => void;
}

/** The call or a file could not be used: one line on standard error, exit status 2. */
export class CallFault extends Error {}
