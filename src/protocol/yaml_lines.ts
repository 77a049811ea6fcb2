import { quotedYaml, shortened } from './quoting.ts';

/** A value as it stands in its line. */
export interface LineValue {
  readonly value: string;
  /** offset of its first character */
  readonly start: number;
  readonly key?: string;
}

/** Offsets of the line that holds an offset, without its line break. */
export function lineAround(text: string, offset: number): { readonly from: number; readonly to: number } {
  const to = text.indexOf('\n', offset);
  return { from: offset === 0 ? 0 : text.lastIndexOf('\n', offset - 1) + 1, to: to < 0 ? text.length : to };
}

export function lineText(text: string, offset: number): string {
  const { from, to } = lineAround(text, offset);
  return text.slice(from, to);
}

/** The unquoted value around an offset: from the comma, colon or dash before it to the comma or bracket that ends it. */
export function valueAround(text: string, offset: number): LineValue {
  const { from, to } = lineAround(text, offset);
  let start = offset;
  for (let depth = 0; start > from; start--) {
    const mark = text[start - 1];
    if (mark === ']') depth++;
    else if (mark === '[' && depth-- === 0) break;
    else if (mark === '{' || mark === ',') break;
    else if (mark === ' ' && (text[start - 2] === ':' || text[start - 2] === '-')) break;
  }
  let end = offset;
  for (let depth = 0; end < to; end++) {
    const mark = text[end];
    if (mark === '[') depth++;
    else if (mark === ']' && --depth < 0) break;
    else if (mark === ',' || mark === '}' || (mark === '#' && text[end - 1] === ' ')) break;
  }
  const raw = text.slice(start, end);
  return { value: raw.trim(), start: start + raw.length - raw.trimStart().length };
}

/** The value of a line that is all one value: what follows the first colon or the dash. */
export function valueOfLine(text: string, offset: number): LineValue {
  const { from } = lineAround(text, offset);
  const line = lineText(text, offset);
  const colon = line.indexOf(': ');
  const dash = line.indexOf('- ');
  const at = colon >= 0 ? colon + 2 : dash >= 0 ? dash + 2 : 0;
  const rest = line.slice(at);
  const key = colon >= 0 ? line.slice(0, colon).trim() : undefined;
  return { value: rest.trim(), start: from + at + rest.length - rest.trimStart().length, key };
}

/** The hint that shows a value, with its key if that is known, in quotes. */
export function inQuotes({ value, key }: Pick<LineValue, 'value' | 'key'>): string {
  return `Put it in quotes: ${key ? `${key}: ` : ''}${quotedYaml(shortened(value, 120))}.`;
}
