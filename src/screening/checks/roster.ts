import type { Roster, RosterRow } from '../../athletes/roster.ts';
import type { Problem } from '../../problems/problem.ts';
import { readSideFile, type SideFileSpec } from '../../tables/side_file.ts';
import { isoDay } from '../../units/days.ts';
import { foldKey } from '../../units/keys.ts';
import { many, namedAll, quoted } from './wording.ts';

/** Ages on entering college beyond which a birth date or an entry year is probably mistyped. */
const YOUNGEST = 14;
const OLDEST = 60;
const SIDES_UNKNOWN_TO = 8;

/**
 * What a roster that can be read may still have wrong: dates that do not go together, two ids with one name, sex as no
 * rule will know it, dominant sides that nobody filled in. Names are not repeated.
 * @param text the same text that `roster` was read from
 */
export function checkRoster(
  text: string,
  spec: SideFileSpec,
  roster: Roster,
  dominanceColumns: readonly string[],
): Problem[] {
  const { file } = spec;
  const sideRows = readSideFile(
    text,
    spec,
    ['athlete_id'],
    ['birth_date', 'left_on', 'entry_year', ...dominanceColumns],
  );
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
  });
  return [
    ...roster.rows.flatMap((row) => oddDates(row).map((message) => say('warning', 'dates_odd', row, message, CHECK))),
    ...oneNameTwice(roster.rows).map(([first, other, isTwin]) =>
      say(
        isTwin ? 'warning' : 'note',
        isTwin ? 'athlete_twice' : 'name_twice',
        other,
        `${first.athleteId} and ${other.athleteId} have one name${isTwin ? ' and one birth date' : ''}: a sheet that names it without id is held back`,
        isTwin
          ? 'If they are one athlete, keep one id.'
          : 'Have the stations write ids, or tell the two apart in also_known_as.',
      ),
    ),
    ...oddSex(roster.rows).map(([sex, rows]) =>
      say(
        'note',
        'sex_other',
        rows[0],
        `sex ${quoted(sex)} of ${many(rows.length, 'athlete')} is kept as written and is neither F nor M: rules for one sex leave them out`,
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
        `${column} is empty for ${ids.length} of ${many(new Set(roster.rows.map((row) => row.athleteId)).size, 'athlete')}, so that their dominant side is unknown: ${namedAll(ids, SIDES_UNKNOWN_TO)}`,
        'Fill in left, right or both.',
      );
    }),
  ];
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
