import { describe, expect, it } from 'vitest';
import { codes, ingestText, shorts } from './ingest_text.ts';

/** What one cell under a heading comes to, and its rejects. */
async function read(heading: string, cell: string): Promise<readonly [string[], string[]]> {
  const content = `ID,"${heading.replaceAll('"', '""')}"\nK001,"${cell.replaceAll('"', '""')}"\n`;
  const ingested = await ingestText(content, { entry: { date: '2026-08-17' } });
  return [shorts(ingested), codes(ingested).map((code) => code.split(' ')[0])];
}

async function rejected(heading: string, cell: string): Promise<string> {
  const content = `ID,"${heading}"\nK001,"${cell}"\n`;
  const { rejects } = await ingestText(content, { entry: { date: '2026-08-17' } });
  return rejects.map(({ message, suggestion }) => `${message} ${suggestion}`).join('\n');
}

describe('a space inside a number', () => {
  it.each(['1 43', '1 4', '1 5 0', '1 5.2'])('%j is held back', async (cell) => {
    expect(await read('Hop L (cm)', cell)).toEqual([[], ['number_ambiguous']]);
  });

  it('is named, with what to write', async () => {
    expect(await rejected('Hop L (cm)', '1 43')).toBe(
      '"1 43" can be 143 or trials 1, 43. Ask the station which it is, and write the number without the space, or one trial a cell.',
    );
  });

  it('is none between readings that make no number together', async () => {
    expect(await read('Hop L (cm)', '132 134 133')).toEqual([[], ['number_ambiguous']]);
    expect(await read('Hop L (cm)', '32 34 33')).toEqual([
      ['hop left 1 = 32', 'hop left 2 = 34', 'hop left 3 = 33'],
      [],
    ]);
  });

  it('is looked for where the heading turns the sign', async () => {
    const { rejects } = await ingestText('ID,Lunge L\nK001,0 3\n', {
      entry: { date: '2026-08-17', columns: { 'Lunge L': { measure: 'lunge', side: 'left', sign: 'reversed' } } },
    });
    expect(rejects.map(({ code }) => code)).toEqual(['number_ambiguous']);
  });
});

describe('a cell that says that it did not hurt', () => {
  it.each(['18 no pain', '18, no pain', '18 (pain free)', '18 without pain', '18 (no pain)', '18 cm, pain-free'])(
    '%j is measured',
    async (cell) => {
      expect(await read('Hop L (cm)', cell)).toEqual([['hop left 1 = 18'], []]);
    },
  );

  it('without a number is no reading and no pain', async () => {
    for (const cell of ['no pain', 'Pain free', 'without pain']) {
      expect(await read('Hop L (cm)', cell)).toEqual([[], ['number_unreadable']]);
    }
  });

  it('of a pressure keeps both parts', async () => {
    expect(await read('BP', '118/72, no pain')).toEqual([['systolic 1 = 118', 'diastolic 1 = 72'], []]);
  });

  it('may be speaking of the pain itself where it says 0', async () => {
    expect(await read('Hip IR L', '0 no pain')).toEqual([[], ['number_unreadable']]);
  });
});

describe('a cell that says that it hurt', () => {
  it.each([
    'pain 22',
    'stopped - pain',
    '15 sore',
    '148 ouch',
    '121 (knee hurts)',
    'P-140',
    '120 aching',
    '120, pain in groin',
    'could not, hurt',
    'not done - pain',
  ])('%j keeps that beside the reject', async (cell) => {
    const [found, why] = await read('Hop L (cm)', cell);
    expect(found).toEqual(['hop left 1 pain']);
    expect(why).toHaveLength(1);
  });

  it('does so on both sides where the side is open', async () => {
    expect(await read('Hop (cm)', '15 sore')).toEqual([['hop left 1 pain', 'hop right 1 pain'], ['number_unreadable']]);
    expect(await read('Hop (cm)', '15 P')).toEqual([['hop left 1 pain', 'hop right 1 pain'], ['side_missing']]);
  });

  it('does so for every part of a pressure', async () => {
    expect(await read('BP', 'stopped - pain')).toEqual([['systolic 1 pain', 'diastolic 1 pain'], ['pair_incomplete']]);
  });

  it('does so where several trials are rejected', async () => {
    expect(await read('Hop L (cm)', '32, 34 sore')).toEqual([['hop left 1 pain'], ['number_unreadable']]);
  });

  it.each(['24 (2/10)', '24 painted', '24 Spain', '24 x'])('%j says nothing of it', async (cell) => {
    expect((await read('Hop L (cm)', cell))[0]).toEqual([]);
  });
});

describe('a pressure upside down', () => {
  it('is held back, and both ways are named', async () => {
    expect(await read('BP', '72/118')).toEqual([[], ['number_ambiguous']]);
    expect(await rejected('BP', '72/118')).toBe(
      '"72/118" can be 72 over 118 or 118 over 72. Ask the station which it is, and write the larger one first.',
    );
  });

  it.each(['118/118', '72-118', '148/92 → 84/132', '72/118 mmHg', '72 over 118'])('%j too', async (cell) => {
    expect(await read('BP', cell)).toEqual([[], ['number_ambiguous']]);
  });

  it('keeps that it hurt', async () => {
    expect(await read('BP', '72/118 P')).toEqual([['systolic 1 pain', 'diastolic 1 pain'], ['number_ambiguous']]);
  });

  it('names two ways even of equal numbers', async () => {
    expect(await rejected('BP', '90/90')).toContain('"90/90" can be 90 over a lower one or a higher one over 90.');
  });

  it('is none where a part has no number', async () => {
    expect(await read('BP', 'NT/118')).toEqual([['systolic 1 not_tested', 'diastolic 1 = 118'], []]);
  });

  it('does not count where a correction voids the cell', async () => {
    const { rejects, observations } = await ingestText('ID,BP\nK001,72/118\n', {
      entry: { date: '2026-08-17' },
      corrections: 'file,line,column,raw,action,value,by,date\nsheet.csv,2,2,72/118,void,,AB,2026-08-18\n',
    });
    expect([rejects.length, observations.map(({ status }) => status)]).toEqual([0, ['void', 'void']]);
  });
});

describe('an impossible reading in another unit', () => {
  it('is told in the unit of its limits', async () => {
    // 62 lb are 62 × 0.45359237 kg = 28.12272694 kg (NIST SP 811).
    expect(await rejected('Weight (lb)', '62')).toMatch(
      /^Body mass "62", which is 28\.12 kg, lies outside 30 to 250 kg\./,
    );
    expect(await rejected('Weight (kg)', '62 lb')).toMatch(/^Body mass "62 lb", which is 28\.12 kg, lies outside/);
  });

  it('is told as written where it is in that unit', async () => {
    expect(await rejected('Weight (kg)', '28')).toMatch(/^Body mass "28" lies outside 30 to 250 kg\./);
  });

  it('never looks as if it lay inside', async () => {
    // 66.138 lb are 29.99969 kg: four digits would say 30.
    expect(await rejected('Weight (lb)', '66.138')).toContain('"66.138", which is 29.9997 kg, lies outside 30');
  });
});
