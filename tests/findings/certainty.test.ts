import { expect, test } from 'vitest';
import { certaintyOf } from '../../src/findings/certainty.ts';

// Worked out by hand from the definition: clear if the margin is at least the error.
test.each([
  [5, 4.9, false, 'clear'],
  [5, 5, false, 'clear'],
  [0.1 + 0.2, 0.3, false, 'clear'],
  [0.3, 0.1 + 0.2, false, 'clear'],
  [4.9, 5, false, 'within_error'],
  [0, 0, false, 'clear'],
  [5, undefined, false, 'error_unknown'],
  [5, undefined, true, 'error_unknown'],
  [5, 4.9, true, 'within_error'],
] as const)('margin %d, error %s, unequal trials %s: %s', (margin, error, unequalTrials, certainty) => {
  expect(certaintyOf(margin, error, unequalTrials)).toBe(certainty);
});
