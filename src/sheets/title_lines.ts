import { type DateOrder, type DateReading, readDate } from '../units/dates.ts';
import { isoDay } from '../units/days.ts';
import { foldKey } from '../units/keys.ts';
import { ignoredHeading, roleOfHeading } from './roles.ts';
import {
  isDayWithoutYear,
  LABEL_OF,
  type Label,
  type LabelRead,
  OTHER_DAY,
  readLabel,
  stationOf,
  TEXT_LABELS,
} from './title_labels.ts';
import { type Part, partsOf } from './title_parts.ts';

/** What a title line says, and where. */
export interface TitleFact {
  readonly text: string;
  /** row and column of the cell that holds it, from 0 */
  readonly row: number;
  readonly at: number;
  /** column of the label, if it stands in another cell of the row */
  readonly labelAt?: number;
}

/** What the lines above the headings say of all rows below. */
export interface TitleFacts {
  /** day: days since 1970-01-01 */
  readonly date?: TitleFact & { readonly day: number };
  readonly team?: TitleFact;
  readonly tester?: TitleFact;
  readonly device?: TitleFact;
  readonly station?: TitleFact;
  /** what is said and cannot be used, a sentence each without a full stop */
  readonly problems: readonly string[];
}

const MOST_ROWS = 60;
const MOST_CELLS = 50;
const LONGEST_DATE = 40;
const MOST_SHOWN = 3;
/** `Mon, August 17, 2026`: a date may lie over so many parts of a cell. */
const MOST_DATE_PARTS = 3;

const MOST_LABEL_WORDS = 3;
/** `Monday 17 August 2026 10:30` */
const MOST_DATE_WORDS = 5;
const ENDS_OF_TITLE = /[\s/(@-]+$/;
/** `17 to 18 Aug 2026`, `17 Aug & 18 Aug 2026`: what stands behind is not the only day. */
const SEVERAL_DAYS =
  /\d(?:st|nd|rd|th)?\.?(?: ?[a-z]{3,9}\.?)? ?(?:to|and|or|until|till|thru|through|[-+&/\u2010-\u2015])\s{0,3}$/i;
/** `M. P.`, `M. Pell`: initials, with names or without. */
const INITIALS = /^(?:\p{Lu}\p{Ll}{1,30} )?\p{Lu}(?:\.? ?\p{Lu}){0,3}\.?(?: \p{Lu}[\p{Ll}'’-]{1,30})?$/u;

const TEAM_BEHIND = / (?:team|squad)$/i;
const ONLY_DIGITS = /^\d+$/;
const SAYS_SOMETHING = /[\p{L}\p{N}]/u;

interface DateSaid extends TitleFact {
  readonly reading: DateReading;
}

interface Said {
  readonly labelledDates: DateSaid[];
  readonly looseDates: DateSaid[];
  readonly labelled: { readonly [label in Exclude<Label, 'date'>]: TitleFact[] };
  readonly loose: { readonly [label in 'team' | 'station']: TitleFact[] };
}

/**
 * What the lines above the headings say of all rows: behind a label (`Date: 17 Aug 2026`, or the value in the next
 * cell), and without one a date with its year or a team by its name, if there is just one. Days of printing, of birth
 * and the like are left alone, and no unit is ever taken from here.
 * @param rows the rows above the first heading line; of the first 60, 50 cells of up to 200 characters are read
 * @param dates settles numeric dates that leave it open
 * @param isTeam whether a text is the name of a known team
 */
export function titleFacts(
  rows: readonly (readonly string[])[],
  dates: DateOrder | undefined,
  isTeam: (text: string) => boolean,
): TitleFacts {
  const said: Said = {
    labelledDates: [],
    looseDates: [],
    labelled: { team: [], tester: [], device: [], station: [] },
    loose: { team: [], station: [] },
  };
  for (const [row, cells] of rows.slice(0, MOST_ROWS).entries()) new TitleLine(row, cells, dates, isTeam).read(said);
  const problems: string[] = [];
  const date = settledDate(said.labelledDates.length > 0 ? said.labelledDates : said.looseDates, problems);
  const facts: { [label in Exclude<Label, 'date'>]?: TitleFact } = {};
  for (const label of TEXT_LABELS) facts[label] = settledText(label, said, problems);
  return { date, ...facts, problems };
}

function settledDate(said: readonly DateSaid[], problems: string[]): TitleFacts['date'] {
  const sure = said.find((one) => one.reading.kind === 'day');
  const day = sure?.reading.kind === 'day' ? sure.reading.day : undefined;
  // Nothing contradicts an open date beside a clear one that is among its readings.
  const others = said.filter(({ reading }) =>
    reading.kind === 'day' ? reading.day !== day : day === undefined || !reading.readings?.includes(isoDay(day)),
  );
  if (sure !== undefined && day !== undefined && others.length === 0) {
    const { text, row, at, labelAt } = sure;
    return labelAt === undefined ? { text, row, at, day } : { text, row, at, labelAt, day };
  }
  if (others.length === 0) return undefined;
  const texts = distinct(sure === undefined ? others : said);
  problems.push(texts.length > 1 ? differing('dates', texts) : unusableDate(others[0]));
  return undefined;
}

function unusableDate({ text, reading }: DateSaid): string {
  const start = `the date above the headings, "${text}",`;
  const readings = reading.kind === 'problem' ? (reading.readings ?? []) : [];
  if (readings.length > 1) return `${start} may be ${readings.join(' or ')}`;
  const otherwise = readings.length === 1 ? `; with day and month the other way round it is ${readings[0]}` : '';
  return `${start} cannot be read as one day${otherwise}`;
}

function settledText(label: Exclude<Label, 'date'>, said: Said, problems: string[]): TitleFact | undefined {
  const labelled = said.labelled[label];
  const facts = labelled.length > 0 || label === 'tester' || label === 'device' ? labelled : said.loose[label];
  const texts = distinct(facts);
  if (texts.length < 2) return facts[0];
  // Several names without labels are a title in words; several behind labels contradict each other.
  if (facts === labelled) problems.push(differing(`${label}s`, texts));
  return undefined;
}

function distinct(facts: readonly TitleFact[]): string[] {
  const texts = new Map<string, string>();
  for (const { text } of facts) {
    const key = foldKey(text) || text;
    if (!texts.has(key)) texts.set(key, text);
  }
  return [...texts.values()];
}

function differing(things: string, texts: readonly string[]): string {
  const shown = texts.slice(0, MOST_SHOWN).map((text) => `"${text}"`);
  const more = texts.length > MOST_SHOWN ? ` and ${texts.length - MOST_SHOWN} more` : '';
  return `different ${things} stand above the headings: ${shown.join(', ')}${more}`;
}

/** One title line, read part by part from left to right. */
class TitleLine {
  readonly #row: number;
  readonly #parts: readonly Part[];
  readonly #dates: DateOrder | undefined;
  readonly #isTeam: (text: string) => boolean;

  constructor(row: number, cells: readonly string[], dates: DateOrder | undefined, isTeam: (text: string) => boolean) {
    this.#row = row;
    this.#parts = cells.slice(0, MOST_CELLS).flatMap(partsOf);
    this.#dates = dates;
    this.#isTeam = isTeam;
  }

  read(said: Said): void {
    for (let index = 0; index < this.#parts.length; ) index = this.#readPart(index, said);
  }

  /** Reads what starts at a part; returns the part that follows it. */
  #readPart(index: number, said: Said): number {
    const part = this.#parts[index];
    if (this.#dateAt(part, index, this.#dates) !== undefined) return this.#readLooseDates(part, index, said);
    const label = readLabel(part.text) ?? this.#labelBefore(part, index);
    if (label === undefined) return this.#readLoose(part, index, said);
    const bare = label.value === '';
    const at = bare ? index + 1 : index;
    const next = this.#parts[at] as Part | undefined;
    if (next === undefined || (bare && this.#isHeading(next.text))) return index + 1;
    const value = bare ? next : { ...part, text: label.value, start: part.end - label.value.length };
    const labelAt = value.at === part.at ? undefined : part.at;
    if (label.kind === 'date') return this.#readDates(value, at, labelAt, label.order, said.labelledDates);
    if (label.kind === 'title') return bare ? at : this.#readLoose(value, at, said);
    if (label.kind !== 'other') return this.#readText(value, at, labelAt, label.kind, said);
    // What belongs to another label is no fact: "DOB: 1 May 2006", "Printed | 17/08/2026".
    if (this.#dateAt(value, at, this.#dates) !== undefined) return this.#readDates(value, at, labelAt, undefined, []);
    return label.marked ? at + 1 : index + 1;
  }

  #readLoose(value: Part, index: number, said: Said): number {
    if (this.#dateAt(value, index, this.#dates) !== undefined) return this.#readLooseDates(value, index, said);
    const tail = this.#dateBehind(value, index);
    if (tail === undefined) {
      this.#readName(value, said);
      return index + 1;
    }
    const text = value.text.slice(0, -tail.text.length).replace(ENDS_OF_TITLE, '');
    if (text !== '') this.#readName({ ...value, text, end: value.start + text.length }, said);
    return this.#readLooseDates(tail, index, said);
  }

  /** `Intake 17 Aug 2026`: the longest date with which a part ends, unless it is the last of several days. */
  #dateBehind(part: Part, index: number): Part | undefined {
    // A date never starts so far from the end of its part.
    const from = Math.max(0, part.text.length - LONGEST_DATE);
    const starts = [...part.text.slice(from).matchAll(/ /g)].map((match) => from + match.index + 1);
    for (const start of starts.slice(-MOST_DATE_WORDS)) {
      const text = part.text.slice(start).trim();
      if (text === '') continue;
      const tail = { ...part, text, start: part.end - text.length };
      const date = this.#dateAt(tail, index, this.#dates);
      if (date === undefined || ONLY_DIGITS.test(date.text)) continue;
      return SEVERAL_DAYS.test(part.text.slice(Math.max(0, start - LONGEST_DATE), start)) ? undefined : tail;
    }
    return undefined;
  }

  /** `Date 17/08/2026`, `Tested by J. M.`: a label without its colon, where what follows leaves no doubt. */
  #labelBefore(part: Part, index: number): LabelRead | undefined {
    const ends = [...part.text.matchAll(/ /g)].slice(0, MOST_LABEL_WORDS).map((match) => match.index);
    for (const end of ends.reverse()) {
      const kind = LABEL_OF.get(foldKey(part.text.slice(0, end)));
      const value = part.text.slice(end + 1).trim();
      if (kind === 'tester' && (/by$/i.test(part.text.slice(0, end)) ? value !== '' : INITIALS.test(value)))
        return { kind, value, marked: false };
      if (kind !== 'date') continue;
      const rest = { ...part, text: value, start: part.end - value.length };
      if (this.#dateAt(rest, index, this.#dates) !== undefined) return { kind, value, marked: false };
    }
    return undefined;
  }

  /**
   * The longest date that starts at a part and ends where a part ends.
   * @param part the part at the index, or the end of it behind a label
   */
  #dateAt(
    part: Part,
    index: number,
    order: DateOrder | undefined,
  ): { text: string; reading: DateReading; end: number } | undefined {
    for (let last = index + MOST_DATE_PARTS - 1; last >= index; last--) {
      const end = this.#parts[last] as Part | undefined;
      if (end === undefined || end.at !== part.at) continue;
      const text = last === index ? part.text : part.cell.slice(part.start, end.end);
      if (text.length > LONGEST_DATE || !/\d/.test(text)) continue;
      const reading = readDate(text.replace(/\s+/g, ' '), order);
      if (reading.kind === 'day' || reading.readings !== undefined) return { text, reading, end: last };
    }
    return undefined;
  }

  /** The dates at a part: `17/08/2026`, and those that follow it, for a label may stand before several. */
  #readDates(
    value: Part,
    index: number,
    labelAt: number | undefined,
    order: DateOrder | undefined,
    into: DateSaid[],
  ): number {
    let date = this.#dateAt(value, index, order ?? this.#dates);
    if (date === undefined) {
      const text = this.#restOf(value, index);
      if (/\d/.test(text)) into.push(this.#dateSaid({ text, reading: NO_DAY }, value.at, labelAt));
      return index + 1;
    }
    let [at, next] = [value.at, index];
    while (date !== undefined) {
      into.push(this.#dateSaid(date, at, labelAt));
      next = date.end + 1;
      const following = this.#parts[next] as Part | undefined;
      if (following === undefined || ONLY_DIGITS.test(following.text)) break;
      date = this.#dateAt(following, next, order ?? this.#dates);
      // "17 August 2026 - 18 August"
      if (date === undefined && following.at === at && isDayWithoutYear(following.text)) {
        into.push(this.#dateSaid({ text: following.text, reading: NO_DAY }, at, labelAt));
        return next + 1;
      }
      at = following.at;
    }
    return next;
  }

  /** Dates without a label. A row of digits may be anything, and words beside a date may say that it is another day. */
  #readLooseDates(value: Part, index: number, said: Said): number {
    const before = this.#parts[index - 1] as Part | undefined;
    const read: DateSaid[] = [];
    const next = this.#readDates(value, index, undefined, undefined, read);
    if (OTHER_DAY.test(value.cell) || (before !== undefined && OTHER_DAY.test(before.text))) return next;
    const found = read.filter(({ text }) => !ONLY_DIGITS.test(text));
    // "17 - 18 August 2026": the year stands at the last of several days only.
    if (found.length > 0 && before?.at === value.at && isDayWithoutYear(before.text)) {
      found.unshift(this.#dateSaid({ text: before.text, reading: NO_DAY }, value.at, undefined));
    }
    said.looseDates.push(...found);
    return next;
  }

  #readText(value: Part, index: number, labelAt: number | undefined, kind: Exclude<Label, 'date'>, said: Said): number {
    if (!SAYS_SOMETHING.test(value.text)) return index + 1;
    let [last, end] = [index, value.end];
    // "Tester: Reed, Bo": a name and a list hold commas of their own.
    if (kind === 'tester' || kind === 'device') {
      while (this.#goesOn(value, last)) end = this.#parts[++last].end;
    }
    const text = last === index ? value.text : value.cell.slice(value.start, end);
    said.labelled[kind].push(fact(text, this.#row, value.at, labelAt));
    if (kind !== 'team') return last + 1;
    // "Team | Rowing | Soccer": one label may stand before several teams.
    for (let next = last + 1; next < this.#parts.length; next++, last++) {
      const team = this.#teamOf(this.#parts[next].text);
      if (team === undefined) break;
      said.labelled.team.push(fact(team, this.#row, this.#parts[next].at, labelAt));
    }
    return last + 1;
  }

  /** Whether the part after `last` belongs to the same list: behind a comma, and nothing that can be read for itself. */
  #goesOn(value: Part, last: number): boolean {
    const next = this.#parts[last + 1] as Part | undefined;
    if (next === undefined || next.at !== value.at) return false;
    if (value.cell.slice(this.#parts[last].end, next.start).trim() !== ',') return false;
    if (readLabel(next.text) ?? this.#labelBefore(next, last + 1) ?? this.#dateAt(next, last + 1, this.#dates))
      return false;
    return this.#teamOf(next.text) === undefined && stationOf(next.text) === undefined && !isDayWithoutYear(next.text);
  }

  #readName(part: Part, said: Said): void {
    const team = this.#teamOf(part.text);
    const station = stationOf(part.text);
    if (team !== undefined) said.loose.team.push(fact(team, this.#row, part.at));
    else if (station !== undefined) said.loose.station.push(fact(station, this.#row, part.at));
  }

  #teamOf(text: string): string | undefined {
    if (this.#isTeam(text)) return text;
    const name = text.replace(TEAM_BEHIND, '');
    return name !== text && this.#isTeam(name) ? name : undefined;
  }

  /** Whether a cell is a label or a heading itself, and so no value of the label before it. */
  #isHeading(text: string): boolean {
    return readLabel(text) !== undefined || roleOfHeading(text) !== undefined || ignoredHeading(text) !== undefined;
  }

  #restOf(value: Part, index: number): string {
    let end = value.end;
    for (let next = index + 1; this.#parts[next]?.at === value.at; next++) {
      if (readLabel(this.#parts[next].text) !== undefined) break;
      end = this.#parts[next].end;
    }
    return value.cell.slice(value.start, end).slice(0, LONGEST_DATE);
  }

  #dateSaid(date: { text: string; reading: DateReading }, at: number, labelAt: number | undefined): DateSaid {
    return { ...fact(date.text, this.#row, at, labelAt), reading: date.reading };
  }
}

const NO_DAY: DateReading = { kind: 'problem', code: 'date_invalid' };

function fact(text: string, row: number, at: number, labelAt?: number): TitleFact {
  return labelAt === undefined ? { text, row, at } : { text, row, at, labelAt };
}
