import { rosterNames } from '../../athletes/directory.ts';
import { ROSTER_COLUMNS, type Roster, type RosterRow } from '../../athletes/roster.ts';
import { NameWords } from '../../athletes/shown_cells.ts';
import type { Problem } from '../../problems/problem.ts';
import { readSideFile, type SideFileSpec } from '../../tables/side_file.ts';
import { isoDay } from '../../units/days.ts';
import { foldKey } from '../../units/keys.ts';
import { rosterTeamNews, shownIds } from './roster_teams.ts';
import { many, namedAll, quoted } from './wording.ts';

/** Ages on entering college beyond which a birth date or an entry year is probably mistyped. */
const YOUNGEST = 14;
const OLDEST = 60;
const SIDES_UNKNOWN_TO = 8;
const MOST_OF_A_KIND = 4;

/**
 * What a roster that can be read may still have wrong: dates that do not go together, two ids with one name, sex as no
 * rule will know it, dominant sides that nobody filled in. Names are not repeated.
 * @param text the same text that `roster` was read from
 * @param needsTeams whether the protocol gives measures by team
 */
export function checkRoster(
  text: string,
  spec: SideFileSpec,
  roster: Roster,
  dominanceColumns: readonly string[],
  needsTeams: boolean,
): Problem[] {
  const { file } = spec;
  const sideRows = readSideFile(text, spec, ['athlete_id'], [...ROSTER_COLUMNS, ...dominanceColumns]);
  const lines = new Map<string, number>();
  for (const row of sideRows.rows) {
    const id = row.get('athlete_id');
    if (!lines.has(id)) lines.set(id, row.line);
  }
  const say = (
    severity: 'warning' | 'note',
    code: string,
    row: RosterRow | undefined,
    message: string,
    hint: string,
  ) => ({
    severity,
    code,
    file,
    line: row ? (lines.get(row.athleteId) ?? null) : null,
    column: null,
    message,
    hint,
    paste: null,
  });
  const names = new NameWords(rosterNames(roster));
  const hasTeams = sideRows.has('team') || !needsTeams;
  return [
    ...rosterTeamNews(roster, hasTeams, names)
      .filter(([code]) => needsTeams || code === 'team_is_name')
      .map(([code, row, message, hint]) => say('warning', code, row, message, hint)),
    ...idsAlike(roster.rows).map(([first, other]) =>
      say(
        'warning',
        'ids_alike',
        other,
        `athlete_id ${quoted(other.athleteId)} and ${quoted(first.athleteId)} differ in capitals, spaces or leading zeros alone: a spreadsheet program may make one of the other`,
        'If they are one athlete, keep one id.',
      ),
    ),
    ...roster.rows.flatMap((row) => oddDates(row).map((message) => say('warning', 'dates_odd', row, message, CHECK))),
    ...folded(
      oneNameTwice(roster.rows),
      ([, , isTwin]) => String(isTwin),
      ([first, other, isTwin], more) =>
        say(
          isTwin ? 'warning' : 'note',
          isTwin ? 'athlete_twice' : 'name_twice',
          other,
          `${first.athleteId} and ${other.athleteId} have one name${isTwin ? ' and one birth date' : ''}: a sheet that names it without id is held back${more}`,
          isTwin
            ? 'If they are one athlete, keep one id.'
            : 'Have the stations write ids, or tell the two apart in also_known_as.',
        ),
    ),
    ...folded(
      oddSex(roster.rows),
      () => '',
      ([sex, rows], more) =>
        say(
          'note',
          'sex_other',
          rows[0],
          `sex${names.mayShow(sex, 'sex') ? ` ${quoted(sex)}` : ''} of ${many(rows.length, 'athlete')} is kept as written and is neither F nor M: rules for one sex leave them out${more}`,
          'Write F or M where one of them is meant.',
        ),
    ),
    ...dominanceColumns.flatMap((column, at) => {
      if (!sideRows.has(column)) return [];
      const empty = roster.rows.filter((row) => row.dominance[at] === null);
      if (empty.length === 0) return [];
      const ids = [...new Set(empty.map((row) => row.athleteId))];
      return say(
        'note',
        'dominance_empty',
        undefined,
        `${column} is empty for ${ids.length} of ${many(new Set(roster.rows.map((row) => row.athleteId)).size, 'athlete')}, so that their dominant side is unknown: ${namedAll(shownIds(ids, names), SIDES_UNKNOWN_TO)}`,
        'Fill in left, right or both.',
      );
    }),
  ];
}

/** Of many of one kind the first few, the last of them with how many more there are. */
function folded<T>(
  found: readonly T[],
  kindOf: (one: T) => string,
  tell: (one: T, more: string) => Problem,
): Problem[] {
  const kinds = new Map<string, T[]>();
  for (const one of found) kinds.set(kindOf(one), [...(kinds.get(kindOf(one)) ?? []), one]);
  return [...kinds.values()].flatMap((all) => {
    const isMany = all.length > MOST_OF_A_KIND;
    const more = isMany ? `; so in ${all.length - 1} more cases` : '';
    return (isMany ? all.slice(0, 1) : all).map((one) => tell(one, more));
  });
}

const CHECK = 'Look whether one of them is mistyped.';

function oddDates({ athleteId, birthDay, entryYear, leftDay }: RosterRow): string[] {
  const found: string[] = [];
  const year = (day: number): number => Number(isoDay(day).slice(0, 4));
  const age = birthDay !== null && entryYear !== null ? entryYear - year(birthDay) : undefined;
  if (age !== undefined && (age < YOUNGEST || age > OLDEST)) {
    found.push(`${athleteId} was born on ${isoDay(birthDay!)} and entered in ${entryYear}, at the age of ${age}`);
  }
  if (leftDay !== null && entryYear !== null && year(leftDay) < entryYear) {
    found.push(`${athleteId} left on ${isoDay(leftDay)}, before the entry year ${entryYear}`);
  }
  if (leftDay !== null && birthDay !== null && leftDay <= birthDay) {
    found.push(`${athleteId} left on ${isoDay(leftDay)}, before being born on ${isoDay(birthDay)}`);
  }
  return found;
}

/** Ids that a hand may write for one another, each with the first that it is like. */
function idsAlike(rows: readonly RosterRow[]): [RosterRow, RosterRow][] {
  const firsts = new Map<string, RosterRow>();
  const told = new Set<string>();
  return rows.flatMap((row): [RosterRow, RosterRow][] => {
    const key = row.athleteId
      .replace(/\s+/g, '')
      .toUpperCase()
      .replace(/(^|\D)0+(?=\d)/g, '$1');
    const first = firsts.get(key);
    if (first === undefined) firsts.set(key, row);
    if (first === undefined || first.athleteId === row.athleteId || told.has(row.athleteId)) return [];
    told.add(row.athleteId);
    return [[first, row]];
  });
}

/** Two ids with one name, in either order, and whether their birth dates are one as well. */
function oneNameTwice(rows: readonly RosterRow[]): [RosterRow, RosterRow, boolean][] {
  const firsts = new Map<string, RosterRow>();
  const told = new Set<string>();
  return rows.flatMap((row): [RosterRow, RosterRow, boolean][] => {
    if (row.firstName === '' || row.lastName === '') return [];
    const key = [foldKey(row.firstName), foldKey(row.lastName)].sort().join('\n');
    const first = firsts.get(key);
    if (first === undefined) firsts.set(key, row);
    if (first === undefined || first.athleteId === row.athleteId || told.has(row.athleteId)) return [];
    told.add(row.athleteId);
    return [[first, row, first.birthDay !== null && first.birthDay === row.birthDay]];
  });
}

function oddSex(rows: readonly RosterRow[]): [string, RosterRow[]][] {
  const others = new Map<string, RosterRow[]>();
  for (const row of rows) {
    if (row.sex === null || row.sex === 'F' || row.sex === 'M') continue;
    const known = others.get(row.sex);
    if (known) known.push(row);
    else others.set(row.sex, [row]);
  }
  return [...others];
}
