import { expect, test } from 'vitest';
import { fitted } from '../../src/cli/render/fitted.ts';

test.each([
  ['a short line stays', 'note: short\n', 'note: short\n'],
  [
    'a long one is broken, and goes on under its beginning',
    'error: sheets/a.csv:1: this line has more words than forty columns hold\n',
    'error: sheets/a.csv:1: this line has\n  more words than forty columns hold\n',
  ],
  [
    'what is indented stays so',
    '  Look at the row; a comma inside a text wants quotes around the text.\n',
    '  Look at the row; a comma inside a text\n  wants quotes around the text.\n',
  ],
  [
    'lines that are to be copied stay whole',
    '    "A heading that is long enough for more": athlete_id\n',
    '    "A heading that is long enough for more": athlete_id\n',
  ],
  ['an end without a line end is kept', 'Reading', 'Reading'],
])('%s', (_, text, shown) => expect(fitted(text, 40)).toBe(shown));
