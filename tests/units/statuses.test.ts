import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  isQualitative,
  OBSERVATION_STATUSES,
  readStatus,
  saysPain,
  splitPain,
  withoutPain,
} from '../../src/units/statuses.ts';

describe('readStatus', () => {
  it.each([
    ['ok', 'measured'],
    ['Done', 'measured'],
    ['valid', 'measured'],
    ['complete', 'measured'],
    ['NT', 'not_tested'],
    ['DNT', 'not_tested'],
    ['Not tested', 'not_tested'],
    ['missing', 'not_tested'],
    ['abs', 'not_tested'],
    ['no-show', 'not_tested'],
    ['-', 'not_tested'],
    ['--', 'not_tested'],
    ['—', 'not_tested'],
    ['–', 'not_tested'],
    ['.', 'not_tested'],
    ['NA', 'not_tested'],
    ['-99', 'not_tested'],
    ['−999', 'not_tested'],
    ['N/A', 'not_applicable'],
    ['n/a', 'not_applicable'],
    ['n.a.', 'not_applicable'],
    ['DNP', 'unable'],
    ['DNF', 'unable'],
    ['CNT', 'unable'],
    ['UTT', 'unable'],
    ['unable', 'unable'],
    ['Unable to hold', 'unable'],
    ["can't", 'unable'],
    ['can’t', 'unable'],
    ['Ref.', 'refused'],
    ['refused', 'refused'],
    ['declined', 'refused'],
    ['inj', 'held'],
    ['Inj/Out', 'held'],
    ['held', 'held'],
    ['medical hold', 'held'],
    ['void', 'void'],
    ['foul', 'void'],
    ['scratch', 'void'],
    ['DQ', 'void'],
    ['not counted', 'void'],
    ['pain', 'pain'],
    ['P', 'pain'],
    ['(P)', 'pain'],
    ['+pain', 'pain'],
    ['painful', 'pain'],
    ['999', undefined],
    ['-1', undefined],
    ['0', undefined],
    ['#N/A', undefined],
    ['WNL', undefined],
    ['32 P', undefined],
    ['', undefined],
    ['constructor', undefined],
    ['-'.repeat(100_000), undefined],
  ])('%s is %s', (text, status) => {
    expect(readStatus(text)).toBe(status);
  });

  it('reads every status by its own name', () => {
    expect(OBSERVATION_STATUSES.map(readStatus)).toEqual(OBSERVATION_STATUSES);
  });
});

describe('isQualitative', () => {
  it.each(['WNL', 'wfl', 'Normal', 'within normal limits'])('%s judges without a number', (text) => {
    expect(isQualitative(text)).toBe(true);
  });

  it.each(['NT', '12', 'abnormal', ''])('%s does not', (text) => {
    expect(isQualitative(text)).toBe(false);
  });
});

describe('splitPain', () => {
  it.each([
    ['32 P', '32'],
    ['32P', '32'],
    ['32 p', '32'],
    ['32 pain', '32'],
    ['32 (P)', '32'],
    ['32(pain)', '32'],
    ['32 painful', '32'],
    ['32 with pain', '32'],
    ['32 + pain', '32'],
    ['32+pain', '32'],
    ['30+ pain', '30+'],
    ['45° P', '45°'],
    ['45°P', '45°'],
    ['32 kg (P)', '32 kg'],
    ['-3.5 P', '-3.5'],
    ['>30 P', '>30'],
    ['P 32', '32'],
    ['P32', '32'],
    ['(P) -3', '-3'],
    ['P: 32 kg', '32 kg'],
    ['32', undefined],
    ['32 kp', undefined],
    ['32 bp', undefined],
    ['P', undefined],
    ['pain', undefined],
    ['pain 3', undefined],
    ['P-32', undefined],
    ['station 3 P', undefined],
    ['', undefined],
    ['P '.repeat(100_000), undefined],
    ['1 '.repeat(100_000), undefined],
  ])('%s holds %s', (text, reading) => {
    expect(splitPain(text)).toBe(reading);
  });
});

describe('saysPain', () => {
  it.each([
    'pain 22',
    'stopped - pain',
    '15 sore',
    '148 ouch',
    '121 (knee hurts)',
    'hurt',
    'it is hurting',
    'knee ache',
    'ACHING',
    'P-140',
    'P – 140',
    '140-P',
    'not tested, pain',
    'not tested pain',
    'no, hurts',
    'no - pain',
    'pain, no hold',
    'pain - no rep',
    'not bad pain',
    'no pain left, sore right',
    'pain 0.5',
    'pain 10/10',
    'no new pain',
    '20/10 pain',
    'cannot: pain',
    'pain',
  ])('%s does', (text) => {
    expect(saysPain(text)).toBe(true);
  });

  it.each([
    'no pain',
    'NO PAIN',
    'no  pain',
    'no-pain',
    '18 no pain',
    '18, no pain',
    '18 (pain free)',
    'pain-free',
    'painfree',
    'painless',
    'without pain',
    'w/o pain',
    'not painful',
    'not sore',
    'no knee pain',
    'no more pain',
    "doesn't hurt",
    'doesn’t hurt',
    'does not hurt',
    'nothing hurts',
    'denies pain',
    'free of pain',
    'no pain or ache',
    'pain: no',
    'pain none',
    'pain 0',
    'pain 0/10',
    '0 pain',
    '0/10 pain',
    '24 (2/10)',
    'Spain',
    'painted',
    'ached',
    'Achebe',
    'P. Quill',
    '32',
    '',
  ])('%s does not', (text) => {
    expect(saysPain(text)).toBe(false);
  });

  it.each(['no ', 'no pain ', 'pain ', 'P', ' ', '0 ', 'not any ', 'or ', '1 -', '- '])(
    'returns at once on %j repeated',
    (piece) => {
      const started = performance.now();
      for (const count of [100, 10_000, 1_000_000]) saysPain(piece.repeat(count));
      expect(performance.now() - started).toBeLessThan(200);
    },
  );
});

describe('withoutPain', () => {
  it.each([
    ['18 no pain', '18'],
    ['18, no pain', '18'],
    ['18; no pain', '18'],
    ['18 - no pain', '18'],
    ['18 (pain free)', '18'],
    ['18 (pain-free)', '18'],
    ['18 painfree', '18'],
    ['18 without pain', '18'],
    ['18 w/o pain', '18'],
    ['18 kg no pain', '18 kg'],
    ['>18 no pain', '>18'],
    ['118/72, no pain', '118/72'],
    ['18', undefined],
    ['no pain', undefined],
    ['18 P', undefined],
    ['18 P, no pain', undefined],
    ['18 sore, no pain', undefined],
    ['P 18 no pain', undefined],
    ['18 pain', undefined],
    ['18 not tested pain', undefined],
    ['', undefined],
    ['1 no pain'.repeat(100_000), undefined],
  ])('%s holds %s', (text, reading) => {
    expect(withoutPain(text)).toBe(reading);
  });

  it('is no painful reading', () => {
    for (const text of ['18 no pain', '18 without pain', '18 w/o pain', '18 not painful', '18 no P']) {
      expect(splitPain(text)).toBeUndefined();
    }
  });
});

it('never throws', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme' }), (text) => {
      readStatus(text);
      isQualitative(text);
      splitPain(text);
      saysPain(text);
      withoutPain(text);
    }),
  );
});
