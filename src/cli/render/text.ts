import { Chalk } from 'chalk';
import wrapAnsi from 'wrap-ansi';

/** How text is set: the width of a line, and whether emphasis is shown by more than words. */
export interface Setting {
  readonly width: number;
  readonly color: boolean;
}

const NARROWEST = 40;
const WIDEST = 110;

/** Printable ASCII takes a column a character, so a short line of it needs no measuring. */
const isShortLine = (text: string, width: number): boolean => text.length <= width && /^[ -~]*$/.test(text);

/** Columns that a line may take. */
export function textWidth({ width }: Setting): number {
  return Math.min(Math.max(width, NARROWEST), WIDEST);
}

/** Text wrapped to the terminal, each further line indented under the first. */
export function wrapped(text: string, setting: Setting, indent = 0, hanging = indent): string {
  const room = textWidth(setting) - hanging;
  const lines = isShortLine(text, room) ? [text] : wrapAnsi(text, room, { hard: true }).split('\n');
  return lines.map((line, at) => `${' '.repeat(at === 0 ? indent : hanging)}${line}\n`).join('');
}

/** Headings stand out by weight, never by colour alone. */
export function heading(text: string, setting: Setting): string {
  const chalk = new Chalk({ level: setting.color ? 1 : 0 });
  return `\n${chalk.bold(text)}\n`;
}
