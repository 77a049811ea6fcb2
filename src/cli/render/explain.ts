import { Chalk } from 'chalk';
import stringWidth from 'string-width';
import { kindTitle } from '../../explain/asked.ts';
import { TOPIC_KINDS, type Topic, type TopicKind } from '../../explain/topic.ts';
import { printable } from './printable.ts';
import { heading, type Setting, textWidth, wrapped } from './text.ts';

const INDENT = 2;
const LABEL_WIDTH = 10;
const GAP = 2;

/** Text of a protocol on one line. */
const plain = (text: string): string => printable(text.replace(/\s+/g, ' ').trim());

/** Wraps with a number and its % on one line. */
function set(text: string, setting: Setting, indent: number): string {
  return wrapped(text.replace(/(\d) (?=%)/g, '$1\u00a0'), setting, indent).replaceAll('\u00a0', ' ');
}

/** A labelled part, its text beside the label. */
function part(label: string, text: string | undefined, setting: Setting): string {
  if (text === undefined || text === '') return '';
  const hanging = INDENT + LABEL_WIDTH;
  const block = set(plain(text), setting, hanging);
  return ' '.repeat(INDENT) + label.padEnd(LABEL_WIDTH) + block.slice(hanging);
}

/** One topic: name, kind and title, what it is, then what it rests on. */
export function topicText(topic: Topic, setting: Setting): string {
  const { name, kind, title, definition, formula, unit, source, caution, where, see, later } = topic;
  const chalk = new Chalk({ level: setting.color ? 1 : 0 });
  const head = wrapped(`${plain(name)} (${kind}): ${plain(title)}`, setting, 0, INDENT);
  const shownName = plain(name);
  const first = head.startsWith(shownName) ? chalk.bold(shownName) + head.slice(shownName.length) : head;
  const body = later ? `${definition} Not in this version yet.` : definition;
  return (
    first +
    set(plain(body), setting, INDENT) +
    part('Formula', formula, setting) +
    part('Unit', unit, setting) +
    part('Source', source, setting) +
    part('Caution', caution, setting) +
    part('Where', where, setting) +
    part('See also', see?.join(', '), setting)
  );
}

/** Names in columns that fit the width, read downwards. */
export function fittedColumns(names: readonly string[], setting: Setting): string {
  const room = textWidth(setting) - INDENT;
  const widths = names.map((name) => stringWidth(name));
  for (let rows = 1; ; rows++) {
    const columns = Math.ceil(names.length / rows);
    const columnWidths = Array.from({ length: columns }, (_, at) =>
      Math.max(0, ...widths.slice(at * rows, (at + 1) * rows)),
    );
    const total = columnWidths.reduce((sum, width) => sum + width + GAP, -GAP);
    if (total > room && rows < names.length) continue;
    let text = '';
    for (let row = 0; row < rows; row++) {
      let line = '';
      for (let column = 0; column < columns; column++) {
        const at = column * rows + row;
        if (at < names.length) line += names[at] + ' '.repeat(columnWidths[column] - widths[at] + GAP);
      }
      text += `${' '.repeat(INDENT)}${line.trimEnd()}\n`;
    }
    return text;
  }
}

/** Names of all topics by kind. */
export function namesText(topics: readonly Topic[], setting: Setting): string {
  let text = wrapped('What can be explained: bilat explain NAME', setting);
  for (const kind of TOPIC_KINDS) {
    const names = topics.filter((topic) => topic.kind === kind).map(({ name }) => plain(name));
    if (names.length > 0) text += heading(kindTitle(kind), setting) + fittedColumns(names, setting);
  }
  return text;
}

/** Names and titles of one kind, a line each where that fits. */
export function kindText(kind: TopicKind, topics: readonly Topic[], setting: Setting): string {
  const shown = topics.filter((topic) => topic.kind === kind);
  const names = shown.map(({ name }) => plain(name));
  const widest = Math.min(Math.max(0, ...names.map((name) => stringWidth(name))), 30);
  const hanging = INDENT + widest + GAP;
  const lines = shown.map(({ title }, at) => {
    const block = wrapped(plain(title), setting, hanging);
    const name = names[at] + ' '.repeat(Math.max(0, widest - stringWidth(names[at])));
    const isLong = stringWidth(names[at]) > widest;
    return isLong ? `${' '.repeat(INDENT)}${name}\n${block}` : ' '.repeat(INDENT) + name + block.slice(INDENT + widest);
  });
  const chalk = new Chalk({ level: setting.color ? 1 : 0 });
  const nothing = shown.length === 0 ? wrapped('None.', setting, INDENT) : '';
  return `${chalk.bold(kindTitle(kind))}\n${lines.join('')}${nothing}`;
}

/** Of which protocol the measures, rules and programmes are. */
export function protocolText(name: string, file: string | undefined, setting: Setting): string {
  const where = file === undefined ? 'the starter that comes with bilat, as there is no screening folder here' : file;
  return wrapped(`Protocol: ${plain(name)} (${plain(where)}).`, setting, 0, INDENT);
}
