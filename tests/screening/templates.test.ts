import { describe, expect, test } from 'vitest';
import { loadProtocol } from '../../src/protocol/load.ts';
import { STARTER_PROTOCOL, starterFiles, TEMPLATES } from '../../src/protocol/starter.ts';
import { type Ingested, ingestSheets, ingestText } from '../sheets/ingest_text.ts';

const ATHLETES = 12;
const CONTEXT = ['ID', 'Name', 'Team', 'Sex', 'Date', 'Tester'];

/** A reading that is plausible under a heading of the templates; whole numbers, another for each athlete. */
const READINGS: readonly (readonly [heading: RegExp, reading: (athlete: number) => string])[] = [
  [/^Height/, (at) => String(165 + at)],
  [/^Body mass/, (at) => String(60 + at)],
  [/^BP/, (at) => `${110 + at}/${64 + at}`],
  [/^Resting pulse/, (at) => String(52 + at)],
  [/^Grip/, (at) => String(30 + at)],
  [/strength/, (at) => String(150 + at)],
  [/^Bent-knee/, (at) => String(8 + at)],
  [/^Ankle lunge angle/, (at) => String(36 + at)],
  [/^Ankle lunge/, (at) => String(7 + at)],
  [/rotation|leg raise/, (at) => String(40 + at)],
  [/faults/, (at) => String(at % 6)],
  [/^Triple hop/, (at) => String(480 + at)],
  [/^Vertical jump/, (at) => String(40 + at)],
  [/^Single hop/, (at) => String(150 + at)],
  [/reach/, (at) => String(60 + at)],
];

function cell(heading: string, at: number): string {
  const said: Record<string, string> = {
    ID: `K${String(at + 1).padStart(3, '0')}`,
    Name: `Athlete ${'ABCDEFGHIJKL'[at]}`,
    Team: at % 2 === 0 ? 'Soccer' : 'Volleyball',
    Sex: at % 2 === 0 ? 'F' : 'M',
    Date: '2026-08-17',
    Tester: 'Kim',
  };
  if (Object.hasOwn(said, heading)) return said[heading];
  const reading = READINGS.find(([pattern]) => pattern.test(heading));
  if (reading === undefined) throw new Error(`no reading for heading "${heading}"`);
  return reading[1](at);
}

const headingsOf = (template: string): string[] => template.trimEnd().split(',');

/** A template filled in for twelve athletes. */
function filled(template: string): string {
  const headings = headingsOf(template);
  const lines = Array.from({ length: ATHLETES }, (_, at) => headings.map((heading) => cell(heading, at)).join(','));
  return `${template}${lines.join('\n')}\n`;
}

const STARTER = loadProtocol(STARTER_PROTOCOL, 'protocol.yaml');

/** What one athlete is read to have done: measure, side and trial. */
function done(ingested: Ingested, athlete: string): string[] {
  return ingested.observations
    .filter((row) => row.athlete_id === athlete)
    .map(({ measure, side, trial, value }) => `${measure} ${side} ${trial} = ${Number(value!.toFixed(6))}`);
}

const read = (content: string): Promise<Ingested> => ingestText(content, { protocol: STARTER_PROTOCOL });

describe.each(Object.entries(TEMPLATES))('the template of the station %s', (_, template) => {
  test('is one line of headings, no two alike', () => {
    expect(template).toMatch(/^[^\n]+\n$/);
    const headings = headingsOf(template);
    expect(new Set(headings).size).toBe(headings.length);
    expect(headings.slice(0, 3)).toEqual(['ID', 'Name', 'Team']);
  });

  test('filled in, gives no reject, and every cell is a reading or context', async () => {
    const { rejects, ignored, ledger, observations, notes } = await read(filled(template));
    expect(rejects).toEqual([]);
    expect(ignored).toEqual([]);
    expect(notes).toEqual([]);
    const headings = headingsOf(template);
    const context = headings.filter((heading) => CONTEXT.includes(heading)).length;
    expect(ledger).toMatchObject([
      {
        cells: ATHLETES * headings.length + headings.length,
        measured: ATHLETES * (headings.length - context),
        not_measured: 0,
        context: ATHLETES * context + headings.length,
        ignored: 0,
        rejected: 0,
      },
    ]);
    expect(new Set(observations.map((row) => row.status))).toEqual(new Set(['measured']));
    expect(new Set(observations.map((row) => row.athlete_id)).size).toBe(ATHLETES);
    expect(new Set(observations.map((row) => row.team))).toEqual(new Set(['Soccer', 'Volleyball']));
    expect(new Set(observations.map((row) => row.date))).toEqual(new Set(['2026-08-17']));
  });

  test('blank, holds nothing and gives no reject', async () => {
    const { rejects, observations } = await read(template);
    expect({ rejects, observations }).toEqual({ rejects: [], observations: [] });
  });

  test('as a spreadsheet of another country saves it, reads the same', async () => {
    const content = filled(template);
    const semicolons = await read(`\ufeff${content.replaceAll(',', ';').replaceAll('\n', '\r\n')}`);
    expect(semicolons.rejects).toEqual([]);
    expect(done(semicolons, 'K003')).toEqual(done(await read(content), 'K003'));
  });
});

test('each heading is the measure, side and attempt that it says', async () => {
  const first = async (station: string): Promise<string[]> => done(await read(filled(TEMPLATES[station])), 'K001');
  expect(await first('intake')).toEqual([
    'height none 1 = 165',
    'body_mass none 1 = 60',
    'systolic none 1 = 110',
    'diastolic none 1 = 64',
    'systolic none 2 = 110',
    'diastolic none 2 = 64',
    'pulse none 1 = 52',
    'grip left 1 = 30',
    'grip left 2 = 30',
    'grip right 1 = 30',
    'grip right 2 = 30',
  ]);
  expect(await first('hip')).toEqual([
    'hip_internal_rotation left 1 = 40',
    'hip_internal_rotation right 1 = 40',
    'hip_external_rotation left 1 = 40',
    'hip_external_rotation right 1 = 40',
    'bent_knee_fall_out left 1 = 8',
    'bent_knee_fall_out right 1 = 8',
    'hip_adduction left 1 = 150',
    'hip_adduction left 2 = 150',
    'hip_adduction right 1 = 150',
    'hip_adduction right 2 = 150',
    'hip_abduction left 1 = 150',
    'hip_abduction left 2 = 150',
    'hip_abduction right 1 = 150',
    'hip_abduction right 2 = 150',
  ]);
  expect(await first('knee')).toEqual([
    'straight_leg_raise left 1 = 40',
    'straight_leg_raise right 1 = 40',
    'knee_flexion left 1 = 150',
    'knee_flexion left 2 = 150',
    'knee_flexion right 1 = 150',
    'knee_flexion right 2 = 150',
    'knee_extension left 1 = 150',
    'knee_extension left 2 = 150',
    'knee_extension right 1 = 150',
    'knee_extension right 2 = 150',
  ]);
  expect(await first('shoulder')).toEqual([
    'shoulder_internal_rotation left 1 = 40',
    'shoulder_internal_rotation right 1 = 40',
    'shoulder_external_rotation left 1 = 40',
    'shoulder_external_rotation right 1 = 40',
    'shoulder_external_strength left 1 = 150',
    'shoulder_external_strength left 2 = 150',
    'shoulder_external_strength right 1 = 150',
    'shoulder_external_strength right 2 = 150',
    'shoulder_internal_strength left 1 = 150',
    'shoulder_internal_strength left 2 = 150',
    'shoulder_internal_strength right 1 = 150',
    'shoulder_internal_strength right 2 = 150',
  ]);
  expect(await first('landing')).toEqual([
    'single_hop left 1 = 150',
    'single_hop left 2 = 150',
    'single_hop right 1 = 150',
    'single_hop right 2 = 150',
    'triple_hop left 1 = 480',
    'triple_hop left 2 = 480',
    'triple_hop right 1 = 480',
    'triple_hop right 2 = 480',
    'vertical_jump none 1 = 40',
    'vertical_jump none 2 = 40',
    'single_leg_squat_faults left 1 = 0',
    'single_leg_squat_faults right 1 = 0',
    'drop_landing_faults none 1 = 0',
  ]);
  const reach = await first('reach');
  expect(reach.slice(0, 4)).toEqual([
    'ankle_lunge left 1 = 7',
    'ankle_lunge right 1 = 7',
    'ankle_lunge_angle left 1 = 36',
    'ankle_lunge_angle right 1 = 36',
  ]);
  expect(reach.slice(4)).toEqual(
    ['anterior_reach', 'posterolateral_reach'].flatMap((measure) =>
      ['left', 'right'].flatMap((side) => [1, 2, 3].map((trial) => `${measure} ${side} ${trial} = 60`)),
    ),
  );
});

test('together the templates ask for every measure of the starter, with as many attempts as it expects', async () => {
  const sheets = Object.entries(TEMPLATES).map(([station, template]) => ({
    file: `sheets/${station}.csv`,
    content: filled(template),
  }));
  const { observations, rejects } = await ingestSheets(sheets, { protocol: STARTER_PROTOCOL });
  expect(rejects).toEqual([]);
  const most = new Map<string, number>();
  for (const { measure, trial } of observations) most.set(measure, Math.max(most.get(measure) ?? 0, trial));
  const measured = STARTER.measures.filter((measure) => !measure.derivation);
  expect([...most.keys()].sort()).toEqual(measured.map((measure) => measure.name).sort());
  for (const { name, trials } of measured) {
    // Pressure is written twice, since a raised first reading has to be taken again.
    const isPressure = name === 'systolic' || name === 'diastolic';
    expect({ name, trials: most.get(name) }).toEqual({ name, trials: isPressure ? 2 : trials.expect });
  }
});

test('a template whose unit was changed in the heading is read in that unit', async () => {
  const { rejects, observations } = await read(
    'ID,Team,Date,Hip adduction strength L1 (kgf),Hip adduction strength R1 (lbf)\nK001,Soccer,2026-08-17,20,44\n',
  );
  expect(rejects).toEqual([]);
  // 20 kgf = 20 · 9.80665 N and 44 lbf = 44 · 4.4482216152605 N, by the definitions of both units.
  expect(observations.map(({ side, value, unit }) => [side, Number(value!.toFixed(4)), unit])).toEqual([
    ['left', 196.133, 'N'],
    ['right', 195.7218, 'N'],
  ]);
});

test('marks that the README of the folder names are read as what it says', async () => {
  const { rejects, observations } = await read(
    'ID,Team,Date,Grip L1 (kgf),Grip L2 (kgf),Grip R1 (kgf),Grip R2 (kgf)\nK001,Soccer,2026-08-17,pain,32 P,unable,NT\n',
  );
  expect(rejects).toEqual([]);
  expect(observations.map(({ value, status }) => [value, status])).toEqual([
    [null, 'pain'],
    [32, 'pain'],
    [null, 'unable'],
    [null, 'not_tested'],
  ]);
  const readme = starterFiles().find(({ path }) => path === 'README.md')!.text;
  for (const mark of ['`pain`', '`32 P`', '`unable`', '`NT`']) expect(readme).toContain(mark);
});
