import { describe, expect, test } from 'vitest';
import { ignoredTopics, rejectTopics } from '../../src/explain/code_topics.ts';
import { columnTopics, tableTopics } from '../../src/explain/table_topics.ts';
import { IGNORED_REASONS } from '../../src/problems/ignored.ts';
import { REJECTS } from '../../src/problems/rejects.ts';

describe('codes of rejected cells', () => {
  const topics = rejectTopics();

  test('are all there, each with an example of its message and what to do', () => {
    expect(topics.map(({ name }) => name)).toEqual(Object.keys(REJECTS));
    for (const { definition, caution } of topics) {
      expect(definition).toMatch(/ For example: .+ What to do: .+\.$/);
      // Nothing is left out of a sentence.
      expect(definition).not.toMatch(/undefined|""| {2}| [.,:;]|Nearest: \./);
      expect(caution).toMatch(/nothing becomes 0/);
    }
  });

  test.each([
    [
      'number_unreadable',
      'The code of a cell, row or file that is not taken. For example: "4O" is not a number and not a word that says why there is none. What to do: Look at the paper and write the number, or NT, unable, pain, refused.',
    ],
    [
      'side_needs_roster',
      `The code of a cell, row or file that is not taken. For example: Side "D" needs to know the athlete's kicking_foot, and the roster does not say it. What to do: Fill in kicking_foot on the roster, or write left or right.`,
    ],
    [
      'date_ambiguous',
      'The code of a cell, row or file that is not taken. For example: Date "3/4/2026" can be 2026-04-03 or 2026-03-04. What to do: Say dates: dmy or dates: mdy in screening.yaml on the entry of this sheet.',
    ],
  ])('%s', (code, definition) => expect(topics.find(({ name }) => name === code)?.definition).toBe(definition));
});

test('reasons of cells left aside are all there', () => {
  const topics = ignoredTopics();
  expect(topics.map(({ name }) => name)).toEqual(Object.keys(IGNORED_REASONS));
  expect(topics[0]).toMatchObject({
    kind: 'ignored reason',
    title: 'A line above the headings',
    definition: 'Cells that were left aside: a line above the headings.',
  });
});

describe('tables and columns', () => {
  // Design, section 4.
  const TABLES = [
    ...['observations', 'athletes', 'rejects', 'ignored', 'ledger', 'results', 'findings', 'recheck', 'cohort', 'plan'],
    ...['coverage', 'trend', 'changes', 'agreement', 'incidence', 'cutoff', 'curve'],
  ];

  test('every table of the contract, those of later versions too', () => {
    const topics = tableTopics();
    expect(topics.map(({ name }) => name)).toEqual(TABLES);
    expect(topics.filter(({ later }) => later).map(({ name }) => name)).toEqual(TABLES.slice(11));
    expect(topics[4]).toMatchObject({
      name: 'ledger',
      definition:
        'One row is one sheet: its cells that hold anything are the sum of the five counts beside them. Columns: file, cells, measured, not_measured, context, ignored and rejected.',
    });
  });

  test('a column that means different things says so, by table', () => {
    const topics = columnTopics();
    expect(topics.find(({ name }) => name === 'value')).toMatchObject({
      definition:
        'In observations and recheck: reading in unit. In results: kept reading of a measure without sides. In findings: that number.',
      where: 'Column of observations, recheck, results and findings.',
    });
    for (const internal of ['sem_left', 'marks']) {
      expect(topics.find(({ name }) => name === internal)).toBeUndefined();
    }
    // The station of recheck is for a filter only.
    expect(topics.find(({ name }) => name === 'station')!.where).toBe('Column of observations and coverage.');
  });
});
