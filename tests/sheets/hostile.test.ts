import { describe, expect, it } from 'vitest';
import { ingest } from '../../src/sheets/ingest.ts';
import { BATCH_ROWS } from '../../src/sheets/sheet_tables.ts';
import { ingestWorld } from '../../src/sheets/world.ts';
import { codes, entryOf, type Ingested, ingestText, protocolOf, shorts } from './ingest_text.ts';

const entry = { date: '2026-08-17' };
const HOP = ['hop left 1 = 150'];

function expectBalance({ ledger: [row], rejects, ignored }: Ingested): void {
  const sum = (cells: readonly (number | null)[]): number => cells.reduce<number>((all, each) => all + (each ?? 0), 0);
  expect(row.cells).toBe(sum([row.measured, row.not_measured, row.context, row.ignored, row.rejected]));
  expect(sum(rejects.map(({ cells }) => cells))).toBe(row.rejected);
  expect(sum(ignored.map(({ cells }) => cells))).toBe(row.ignored);
}

async function read(text: string | Uint8Array): Promise<Ingested> {
  const ingested = await ingestText(text, { entry });
  expectBalance(ingested);
  return ingested;
}

describe('a heading', () => {
  it.each(['__proto__', 'constructor', 'toString', 'hasOwnProperty', 'valueOf', '__defineGetter__', 'length'])(
    '%s is a text like any other, wherever it stands',
    async (heading) => {
      const ingested = await read(`ID,${heading},Hop L\nK001,1,150\n`);
      expect(shorts(ingested)).toEqual(HOP);
      expect(codes(ingested)).toEqual(['heading_unknown @1:2']);
      expect(ingested.rejects[0]).toMatchObject({ heading, raw: heading, cells: 2 });
      const inCells = await read(`ID,Team,Date,Side,Trial,Test,Value,Unit\n${`${heading},`.repeat(8)}\n`);
      expect(inCells.observations).toEqual([]);
      expect(inCells.ledger[0].rejected).toBe(8);
    },
  );

  it.each(['__proto__', 'constructor', 'toString'])('%s is ignored where screening.yaml says so', async (heading) => {
    const ingested = await ingestText(`ID,${heading},Hop L\nK001,1,150\n`, {
      entry: { ...entry, columns: Object.fromEntries([[heading, 'ignore']]) },
    });
    expect(shorts(ingested)).toEqual(HOP);
    expect(ingested.ignored).toEqual([expect.objectContaining({ column: 2, heading, reason: 'declared', cells: 2 })]);
  });

  it('that is blank rejects its cells, and says which column it is', async () => {
    const ingested = await read('ID,,Hop L,\nK001,1,150,2\n');
    expect(shorts(ingested)).toEqual(HOP);
    expect(codes(ingested)).toEqual(['heading_unknown @1:2', 'heading_unknown @1:4']);
    expect(ingested.rejects[1].suggestion).toContain('"column 4"');
  });

  it('that stands twice rejects the second column, and both if nobody can tell them apart', async () => {
    const ingested = await read('ID,Hop L,Hop L\nK001,150,151\n');
    expect(shorts(ingested)).toEqual(HOP);
    expect(codes(ingested)).toEqual(['heading_duplicate @1:3']);
    expect(ingested.rejects[0].cells).toBe(2);
  });

  it('of 100 000 characters is unknown, and is not repeated whole', async () => {
    for (const heading of ['x'.repeat(100_000), 'Hop L '.repeat(17_000), '('.repeat(100_000), ' '.repeat(100_000)]) {
      const ingested = await read(`ID,${heading}.,Hop L\nK001,1,150\n`);
      expect(shorts(ingested)).toEqual(HOP);
      expect(codes(ingested)).toEqual(['heading_unknown @1:2']);
      const { raw, message, suggestion } = ingested.rejects[0];
      expect(raw!.length).toBeLessThanOrEqual(1001);
      expect(message!.length).toBeLessThan(300);
      expect(suggestion!.length).toBeLessThan(1000);
    }
  });

  it('in one of 100 000 columns is found', async () => {
    const ingested = await read(`ID,${'Thing,'.repeat(99_998)}Hop L\nK001,${'1,'.repeat(99_998)}150\n`);
    expect(shorts(ingested)).toEqual(HOP);
    expect(ingested.observations[0]).toMatchObject({ line: 2, column: 100_000 });
    expect(ingested.ledger[0]).toMatchObject({ cells: 200_000, measured: 1, context: 3, rejected: 199_996 });
    expect(ingested.rejects).toHaveLength(99_998);
  });
});

describe('a cell of ten million characters', () => {
  const long = 'x'.repeat(10_000_000);

  it.each<readonly [place: string, text: string, found: readonly string[]]>([
    ['of a reading', `ID,Hop L,Ht\nK001,"${long}",180\nK002,150,181\n`, ['number_unreadable @2:2']],
    ['of a number', `ID,Hop L,Ht\nK001,${'7'.repeat(10_000_000)},180\nK002,150,181\n`, ['number_unreadable @2:2']],
    ['of an athlete', `ID,Hop L\n${long},150\nK002,151\n`, ['athlete_unknown @2:1']],
    ['of a date', `ID,Date,Hop L\nK001,${long},150\nK002,2026-08-17,151\n`, ['date_invalid @2:2']],
    ['of a side', `ID,Side,Hop\nK001,${long},150\nK002,L,151\n`, ['side_unknown @2:2']],
    ['beyond the headings', `ID,Hop L\nK001,150,${long}\nK002,151\n`, ['row_too_long @2:3']],
  ])('%s is rejected by itself', async (_, text, found) => {
    const ingested = await read(text);
    expect(codes(ingested)).toEqual(found);
    const [{ raw, message, suggestion }] = ingested.rejects;
    expect((raw ?? '').length + message!.length + suggestion!.length).toBeLessThan(3000);
    expect(ingested.observations.at(-1)).toMatchObject({ athlete_id: 'K002', line: 3 });
  });

  it('of line breaks does not shift the lines below it', async () => {
    const ingested = await read(`ID,Hop L\nK001,"${'\n'.repeat(1_000_000)}x"\nK002,150\n`);
    expect(codes(ingested)).toEqual(['number_unreadable @2:2']);
    expect(ingested.observations[0]).toMatchObject({ athlete_id: 'K002', line: 1_000_003, column: 2 });
  });

  it('in a title line is left aside', async () => {
    const ingested = await read(`${long}\nID,Hop L\nK001,150\n`);
    expect(ingested.rejects.length + ingested.ignored.length).toBe(1);
    expect(ingested.ledger[0].cells).toBe(ingested.rejects.length ? ingested.ledger[0].rejected : 5);
  });
});

describe('a quote that is never closed is told at the line where it opens', () => {
  const rows = 'K001,150\nK002,151\n'.repeat(2);

  it.each<readonly [place: string, text: string, line: number, readings: number]>([
    ['in the headings', `ID,"Hop L\n${rows}`, 1, 0],
    ['in the first heading', `"ID,Hop L\n${rows}`, 1, 0],
    ['in a title line', `Preseason\n"Hip station\nID,Hop L\n${rows}`, 2, 0],
    ['in the first row', `ID,Hop L\n"K001,150\n${rows}`, 2, 0],
    ['in the second cell of the first row', `ID,Hop L\nK001,"150\n${rows}`, 2, 0],
    ['in the third row', `ID,Hop L\nK001,150\nK002,151\nK003,"152\n${rows}`, 4, 2],
    ['in the last cell', `ID,Hop L\n${rows}K003,"152`, 6, 4],
    ['alone at the end', `ID,Hop L\n${rows}"`, 6, 4],
    ['behind a quoted cell of three lines', `ID,Hop L\n"K\n0\n01",150\nK002,"151\n${rows}`, 5, 1],
    ['behind a cell of three lines in the same row', `ID,Hop L,Hop R\nK001,"1\n5\n0","152\n${rows}`, 4, 0],
    ['with carriage returns', `ID,Hop L\r\nK001,150\r\nK002,"151\r\n${rows}`, 3, 1],
  ])('%s', async (_, text, line, readings) => {
    for (const piece of [1, 65_536]) {
      const ingested = await ingestText(text, { entry, piece });
      expectBalance(ingested);
      const unclosed = ingested.rejects.filter(({ code }) => code === 'quote_unclosed');
      expect(unclosed.map((reject) => reject.line)).toEqual([line]);
      expect(ingested.observations).toHaveLength(readings);
      // Names and readings of other rows are not repeated.
      expect(unclosed[0].raw ?? '').not.toContain('\n');
    }
  });

  it('beyond the head of the sheet', async () => {
    const many = 20_000;
    const ingested = await read(`ID,Hop L\n${'K001,150\n'.repeat(many)}K002,"151\n${rows}`);
    expect(codes(ingested)).toEqual([`quote_unclosed @${many + 2}:2`]);
    expect(ingested.observations).toHaveLength(many);
  });

  it('across the columns', async () => {
    const ingested = await ingestText('ID,K001,K002\nHop L,150,151\nHop R,152,"153\n', { entry });
    expectBalance(ingested);
    expect(codes(ingested)).toEqual(['quote_unclosed @3:3']);
    expect(shorts(ingested)).toEqual(['hop left 1 = 150', 'hop left 1 = 151']);
  });
});

describe('a quote alone in its cell', () => {
  it('is a ditto mark where the spreadsheet quoted it', async () => {
    const ingested = await read('ID,Trial,Hop L\nK001,1,150\n"""",2,151\n"""",3,152\n');
    expect(codes(ingested)).toEqual([]);
    expect(shorts(ingested)).toEqual(['hop left 1 = 150', 'hop left 2 = 151', 'hop left 3 = 152']);
  });

  it.each([
    ['two of them', 'ID,Trial,Hop L\nK001,1,150\n",2,151\n",3,152\n'],
    ['one of them', 'ID,Trial,Hop L\nK001,1,150\n",2,151\nK002,1,152\n'],
    ['three of them', 'ID,Trial,Hop L\nK001,1,150\n",2,151\n",3,152\n",4,153\nK002,1,154\n'],
    ['at the ends of lines', 'ID,Hop L,Date\nK001,150,2026-08-17\nK001,151,"\nK001,152,"\n'],
  ])('and typed by hand eats what stands up to the next, and nothing of that is read: %s', async (_, text) => {
    const { observations, rejects } = await read(text);
    expect(rejects.length).toBeGreaterThan(0);
    // What is read at all is read from the cell in which it stands.
    const lines = text.split('\n').map((line) => line.split(','));
    for (const { line, column, raw } of observations) expect(lines[line! - 1][column! - 1]).toBe(raw);
    expect(observations.filter(({ line, athlete_id }) => line === 2 && athlete_id === 'K001')).toHaveLength(1);
  });
});

describe('a file that is no sheet', () => {
  it.each<readonly [name: string, bytes: Uint8Array, code: string, cells: number]>([
    ['of one letter', Buffer.from('x'), 'header_missing @-:-', 1],
    ['of one line feed', Buffer.from('\n'), 'file_empty @-:-', 0],
    ['of one blank', Buffer.from(' '), 'file_empty @-:-', 0],
    ['of one comma', Buffer.from(','), 'file_empty @-:-', 0],
    ['of one quote', Buffer.from('"'), 'quote_unclosed @1:-', 0],
    ['of one NUL byte', Uint8Array.of(0), 'file_not_text @-:-', 0],
    ['of one byte that is not UTF-8', Uint8Array.of(0xff), 'header_missing @-:-', 1],
    ['of no byte', new Uint8Array(0), 'file_empty @-:-', 0],
    ['of a mark alone', Uint8Array.of(0xef, 0xbb, 0xbf), 'file_empty @-:-', 0],
    ['of a UTF-16LE mark alone', Uint8Array.of(0xff, 0xfe), 'file_empty @-:-', 0],
    ['of a UTF-16BE mark alone', Uint8Array.of(0xfe, 0xff), 'file_empty @-:-', 0],
    ['of a mark and a line feed', Uint8Array.of(0xef, 0xbb, 0xbf, 0x0a), 'file_empty @-:-', 0],
    ['of headings alone that mean nothing', Buffer.from('what,else\n'), 'header_missing @-:-', 2],
    [
      'of an image',
      Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 0x0d),
      'file_not_text @-:-',
      0,
    ],
    ['that is a workbook', Uint8Array.of(0x50, 0x4b, 3, 4, 20, 0, 8, 8, 8, 0, 1, 2, 3), 'file_not_text @-:-', 0],
    ['that is an old workbook', Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1), 'file_not_text @-:-', 0],
    ['that is a PDF', Buffer.from('%PDF-1.7\n%âãÏÓ\n1 0 obj\n'), 'file_not_text @-:-', 0],
    // An archive with nothing in it.
    ['that is an empty archive', Uint8Array.of(0x50, 0x4b, 5, 6, ...new Array(18).fill(0)), 'file_not_text @-:-', 0],
  ])('%s', async (_, bytes, code, cells) => {
    for (const piece of [1, 3, 65_536]) {
      const ingested = await ingestText(bytes, { entry, piece });
      expect(codes(ingested)).toEqual([code]);
      expect(ingested.observations).toEqual([]);
      expectBalance(ingested);
      expect(ingested.ledger[0].cells).toBeGreaterThanOrEqual(cells);
      expect(ingested.ledger[0].measured).toBe(0);
    }
  });

  it('of headings alone hands in nothing, and that is no reject', async () => {
    const ingested = await read('ID,Hop L');
    expect(codes(ingested)).toEqual([]);
    expect(ingested.ledger[0]).toMatchObject({ cells: 2, context: 2 });
  });
});

describe('a NUL byte', () => {
  it.each([0, 5, 14, 16])('at byte %i is said with its place', async (at) => {
    const bytes = Buffer.from('ID,Hop L\nK001,150\n');
    const [before, after] = [bytes.subarray(0, at), bytes.subarray(at)];
    const { rejects, ledger } = await ingestText(Buffer.concat([before, Uint8Array.of(0), after]), { entry });
    expect(rejects.map(({ code }) => code)).toEqual(['file_not_text']);
    expect(rejects[0].message).toContain(`a NUL byte at byte ${at + 1}.`);
    expect(ledger[0].cells).toBe(0);
  });

  it('far down is found before anything is read', async () => {
    const sheet = `ID,Hop L\n${'K001,150\n'.repeat(50_000)}`;
    const { rejects, observations } = await ingestText(Buffer.from(`${sheet}\u0000`), { entry });
    expect(rejects.map(({ code }) => code)).toEqual(['file_not_text']);
    expect(observations).toEqual([]);
  });
});

describe('UTF-16 without a mark', () => {
  const SHEET = 'ID,Hop L\nK001,150\n';
  const little = Buffer.from(SHEET, 'utf16le');
  const big = Buffer.from(little).swap16();

  it.each([
    ['little end first', little, 'utf-16le'],
    ['big end first', big, 'utf-16be'],
  ] as const)('%s is read where it is declared, and else is said to be no text', async (_, bytes, encoding) => {
    expect(shorts(await ingestText(bytes, { entry: { ...entry, encoding } }))).toEqual(HOP);
    const undeclared = await ingestText(bytes, { entry });
    expect(codes(undeclared)).toEqual(['file_not_text @-:-']);
    expect(undeclared.observations).toEqual([]);
  });

  it('declared the wrong way round gives no reading', async () => {
    const ingested = await ingestText(little, { entry: { ...entry, encoding: 'utf-16be' } });
    expect(ingested.observations).toEqual([]);
    expect(ingested.rejects).toHaveLength(1);
    expectBalance(ingested);
  });

  it('holds half of a pair of units, and that cell alone is rejected', async () => {
    const bytes = Buffer.from('ID,Hop L\nK001,15\ud8000\nK002,150\n', 'utf16le');
    const ingested = await ingestText(bytes, { entry: { ...entry, encoding: 'utf-16le' } });
    expect(ingested.observations.filter(({ athlete_id }) => athlete_id === 'K001')).toEqual([]);
  });
});

describe('a batch', () => {
  const protocol = protocolOf();

  async function largestBatch(text: string): Promise<{ most: number; all: number }> {
    const sheet = { file: 'sheet.csv', entry: entryOf(entry), open: () => [Buffer.from(text)] };
    let [most, all] = [0, 0];
    for await (const { observations } of ingest([sheet], protocol, ingestWorld(protocol), new Map())) {
      most = Math.max(most, observations.length);
      all += observations.length;
    }
    return { most, all };
  }

  const list = Array.from({ length: 20 }, (_, at) => 150 + at).join('; ');
  const tests = ['Hop L', 'Hop R', 'Lunge L', 'Lunge R', 'Bend L', 'Bend R'];
  const headings = tests.flatMap((test) => Array.from({ length: 20 }, (_, at) => `${test} ${at + 1}`));
  it.each<readonly [name: string, text: string, all: number]>([
    ['rows', `ID,Hop L\n${'K001,150\n'.repeat(20_000)}`, 20_000],
    ['many columns', `ID,${headings.join(',')}\n${`K001${',10'.repeat(120)}\n`.repeat(100)}`, 12_000],
    ['lists of trials', `ID,Hop L\n${`K001,${list}\n`.repeat(1000)}`, 20_000],
    [
      'lists of trials in several columns',
      `ID,Hop L,Hop R,Hip IR L\n${`K001,${list},${list},20; 21\n`.repeat(300)}`,
      12_600,
    ],
    ['pairs with rechecks', `ID,BP\n${'K001,118/72; 120/74; 119/73; 121/75\n'.repeat(2000)}`, 16_000],
    ['tables side by side', `${'ID,Hop L,,'.repeat(30)}\n${`${'K001,150,,'.repeat(30)}\n`.repeat(500)}`, 15_000],
    [
      'a wide block below a narrow one',
      `ID,Hop L\nK001,150\nID,${headings.join(',')}\n${`K001${',10'.repeat(120)}\n`.repeat(100)}`,
      12_001,
    ],
    [
      'athletes across',
      `ID${',K001'.repeat(9000)}\nHop L${',150'.repeat(9000)}\nHop R${',151'.repeat(9000)}\n`,
      18_000,
    ],
  ])('holds at most 8192 observations: %s', async (_, text, all) => {
    const found = await largestBatch(text);
    expect(found.all).toBe(all);
    expect(found.most).toBeLessThanOrEqual(BATCH_ROWS);
  });
});

describe('large sheets take no time', () => {
  it.each([
    ['a million blank lines', `ID,Hop L\n${'\n'.repeat(1_000_000)}K001,150\n`],
    ['an open quote over two million characters', `ID,Hop L\nK001,"${'1,2\n'.repeat(500_000)}`],
    ['quotes that open and close', `ID,Hop L\n${'K001,"1"\n'.repeat(100_000)}`],
    ['200 000 cells in a row', `ID,Hop L\nK001,150${',1'.repeat(200_000)}\n`],
    ['headings of 300 000 characters', `ID,${'(a'.repeat(150_000)},Hop L\nK001,1,150\n`],
  ])('%s', async (_, text) => {
    const started = performance.now();
    await read(text);
    expect(performance.now() - started).toBeLessThan(20_000);
  });
});
