import { describe, expect, it } from 'vitest';
import { ingestText } from './ingest_text.ts';

const entry = { date: '2026-08-17' };

/** The lines of a text as an editor numbers them. */
const linesOf = (text: string): string[] => text.split(/\r\n|\n|\r/);

/** Opens the text at the line of every observation and reject and looks whether the cell begins there. */
async function look(text: string): Promise<{ line: number; raw: string }[]> {
  const { observations, rejects } = await ingestText(text, { entry, piece: 11 });
  const lines = linesOf(text);
  const places = [...observations, ...rejects].map(({ line, raw }) => ({ line: line!, raw: raw! }));
  for (const { line, raw } of places) {
    // A row begins at its line, and its cells may go on below.
    expect(lines.slice(line - 1, line + 2).join('\n')).toContain(raw);
  }
  return places;
}

describe('the line that the user’s editor shows', () => {
  it.each<readonly [name: string, text: string, lines: readonly number[]]>([
    ['a plain sheet', 'ID,Hop L\nK001,150.1\nK002,150.2\n', [2, 3]],
    ['no line end at the end', 'ID,Hop L\nK001,150.1\nK002,150.2', [2, 3]],
    ['title lines', 'Hip station\n\nTester,J. Mill\nID,Hop L\nK001,150.1\n', [5]],
    ['blank lines and rows', 'ID,Hop L\n\n,\nK001,150.1\n \n\nK002,150.2\n', [4, 7]],
    ['CRLF', 'ID,Hop L\r\nK001,150.1\r\n\r\nK002,150.2\r\n', [2, 4]],
    ['CR', 'ID,Hop L\rK001,150.1\r\rK002,150.2\r', [2, 4]],
    ['mixed', 'ID,Hop L\r\nK001,150.1\nK002,150.2\r\r\nK003,150.3\n', [2, 3, 5]],
    ['line breaks in a title', '"Hip\nstation\r\n2026"\nID,Hop L\nK001,150.1\n', [5]],
    ['line breaks in a heading', 'ID,"Hop\nL"\nK001,150.1\n', [3]],
    ['line breaks in a remark', 'ID,Remarks,Hop L\nK001,"a\nb\r\nc",150.1\nK002,,150.2\n', [2, 5]],
    ['line breaks in a cell that is rejected', 'ID,Hop L,Hop R\nK001,"150\nabout",150.1\nK002,150.2,\n', [2, 4, 2]],
    ['two heading lines', 'ID,Hop,\n,L,R\nK001,150.1,150.2\n', [3, 3]],
    ['a cell that cannot be read', 'ID,Hop L\nK001,1O\nK002,150.1\n', [3, 2]],
  ])('%s', async (_, text, lines) => {
    const places = await look(text);
    expect(places.map(({ line }) => line)).toEqual(lines);
  });

  it('stands beyond the first stretch of a long sheet, too', async () => {
    const rows = Array.from({ length: 20_000 }, (_, at) =>
      at % 100 === 7 ? `K${at},"one\ntwo",${100 + (at % 50)}` : `K${at},,${100 + (at % 50)}`,
    );
    const text = `ID,Remarks,Hop L\r\n${rows.join('\r\n')}\r\n`;
    const { observations } = await ingestText(text, { entry });
    const lines = linesOf(text);
    expect(observations).toHaveLength(20_000);
    for (const { line, athlete_id } of observations) {
      if (!lines[line! - 1].startsWith(`${athlete_id},`)) expect([line, lines[line! - 1]]).toEqual([line, athlete_id]);
    }
  });

  it('is that of the quote that is never closed', async () => {
    const { rejects, observations, ledger } = await ingestText(
      'ID,Remarks,Hop L\nK001,"fine\nstill fine",150\nK002,"71 in,151\nK003,,152\nK004,,153\n',
      { entry },
    );
    expect(observations.map(({ line }) => line)).toEqual([2]);
    expect(rejects).toHaveLength(1);
    expect(rejects[0]).toMatchObject({ code: 'quote_unclosed', line: 4, column: 2, cells: 2 });
    // Only its first line is shown: behind it stand other rows, names and all.
    expect(rejects[0].raw).toBe('71 in,151');
    // Three headings, three cells of K001; of K002 the id and the cell that has become of all the rest.
    expect(ledger[0]).toMatchObject({ cells: 8, measured: 1, context: 3, ignored: 2, rejected: 2 });
  });

  it('is that of the quote in a heading line', async () => {
    const { rejects } = await ingestText('Hip station\nID,"Hop L\nK001,150\n', { entry });
    expect(rejects.map(({ code, message }) => [code, message])).toEqual([
      ['quote_unclosed', expect.stringContaining('on line 2')],
    ]);
  });

  it('is that of the row that is too long, with the column of the first cell beyond', async () => {
    const { rejects } = await ingestText('ID,Hop L\nK001,150\nK002,151,,x,y\n', { entry });
    expect(rejects).toMatchObject([{ code: 'row_too_long', line: 3, column: 4, raw: null, cells: 2 }]);
  });

  it('is the line of the headings for a column that is set aside or rejected as a whole', async () => {
    const { rejects, ignored } = await ingestText('Hip\n\nID,Hip Add L,Remarks\nK001,20,fine\nK002,21,\n', { entry });
    expect(rejects).toMatchObject([
      { code: 'unit_unknown', line: 3, column: 2, heading: 'Hip Add L', raw: 'Hip Add L', cells: 3 },
    ]);
    expect(ignored).toMatchObject([
      { line: 1, column: null, cells: 1, reason: 'title_line' },
      { line: 3, column: 3, heading: 'Remarks', cells: 2, reason: 'remark' },
    ]);
  });
});
