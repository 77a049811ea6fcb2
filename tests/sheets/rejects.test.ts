import { describe, expect, it } from 'vitest';
import { REJECTS, type RejectCode } from '../../src/problems/rejects.ts';
import { ROSTER } from './battery.ts';
import { codes, type IngestGiven, ingestSheets, ingestText, shorts } from './ingest_text.ts';

const entry = { date: '2026-08-17' };
const roster = ROSTER;

/** One sheet a code: where it is rejected, and what is read all the same. */
const CASES: readonly {
  readonly code: RejectCode;
  readonly text: string | Uint8Array;
  readonly given?: IngestGiven;
  readonly at: readonly string[];
  readonly read: readonly string[];
}[] = [
  { code: 'file_empty', text: '', at: ['-:-'], read: [] },
  { code: 'file_empty', text: '\n \n\t\n', at: ['-:-'], read: [] },
  { code: 'file_empty', text: '\ufeff', at: ['-:-'], read: [] },
  { code: 'file_not_text', text: 'ID,Hop L\nK001,15\u00000\n', at: ['-:-'], read: [] },
  { code: 'file_not_text', text: Uint8Array.of(0x50, 0x4b, 3, 4, 20, 0), at: ['-:-'], read: [] },
  {
    code: 'encoding_invalid',
    text: Uint8Array.of(0x49, 0x44, 0x92),
    given: { entry: { encoding: 'utf-8' } },
    at: ['-:-'],
    read: [],
  },
  { code: 'encoding_invalid', text: Uint8Array.of(0xff, 0xfe, 0x49, 0, 0x44), at: ['-:-'], read: [] },
  { code: 'delimiter_unknown', text: 'ID;Hop L\nID,Hop R\n', at: ['-:-'], read: [] },
  { code: 'quote_unclosed', text: 'ID,Hop L\nK001,150\nK002,"151\n', at: ['3:2'], read: ['hop left 1 = 150'] },
  { code: 'header_missing', text: 'K001,20,21\n', at: ['-:-'], read: [] },
  { code: 'heading_unknown', text: 'ID,Thing,Hop L\nK001,1,150\n', at: ['1:2'], read: ['hop left 1 = 150'] },
  { code: 'heading_unknown', text: 'ID,,Hop L\nK001,1,150\n', at: ['1:2'], read: ['hop left 1 = 150'] },
  { code: 'heading_ambiguous', text: 'ID,Reach L,Hop L\nK001,1,150\n', at: ['1:2'], read: ['hop left 1 = 150'] },
  {
    code: 'heading_ambiguous',
    text: 'ID,Test,Side,Value\nK001,Reach,L,60\nK001,Hop,L,150\n',
    at: ['2:2'],
    read: ['hop left 1 = 150'],
  },
  { code: 'heading_duplicate', text: 'ID,Hop L,Hop L\nK001,150,151\n', at: ['1:3'], read: ['hop left 1 = 150'] },
  {
    code: 'row_too_long',
    // With a reading too many nobody knows which headings the others stand under.
    text: 'ID,Hop L\nK001,150,5\nK002,151\n',
    at: ['2:3'],
    read: ['hop left 1 = 151'],
  },
  { code: 'athlete_missing', text: 'ID,Hop L\n,150\nK002,151\n', at: ['2:1'], read: ['hop left 1 = 151'] },
  {
    code: 'athlete_unknown',
    text: 'ID,Hop L\nK900,150\nK002,151\n',
    given: { roster },
    at: ['2:1'],
    read: ['hop left 1 = 151'],
  },
  {
    code: 'athlete_ambiguous',
    text: 'ID,Hop L\nK0014,150\nK002,151\n',
    given: { roster },
    at: ['2:1'],
    read: ['hop left 1 = 151'],
  },
  {
    code: 'date_missing',
    text: 'ID,Date,Hop L\nK001,,150\nK002,2026-08-17,151\n',
    given: { entry: {} },
    at: ['2:2'],
    read: ['hop left 1 = 151'],
  },
  { code: 'date_missing', text: 'ID,Hop L\nK001,150\n', given: { entry: {} }, at: ['2:-'], read: [] },
  {
    code: 'date_invalid',
    text: 'ID,Date,Hop L\nK001,31/02/2026,150\nK002,,151\n',
    at: ['2:2'],
    read: ['hop left 1 = 151'],
  },
  { code: 'date_invalid', text: 'ID,Date,Hop L\nK001,soon,150\nK002,,151\n', at: ['2:2'], read: ['hop left 1 = 151'] },
  {
    code: 'date_ambiguous',
    text: 'ID,Date,Hop L\nK001,03/04/2026,150\nK002,,151\n',
    at: ['2:2'],
    read: ['hop left 1 = 151'],
  },
  {
    code: 'test_unknown',
    text: 'ID,Test,Side,Value\nK001,Jump,L,60\nK001,Hop,L,150\n',
    at: ['2:2'],
    read: ['hop left 1 = 150'],
  },
  {
    code: 'test_unknown',
    text: 'ID,Test,Side,Value\nK001,,L,60\nK001,Hop,L,150\n',
    at: ['2:2'],
    read: ['hop left 1 = 150'],
  },
  { code: 'side_missing', text: 'ID,Hop,Ht\nK001,150,180\n', at: ['2:2'], read: ['height 1 = 180'] },
  { code: 'side_missing', text: 'ID,Side,Hop\nK001,,150\nK001,L,151\n', at: ['2:3'], read: ['hop left 1 = 151'] },
  { code: 'side_unknown', text: 'ID,Side,Hop\nK001,LL,150\nK001,L,151\n', at: ['2:2'], read: ['hop left 1 = 151'] },
  { code: 'side_needs_roster', text: 'ID,Hip Add D (N),Ht\nK001,200,180\n', at: ['2:2'], read: ['height 1 = 180'] },
  {
    code: 'side_needs_roster',
    text: 'ID,Hop D,Ht\nK001,150,180\n',
    given: { roster },
    at: ['2:2'],
    read: ['height 1 = 180'],
  },
  { code: 'trial_invalid', text: 'ID,Trial,Hop L\nK001,x,150\nK001,2,151\n', at: ['2:2'], read: ['hop left 2 = 151'] },
  { code: 'trial_invalid', text: 'ID,Trial,Hop L\nK001,0,150\nK001,2,151\n', at: ['2:2'], read: ['hop left 2 = 151'] },
  {
    code: 'status_unknown',
    text: 'ID,Test,Side,Value,Status\nK001,Hop,L,150,hm\nK001,Hop,L,151,ok\n',
    at: ['2:5'],
    read: ['hop left 1 = 151'],
  },
  { code: 'unit_unknown', text: 'ID,Hip Add L,Hop L\nK001,20,150\n', at: ['1:2'], read: ['hop left 1 = 150'] },
  {
    code: 'unit_unknown',
    text: 'ID,Test,Side,Value,Unit\nK001,Hop,L,150,ells\nK001,Hop,L,151,\n',
    at: ['2:4'],
    read: ['hop left 1 = 151'],
  },
  {
    code: 'unit_unknown',
    text: 'ID,Test,Side,Value\nK001,Hip add,L,20\nK001,Hop,L,151\n',
    at: ['2:4'],
    read: ['hop left 1 = 151'],
  },
  { code: 'unit_mismatch', text: 'ID,Hip Add L (cm),Hop L\nK001,20,150\n', at: ['1:2'], read: ['hop left 1 = 150'] },
  {
    code: 'unit_mismatch',
    text: 'ID,Test,Side,Value,Unit\nK001,Hop,L,150,kg\nK001,Hop,L,151,\n',
    at: ['2:4'],
    read: ['hop left 1 = 151'],
  },
  { code: 'unit_mismatch', text: 'ID,Hop L\nK001,150 kg\nK002,1.5 m\n', at: ['2:2'], read: ['hop left 1 = 150'] },
  { code: 'number_unreadable', text: 'ID,Hop L\nK001,1O\nK002,150\n', at: ['2:2'], read: ['hop left 1 = 150'] },
  { code: 'number_ambiguous', text: 'ID;Bend L;Hop L\nK001;1,234;150\n', at: ['2:2'], read: ['hop left 1 = 150'] },
  { code: 'number_censored', text: 'ID,Hop L\nK001,>150\nK002,150\n', at: ['2:2'], read: ['hop left 1 = 150'] },
  { code: 'number_approximate', text: 'ID,Hop L\nK001,~150\nK002,150\n', at: ['2:2'], read: ['hop left 1 = 150'] },
  { code: 'spreadsheet_error', text: 'ID,Hop L\nK001,#DIV/0!\nK002,150\n', at: ['2:2'], read: ['hop left 1 = 150'] },
  {
    code: 'pair_incomplete',
    text: 'ID,BP\nK001,118/\nK002,118/72\n',
    at: ['2:2'],
    read: ['systolic 1 = 118', 'diastolic 1 = 72'],
  },
  {
    code: 'pair_incomplete',
    text: 'ID,BP\nK001,118\nK002,118/72\n',
    at: ['2:2'],
    read: ['systolic 1 = 118', 'diastolic 1 = 72'],
  },
  {
    code: 'pair_incomplete',
    text: 'ID,BP\nK001,118/72/60\nK002,118/72\n',
    at: ['2:2'],
    read: ['systolic 1 = 118', 'diastolic 1 = 72'],
  },
  {
    code: 'pair_incomplete',
    text: 'ID,BP\nK001,118 mmHg\nK002,118/72\n',
    at: ['2:2'],
    read: ['systolic 1 = 118', 'diastolic 1 = 72'],
  },
  {
    code: 'pair_incomplete',
    text: 'ID,BP\nK001,118 P\nK002,118/72\n',
    at: ['2:2'],
    read: ['systolic 1 pain', 'diastolic 1 pain', 'systolic 1 = 118', 'diastolic 1 = 72'],
  },
  { code: 'height_ambiguous', text: 'ID,Ht\nK001,5.11\nK002,180\n', at: ['2:2'], read: ['height 1 = 180'] },
  { code: 'height_as_date', text: 'ID,Ht\nK001,11-May\nK002,180\n', at: ['2:2'], read: ['height 1 = 180'] },
  { code: 'implausible', text: 'ID,Ht\nK001,71\nK002,180\n', at: ['2:2'], read: ['height 1 = 180'] },
];

describe('each reject code, where it belongs, and the rest of the sheet is read', () => {
  it.each(CASES)('$code: $text', async ({ code, text, given, at, read }) => {
    const ingested = await ingestText(text, { entry, ...given });
    expect(codes(ingested)).toEqual(at.map((place) => `${code} @${place}`));
    expect(shorts(ingested)).toEqual(read);
    const [{ message, suggestion }] = ingested.rejects;
    for (const words of [message!, suggestion!]) {
      expect(words).toMatch(/^[\p{Lu}"].*[.?]$/su);
      expect(words.replace('"#DIV/0!"', '')).not.toMatch(/undefined|null|\[object|!/);
    }
  });

  it('covers every code', async () => {
    // A file that cannot be opened is the only one that needs more than a text.
    const covered = new Set<string>([...CASES.map(({ code }) => code), 'file_unreadable']);
    expect(Object.keys(REJECTS).filter((code) => !covered.has(code))).toEqual([]);
  });
});

describe('a pair in one cell', () => {
  it.each([
    ['118/72', ['systolic 1 = 118', 'diastolic 1 = 72'], []],
    ['118 / 72', ['systolic 1 = 118', 'diastolic 1 = 72'], []],
    ['118/72 mmHg', ['systolic 1 = 118', 'diastolic 1 = 72'], []],
    ['NT', ['systolic 1 not_tested', 'diastolic 1 not_tested'], []],
    ['refused', ['systolic 1 refused', 'diastolic 1 refused'], []],
    ['N/A', ['systolic 1 not_applicable', 'diastolic 1 not_applicable'], []],
    ['#DIV/0!', [], ['spreadsheet_error']],
    ['118/xx', ['systolic 1 = 118'], ['number_unreadable']],
    ['118/720', ['systolic 1 = 118'], ['implausible']],
    ['xx/yy', [], ['number_unreadable', 'number_unreadable']],
    ['72', [], ['pair_incomplete']],
    ['~118/72', ['diastolic 1 = 72'], ['number_approximate']],
  ])('%s', async (cell, read, rejected) => {
    const ingested = await ingestText(`ID,BP\nK001,${cell}\n`, { entry });
    expect(shorts(ingested)).toEqual(read);
    expect(ingested.rejects.map(({ code }) => code)).toEqual(rejected);
    const [{ measured, not_measured, rejected: cells }] = ingested.ledger;
    // The cell counts once: rejected, else measured, else not_measured.
    const fate = rejected.length > 0 ? [0, 0, 1] : cell.includes('118') ? [1, 0, 0] : [0, 1, 0];
    expect([measured, not_measured, cells]).toEqual(fate);
    for (const { raw } of ingested.rejects) expect(raw).toBe(cell);
  });
});

describe('cells that only look filled', () => {
  it.each(['\u00a0', '\u3000', '\u2003', '\ufeff', ' \t ', '\u00a0 \u00a0'])('%j is a blank one', async (blank) => {
    const ingested = await ingestText(`ID,Hop L,Remarks\nK001,${blank},${blank}\nK002,${blank}150${blank},\n`, {
      entry,
    });
    expect(codes(ingested)).toEqual([]);
    expect(ingested.observations).toMatchObject([{ raw: '150', value: 150 }]);
    expect(ingested.ledger[0]).toMatchObject({ cells: 6, measured: 1, rejected: 0 });
  });
});

describe('decimal commas', () => {
  it('hold for every cell of the sheet', async () => {
    const text = 'ID;Bend L;Bend R\nK001;7,5;1.234\nK002;12.5;1.234,5\n';
    const ingested = await ingestText(text, { entry: { ...entry, decimal: ',' } });
    expect(shorts(ingested)).toEqual(['bend left 1 = 7.5', 'bend right 1 = 1234', 'bend right 1 = 1234.5']);
    expect(codes(ingested)).toEqual(['number_ambiguous @3:2']);
  });
});

describe('a file that cannot be read', () => {
  it('is one reject, and the next one is read', async () => {
    const { ingest } = await import('../../src/sheets/ingest.ts');
    const { ingestWorld } = await import('../../src/sheets/world.ts');
    const { entryOf, protocolOf } = await import('./ingest_text.ts');
    const broken = Object.assign(new Error('nothing there'), { code: 'ENOENT' });
    const sources = [
      {
        file: 'gone.csv',
        entry: entryOf(entry),
        open(): Iterable<Uint8Array> {
          throw broken;
        },
      },
      { file: 'good.csv', entry: entryOf(entry), open: () => [Buffer.from('ID,Hop L\nK001,150\n')] },
    ];
    const rejects: unknown[] = [];
    let readings = 0;
    for await (const batch of ingest(sources, protocolOf(), ingestWorld(protocolOf()), new Map())) {
      rejects.push(...batch.rejects.rows());
      readings += batch.observations.length;
    }
    expect(rejects).toMatchObject([
      { file: 'gone.csv', code: 'file_unreadable', message: 'The file cannot be read: there is no such file.' },
    ]);
    expect(readings).toBe(1);
  });
});

describe('several sheets', () => {
  it('stand in the order in which they were given, a ledger line each', async () => {
    const { ledger, observations } = await ingestSheets([
      { file: 'b.csv', content: 'ID,Hop L\nK001,150\n', entry },
      { file: 'empty.csv', content: '', entry },
      { file: 'a.csv', content: 'ID,Hop L\nK001,151\n', entry },
    ]);
    expect(ledger.map(({ file, cells }) => [file, cells])).toEqual([
      ['b.csv', 4],
      ['empty.csv', 0],
      ['a.csv', 4],
    ]);
    expect(observations.map(({ file, value }) => [file, value])).toEqual([
      ['b.csv', 150],
      ['a.csv', 151],
    ]);
  });
});
