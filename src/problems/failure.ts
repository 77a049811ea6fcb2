/** One thing that is wrong, where it is, and what to do. Line and column count from 1. */
export interface Trouble {
  readonly file?: string;
  readonly line?: number;
  readonly column?: number;
  /** what is wrong, with the value and the rule it broke; one sentence, no full stop needed */
  readonly message: string;
  /** what to do */
  readonly hint?: string;
  /** lines of YAML that do it, in block style, to be pasted as they are */
  readonly paste?: readonly string[];
}

/** Exit code 2: wrong use, protocol or folder. 3: could not run. */
export class Failure extends Error {
  readonly exitCode: 2 | 3;
  readonly troubles: readonly Trouble[];

  constructor(exitCode: 2 | 3, troubles: Trouble | readonly Trouble[]) {
    const list = Array.isArray(troubles) ? (troubles as readonly Trouble[]) : [troubles as Trouble];
    super(list.map(troubleText).join('\n'));
    this.name = 'Failure';
    this.exitCode = exitCode;
    this.troubles = list;
  }
}

const PASTE_INDENT = '    ';

/** `file:line:column: message. Hint.`, and below it the lines to paste, each on a line of its own. */
export function troubleText({ file, line, column, message, hint, paste = [] }: Trouble): string {
  const place = [file, line, column].filter((part) => part !== undefined).join(':');
  const below = [...(hint ? [`  ${hint}`] : []), ...paste.map((one) => `${PASTE_INDENT}${one}`)];
  return [`${place ? `${place}: ` : ''}${message}`, ...below].join('\n');
}
