import { describe, expect, it } from 'vitest';
import { codes, type EntryGiven, ingestText } from './ingest_text.ts';

const entry: EntryGiven = { date: '2026-08-17' };

describe('a decimal mark that is not that of the sheet', () => {
  const rows = (cells: readonly string[]): string => cells.map((cell, at) => `K00${at + 1},${cell}\n`).join('');

  it.each<[string, string, EntryGiven, string, string]>([
    [
      'shown by the other cells',
      rows(['11.5', '8.5', '"9,5"']),
      entry,
      '"9,5" can be 9.5 or 9 and 5.',
      'The other cells have a point: mend this one cell (part trials by semicolons).',
    ],
    [
      'said: a point',
      rows(['11.5', '"9,5"']),
      { ...entry, decimal: '.' },
      '"9,5" can be 9.5 or 9 and 5.',
      'screening.yaml says decimal: "." of this sheet: mend the cell (part trials by semicolons), or the entry if it is wrong.',
    ],
    [
      'said: a comma',
      rows(['"9,5"', '11.5']),
      { ...entry, decimal: ',' },
      '"11.5" is not written with a comma, the decimal mark of the sheet.',
      'screening.yaml says decimal: "," of this sheet: mend the cell, or the entry if it is wrong.',
    ],
    [
      'neither said nor shown',
      rows(['11', '"9,5"']),
      entry,
      '"9,5" can be 9.5 or 9 and 5.',
      'Say decimal: "," or decimal: "." in screening.yaml on the entry of this sheet, or part trials by semicolons.',
    ],
    [
      'no matter of a blank between trials',
      rows(['11.5', '98 102']),
      entry,
      '"98 102" can be 98102 or 98 and 102.',
      'Write the number without the space, or part trials by semicolons.',
    ],
  ])('%s', async (_, text, given, message, suggestion) => {
    const { rejects } = await ingestText(`ID,Bend L\n${text}`, { entry: given });
    expect(rejects.map((reject) => [reject.code, reject.message, reject.suggestion])).toEqual([
      ['number_ambiguous', message, suggestion],
    ]);
  });

  it('is that of the rest of the column, in a sheet that shows both', async () => {
    const sheet = 'ID;Bend L;Hop L\nK001;11.5;150,5\nK002;8.5;151,5\nK003;9,5;152\n';
    const { rejects } = await ingestText(sheet, { entry });
    expect(rejects.map(({ line, column, suggestion }) => [line, column, suggestion])).toEqual([
      [2, 3, expect.stringContaining('Say decimal:')],
      [3, 3, expect.stringContaining('Say decimal:')],
      [4, 2, 'The other cells have a point: mend this one cell (part trials by semicolons).'],
    ]);
  });
});

describe('cells without a unit beside cells with one', () => {
  const sheet = 'ID,Hop L 1,Hop L 2\nK001,152,158\nK002,150,155\nK003,55 in,1.47 m\n';

  it('say the units in quotes, and have one cure a column', async () => {
    const ingested = await ingestText(sheet, { entry });
    expect(codes(ingested)).toEqual([
      'unit_unknown @2:2',
      'unit_unknown @2:3',
      'unit_unknown @3:2',
      'unit_unknown @3:3',
    ]);
    expect(ingested.rejects[0].message).toBe(
      '"152" says no unit, and other cells of the column are in "in": a unit is never guessed.',
    );
    const cure = (units: string): string =>
      `Ask the station. Where the numbers without a unit are all in one, write it into the heading, or name it in screening.yaml on the entry of this sheet (${units}); else write the unit behind each number.`;
    expect(ingested.rejects.map(({ suggestion }) => suggestion)).toEqual(
      ['[in_i]', 'm', '[in_i]', 'm'].map((code) =>
        cure(`units: {hop: cm} or units: {hop: ${code === 'm' ? code : `"${code}"`}}`),
      ),
    );
  });

  it('are read once the cure is taken', async () => {
    const { observations, rejects } = await ingestText(sheet, { entry: { ...entry, units: { hop: 'cm' } } });
    expect(rejects).toEqual([]);
    // 55 in × 2.54 cm = 139.7 cm
    expect(observations.map(({ value }) => value)).toEqual([152, 158, 150, 155, 139.7, 147]);
  });
});
