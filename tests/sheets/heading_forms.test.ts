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

/** A protocol in other letters: headings as they stand in German and French sheets. */
const LETTERS = headingWords(
  loadProtocol(
    `
bilat: 1
name: Letters
measures:
  standing: { label: Körpergröße, unit: cm, sides: none, plausible: [120, 240], headings: [Größe] }
  squeeze: { label: Force de préhension, unit: N, sides: each, headings: [Préhension, Händedruck] }
  jump: { label: Saut à cloche-pied, unit: cm, sides: each, headings: [cloche-pied] }
`,
    'protocol.yaml',
  ),
);

/** All that a reading says: measure, side, trial, unit (as written), best or mean. */
function told({ measure, compound, side, sides, trial, unit, unitText, workedOut }: HeadingReading): string {
  return [
    measure?.name ?? compound?.name,
    side ?? sides,
    trial === undefined ? undefined : `t${trial}`,
    unit && (unit.code === unitText ? unit.code : `${unit.code} "${unitText}"`),
    workedOut,
  ]
    .filter((part) => part !== undefined)
    .join(' ');
}

const read = (heading: string, known = words): string[] => readHeading(heading, known).map(told);

describe('forms of headings', () => {
  it.each<readonly [heading: string, ...readings: string[]]>([
    // sides before and behind, in any glue
    ['L_ADD', 'hip_add left'],
    ['ADD L', 'hip_add left'],
    ['ADD-L', 'hip_add left'],
    ['AddL', 'hip_add left'],
    ['LAdd', 'hip_add left'],
    ['Add.L', 'hip_add left'],
    ['Add|L', 'hip_add left'],
    ['L: Hip Add', 'hip_add left'],
    ['Hip Add – Lt.', 'hip_add left'],
    ['HIP ADDUCTION STRENGTH - RIGHT', 'hip_add right'],
    ['Left – Hip Adduction – Trial 2', 'hip_add left t2'],
    ['Hip Adduction, Left, kg', 'hip_add left kgf "kg"'],
    ['hip_add.left.2', 'hip_add left t2'],
    ['HipAdd_L_T2 [N]', 'hip_add left t2 N'],
    ['L Hip Add 1 (kg)', 'hip_add left t1 kgf "kg"'],
    ['Hip Add (kg) – L – #2', 'hip_add left t2 kgf "kg"'],
    ['Hip Add L1', 'hip_add left t1'],
    ['Hip Add L (kg) 1', 'hip_add left t1 kgf "kg"'],
    ['Hip Add L (1)', 'hip_add left t1'],
    ['Hip Add L (2) [N]', 'hip_add left t2 N'],
    ['Hop L [cm] T3', 'hop left t3 cm'],
    ['Grip strength - both hands', 'grip both'],
    ['Hop 2 legs', 'hop both'],
    ['Hop both legs (cm)', 'hop both cm'],
    // nobody has said that LADD is ADD on the left
    ['LADD'],
    ['ADDL'],
    // by use and by injury
    ['Hip Add Dom', 'hip_add dominant'],
    ['Hip Add Non-Dom', 'hip_add nondominant'],
    ['D Hip Add', 'hip_add dominant'],
    ['ND Hip Add', 'hip_add nondominant'],
    ['Hip Add N.D.', 'hip_add nondominant'],
    // newtons of the dominant side, or the other side
    ['Hip Add N D'],
    ['Hop kick leg', 'hop dominant'],
    ['Hop stance leg', 'hop nondominant'],
    ['Grip non-throwing hand (kg)', 'grip nondominant kgf "kg"'],
    ['Hop Surg', 'hop surgical'],
    ['Hop non-op', 'hop non_surgical'],
    ['Hop (Involved)', 'hop involved'],
    ['Hop Uninv. side', 'hop uninvolved'],
    ['Hop contralateral', 'hop uninvolved'],
    // after the operation is a time, and U and I stand for too many things
    ['Hop L post-op'],
    ['Hop U'],
    ['Hop I'],
    // both sides in one cell
    ['Hip IR L/R', 'hip_ir left_right'],
    ['Hop (R/L)', 'hop right_left'],
    ['Hop (L)/(R)', 'hop left_right'],
    ['Hop (L/R, cm)', 'hop left_right cm'],
    ['Grip Left/Right', 'grip left_right'],
    ['Grip Rt / Lt', 'grip right_left'],
    ['L-R Hop', 'hop left_right'],
    ['HopL/R', 'hop left_right'],
    ['Hop L/R 2 (cm)', 'hop left_right t2 cm'],
    ['Hop L|R', 'hop left_right'],
    // a difference, a ratio, two at once: not said
    ['Hop L - R'],
    ['Hop L:R'],
    ['Hop L&R'],
    ['Hop L+R'],
    ['Hop L R'],
    ['Hop L L/R'],
    ['Hop L/R R/L'],
    ['Hop D/ND'],
    // trials
    ['Trial 1 Hip Add L', 'hip_add left t1'],
    ['Hop L T1', 'hop left t1'],
    ['Hop L 1st', 'hop left t1'],
    ['2nd trial Hop L', 'hop left t2'],
    ['Hop L trial 2nd', 'hop left t2'],
    ['HOP L 3RD ATTEMPT', 'hop left t3'],
    ['Hop L Trial One', 'hop left t1'],
    ['First attempt Hop L', 'hop left t1'],
    ['Hop L tr. 2', 'hop left t2'],
    ['Sprint run 2', 'sprint t2'],
    ['Sprint second run', 'sprint t2'],
    ['Sprint second', 'sprint s "second"'],
    ['Hop L second', 'hop left s "second"'],
    ['Hop L 1nd'],
    ['Hop L #2 #3'],
    ['Hop 2ND', 'hop t2', 'hop nondominant t2'],
    ['HOP 2ND TRIAL', 'hop t2'],
    ['HOP L 2ND', 'hop left t2'],
    ['Hop 2nd', 'hop t2'],
    ['Hop L¹'],
    // units
    ['BP (mmHg)', 'blood_pressure mm[Hg] "mmHg"'],
    ['BP 1', 'blood_pressure t1'],
    ['SBP', 'systolic'],
    ['SBP/DBP', 'blood_pressure'],
    ['BP Sys / BP Dia 2 (mmHg)', 'blood_pressure t2 mm[Hg] "mmHg"'],
    ['DBP/SBP'],
    ['Ht"', 'height [in_i] """'],
    ['Ht ”', 'height [in_i] """'],
    ['Ht (in)', 'height [in_i] "in"'],
    ['Ht (ft/in)', 'height [in_i] "ft/in"'],
    ['Height (ft\'in")', 'height [in_i] "ft\'in""'],
    ['Height ft & in', 'height [in_i] "ft & in"'],
    ['Height feet', 'height [ft_i] "feet"'],
    // 5.11 could be feet of a hop as well as inches
    ['Hop L (ft/in)'],
    ['Wt #', 'body_mass [lb_av] "#"'],
    ['Wt (lbs)', 'body_mass [lb_av] "lbs"'],
    ['Wt in kilos', 'body_mass kg "kilos"'],
    ['Hip IR L °', 'hip_ir left deg "°"'],
    ['Hip IR L º', 'hip_ir left deg "°"'],
    ['Knee Ext L ft-lb', 'knee_torque left [ft_i].[lbf_av] "ft-lb"'],
    ['Hip Add L / N', 'hip_add left N'],
    ['Hip Add L N/kg', 'hip_add left N/kg'],
    // the unit, or told per kilogram
    ['Hip Add L/kg'],
    ['Hip Add (L) / kg'],
    ['Sprint (min)', 'sprint min'],
    ['Sprint min', 'sprint min', 'sprint best'],
    ['Sprint minimum', 'sprint best'],
    // marks and letters
    ['Hop L*', 'hop left'],
    ['Hop L **', 'hop left'],
    ['Hop L:', 'hop left'],
    ['Hop L†', 'hop left'],
    ['"Hop" L', 'hop left'],
    ['Hop\u00a0L\u00a0(cm)', 'hop left cm'],
    ['Hop\u202fL', 'hop left'],
    ['Hip\r\nAdd\nL\n(kg)', 'hip_add left kgf "kg"'],
    ['Hip\u200bAdd\u00adL', 'hip_add left'],
    ['Ｈｏｐ　Ｌ（ｃｍ）２', 'hop left t2 cm'],
    ['Hop L ㎝', 'hop left cm'],
    ['Höp Ľ', 'hop left'],
    ['HOP L CM', 'hop left cm "CM"'],
    ['Hop L value (cm)', 'hop left cm'],
    // limits and changes are no readings
    ['Hop L > 150'],
    ['Hop L = 2'],
    // best and mean
    ['Hop L best of 3', 'hop left best'],
    ['Hop L (best of 3 trials)', 'hop left best'],
    ['Hop L Best trial', 'hop left best'],
    ['Best of 2 Hop R (cm)', 'hop right cm best'],
    ['Hop L top', 'hop left best'],
    ['Hop L Max', 'hop left best'],
    // the least is not the best of a hop, but it is of a sprint
    ['Hop L Min', 'hop left other'],
    ['Hop L (min)', 'hop left other'],
    ['Sprint max', 'sprint other'],
    ['Hop L peak'],
    ['Hop L Avg.', 'hop left mean'],
    ['Average Hop L', 'hop left mean'],
    ['Hop L mean of 3', 'hop left mean'],
    ['Hop L mean of best 2', 'hop left t2 other'],
    ['Hop L median', 'hop left other'],
    ['Hop L total', 'hop left other'],
    ['Hop LSI (%)', 'hop % other'],
    ['Hop L/R ratio', 'hop left_right other'],
    ['Hop side-to-side difference', 'hop other'],
    ['Hop imbalance pct', 'hop other'],
    ['Hop percentile', 'hop other'],
    ['Hop L z-score', 'hop left other'],
    ['Hop L rank', 'hop left other'],
    ['Hop Δ', 'hop other'],
    // a score may be the reading, and does not fit a length
    ['Hop L score', 'hop left 1 "score"'],
    ['Squat score', 'squat_faults 1 "score"'],
  ])('%j', (heading, ...readings) => {
    expect(read(heading)).toEqual(readings);
  });

  it.each<readonly [heading: string, ...readings: string[]]>([
    ['Größe (cm)', 'standing cm'],
    ['GRÖSSE', 'standing'],
    ['Grosse', 'standing'],
    ['Gro\u0308ße', 'standing'],
    ['Préhension L (kg)', 'squeeze left kgf "kg"'],
    ['PREHENSION R', 'squeeze right'],
    ['Händedruck_L_2 [N]', 'squeeze left t2 N'],
    ['Saut à cloche-pied R', 'jump right'],
    ['Cloche pied L 1', 'jump left t1'],
    ['Größer'],
  ])('%j in a protocol with other letters', (heading, ...readings) => {
    expect(read(heading, LETTERS)).toEqual(readings);
  });
});

describe('the words that name the measure', () => {
  it.each([
    ['HipAddL1', 'HipAdd'],
    ['L_hip_add (kg)', 'hip_add'],
    ['Left – Hip  Adduction – Trial 2', 'Hip Adduction'],
    ['HIP (kg) ADD L', 'HIP ADD'],
    ['Sprint 20 2', 'Sprint 20'],
    ['SBP/DBP (mmHg)', 'SBP/DBP'],
    ['Wt #', 'Wt'],
    ['Best hop L', 'hop'],
  ])('of %j are %j', (heading, named) => {
    expect(readHeading(heading, words).map((reading) => reading.named)).toEqual([named]);
  });
});

describe('headings that name nothing but what a spreadsheet worked out', () => {
  it.each([
    ['Best', 'best'],
    ['BEST L', 'best'],
    ['Max (kg)', 'best'],
    ['Avg', 'mean'],
    ['Average of 3', 'mean'],
    ['R mean [N]', 'mean'],
    ['Median', 'other'],
    ['Best avg', 'other'],
    ['LSI', 'other'],
    ['LSI %', 'other'],
    ['Diff %', 'other'],
    ['% diff', 'other'],
    ['Diff. (L-R)', 'other'],
    ['Asym', 'other'],
    ['Percent', 'other'],
    ['L/R %', 'other'],
    ['Left/Right (%)', 'other'],
    ['L/R ratio', 'other'],
    ['Total', 'other'],
    ['Z score', 'other'],
    ['Side-to-side difference', 'other'],
    // two measures against each other
    ['Add:Abd', 'other'],
    ['Add : Abd R', 'other'],
    ['Abd:Add', 'other'],
    ['Add/Abd L', 'other'],
    ['ADD : ABD ratio', 'other'],
    ['L Add/Abd (%)', 'other'],
    ['Hip Add vs Hip Abd', 'other'],
    ['Grip:Wt', 'other'],
    ['Hop/Ht %', 'other'],
    // what the protocol derives, by name and label
    ['add_abd', 'other'],
    ['Adduction to abduction', 'other'],
    ['Adduction to Abduction – L', 'other'],
    ['R add_abd (%)', 'other'],
  ] as const)('%j: %s', (heading, kind) => {
    expect(isWorkedOut(heading, words)).toBe(kind);
    expect(read(heading)).toEqual([]);
  });

  it.each([
    // these read as a measure, worked out or not
    'Hop',
    'Hop L best',
    'Hop LSI',
    'SBP/DBP',
    // two measures in one cell, or one through the other: nobody can say
    'Ht/Wt',
    'Hip Add/Grip',
    'BP:Pulse',
    'Hop L:Hop R',
    'Add:Add',
    // unknown words
    'Best friend',
    'Quad ratio',
    'Add:Flexors',
    'Adduction to abduction old',
    // nothing worked out
    'L/R',
    'L-R',
    '%',
    'kg',
    'L',
    'Trial 1',
    'Score',
    'Notes',
    ':',
    '',
  ])('%j is none', (heading) => {
    expect(isWorkedOut(heading, words)).toBeUndefined();
  });
});

it('takes "/" for a quotient only where the protocol divides the two', () => {
  const derived = (operator: string): string =>
    BATTERY.replace('add_abd:', 'hip_balance:').replace('ratio: [', `${operator}: [`);
  const kinds = ['ratio', 'difference', 'sum'].map((operator) => {
    const known = headingWords(loadProtocol(derived(operator), 'protocol.yaml'));
    return ['Add/Abd', 'Add:Abd'].map((heading) => isWorkedOut(heading, known));
  });
  expect(kinds).toEqual([
    ['other', 'other'],
    [undefined, 'other'],
    [undefined, 'other'],
  ]);
});

describe('headings of a value with its unit', () => {
  it.each([
    ['Value (kg)', 'kg'],
    ['Value(kg)', 'kg'],
    ['Result [N]', 'N'],
    ['Result [lbf_av]', '[lbf_av]'],
    ['Result ([lbf_av])', '[lbf_av]'],
    ['Reading cm', 'cm'],
    ['Score (reps)', 'reps'],
    ['Test result, ft-lb', 'ft-lb'],
    ['Value in kg', 'kg'],
    ['Value in', 'in'],
    ['value_cm', 'cm'],
    ['VALUE - N', 'N'],
    ['Value (#)', '#'],
    ['Value (min)', 'min'],
    ['Value (kg):', 'kg'],
    ['Value (°)*', '°'],
    ['Ｖａｌｕｅ（ｋｇ）', 'kg'],
  ])('%j: %j', (heading, unitText) => {
    expect(valueHeading(heading)).toEqual({ unitText });
  });

  it.each([
    'Value',
    'Value L',
    'Value (L)',
    'Value 2',
    'Value (2)',
    'Value #',
    'Value min',
    'Value best',
    'Value/kg',
    'Hop (cm)',
    'Unit (kg)',
    '(kg)',
    'kg',
    'Value ()',
    ')',
    ']',
    '',
  ])('%j is none', (heading) => {
    expect(valueHeading(heading)).toBeUndefined();
  });
});

describe('a heading that names no measure', () => {
  it.each([
    ['L/R', 'left_right'],
    ['R / L', 'right_left'],
    ['2nd', 't2'],
    ['Trial two', 't2'],
    ['#3', 't3'],
    ['Value 1', 't1'],
    ['Surgical', 'surgical'],
    ['Uninv', 'uninvolved'],
    ['Best of 3', 'best'],
    ['Mean (kg)', 'kgf "kg" mean'],
    ['Median', 'other'],
    ['N/kg', 'N/kg'],
  ])('%j: %s', (heading, expected) => {
    expect(told(readQualifier(heading, parseUnit('N'))!)).toBe(expected);
  });

  it.each(['side', 'leg', 'in', 'value', '()', '2ND', 'L&R', '> 5'])('%j says nothing, or two things', (heading) => {
    expect(readQualifier(heading, parseUnit('N'))).toBeUndefined();
  });
});
