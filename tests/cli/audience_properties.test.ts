import fc from 'fast-check';
import { expect, test } from 'vitest';
import { forAudience } from '../../src/cli/audience/view.ts';
import { AUDIENCES } from '../../src/cli/audience.ts';
import { FORMATS } from '../../src/cli/options.ts';
import { renderer } from '../../src/cli/render/formats.ts';
import {
  COHORT,
  COVERAGE,
  COVERAGE_STATES,
  FINDINGS,
  OBSERVATIONS,
  PLAN,
  PLAN_SCOPES,
  RECHECK,
  REJECTS,
  RESULTS,
} from '../../src/tables/schemas.ts';
import type { Schema, Table } from '../../src/tables/table.ts';
import { PROTOCOL, tableWith } from './people.ts';

/** The same tables in every run; others with BILAT_SEED in the environment. */
fc.configureGlobal({ seed: Number(process.env.BILAT_SEED ?? 17) });

const NEVER = /pain|pressure|mass|weight|injur/i;

/** Texts as a protocol may hold them; some of them nobody wants a coach to read. */
const hostile = fc.oneof(
  fc.constantFrom('Pain clinic', 'pain_clinic', 'Weight cut', 'make weight', 'BP', 'Blood pressure', 'Body mass 82 kg'),
  fc.constantFrom('Reinjury talk', 'INJURED: rest', 'free of Painful loads', 'hip_strength', 'Hip work.', 'Gym', ''),
  fc
    .tuple(fc.string(), fc.constantFrom('pain', 'Pressure', 'MASS', 'wEight', 'injur'), fc.string())
    .map((parts) => parts.join('')),
  fc.string(),
);
const MEASURES = PROTOCOL.measures.map(({ name }) => name);
const RULES = [...PROTOCOL.rules.map(({ name }) => name), 'pain', 'unable'];
const ID = fc.constantFrom('A1', 'A2', 'A3');
const DAY = fc.constantFrom('2026-08-20', '2026-10-01');
/** What stands in columns of which other stages decide. */
const KNOWN: Readonly<Record<string, fc.Arbitrary<string>>> = {
  athlete_id: ID,
  team: fc.constantFrom('Rowing', 'Fencing;Rowing'),
  group: fc.constantFrom('Rowing', 'Fencing'),
  scope: fc.constantFrom(...PLAN_SCOPES),
  owner: fc.constantFrom('strength', 'medical'),
  state: fc.constantFrom(...COVERAGE_STATES),
  measure: fc.oneof(fc.constantFrom(...MEASURES), fc.constant('systolic;diastolic')),
  measures: fc.subarray(MEASURES, { maxLength: 2 }).map((measures) => measures.join(';')),
  rule: fc.constantFrom(...RULES),
  retest_for: fc.constantFrom(...RULES),
  rules: fc.subarray(RULES, { maxLength: 3 }).map((rules) => rules.join(';')),
};

function tablesOf<S extends Schema>(schema: S): fc.Arbitrary<Table<S>> {
  const cells = schema.map(({ name, kind }): [string, fc.Arbitrary<unknown>] => {
    const cell =
      KNOWN[name] ?? (kind === 'date' ? DAY : kind === 'number' ? fc.integer({ min: 0, max: 3000 }) : hostile);
    return [name, fc.option(cell, { freq: 5 })];
  });
  return fc
    .array(fc.record(Object.fromEntries(cells)), { maxLength: 12 })
    .map((rows) => tableWith(schema, rows as never));
}

const rendered = (table: Table): string[] =>
  FORMATS.map((format) => {
    const render = renderer(format, 120);
    return [render.begin(table.schema), ...render.rows(table), render.end()].join('');
  });

test.each([
  ['plan', PLAN],
  ['coverage', COVERAGE],
] as const)('no format of a %s for a coach holds pain, pressure, mass, weight or injuries', (_, schema: Schema) => {
  let hidden = 0;
  fc.assert(
    fc.property(tablesOf(schema), (table) => {
      if (NEVER.test(rendered(table).join('\n'))) hidden++;
      for (const text of rendered(forAudience(table, 'coach', PROTOCOL))) expect(NEVER.exec(text)?.[0]).toBeUndefined();
    }),
    { numRuns: 300 },
  );
  // Without tables that do hold them this would say nothing.
  expect(hidden).toBeGreaterThan(100);
});

test('columns of a table stay as they are, and nobody changes the table itself', () => {
  for (const schema of [OBSERVATIONS, RESULTS, FINDINGS, RECHECK, COHORT, PLAN, COVERAGE, REJECTS] as Schema[]) {
    const forCoaches = schema === PLAN || schema === COVERAGE;
    const readers = AUDIENCES.filter((audience) => audience !== 'coach' || forCoaches);
    fc.assert(
      fc.property(tablesOf(schema), fc.constantFrom(...readers), (table, audience) => {
        const before = rendered(table);
        expect(forAudience(table, audience, PROTOCOL).schema).toBe(table.schema);
        expect(rendered(table)).toEqual(before);
      }),
      { numRuns: 30 },
    );
  }
});

/** The words that stand in the place of what strength staff do not see. */
const IN_PLACE =
  /^(Hold until medical staff say so\.)?( ?Medical staff (see the athlete(?: now| before training| routinely)?|decide)\.)?$/;

/** Whether a row shows nothing that the other does not, but for the words in its place. */
function isWithin(row: readonly unknown[], of: readonly unknown[]): boolean {
  return row.every((cell, at) => {
    if (cell === null || cell === of[at] || IN_PLACE.test(String(cell))) return true;
    // A list of rules without those on vital signs.
    return typeof cell === 'string' && cell.split(';').every((one) => String(of[at]).split(';').includes(one));
  });
}

const cellsOf = (table: Table): unknown[][] =>
  Array.from({ length: table.length }, (_, row) => table.schema.map(({ name }) => table.column(name).get(row)));

test('strength staff see a part of what medical staff see, in its order', () => {
  for (const schema of [OBSERVATIONS, RESULTS, FINDINGS, RECHECK, COHORT, PLAN, COVERAGE, REJECTS] as Schema[]) {
    fc.assert(
      fc.property(tablesOf(schema), (table) => {
        const whole = cellsOf(table);
        let next = 0;
        for (const row of cellsOf(forAudience(table, 'strength', PROTOCOL))) {
          const at = whole.findIndex((of, index) => index >= next && isWithin(row, of));
          expect(at).toBeGreaterThanOrEqual(next);
          next = at + 1;
        }
      }),
      { numRuns: 50 },
    );
  }
});

test('a coach sees nobody who is not available among those who do the work of a team', () => {
  fc.assert(
    fc.property(tablesOf(PLAN), (plan) => {
      const shown = [...forAudience(plan, 'coach', PROTOCOL).rows()];
      const held = shown.filter(({ scope, athlete_id }) => scope === 'hold' && athlete_id !== null);
      for (const { priority, group } of shown.filter((row) => row.scope === 'shared' && row.group !== null)) {
        const without = shown.filter((row) => row.scope === 'left_out' && row.group === group);
        const ids = new Set(without.map(({ athlete_id }) => athlete_id));
        const team = held.filter(({ team }) => (team ?? '').split(';').includes(group ?? ''));
        expect([priority, team.filter(({ athlete_id }) => !ids.has(athlete_id))]).toEqual([priority, []]);
      }
    }),
    { numRuns: 100 },
  );
});

test('a coach sees of each athlete who is held or referred one line, and no work', () => {
  fc.assert(
    fc.property(tablesOf(PLAN), (plan) => {
      const held = new Set(
        [...plan.rows()].filter(({ scope }) => scope === 'hold' || scope === 'refer').map((row) => row.athlete_id),
      );
      const shown = [...forAudience(plan, 'coach', PROTOCOL).rows()];
      const ids = shown.filter(({ scope }) => scope === 'hold').map((row) => row.athlete_id);
      expect(ids.toSorted()).toEqual([...held].toSorted());
      const atWork = shown.filter(({ scope }) => scope === 'individual' || scope === 'repeat');
      expect(atWork.filter((row) => row.athlete_id !== null && held.has(row.athlete_id))).toEqual([]);
    }),
    { numRuns: 100 },
  );
});
