import { type DateOrder, monthNumber } from '../units/dates.ts';
import { foldKey } from '../units/keys.ts';

export type Label = 'date' | 'team' | 'tester' | 'device' | 'station';
export const TEXT_LABELS = ['team', 'tester', 'device', 'station'] as const;

/** Folded. */
const LABELS: { readonly [label in Label]: readonly string[] } = {
  date: [
    'date',
    'dates',
    'test date',
    'testing date',
    'screening date',
    'assessment date',
    'measurement date',
    'session date',
    'date of test',
    'date of tests',
    'date of testing',
    'date of screening',
    'date of assessment',
    'date of measurement',
    'date tested',
    'date screened',
    'tested',
    'tested on',
    'screened on',
    'measured on',
  ],
  team: ['team', 'team name', 'sport', 'squad', 'sport team', 'team sport'],
  tester: [
    'tester',
    'testers',
    'tester name',
    'name of tester',
    'examiner',
    'assessor',
    'tested by',
    'measured by',
    'assessed by',
    'screened by',
    'examined by',
    'taken by',
    'recorded by',
  ],
  device: ['device', 'device used', 'instrument', 'instrument used', 'dynamometer', 'equipment', 'equipment used'],
  station: ['station', 'station name', 'test station', 'testing station', 'screening station'],
};
export const LABEL_OF: ReadonlyMap<string, Label> = new Map(
  Object.entries(LABELS).flatMap(([label, keys]) => keys.map((key) => [key, label as Label])),
);
/** The time in `17/08/2026 10:30` makes no label of the date before it. */
const LABELLED = /^([^:=]{0,40}[^:=\d\s])(?:\s*#?\d{1,2})?\s*[:=]\s*(.*)$/s;
const FORMAT = /\(([^()]{1,20})\)/;
const STATION_BEHIND = /^([^\d\s]\S{0,20}(?: \S{1,20}){0,2}) station$/i;
const NO_STATION = /^(?:test|testing|screening|pre-?season|each|this|per|one)\b/i;
const NUMERIC_DAY = /^\d{1,2}(?:[-/.]\d{1,2}\.?)?$/;
const DAY_WITH_MONTH = /^(?:\d{1,2}(?:st|nd|rd|th)?\.? ?([a-z]{3,9})?|([a-z]{3,9})\.? \d{1,2}(?:st|nd|rd|th)?)$/i;
/** Words beside dates that are not the day of the test. */
export const OTHER_DAY = new RegExp(
  '\\b(?:print|updat|creat(?:ed|ion)|revis|modif|export|generat|download|calibrat|approv|issued|saved|dob|birth|born|version' +
    '|page|due|deadline|next|expir|valid|effective|(?:start|end) date|last (?:test|screen|session|season|year)|previous' +
    '|season (?:start|begin|open|end))',
  'i',
);
/** `Preseason screening: 17 August 2026`: words of a title, whatever the colon behind them. */
const TITLE_WORD = /\b(?:screen|test|assess|session|pre-?season|measure|result|data|sheet|group|club)/i;

export interface LabelRead {
  /** title: words of a title that say nothing themselves; other: a label of something that is no fact for us */
  readonly kind: Label | 'title' | 'other';
  /** '' if the label stands alone */
  readonly value: string;
  /** whether a colon marks it as a label */
  readonly marked: boolean;
  /** the order that a label names: `Date (dd/mm/yyyy)` */
  readonly order?: DateOrder;
}

/** The label that a part starts with, or is. */
export function readLabel(text: string): LabelRead | undefined {
  const match = LABELLED.exec(text);
  const written = match === null ? text : match[1];
  const value = match === null ? '' : match[2];
  const marked = match !== null;
  const kind = LABEL_OF.get(foldKey(written.replace(FORMAT, ' ')));
  if (kind !== undefined) return { kind, value, marked, order: orderOf(FORMAT.exec(written)?.[1]) };
  if (OTHER_DAY.test(written)) return { kind: 'other', value, marked };
  return marked ? { kind: TITLE_WORD.test(written) ? 'title' : 'other', value, marked } : undefined;
}

/** The order of `dd/mm/yyyy` and its like. */
function orderOf(format: string | undefined): DateOrder | undefined {
  if (format === undefined) return undefined;
  const letters = format.toLowerCase().replace(/[^a-z]/g, '');
  const order = /^(?:(d{1,2}m{1,2}y{2,4})|(m{1,2}d{1,2}y{2,4})|y{2,4}m{1,2}d{1,2})$/.exec(letters);
  if (order === null) return undefined;
  return order[1] !== undefined ? 'dmy' : order[2] !== undefined ? 'mdy' : 'ymd';
}

/** `Hip station` and `Station 3`. */
export function stationOf(text: string): string | undefined {
  const name = STATION_BEHIND.exec(text)?.[1];
  if (name !== undefined) return NO_STATION.test(name) ? undefined : name;
  return /^station ([a-z]|\d{1,2})$/i.exec(text)?.[1];
}

/** `17`, `17 August`, `Aug 17`, `17/08`: the first of several days that share a year. */
export function isDayWithoutYear(text: string): boolean {
  if (NUMERIC_DAY.test(text)) return true;
  const match = DAY_WITH_MONTH.exec(text);
  if (match === null) return false;
  const month = match[1] ?? match[2];
  return month === undefined || monthNumber(month) !== undefined;
}
