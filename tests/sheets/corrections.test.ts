import { describe, expect, it } from 'vitest';
import { NameWords } from '../../src/athletes/shown_cells.ts';
import { readCorrections, unusedCorrections } from '../../src/sheets/corrections.ts';
import { codes, type Ingested, ingestText, shorts } from './ingest_text.ts';

const SHEET = 'ID,Hop L,Ht,Status of day\nK001,15,18,\nK002,150,1O,\nK003,,170,\nK004,9999,171,x\n';

function correct(rows: string, text = SHEET): Promise<Ingested> {
  return ingestText(text, {
    entry: { date: '2026-08-17' },
    corrections: `file,line,column,raw,action,value,by,date\n${rows}\n`,
  });
}

const balance = ({ ledger, rejects }: Ingested): boolean => {
  const [{ cells, measured, not_measured, context, ignored, rejected }] = ledger;
  const parts = [measured, not_measured, context, ignored, rejected].reduce<number>((sum, part) => sum + part!, 0);
  return cells === parts && rejected === rejects.reduce((sum, reject) => sum + reject.cells!, 0);
};

describe('corrections', () => {
  it('leave everything as it is where there are none', async () => {
    const ingested = await correct('');
    expect(shorts(ingested)).toEqual(['hop left 1 = 15', 'hop left 1 = 150', 'height 1 = 170', 'height 1 = 171']);
    expect(codes(ingested)).toEqual([
      'heading_unknown @1:4',
      'implausible @2:3',
      'number_unreadable @3:3',
      'implausible @5:2',
    ]);
  });

  it('put a value in the place of a cell, which is still shown as it was', async () => {
    const ingested = await correct('sheet.csv,2,2,15,value,151,hip station,2026-08-19');
    expect(ingested.observations[0]).toMatchObject({ value: 151, raw: '15', line: 2, column: 2 });
    expect(ingested.notes).toEqual([]);
    expect(balance(ingested)).toBe(true);
  });

  it('name a column by its number or its heading, whatever the case', async () => {
    for (const column of ['3', 'Ht', 'HT']) {
      const { observations } = await correct(`sheet.csv,3,${column},1O,value,170,,`);
      expect(observations.find(({ line, column: at }) => line === 3 && at === 3)).toMatchObject({
        value: 170,
        raw: '1O',
      });
    }
  });

  it('give a value with its own unit or a status', async () => {
    const ingested = await correct('sheet.csv,3,3,1O,value,"5\'11""",,\nsheet.csv,5,2,9999,value,NT,,');
    expect(shorts(ingested).slice(1)).toEqual([
      'hop left 1 = 150',
      'height 1 = 180.34',
      'height 1 = 170',
      'hop left 1 not_tested',
      'height 1 = 171',
    ]);
  });

  it('void an attempt', async () => {
    const ingested = await correct('sheet.csv,3,2,150,void,,,');
    expect(shorts(ingested)).toContain('hop left 1 void');
    expect(balance(ingested)).toBe(true);
  });

  it('void what cannot be read, too', async () => {
    const ingested = await correct('sheet.csv,3,3,1O,void,,,');
    expect(shorts(ingested)).toContain('height 1 void');
    expect(codes(ingested)).not.toContain('number_unreadable @3:3');
  });

  it('confirm a reading beyond the limits', async () => {
    const ingested = await correct('sheet.csv,5,2,9999,confirmed,,me,2026-08-19');
    expect(shorts(ingested)).toContain('hop left 1 = 9999');
    expect(balance(ingested)).toBe(true);
  });

  it('name the cells that they confirm, by number or heading, as far as the cell reads as expected', async () => {
    const { confirmed } = await correct(
      'sheet.csv,5,2,9999,confirmed,,,\nsheet.csv,5,Ht,171,confirmed,,,\nsheet.csv,2,2,16,confirmed,,,\nsheet.csv,3,2,150,void,,,',
    );
    expect(confirmed).toEqual(['sheet.csv\n5\n2', 'sheet.csv\n5\n3']);
  });

  it('name the cells that they confirm where athletes stand across the columns', async () => {
    const { confirmed } = await correct(
      'sheet.csv,2,3,150,confirmed,,,',
      'ID,K001,K002,K003\nHop L,148,150,155\nHt,170,172,181\n',
    );
    expect(confirmed).toEqual(['sheet.csv\n2\n3']);
  });

  it('are judged by the limits themselves, and the reject shows the sheet’s cell', async () => {
    const ingested = await correct('sheet.csv,2,3,18,value,19,,');
    expect(ingested.rejects.find(({ line }) => line === 2)).toMatchObject({ code: 'implausible', raw: '18' });
  });

  it('mend who and when, too', async () => {
    const ingested = await correct('sheet.csv,2,1,K001,value,K009,,');
    expect(ingested.observations[0]).toMatchObject({ athlete_id: 'K009', raw: '15' });
    expect(balance(ingested)).toBe(true);
  });

  it('fill an empty cell, and the ledger still adds up', async () => {
    const ingested = await correct('sheet.csv,4,2,,value,160,,');
    expect(shorts(ingested)).toContain('hop left 1 = 160');
    expect(balance(ingested)).toBe(true);
  });

  it('write a decimal point, or the comma of the sheet', async () => {
    const sheet = 'athlete_id;Date;Hip Add L (kg);Hip Add R (kg)\nA1;2026-08-17;24,5;432\nA2;2026-08-17;25,5;23,1\n';
    for (const value of ['43.2', '"43,2"']) {
      const ingested = await correct(`sheet.csv,2,4,432,value,${value},,`, sheet);
      expect(ingested.rejects).toEqual([]);
      const right = ingested.observations.find((row) => row.athlete_id === 'A1' && row.side === 'right');
      // 43.2 kgf of 9.80665 N each.
      expect(right?.value).toBeCloseTo(423.64728, 9);
    }
  });

  it('may be copied from a table in which the cell was made harmless', async () => {
    // "=15" is shown as "'=15", so that no spreadsheet runs it (design, section 7).
    const ingested = await correct("sheet.csv,2,2,'=15,value,151,,", SHEET.replace(',15,', ',=15,'));
    expect(shorts(ingested)).toContain('hop left 1 = 151');
    expect(ingested.notes).toEqual([]);
  });
});

describe('a correction that does not fit', () => {
  it.each([
    ['another text', 'sheet.csv,2,2,16,value,151,,', 'corrections.csv:2: sheet.csv:2, column 2 does not read "16"'],
    ['another line', 'sheet.csv,99,2,15,value,151,,', 'corrections.csv:2: sheet.csv:99, column 2 does not read "15"'],
    [
      'no such column',
      'sheet.csv,2,Hip,15,value,151,,',
      'corrections.csv:2: sheet.csv:2, column hip does not read "15"',
    ],
    ['an unknown sheet', 'other.csv,2,2,15,value,151,,', 'corrections.csv:2: other.csv is not one of the sheets'],
    [
      'an unknown action',
      'sheet.csv,2,2,15,delete,,,',
      'corrections.csv:2:5: action is none of value, void, confirmed',
    ],
    ['no line', 'sheet.csv,x,2,15,void,,,', 'corrections.csv:2:2: line "x" is not a line number'],
    ['no column', 'sheet.csv,2,,15,void,,,', 'corrections.csv:2:3: column is empty'],
    ['no value', 'sheet.csv,2,2,15,value,,,', 'corrections.csv:2:6: value is empty, and the action is value'],
    [
      'what may be a name',
      'sheet.csv,2,2,Bo Reed,value,151,,',
      'corrections.csv:2: sheet.csv:2, column 2 does not read what the correction expects',
    ],
    ['a column that is not read', 'sheet.csv,5,4,x,value,y,,', 'corrections.csv:2: sheet.csv:5, column 4'],
  ])('%s is said and not applied', async (_, row, note) => {
    const ingested = await correct(row);
    expect(shorts(ingested)).toEqual(shorts(await correct('')));
    expect(ingested.notes.map((text) => text.split('\n')[0])).toEqual([expect.stringContaining(note)]);
  });
});

describe('messages about corrections', () => {
  const names = new NameWords(['Bo Reed']);
  const spec = { file: 'corrections.csv', columns: new Map() };
  const HEAD = 'file,line,column,raw,action,value\n';

  it('repeat no name, in whichever column it stands, and the word of the action otherwise', () => {
    const rows = ['sheet.csv,2,2,15,Reed,\n', 'sheet.csv,Bo Reed,2,15,void,\n', 'sheet.csv,2,2,15,delete,\n'];
    const { warnings } = readCorrections(HEAD + rows.join(''), spec, names);
    expect(warnings.map(({ message }) => message)).toEqual([
      'action is none of value, void, confirmed',
      'line is not a line number',
      'action "delete" is none of value, void, confirmed',
    ]);
  });

  it('repeat none of those that met no cell either', () => {
    const rows = 'Reed.csv,2,2,15,void,\nsheet.csv,2,Bo Reed,Reed 15,void,\nsheet.csv,2,Hip,15,void,\n';
    const { corrections } = readCorrections(HEAD + rows, spec, names);
    expect(unusedCorrections(corrections, new Set(['sheet.csv']), names).map(({ message }) => message)).toEqual([
      'file is not one of the sheets',
      'sheet.csv:2, column of that heading does not read what the correction expects',
      'sheet.csv:2, column hip does not read "15"',
    ]);
  });
});
