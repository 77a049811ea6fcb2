import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadProtocol } from '../../src/protocol/load.ts';
import { compoundReadings, isPressurePair, pressureWays } from '../../src/sheets/compound_cells.ts';
import { BATTERY } from './battery.ts';
import { ingestText, shorts } from './ingest_text.ts';

const OTHERS = `
  reaches: { headings: [reaches], parts: [reach_a, reach_b], between: "x" }
  dashed: { headings: [dashed], parts: [reach_a, reach_b], between: "-" }
  vital: { headings: [vital], parts: [systolic, pulse], between: "/" }
  three: { headings: [three], parts: [systolic, diastolic, pulse], between: "/" }
`;
const protocol = loadProtocol(`${BATTERY.trimEnd()}${OTHERS}`, 'protocol.yaml');
const compound = (name: string) => protocol.compounds.find((one) => one.name === name)!;

/** `148|92`, a further reading after a space and a semicolon; undefined if the cell does not fall apart. */
function parted(text: string, name = 'blood_pressure', decimal?: '.' | ','): string | undefined {
  return compoundReadings(text, compound(name), decimal)
    ?.map((parts) => parts.join('|'))
    .join('; ');
}

describe('one reading of a pressure', () => {
  it.each([
    ['118/72', '118|72'],
    ['118 / 72', '118|72'],
    ['118/ 72', '118|72'],
    ['118-72', '118|72'],
    ['118 - 72', '118|72'],
    ['118–72', '118|72'],
    ['118\\72', '118|72'],
    ['118|72', '118|72'],
    ['118 over 72', '118|72'],
    ['118 OVER 72', '118|72'],
    ['１１８／７２', '118|72'],
    ['118/72 mmHg', '118 mmHg|72 mmHg'],
    ['118-72 mmHg', '118 mmHg|72 mmHg'],
    ['118 mmHg/72 mmHg', '118 mmHg|72 mmHg'],
    ['148/92 P', '148 P|92 P'],
    ['148/92P', '148 P|92 P'],
    ['148/92 (P)', '148 P|92 P'],
    ['148/92 with pain', '148 P|92 P'],
    ['P 148/92', '148 P|92 P'],
    ['148/92 mmHg P', '148 mmHg P|92 mmHg P'],
    ['148 P/92', '148 P|92'],
    ['118/72, no pain', '118|72'],
    ['118/72 (pain free)', '118|72'],
    ['148/92, 132/84 no pain', '148|92; 132|84'],
    ['NT/92', 'NT|92'],
    ['118/-', '118|-'],
    ['N/A/72', 'N/A|72'],
    ['118/N/A', '118|N/A'],
    ['~118/72', '~118|72'],
    // Falls apart; that a part is no number is for whoever reads the part.
    ['118/xx', '118|xx'],
    ['xx/yy', 'xx|yy'],
  ])('%j: %s', (text, expected) => {
    expect(parted(text)).toBe(expected);
  });
});

describe('a reading and its recheck', () => {
  it.each([
    '148/92 → 132/84',
    '148/92 -> 132/84',
    '148/92->132/84',
    '148/92 => 132/84',
    '148/92, 132/84',
    '148/92,132/84',
    '148/92; 132/84',
    '148/92 (132/84)',
    '148/92 (recheck 132/84)',
    '148/92 recheck 132/84',
    '148/92 Recheck: 132/84',
    '148/92, recheck 132/84',
    '148/92; re-check 132/84',
    '148/92 retest 132/84',
    '148/92 re 132/84',
    '148/92 re: 132/84',
    '148/92 repeat 132/84',
    '148/92 rpt 132/84',
    '148/92 Rpt. 132/84',
    '148/92 (repeated: 132/84)',
    '148/92 again 132/84',
    '148/92 retaken 132/84',
    '148/92 then 132/84',
    '148/92\n132/84',
    '148/92\r\n132/84',
    '148/92 132/84',
    '148 over 92, 132 over 84',
    '148-92 → 132-84',
  ])('%j', (text) => {
    expect(parted(text)).toBe('148|92; 132|84');
  });

  it.each([
    ['148/92 → 132/84 → 130/80', '148|92; 132|84; 130|80'],
    ['148/92, 140/88, 132/84, 130/80', '148|92; 140|88; 132|84; 130|80'],
    ['148/92 P → 132/84', '148 P|92 P; 132|84'],
    ['148/92 → 132/84 P', '148|92; 132 P|84 P'],
    ['148/92 → 132/84 mmHg', '148 mmHg|92 mmHg; 132 mmHg|84 mmHg'],
    ['148/92 mmHg → 132/84 mmHg', '148 mmHg|92 mmHg; 132 mmHg|84 mmHg'],
    ['148/92 mmHg → 132/84', '148 mmHg|92 mmHg; 132|84'],
    ['NT/92 → 132/84', 'NT|92; 132|84'],
  ])('%j: %s', (text, expected) => {
    expect(parted(text)).toBe(expected);
  });

  it('with decimal commas', () => {
    expect(parted('19,7/12,3, 17,6/11,2 kPa', 'blood_pressure', ',')).toBe('19,7 kPa|12,3 kPa; 17,6 kPa|11,2 kPa');
  });
});

describe('what does not fall wholly apart', () => {
  it.each([
    '118/',
    '/72',
    '118',
    '118 mmHg',
    '118 P',
    '118/72/60',
    '118-72-60',
    '118 over',
    'over 72',
    '148/92/132/84',
    '148/92 → 132',
    '148 → 132',
    '148/92 →',
    '148/92, 140/88, 138/86, 132/84, 130/80',
    '12/8/2026',
    'well-rested',
    'NT',
    '148/92, 132',
    '148/92 (132)',
    '148/92 recheck',
  ])('%j', (text) => {
    expect(parted(text)).toBeUndefined();
  });
});

it('a long cell holds no reading', () => {
  expect(parted(`118/72${' '.repeat(200)}x`)).toBeUndefined();
  expect(parted('118/'.repeat(100_000))).toBeUndefined();
});

describe('other compounds', () => {
  it('have their own mark and no other', () => {
    expect(parted('60x80', 'reaches')).toBe('60|80');
    expect(parted('60 x 80 cm', 'reaches')).toBe('60 cm|80 cm');
    expect(parted('60/80', 'reaches')).toBeUndefined();
    expect(parted('60-80', 'reaches')).toBeUndefined();
    expect(parted('60x80, 62x81', 'reaches')).toBe('60|80; 62|81');
    expect(parted('60-80', 'dashed')).toBe('60|80');
    expect(parted('60–80', 'dashed')).toBe('60|80');
    expect(parted('60/80', 'dashed')).toBeUndefined();
  });

  it('of three parts need three, each with its solidus', () => {
    expect(parted('118/72/60', 'three')).toBe('118|72|60');
    expect(parted('118/72/60 → 116/70/58', 'three')).toBe('118|72|60; 116|70|58');
    expect(parted('118-72-60', 'three')).toBeUndefined();
    expect(parted('118/72', 'three')).toBeUndefined();
  });

  it('of two kinds of unit keep a unit with its part', () => {
    expect(parted('118/60 bpm', 'vital')).toBe('118|60 bpm');
    expect(parted('118 mmHg/60', 'vital')).toBe('118 mmHg|60');
  });
});

describe('a pressure whose first number is not the larger', () => {
  it('can be only where two pressures stand', () => {
    expect(protocol.compounds.filter(isPressurePair).map(({ name }) => name)).toEqual(['blood_pressure']);
  });

  it('can be meant in two ways', () => {
    expect(pressureWays(['72', '118'], false)).toEqual(['72 over 118', '118 over 72']);
    expect(pressureWays(['72 P', '118 P'], false)).toEqual(['72 over 118', '118 over 72']);
    expect(pressureWays(['90', '90'], true)).toEqual(['90 over a lower one', 'a higher one over 90']);
  });
});

describe('in a sheet', () => {
  const read = async (cell: string) => {
    const ingested = await ingestText(`ID,BP\nK001,"${cell}"\n`, { entry: { date: '2026-08-17' } });
    return [shorts(ingested), ingested.rejects.map(({ code }) => code)];
  };

  it('a recheck is a second trial', async () => {
    expect(await read('148/92 → 132/84')).toEqual([
      ['systolic 1 = 148', 'diastolic 1 = 92', 'systolic 2 = 132', 'diastolic 2 = 84'],
      [],
    ]);
  });

  it('pain holds for both parts, and a unit too', async () => {
    expect(await read('148/92 P')).toEqual([['systolic 1 = 148 pain', 'diastolic 1 = 92 pain'], []]);
    // 20 kPa is 150.0123 mmHg and 12 kPa 90.0074 (NIST SP 811: 1 mmHg is 133.3224 Pa).
    const [[systolic, diastolic]] = await read('20/12 kPa');
    expect(systolic).toMatch(/^systolic 1 = 150\.01/);
    expect(diastolic).toMatch(/^diastolic 1 = 90\.007/);
  });

  it('half a recheck is refused whole', async () => {
    expect(await read('148/92 → 132')).toEqual([[], ['pair_incomplete']]);
  });
});

it('every reading of any cell has all its parts', () => {
  const cell = fc.string({ unit: fc.constantFrom(...'0123456789/-,; PNT→().mHg\n'), minLength: 1, maxLength: 30 });
  fc.assert(
    fc.property(cell, fc.constantFrom(...protocol.compounds), (text, { name, parts }) => {
      for (const reading of compoundReadings(text, compound(name), undefined) ?? []) {
        expect(reading).toHaveLength(parts.length);
        expect(reading).not.toContain('');
      }
    }),
    { numRuns: 500 },
  );
});

it.each(['1/', '1/1 ', ',', ' ', '1 over ', '(', 're ', '→', '1-', ' ('])('returns at once on %j repeated', (piece) => {
  const started = performance.now();
  for (const count of [20, 60, 195, 1_000_000]) compoundReadings(piece.repeat(count), compound('blood_pressure'), ',');
  expect(performance.now() - started).toBeLessThan(500);
});
