import stringWidth from 'string-width';
import { describe, expect, test } from 'vitest';
import { type CoverageView, coverageText } from '../../src/cli/render/coverage.ts';
import { coverageTally, TALLY_KINDS } from '../../src/groups/coverage_tally.ts';
import { toCall } from '../../src/groups/to_call.ts';
import { loadProtocol } from '../../src/protocol/load.ts';
import { COVERAGE, COVERAGE_STATES, type Coverage } from '../../src/tables/schemas.ts';
import { Table } from '../../src/tables/table.ts';

const STATIONS = ['Hip', 'Landing and hop', 'Shoulder', 'Power', 'Intake', 'The room behind the old gymnasium', null];
const TEAMS = ['Rowing', 'Water polo', 'A team with a very long name indeed', 'Track;Rowing', null];
const MEASURES = Array.from({ length: STATIONS.length }, (_, at) => `m${at}`);
const PROTOCOL = loadProtocol(
  `bilat: 1\nname: Wide\nmeasures:\n${MEASURES.map((name) => `  ${name}: { label: Measure ${name} with a long label of its own, unit: cm, sides: none }`).join('\n')}\n`,
  'protocol.yaml',
);

/** Every state at every station, by athletes of every team. */
function table(): Coverage {
  const made: Coverage = new Table(COVERAGE);
  let athlete = 0;
  for (const team of TEAMS) {
    for (const state of COVERAGE_STATES) {
      athlete++;
      for (const [at, station] of STATIONS.entries()) {
        const cells = { athlete_id: `K${athlete}`, team, season: 2026, measure: MEASURES[at], state, station };
        for (const [name, cell] of Object.entries(cells)) {
          (made.column(name) as { push(value: string | number | null): void }).push(cell);
        }
        if (state === 'retest_due') made.columns.retest_by.pushDay(20_000);
        else made.columns.retest_by.push(null);
      }
    }
  }
  return made;
}

const view = (given: Partial<CoverageView> = {}): CoverageView => ({
  toCall: toCall(table(), PROTOCOL),
  isWhole: true,
  season: 2026,
  on: '2026-08-20',
  names: new Map(),
  ...given,
});

describe.each([60, 80, 120])('at %i columns', (width) => {
  const setting = { width, color: false };

  test('no line is longer', () => {
    const tallies = TALLY_KINDS.map((kind) => ({ kind, lines: coverageTally(table(), PROTOCOL, kind) }));
    for (const tally of [undefined, ...tallies]) {
      for (const isWhole of [true, false]) {
        const lines = coverageText(view({ tally, isWhole }), setting).split('\n');
        expect(lines.filter((line) => stringWidth(line) > width)).toEqual([]);
      }
    }
  });

  test('every station stands once over its column, in as many blocks as it takes', () => {
    const grid = coverageText(view(), setting).split('\n\n').slice(1);
    const heads = grid
      .flatMap((block) => block.split('\n').filter((line) => line.startsWith('team ')))
      .flatMap((line) => line.split(/ {2,}/).slice(1));
    const names = ['Hip', 'Intake', 'Landing and h…', 'Power', 'Shoulder', 'The room behi…', 'no station'];
    expect(heads).toEqual(names);
  });
});

test('numbers are words, never colour alone', () => {
  const plain = coverageText(view(), { width: 80, color: false });
  const coloured = coverageText(view(), { width: 80, color: true });
  const ESCAPES = new RegExp(`${String.fromCharCode(27)}\\[[0-9;]*m`, 'g');
  expect(coloured.replaceAll(ESCAPES, '')).toBe(plain);
  // 9 states, of which done, pain and retest due are done: 3 of 9 at each station.
  expect(plain).toMatch(/\nno team +3\/9 /);
});

test('what steers a terminal is taken out of names', () => {
  const evil = table();
  const row = [...evil.rows()].length;
  evil.appendRow(evil, 0);
  for (const name of ['athlete_id', 'team', 'station'] as const) {
    evil.columns[name].codes[row] = evil.columns[name].dictionary.code('x\u001b[31m\u202ey');
  }
  evil.columns.state.codes[row] = evil.columns.state.dictionary.code('missing');
  const text = coverageText(view({ toCall: toCall(evil, PROTOCOL) }), { width: 80, color: false });
  expect(text).toContain('x\ufffd[31m\ufffdy');
  expect([text.includes('\u001b'), text.includes('\u202e')]).toEqual([false, false]);
});
