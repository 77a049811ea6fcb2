import { wrapped } from './text.ts';

/** Lines to be copied are indented so far, and stay as they are. */
const VERBATIM = /^ {4}/;
const HANGING = 2;

/** Notes and problems broken to the width of a terminal, what follows indented under the first line. */
export function fitted(text: string, width: number): string {
  const setting = { width, color: false };
  const body = text.endsWith('\n') ? text.slice(0, -1) : text;
  const lines = body.split('\n').map((line) => {
    if (line.length <= width || VERBATIM.test(line)) return `${line}\n`;
    const indent = /^ */.exec(line)![0].length;
    return wrapped(line.trimStart(), setting, indent, Math.max(indent, HANGING));
  });
  const all = lines.join('');
  return text.endsWith('\n') ? all : all.slice(0, -1);
}
