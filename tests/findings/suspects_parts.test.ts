import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { atLeastByChance, tieChance } from '../../src/findings/suspects/chance.ts';
import { digitSlips } from '../../src/findings/suspects/digits.ts';
import { orderedBy, ranked } from '../../src/findings/suspects/order.ts';
import { mixedUp, shownChance, shownValue } from '../../src/findings/suspects/words.ts';
import { DECIMAL_POINT, slipFactors, unitSlips } from '../../src/sheets/unit_slip.ts';
import { parseUnit } from '../../src/units/unit.ts';
import { SEEDED } from '../seeded.ts';

describe('digits of a number', () => {
  const meant = (number: number, how: string): number[] =>
    digitSlips(number)
      .filter((slip) => slip.how === how)
      .map((slip) => slip.number);

  it('13, 1433 and 134 may each have been 143', () => {
    expect(meant(13, 'dropped')).toContain(143);
    expect(meant(1433, 'doubled')).toEqual([143]);
    expect(meant(134, 'turned')).toContain(143);
  });

  it('go over the decimal point, and never begin with a zero that nobody typed', () => {
    expect(meant(34.1, 'turned')).toEqual([43.1, 31.4]);
    expect(meant(44.5, 'doubled')).toEqual([4.5]);
    expect(meant(10, 'turned')).toEqual([]);
    expect(meant(4.5, 'dropped')).toContain(44.5);
    expect(meant(4.5, 'dropped')).not.toContain(4.5);
    expect(meant(-12, 'turned')).toEqual([-21]);
  });

  it('say nothing of numbers that come of a conversion', () => {
    expect(digitSlips(151.239534)).toEqual([]);
    expect(digitSlips(1e21)).toEqual([]);
  });

  it('whatever was dropped, doubled or turned is found again', () => {
    const slipped = fc.tuple(
      fc.integer({ min: 100, max: 9999 }),
      fc.nat(3),
      fc.constantFrom('dropped', 'doubled', 'turned'),
    );
    fc.assert(
      fc.property(slipped, ([number, place, how]) => {
        const text = String(number);
        const at = place % (text.length - 1);
        const typed =
          how === 'dropped'
            ? text.slice(0, at) + text.slice(at + 1)
            : how === 'doubled'
              ? text.slice(0, at) + text[at] + text.slice(at)
              : text.slice(0, at) + text[at + 1] + text[at] + text.slice(at + 2);
        fc.pre(typed !== text && !typed.startsWith('0'));
        expect(meant(Number(typed), how)).toContain(number);
      }),
      SEEDED,
    );
  });
});

describe('units', () => {
  const names = (unit: string): string[] => slipFactors(parseUnit(unit)!).map(({ between }) => between);

  it('each dimension has its own slips; pressure and pulse, read as whole numbers, have none', () => {
    expect(names('kg')).toEqual(['pounds and kilograms', DECIMAL_POINT]);
    expect(names('N')).toEqual(['pounds and kilograms', 'newtons and kilograms', 'newtons and pounds', DECIMAL_POINT]);
    expect(names('cm')).toEqual([
      'centimetres and inches',
      'inches and feet',
      'centimetres and metres',
      'centimetres and feet',
      DECIMAL_POINT,
    ]);
    expect(names('mm[Hg]')).toEqual([]);
    expect(names('/min')).toEqual([]);
  });

  it('give what lies within the limits again', () => {
    // NIST SP 811: 1 lb is 0.45359237 kg; 165 lb are 74.84274105 kg.
    expect(unitSlips(165, parseUnit('kg')!, [30, 100])).toEqual([
      { value: 74.84274105, between: 'pounds and kilograms' },
    ]);
    // 12 in are 1 ft; 15 is 180 / 12.
    expect(unitSlips(15, parseUnit('cm')!, [160, 200])).toEqual([{ value: 180, between: 'inches and feet' }]);
  });
});

describe('chance', () => {
  it('two readings are the same number', () => {
    // Worked out by hand: 5 readings, 3 of them 20: 3·2 of 5·4 ordered pairs, and one more since none is not never.
    const sheet = {
      counts: new Map([
        [20, 3],
        [21, 1],
        [22, 1],
      ]),
      readings: 5,
      equal: 6,
    };
    expect(tieChance(sheet)).toBeCloseTo(7 / 20, 12);
    // Without the three: 2 readings, no pair alike, and the one.
    expect(tieChance(sheet, 20, 3)).toBeCloseTo(1 / 2, 12);
  });

  it('so many or more', () => {
    // Worked out by hand: 1 − e^−2 (1 + 2 + 2) for 3 or more of a Poisson distribution with mean 2.
    expect(atLeastByChance(3, 2)).toBeCloseTo(1 - 5 * Math.exp(-2), 12);
    expect(atLeastByChance(0, 2)).toBe(1);
  });
});

describe('order', () => {
  it('sorts by several keys, and leaves alike rows as they were', () => {
    const ages = [30, -4, 30, 7, -4];
    expect([...orderedBy(5, [ranked(ages, 5)])]).toEqual([1, 4, 3, 0, 2]);
    expect([...orderedBy(5, [{ of: (row) => row % 2, size: 2 }, ranked(ages, 5)])]).toEqual([4, 0, 2, 1, 3]);
    expect([...orderedBy(0, [ranked([], 0)])]).toEqual([]);
  });
});

describe('words', () => {
  it('numbers, chances and what was mixed up', () => {
    expect(shownValue(74.84274105, 'kg')).toBe('74.84 kg');
    expect(shownValue(35, 'deg')).toBe('35°');
    expect(shownChance(1 / 3120)).toBe('about one in 3000');
    expect(shownChance(1e-9)).toBe('less than one in a million');
    expect(mixedUp('newtons and pounds')).toBe('newtons and pounds are mixed up');
    expect(mixedUp(DECIMAL_POINT)).toBe('a decimal point has slipped');
  });
});
