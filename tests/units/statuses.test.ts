import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isQualitative, OBSERVATION_STATUSES, readStatus, splitPain } from '../../src/units/statuses.ts';

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

it('never throws', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme' }), (text) => {
      readStatus(text);
      isQualitative(text);
      splitPain(text);
    }),
  );
});
