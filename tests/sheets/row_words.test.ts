import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isDitto, isFootnote, isPageText, rowLabel } from '../../src/sheets/row_words.ts';

/** `summary`, `summary?` where it may be a name as well, or `none`. */
function label(text: string): string {
  const found = rowLabel(text);
  return found === undefined ? 'none' : `${found.kind}${found.sure ? '' : '?'}`;
}

describe('ditto marks', () => {
  it.each([
    '"',
    ' " ',
    "''",
    '″',
    '”',
    '“',
    '〃',
    '„',
    '""',
    '＂',
    ',,',
    '-"-',
    '- " -',
    '--"--',
    '–”–',
    '" "',
    '" " "',
    'do',
    'do.',
    'Do.',
    'ditto',
    'Ditto',
    'DITTO.',
    'dto.',
    'same',
    'Same',
    'as above',
    'same as above',
    'idem',
  ])('%s means as above', (text) => {
    expect(isDitto(text)).toBe(true);
  });

  it.each([
    '',
    ' ',
    '-',
    '--',
    '–',
    '—',
    '.',
    '...',
    "'",
    '’',
    ',',
    '5"',
    '"K014"',
    'Do',
    'DO',
    'Do Nguyen',
    'doe',
    'Same Reed',
    'above',
    'id',
    'n/a',
    '0',
    '" " " "',
    `"${' '.repeat(100_000)}"`,
    '"'.repeat(100_000),
  ])('%s does not', (text) => {
    expect(isDitto(text)).toBe(false);
  });
});

describe('labels of rows that a spreadsheet worked out', () => {
  it.each([
    'Average',
    'AVERAGE',
    'avg',
    'Avg.',
    'Avg:',
    'mean',
    'Mean:',
    'Team avg',
    'Team Average',
    'Rowing average',
    'Rowing mean',
    'W Rowing avg',
    'W Rowing mean',
    "Women's Rowing average",
    'Women’s Rowing Average',
    'Ashgrove College avg',
    'Average (Rowing)',
    'Average of squad',
    'Average - W Rowing',
    'Team mean',
    'Group mean',
    'Overall mean',
    'Mean ± SD',
    'Mean +/- SD',
    'Mean (SD)',
    'Mean + 1 SD',
    'Mean and SD',
    'M ± SD',
    'SD',
    'S.D.',
    'St. dev.',
    'St Dev',
    'Std Dev',
    'Std. Deviation',
    'Standard deviation',
    'Standard error',
    'stdev',
    'std',
    'Team SD',
    'Minimum',
    'Maximum',
    'Lowest',
    'Highest',
    'Min/Max',
    'Min - Max',
    'Min–Max',
    'min. and max.',
    'Max:',
    'min =',
    'Team max',
    'Squad min',
    'total',
    'Grand Total',
    'Total athletes',
    'Subtotal',
    'Team sum',
    'sum:',
    'median',
    'Median (n = 12)',
    'count',
    'n =',
    'n:',
    'N = 12',
    'n=12',
    'N = 12 athletes',
    'range',
    'quartile',
    '1st quartile',
    'Quartile 3',
    '25th percentile',
    '75 %ile',
    'CV %',
    'CV',
    '95% CI',
    'IQR',
    'Average 2026',
    'Test average',
    'Joe Average',
    'K014 avg',
    'Ø',
    'Σ =',
    'ａｖｅｒａｇｅ',
  ])('%s', (text) => {
    expect(label(text)).toBe('summary');
  });

  it.each([
    'Max',
    'MAX',
    'Min',
    'Min.',
    'sum',
    'Best',
    'mode',
    'Ave',
    'Means',
    'Dev',
    'Sem',
    'SE',
    'n',
    'Max Best',
    'Max 2026',
  ])('%s may be a name or a code as well', (text) => {
    expect(label(text)).toBe('summary?');
  });

  it.each(['SD 2', 'SD2', 'AVG 2', 'W. Mean', 'F mean'])('%s may be an athlete as well', (text) => {
    expect(label(text)).toBe('summary?');
  });

  it.each([
    'Max Reed',
    'Reed, Max',
    'Mean Joe',
    'Average Joe',
    'Joe Mean',
    'J. Mean',
    'Bo Max',
    'M Max',
    'Max W',
    'Bo Sum',
    'Bo Range',
    'Anna Total',
    'Max: Reed',
    'Max Field',
    'Max Day',
    'Day, Max',
    'Max Test',
    'Max Women',
    'Max Best Field',
    'Rowing max',
    'Max For',
    'Dev Patel-Reed',
    'St. Dev Reed',
    'Ashgrove mean',
    'N12',
    'N 12',
    'Q1',
    'MAX 2',
    'K014',
    '12',
    'M',
    'Team',
    'Rowing',
    'Women',
    'meaning',
    'totally',
    'Sdao',
    'One Two Three Four average',
    'mean mean mean mean mean',
    '',
    '   ',
    '-',
    'n/a',
    'constructor',
    `average${' '.repeat(100_000)}`,
    'average '.repeat(10_000),
    '1a'.repeat(30),
  ])('%s is none', (text) => {
    expect(label(text)).toBe('none');
  });
});

describe('labels of rows that are no athlete', () => {
  it.each([
    'test',
    'TEST',
    'Testing',
    'Test athlete',
    'test row',
    'Test person 2',
    'tester',
    'demo',
    'Demo athlete',
    'dummy',
    'sample',
    'Sample entry',
    'example',
    'Example:',
    'calib',
    'Calib.',
    'calibration',
    'Calibration 20kg',
    'cal check',
    'Cal. check',
    'cal 20 kg',
    'cal 200 N',
    'Cal: 20 kg',
    'Cal:',
    'known weight 20 kg',
    'practice',
    'Practise',
    'trial run',
    'Dry run 2',
    'warm up',
    'Warm-up',
    'zero',
    'Zero check',
    'tare',
    'blank',
    'xxx',
    'XXXX',
    'No athlete',
    'TEST01',
    'test_1',
    'CAL-1',
    'Cal 1',
    'DEMO 3',
    'dummy#2',
    'Staff 1',
    'staff demo',
  ])('%s', (text) => {
    expect(label(text)).toBe('no_athlete');
  });

  it.each(['Cal', 'CAL', 'staff', 'Coach', 'Coach Cal', 'Cal Mass', 'Trainer'])('%s may be a name as well', (text) => {
    expect(label(text)).toBe('no_athlete?');
  });

  it.each([
    'Cal Winters',
    'Winters, Cal',
    'Cal N',
    'Cal Player-Reed',
    'Demo Vale',
    'Test Reed',
    'Coach Reed',
    'Tester: J. M.',
    'Test-K014',
    'xx',
    'X',
    'athlete',
    'Athlete 12',
    'row 12',
    'kg',
    '20 kg',
    'check',
    'trial 1',
    'calf',
    'testament',
    'Zeroni',
  ])('%s is none', (text) => {
    expect(label(text)).toBe('none');
  });
});

describe('texts that printing puts on each page', () => {
  it.each([
    'Page 2',
    'page 2 of 5',
    'PAGE 2/5',
    'Pg. 2',
    'p. 2',
    'p.2 of 5',
    'Sheet 2 of 5',
    'Page 2 of 5 - Printed 17/08/2026',
    'Printed 17/08/2026',
    'Printed: Mon, 17 Aug 2026, J. M.',
    'Print date 17/08/2026',
    'Confidential',
    'Confidential | Page 2',
    'continued',
    'Continued...',
    'cont.',
    'cont',
    "(cont'd)",
    '(cont’d)',
    '(continued)',
    'continued on next page',
    'continued from page 2',
  ])('%s', (text) => {
    expect(isPageText(text)).toBe(true);
  });

  it.each([
    '',
    '2/5',
    '2',
    'P 2',
    'P2',
    'P',
    'Page',
    'Page Reed',
    'Bo Page',
    'Rowing - Page 2',
    "Rowing (cont'd)",
    'Conti',
    'Continuous',
    'Printer',
    '17/08/2026',
    'page 2 of five',
    `Page 2${' '.repeat(100_000)}`,
    'Page 2, '.repeat(10_000),
  ])('%s is none', (text) => {
    expect(isPageText(text)).toBe(false);
  });
});

describe('footnotes', () => {
  it.each([
    '* pain during the test',
    '*tested with shoes',
    '** second day',
    '† held by medical staff',
    '¹ second device',
    'Note: left knee taped',
    'Notes: see the paper sheet',
    'Notes',
    'NOTE - new device',
    'NB: new device',
    'NB, new device',
    'N.B. new device since Monday',
    'Key: P pain',
    'Legend',
    'Legend: NT not tested',
    'NT = not tested',
    'NT=not tested',
    'DNT = did not test, P = pain',
    'P = pain',
    '0 = none',
    '* = held',
    `NT = not tested ${'x'.repeat(100_000)}`,
  ])('%s', (text) => {
    expect(isFootnote(text)).toBe(true);
  });

  it.each([
    '',
    '*',
    '**',
    'Key',
    'Bo Key',
    'NB',
    'N.B. Carter',
    'Noteworthy',
    'Legendre',
    'NT',
    'N = 12',
    '=SUM(A1:A9)',
    'x = 5',
    'Bo Reed',
    'K014',
    '32*',
    'Date: Monday',
    'a long word before it = nothing',
    ' '.repeat(100_000),
    '='.repeat(100_000),
    'a'.repeat(100_000),
  ])('%s is none', (text) => {
    expect(isFootnote(text)).toBe(false);
  });
});

it('no text makes any of them fail or slow', () => {
  const pieces = fc.constantFrom(
    '"',
    '-',
    ' ',
    'mean',
    'Max',
    'st',
    'dev',
    'cal',
    '1',
    'page',
    '=',
    '*',
    '\n',
    ',',
    'é',
  );
  const texts = fc.oneof(
    fc.string({ unit: 'binary' }),
    fc.array(pieces, { maxLength: 60 }).map((all) => all.join('')),
  );
  fc.assert(
    fc.property(texts, (text) => {
      isDitto(text);
      isPageText(text);
      isFootnote(text);
      const found = rowLabel(text);
      // Blanks around it never change what a label says.
      if (text.length < 50) expect(rowLabel(`  ${text} `)).toEqual(found);
    }),
  );
});
