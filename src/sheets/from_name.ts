import { type DateOrder, type DateReading, readDate, serialDay } from '../units/dates.ts';
import { isoDay } from '../units/days.ts';
import type { SheetEntry } from './entry.ts';
import { type NameFit, nameFits } from './name_fits.ts';
import { type NameFact, readNamePattern } from './name_pattern.ts';

/** The team that a text names, by any of its spellings; undefined if it is none that is known. */
export type TeamOf = (text: string) => string | undefined;

export interface NameFacts {
  readonly facts: Partial<Pick<SheetEntry, NameFact>>;
  /** a sentence to follow the file: what could not be taken from its name */
  readonly problem?: string;
}

const LONGEST_NAME = 255;
const LONGEST_DATE = 30;
/** An ending has a letter in front: the last part of 2026.08.17 is none. */
const ENDING = /\.[a-z][a-z0-9]{0,9}$/i;
const NO_TEAMS: TeamOf = () => undefined;

/** The entry of one sheet: what the entry says, and what the name of the file says under its `from_name`. */
export function entryOfFile(entry: SheetEntry, file: string, teamOf: TeamOf = NO_TEAMS): SheetEntry {
  if (entry.fromName === undefined) return entry;
  const { facts, problem } = nameFacts(entry.fromName, file, entry.dates, teamOf);
  return { ...entry, ...facts, ...(problem !== undefined && { nameProblem: problem }) };
}

/**
 * What the name of a file says, folders and last ending left aside. Of several ways to part a name those count in which
 * date and season can be read, and of these the ones that name a known team. If more than one is left, nobody can say,
 * and nothing is taken.
 * @param pattern as in `{team}_{station}_{date}`
 * @param dates settles numeric dates that leave it open
 */
export function nameFacts(
  pattern: string,
  file: string,
  dates: DateOrder | undefined,
  teamOf: TeamOf = NO_TEAMS,
): NameFacts {
  const { parts, problems } = readNamePattern(pattern);
  const nothing = (why: string): NameFacts => ({ facts: {}, problem: `${why}: nothing is taken from it` });
  const shown = `from_name "${pattern}"`;
  const name = bareName(file);
  if (problems.length > 0 || name.length > LONGEST_NAME) return nothing(`the name does not fit ${shown}`);
  const isKept = (fact: NameFact, text: string): boolean =>
    fact === 'date' ? isDatelike(readNameDate(text, dates)) : fact !== 'season' || readSeason(text) !== undefined;
  const readable = (fact: NameFact, text: string) => (isKept(fact, text) ? cleaned(fact, text) : undefined);
  const ofTeam = (fact: NameFact, text: string) =>
    fact === 'team' && teamOf(text) === undefined ? undefined : readable(fact, text);
  for (const read of [ofTeam, readable, cleaned]) {
    const [fit, other] = nameFits(parts, name, read);
    if (fit === undefined) continue;
    if (other === undefined) return factsOf(fit, shown, dates, teamOf);
    return nothing(
      read === cleaned && (fit.has('date') || fit.has('season'))
        ? `the name fits ${shown} in more than one way, and in none of them is there a ${[...fit.keys()].filter((fact) => fact === 'date' || fact === 'season').join(' or a ')} that can be read`
        : `the name fits ${shown} in more than one way, as ${difference(fit, other)} or as ${difference(other, fit)}`,
    );
  }
  return nothing(`the name does not fit ${shown}`);
}

function bareName(file: string): string {
  const name = file.slice(file.lastIndexOf('/') + 1);
  // Some systems keep accents as characters of their own.
  return name
    .slice(0, LONGEST_NAME + 20)
    .normalize('NFC')
    .replace(ENDING, '');
}

/** A fact as it is kept; undefined if nothing is left of it. */
function cleaned(fact: NameFact, text: string): string | undefined {
  const spaced = fact === 'team' || fact === 'station' || fact === 'tester' ? text.replace(/[_+]/g, ' ') : text;
  return spaced.replace(/\s+/g, ' ').trim() || undefined;
}

function factsOf(fit: NameFit, shown: string, dates: DateOrder | undefined, teamOf: TeamOf): NameFacts {
  const facts: { -readonly [fact in keyof NameFacts['facts']]: NameFacts['facts'][fact] } = {};
  const problems: string[] = [];
  for (const [fact, text] of fit) {
    if (fact === 'date') {
      const reading = readNameDate(text, dates);
      if (reading.kind === 'day') facts.date = isoDay(reading.day);
      else problems.push(dateProblem(text, reading, shown, dates));
    } else if (fact === 'season') {
      facts.season = readSeason(text);
      if (facts.season === undefined) {
        delete facts.season;
        problems.push(`"${text}" of the name is no season, as ${shown} has it: no season is taken from it`);
      }
    } else facts[fact] = fact === 'team' ? (teamOf(text) ?? text) : text;
  }
  return problems.length === 0 ? { facts } : { facts, problem: problems.join('; ') };
}

/** What one fit says otherwise than another. */
function difference(fit: NameFit, other: NameFit): string {
  return [...fit]
    .filter(([fact, text]) => other.get(fact) !== text)
    .map(([fact, text]) => `${fact} "${text}"`)
    .join(', ');
}

/** Dates as in cells, and as file names write them: 2026_08_17, 17 08 2026, 17082026. */
function readNameDate(text: string, dates: DateOrder | undefined): DateReading {
  const written = text.trim();
  // Five digits are a spreadsheet's date in a cell; no hand writes one into a name.
  if (written.length > LONGEST_DATE || serialDay(written) !== undefined) {
    return { kind: 'problem', code: 'date_invalid' };
  }
  const reading = readDate(written, dates);
  if (isDatelike(reading)) return reading;
  const yearLast = /^(\d{2})(\d{2})(\d{4})$/.exec(written);
  return readDate(yearLast ? yearLast.slice(1).join('-') : written.replace(/[\s_+]+/g, '-'), dates);
}

/** Whether a text is a date, or one that cannot be settled; a day that no calendar has is none. */
function isDatelike(reading: DateReading): boolean {
  return reading.kind === 'day' || reading.readings !== undefined;
}

function dateProblem(
  text: string,
  reading: DateReading & { kind: 'problem' },
  shown: string,
  dates: DateOrder | undefined,
): string {
  const none = 'no date is taken from it';
  if (reading.code === 'date_ambiguous') {
    return `the date "${text}" of the name can be ${reading.readings!.join(' or ')}: ${none} until dates: says which`;
  }
  if (reading.readings !== undefined) {
    return `the date "${text}" of the name is none as dates: ${dates} reads it, and the other way round ${reading.readings.join(' or ')}: ${none}`;
  }
  return `"${text}" of the name is no date, as ${shown} has it: ${none}`;
}

/** The year in which a season starts: 2026, 2026-27, 2026_2027 or 26-27. */
function readSeason(text: string): number | undefined {
  const match = /^(\d{4}|\d{2})(?:[-_ ](\d{4}|\d{2}))?$/.exec(text.trim());
  if (match === null) return undefined;
  const [, first, second] = match;
  if (first.length === 2 && second?.length !== 2) return undefined;
  const year = first.length === 4 ? Number(first) : 2000 + Number(first);
  if (year < 1900 || year > 2100) return undefined;
  const follows = second === undefined || Number(second) === (second.length === 4 ? year + 1 : (year + 1) % 100);
  return follows ? year : undefined;
}
