import { describe, expect, it } from 'vitest';
import { AthleteGatherer, athleteBook } from '../../src/athletes/book.ts';
import { readRoster } from '../../src/athletes/roster.ts';
import { protocolOf } from '../sheets/ingest_text.ts';

const protocol = protocolOf();
const rosterOf = (text: string) =>
  readRoster(text, { file: 'roster.csv', columns: new Map() }, protocol.dominanceColumns, new Map());

const ROSTER = `athlete_id,team,sex,season,kicking_foot
K002,Rowing,F,2025,R
K002,Rowing;Fencing,F,2026,R
K001,,M,,left
K003,Rowing,F,,
`;

describe('the athletes table', () => {
  it('says who belongs where, by the roster and then by the sheets', () => {
    const gatherer = new AthleteGatherer(rosterOf(ROSTER));
    gatherer.seen('K001', 2026, 'Fencing', 'F');
    gatherer.seen('K001', 2026, 'Archery', null);
    gatherer.seen('K002', 2026, 'Archery', null);
    gatherer.seen('K009', 2026, null, 'M');
    const rows = [...gatherer.table(protocol).rows()] as unknown as Record<string, unknown>[];
    expect(rows.map((row) => [row.athlete_id, row.season, row.team, row.sex, row.from, row.kicking_foot])).toEqual([
      // no team on the roster: the sheets' are taken; the roster's sex holds
      ['K001', 2026, 'Archery;Fencing', 'M', 'roster', 'left'],
      ['K002', 2025, 'Rowing', 'F', 'roster', 'right'],
      ['K002', 2026, 'Rowing;Fencing', 'F', 'roster', 'right'],
      // on the roster, and on no sheet
      ['K003', null, 'Rowing', 'F', 'roster', null],
      ['K009', 2026, null, 'M', 'sheets', null],
    ]);
  });

  it('has the columns of the contract, then the dominance columns of the protocol', () => {
    const table = new AthleteGatherer(undefined).table(protocol);
    expect(table.schema.map(({ name }) => name)).toEqual([
      ...['athlete_id', 'season', 'team', 'sex', 'birth_date', 'entry_year', 'from'],
      ...protocol.dominanceColumns,
    ]);
    expect(table.length).toBe(0);
  });
});

it('an athlete is found in a season, or by the row for every season', () => {
  const gatherer = new AthleteGatherer(rosterOf(ROSTER));
  const book = athleteBook(gatherer.table(protocol), protocol);
  expect(book.find('K002', 2025)?.team).toBe('Rowing');
  expect(book.find('K002', 2024)).toBeUndefined();
  expect(book.find('K003', 1999)).toEqual({ team: 'Rowing', sex: 'F', dominance: [null, null] });
  expect(book.find('K404', 2026)).toBeUndefined();
});
