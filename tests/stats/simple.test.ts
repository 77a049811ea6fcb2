import { describe, expect, it } from 'vitest';
import { mean, median, sampleSd } from '../../src/stats/simple.ts';

describe('summaries of finite numbers', () => {
  // Worked out by hand: 2, 4, 4, 4, 5, 5, 7, 9 has mean 5 and sum of squares 32, so a sample variance of 32/7.
  const values = Object.freeze([2, 4, 4, 4, 5, 5, 7, 9]);

  it('mean, median and the SD with n - 1', () => {
    expect(mean(values)).toBe(5);
    expect(median(values)).toBe(4.5);
    expect(sampleSd(values)).toBeCloseTo(Math.sqrt(32 / 7), 12);
  });

  it('sorts numbers as numbers', () => {
    expect(median([10, 9, 1])).toBe(9);
  });

  it('has no answer where there are too few', () => {
    expect([mean([]), median([]), sampleSd([]), sampleSd([1])]).toEqual([undefined, undefined, undefined, undefined]);
  });
});
