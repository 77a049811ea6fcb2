import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyWorld, given, NUMBER_OF_RUNS, rowsOf } from './any_sheet.ts';
import { ROSTER } from './battery.ts';
import { type Ingested, type IngestGiven, ingestText, type Observation } from './ingest_text.ts';
import { type MadeCell, type MadeSheet, madeSheet, madeSheetPair } from './made_sheet.ts';

const entry = { date: '2026-08-17', units: { hip_add: 'kgf' } };

/** Everything that an observation says, but for the line on which it stands. */
function facts({ observations }: Ingested): string[] {
  return observations.map(({ line: _, ...fact }) => JSON.stringify(fact)).sort();
}

/** Without where it stands at all. */
function placeless({ observations }: Ingested): string[] {
  return observations.map(({ line: _, column: __, ...fact }) => JSON.stringify(fact)).sort();
}

const folded = (id: string): string => id.replace(/\s/g, '').toUpperCase();

/** The made cell in which an observation stands. */
function cellOf(sheet: MadeSheet, { line, column }: Observation): MadeCell | undefined {
  const row = rowsOf(sheet).findIndex((other) => other.line === line);
  return sheet.rows[row]?.[column! - 1];
}

describe('over sheets as people make them', () => {
  it.each(['down', 'across'] as const)('an observation is of the athlete whose cell it is: %s', async (direction) => {
    await fc.assert(
      fc.asyncProperty(madeSheet({ direction }), anyWorld, async (sheet, world) => {
        const { observations } = await ingestText(sheet.text, given(world, sheet));
        for (const observation of observations) {
          const { line, column, raw, athlete_id } = observation;
          const owner = cellOf(sheet, observation)?.owner ?? 'nobody';
          expect([line, column, raw, folded(athlete_id!)]).toEqual([line, column, raw, owner]);
        }
      }),
      { numRuns: NUMBER_OF_RUNS },
    );
  });

  it('left and right exchanged in headings and cells are exchanged in the observations, and nothing else is', async () => {
    const exchanged: Readonly<Record<string, string>> = { left: 'right', right: 'left' };
    const shown = ({ side, raw: _, ...rest }: Observation, isExchanged: boolean): unknown[] => [
      isExchanged ? (exchanged[side!] ?? side) : side,
      rest,
    ];
    await fc.assert(
      fc.asyncProperty(madeSheetPair({ pairs: false }), anyWorld, async ([sheet, mirror], world) => {
        const one = await ingestText(sheet.text, given(world, sheet));
        const other = await ingestText(mirror.text, given(world, mirror));
        expect(other.observations.map((row) => shown(row, true))).toEqual(
          one.observations.map((row) => shown(row, false)),
        );
        expect(other.ledger).toEqual(one.ledger);
      }),
      { numRuns: NUMBER_OF_RUNS },
    );
  });

  const LINES: readonly (readonly [
    name: string,
    row: readonly string[] | 'average',
    places: 'top' | 'seam' | 'end',
  ])[] = [
    ['an average', 'average', 'end'],
    ['an average between athletes', 'average', 'seam'],
    ['a footnote', ['* measured twice'], 'end'],
    ['a key', ['Key: NT = not tested, P = pain'], 'end'],
    ['a page header', ['Page 2 of 3'], 'seam'],
    ['a title', ['Preseason screening'], 'top'],
    ['a blank line on top', [''], 'top'],
  ];
  it.each(LINES)('%s more changes no observation', async (_, line, place) => {
    const made = madeSheet({ direction: 'down', beside: line !== 'average' || place === 'end' });
    await fc.assert(
      fc.asyncProperty(made, fc.nat(), async (sheet, pick) => {
        const world: IngestGiven = given({ entry, roster: ROSTER }, sheet);
        const { rows, seams } = sheet;
        const at = place === 'top' ? 0 : place === 'end' ? rows.length : seams[pick % seams.length];
        const worked = place === 'end' ? sheet.last : sheet.average;
        const row = line === 'average' ? worked : line.map((text) => ({ text }));
        const longer = sheet.written([...rows.slice(0, at), row, ...rows.slice(at)]);
        const before = await ingestText(sheet.text, world);
        expect(facts(await ingestText(longer.text, world))).toEqual(facts(before));
      }),
      { numRuns: NUMBER_OF_RUNS / 2 },
    );
  });

  it('a sheet turned by a quarter says the same', async () => {
    const made = madeSheet({ direction: 'down', between: false, beside: false });
    await fc.assert(
      fc.asyncProperty(made, async (sheet) => {
        const { rows } = sheet;
        const titles = rows.findIndex((row) => row.length > 3 || row.some(({ owner }) => owner !== undefined));
        fc.pre(titles >= 0);
        const body = rows.slice(titles);
        const width = Math.max(...body.map((row) => row.length));
        const turned = Array.from({ length: width }, (_, at) => body.map((row) => row[at] ?? { text: '' }));
        const world = { entry: { ...entry, season: 2026 }, roster: ROSTER };
        const down = sheet.written(body);
        const across = sheet.written(turned);
        const one = await ingestText(down.text, given({ ...world, entry: { ...entry, layout: 'down' } }, down));
        const other = await ingestText(across.text, given({ ...world, entry: { ...entry, layout: 'across' } }, across));
        expect(placeless(other)).toEqual(placeless(one));
      }),
      { numRuns: NUMBER_OF_RUNS },
    );
  });
});
