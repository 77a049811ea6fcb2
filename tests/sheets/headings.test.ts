import { describe, expect, it } from 'vitest';
import { loadProtocol } from '../../src/protocol/load.ts';
import {
  type HeadingReading,
  headingWords,
  isWorkedOut,
  readHeading,
  readQualifier,
  valueHeading,
} from '../../src/sheets/headings.ts';
import { parseUnit } from '../../src/units/unit.ts';
import { BATTERY } from './battery.ts';

const words = headingWords(loadProtocol(BATTERY, 'protocol.yaml'));

function told(reading: HeadingReading): string {
  return [
    reading.measure?.name ?? reading.compound?.name,
    reading.side,
    reading.sides,
    reading.trial === undefined ? undefined : `t${reading.trial}`,
    reading.unit?.code,
    reading.workedOut,
  ]
    .filter((part) => part !== undefined)
    .join(' ');
}

/** All readings of a heading, joined; none if there is none. */
const read = (heading: string): string => readHeading(heading, words).map(told).join(' | ') || 'none';

describe('what a heading names', () => {
  it.each([
    // parts in any order and glue
    ['L Hip Add 1 (kg)', 'hip_add left t1 kgf'],
    ['HipAdd_L_T2 [N]', 'hip_add left t2 N'],
    ['Left – Hip Adduction – Trial 2', 'hip_add left t2'],
    ['ADD-L', 'hip_add left'],
    ['add_r', 'hip_add right'],
    ['Hip add in lbs R', 'hip_add right [lbf_av]'],
    ['Hip Adduction strength', 'hip_add'],
    ['hip_add', 'hip_add'],
    ['HIP ADD LEFT', 'hip_add left'],
    ['hipaddL', 'hip_add left'],
    ['HipAddL1', 'hip_add left t1'],
    ['LHipAdd', 'hip_add left'],
    ['RHipAdd2 (N)', 'hip_add right t2 N'],
    ['Hip Add (L)', 'hip_add left'],
    ['(R) Hip Add', 'hip_add right'],
    ['Hip Add (L) (kg)', 'hip_add left kgf'],
    ['Hip Add (L, kg)', 'hip_add left kgf'],
    ['Hip Add (kg) L #2', 'hip_add left t2 kgf'],
    ['Hip Add #2 L', 'hip_add left t2'],
    ['Hip Add L #', 'hip_add left [lbf_av]'],
    ['Hip Add Left leg', 'hip_add left'],
    ['Hip Add, left side, attempt 3', 'hip_add left t3'],
    ['Trial 1 Hip Add Rt', 'hip_add right t1'],
    ['1 Hip Add R', 'hip_add right t1'],
    ['Hip Add R/1', 'hip_add right t1'],
    ['Hip Add R: try 1', 'hip_add right t1'],
    ['Hip Add RLE', 'hip_add right'],
    ['  Hip   Add\tL  ', 'hip_add left'],
    ['Hip\nAdd L', 'hip_add left'],
    ['Ｈｉｐ Add L', 'hip_add left'],
    ['Hip Add both', 'hip_add both'],
    ['Hip Add D', 'hip_add dominant'],
    ['Hip Add ND', 'hip_add nondominant'],
    ['Hip Add non-dom', 'hip_add nondominant'],
    ['Hip Add kicking leg', 'hip_add dominant'],
    // units
    ['Hip Add L kg', 'hip_add left kgf'],
    ['Hip Add L [lbf_av]', 'hip_add left [lbf_av]'],
    ['Hip Add L (#)', 'hip_add left [lbf_av]'],
    ['Hip Add L N', 'hip_add left N'],
    ['Hip Add L newtons', 'hip_add left N'],
    ['Grip (kgf) R', 'grip right kgf'],
    ['Knee Ext L (Nm)', 'knee_torque left N.m'],
    ['Knee Ext L N.m', 'knee_torque left N.m'],
    ['Knee torque R ft-lb', 'knee_torque right [ft_i].[lbf_av]'],
    ['BP (mm[Hg])', 'blood_pressure mm[Hg]'],
    ['BP mmHg', 'blood_pressure mm[Hg]'],
    ['SBP [mm[Hg]]', 'systolic mm[Hg]'],
    ['Hop L cm', 'hop left cm'],
    ['Hop L inches', 'hop left [in_i]'],
    ['Hop L (in)', 'hop left [in_i]'],
    ['Ht (ft)', 'height [ft_i]'],
    ['Weight lb', 'body_mass [lb_av]'],
    ['Wt (kg)', 'body_mass kg'],
    ['Hip IR L (°)', 'hip_ir left deg'],
    ['HIR_R deg', 'hip_ir right deg'],
    ['Pulse (bpm)', 'pulse /min'],
    ['Pulse beats/min', 'pulse /min'],
    ['HR 2', 'pulse t2'],
    ['Sprint (s)', 'sprint s'],
    ['Sprint 20 sec', 'sprint s'],
    ['Sprint (min)', 'sprint min'],
    // a unit of another kind is one all the same, so that the column can be refused for it
    ['Hip Add L (cm)', 'hip_add left cm'],
    ['Height (kg)', 'height kg'],
    // a name that holds a number keeps it
    ['Sprint 20', 'sprint'],
    ['Sprint 20 2', 'sprint t2'],
    ['Sprint 2', 'sprint t2'],
    // what a spreadsheet worked out
    ['Hip Add L best', 'hip_add left best'],
    ['Hip Add L avg (kg)', 'hip_add left kgf mean'],
    ['Hip Add Mean', 'hip_add mean'],
    ['Max Grip R', 'grip right best'],
    ['Hip Add diff', 'hip_add other'],
    ['Hip Add asymmetry %', 'hip_add % other'],
    // two measures share a heading
    ['Reach L (cm)', 'reach_a left cm | reach_b left cm'],
    ['reach', 'reach_a | reach_b'],
    // not understood
    ['Hip', 'none'],
    ['Hip flexion L', 'none'],
    ['Hip Add old L', 'none'],
    ['Hip Add L R', 'none'],
    ['Hip Add 1 2', 'none'],
    ['Hip Add L 21', 'none'],
    ['Hip Add L 0', 'none'],
    ['Hip Add L Hip Abd L', 'none'],
    ['Hip Add L (somewhere)', 'none'],
    ['Hip Add L (kg', 'hip_add left kgf'],
    ['Hip Add (kg) (N)', 'none'],
    ['add_abd', 'none'],
    ['', 'none'],
    ['()', 'none'],
    ['[[[[', 'none'],
    ['1', 'none'],
    ['L', 'none'],
    ['kg', 'none'],
    ['__proto__', 'none'],
    ['constructor', 'none'],
    ['toString', 'none'],
    ['hasOwnProperty L', 'none'],
    ['=HYPERLINK("x")', 'none'],
    ['\u0000', 'none'],
  ])('%j: %s', (heading, expected) => {
    expect(read(heading)).toBe(expected);
  });

  it('names the compound by its headings and its own name', () => {
    expect(['Blood pressure', 'blood_pressure', 'BP 2'].map(read)).toEqual([
      'blood_pressure',
      'blood_pressure',
      'blood_pressure t2',
    ]);
  });

  it.each([
    ['a letter', 'x'.repeat(100_000)],
    ['a name', 'Hip Add L '.repeat(10_000)],
    ['a name and blanks', `Hip Add L${' '.repeat(100_000)}`],
    ['worked-out words', 'best '.repeat(20_000)],
    ['two measures', 'Add:Abd '.repeat(12_500)],
    ['values', `Value (${'kg'.repeat(50_000)})`],
    ['open brackets', '('.repeat(100_000)],
    ['pairs of brackets', '()'.repeat(50_000)],
    ['square brackets', '[a]'.repeat(33_000)],
    ['blanks', ' '.repeat(100_000)],
    ['digits', '1'.repeat(100_000)],
    ['capitals', 'aB'.repeat(50_000)],
  ])('gives up on 100 000 characters of %s at once', (_, heading) => {
    expect(read(heading)).toBe('none');
    expect(readQualifier(heading)).toBeUndefined();
    expect(isWorkedOut(heading, words)).toBeUndefined();
    expect(valueHeading(heading)).toBeUndefined();
  });

  it.each(['(', '[', '[]', '()', 'a ', '1 ', 'aB', '(a', '[a', '# ', '"', '2ND ', 'L/', ':', 'min '])(
    'answers for %j as often as a heading may be long',
    (piece) => {
      const heading = piece.repeat(200).slice(0, 200);
      expect(read(heading)).toBe('none');
      expect(isWorkedOut(heading, words)).toBeUndefined();
    },
  );

  it('reads a heading of 200 characters and none of 201', () => {
    const padded = (length: number): string => `Hip Add L${' '.repeat(length - 9)}`;
    expect([200, 201].map((length) => read(padded(length)))).toEqual(['hip_add left', 'none']);
  });
});

describe('a heading that names no measure', () => {
  const newton = parseUnit('N');
  it.each([
    ['L', 'left'],
    ['Right', 'right'],
    ['L 1', 'left t1'],
    ['Trial 2', 't2'],
    ['T3', 't3'],
    ['3', 't3'],
    ['(kg)', 'kgf'],
    ['kg', 'kgf'],
    ['[N]', 'N'],
    ['L (kg)', 'left kgf'],
    ['best', 'best'],
  ])('%j: %s', (heading, expected) => {
    expect(told(readQualifier(heading, newton)!)).toBe(expected);
  });

  it.each(['', 'K001', 'Hip Add L', 'Bo Reed', '25.2', '2026-08-17', 'NT', '-'])('%j is none', (heading) => {
    expect(readQualifier(heading, newton)).toBeUndefined();
  });

  it('reads no unit where nobody knows what is measured', () => {
    expect(readQualifier('kg')).toBeUndefined();
  });
});
