import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DateOrder, dateEvidence, readDate } from '../../src/units/dates.ts';
import { dayOf, isoDay } from '../../src/units/days.ts';

/** ISO text of the day, or the code with its readings. */
function shown(text: string, order?: DateOrder): string {
  const reading = readDate(text, order);
  if (reading.kind === 'day') return isoDay(reading.day);
  return [reading.code, ...(reading.readings ?? [])].join(' ');
}

describe('readDate', () => {
  it.each<[string, DateOrder | undefined, string]>([
    ['2026-08-12', undefined, '2026-08-12'],
    ['2026-08-12', 'mdy', '2026-08-12'],
    ['2026-8-2', undefined, '2026-08-02'],
    ['2026-08-12 09:30', undefined, '2026-08-12'],
    ['2026-08-12T09:30:15.250Z', undefined, '2026-08-12'],
    ['2026-08-12T09:30+02:00', undefined, '2026-08-12'],
    ['2026/08/12', undefined, '2026-08-12'],
    ['2026.08.12', 'dmy', '2026-08-12'],
    ['20260812', undefined, '2026-08-12'],
    ['14/8/2026', undefined, '2026-08-14'],
    ['8/14/2026', undefined, '2026-08-14'],
    ['8/14/2026 9:30 AM', undefined, '2026-08-14'],
    ['14.8.2026', undefined, '2026-08-14'],
    ['14. 8. 2026', undefined, '2026-08-14'],
    ['14-08-26', 'dmy', '2026-08-14'],
    ['14-08-26', undefined, 'date_ambiguous 2026-08-14 2014-08-26'],
    ['26-08-12', undefined, 'date_ambiguous 2012-08-26 2026-08-12'],
    ['26-08-12', 'ymd', '2026-08-12'],
    ['3/4/2026', 'dmy', '2026-04-03'],
    ['3/4/2026', 'mdy', '2026-03-04'],
    ['26-03-04', 'ymd', '2026-03-04'],
    ['14/8/2026', 'ymd', '2026-08-14'],
    ['5/5/2026', undefined, '2026-05-05'],
    ['14-Aug-26', undefined, '2026-08-14'],
    ['14 August 2026', undefined, '2026-08-14'],
    ['14th Aug. 2026', undefined, '2026-08-14'],
    ['14Aug2026', undefined, '2026-08-14'],
    ['Aug 14, 2026', undefined, '2026-08-14'],
    ['August 14 2026', undefined, '2026-08-14'],
    ['Sept. 3, 2026', undefined, '2026-09-03'],
    ['2026-Aug-14', undefined, '2026-08-14'],
    ['Wednesday, August 12, 2026', undefined, '2026-08-12'],
    ['1/13/69', undefined, '2069-01-13'],
    ['1/13/70', undefined, '1970-01-13'],
    ['29/2/2024', undefined, '2024-02-29'],
    ['46246', undefined, '2026-08-12'], // worked out by hand: 46246 days after 1899-12-30
    ['30000', undefined, '1982-02-18'], // worked out by hand: 30000 days after 1899-12-30
    ['１４／８／２０２６', undefined, '2026-08-14'],
    ['14–8–2026', undefined, '2026-08-14'],
    ['3/4/2026', undefined, 'date_ambiguous 2026-04-03 2026-03-04'],
    ['3.4.26', undefined, 'date_ambiguous 2026-04-03 2026-03-04'],
    ['3/4/2026', 'ymd', 'date_ambiguous 2026-04-03 2026-03-04'],
    ['8/14/2026', 'dmy', 'date_invalid 2026-08-14'],
    ['14/8/2026', 'mdy', 'date_invalid 2026-08-14'],
    ['2026-02-30', undefined, 'date_invalid'],
    ['29/2/2026', undefined, 'date_invalid'],
    ['31/11/2026', undefined, 'date_invalid'],
    ['32/1/2026', undefined, 'date_invalid'],
    ['0/1/2026', undefined, 'date_invalid'],
    ['1/1/0026', undefined, 'date_invalid'],
    ['1899-12-31', undefined, 'date_invalid'],
    ['2101-01-01', undefined, 'date_invalid'],
    ['14/8/202', undefined, 'date_invalid'],
    ['14/8-2026', undefined, 'date_invalid'],
    ['14 Foo 2026', undefined, 'date_invalid'],
    ['14-Aug', undefined, 'date_invalid'],
    ['12', undefined, 'date_invalid'],
    ['29999', undefined, 'date_invalid'],
    ['60001', undefined, 'date_invalid'],
    ['', undefined, 'date_invalid'],
    ['NT', undefined, 'date_invalid'],
  ])('%s with order %s is %s', (text, order, expected) => {
    expect(shown(text, order)).toBe(expected);
  });

  const days = fc.integer({ min: dayOf(1900, 1, 1)!, max: dayOf(2100, 12, 31)! });
  it('reads back every day in every order', () => {
    fc.assert(
      fc.property(days, (day) => {
        const [year, month, date] = isoDay(day).split('-');
        expect(shown(`${year}-${month}-${date}`)).toBe(isoDay(day));
        expect(shown(`${date}/${month}/${year}`, 'dmy')).toBe(isoDay(day));
        expect(shown(`${month}/${date}/${year}`, 'mdy')).toBe(isoDay(day));
        const open = readDate(`${date}.${month}.${year}`, undefined);
        expect(open.kind === 'day' ? [isoDay(open.day)] : open.readings).toContain(isoDay(day));
      }),
    );
  });

  it('never throws', () => {
    fc.assert(fc.property(fc.string({ unit: 'grapheme' }), (text) => void readDate(text, undefined)));
    const date = fc.string({ unit: fc.constantFrom(...'0123456789/-. :TAugMy,'), maxLength: 30 });
    fc.assert(fc.property(date, (text) => void readDate(text, 'dmy')));
  });

  it.each(['1', ' ', '/', '1/', 'a', ',', '"'])('returns on %j repeated', (piece) => {
    expect(shown(piece.repeat(100_000))).toBe('date_invalid');
  });
});

describe('dateEvidence', () => {
  it.each([
    ['14/8/2026', 'dmy'],
    ['8/14/2026', 'mdy'],
    ['14.8.26 10:00', 'dmy'],
    ['3/4/2026', undefined],
    ['5/5/2026', undefined],
    ['32/13/2026', undefined],
    ['2026-08-14', undefined],
    ['14-Aug-26', undefined],
    ['46246', undefined],
    ['', undefined],
  ])('%s shows %s', (text, order) => {
    expect(dateEvidence(text)).toBe(order);
  });
});
