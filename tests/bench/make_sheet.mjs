// A seeded sheet with one row a test, as an archive of many stations would hand it in.
import { closeSync, mkdirSync, openSync, writeFileSync, writeSync } from 'node:fs';
import path from 'node:path';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

const SEED = 20260812;
const TESTS = [
  { name: 'hip_adduction', unit: 'N', sides: ['L', 'R'], trials: 2, low: 1500, high: 4000, digits: 1 },
  { name: 'hip_abduction', unit: 'N', sides: ['L', 'R'], trials: 2, low: 1500, high: 4000, digits: 1 },
  { name: 'hip_rotation', unit: 'deg', sides: ['L', 'R'], trials: 2, low: 250, high: 600, digits: 1 },
  { name: 'grip', unit: 'kgf', sides: ['L', 'R'], trials: 2, low: 200, high: 700, digits: 1 },
  { name: 'single_hop', unit: 'cm', sides: ['L', 'R'], trials: 3, low: 1000, high: 2200, digits: 1 },
  { name: 'ankle_lunge', unit: 'cm', sides: ['L', 'R'], trials: 3, low: 60, high: 160, digits: 1 },
  { name: 'body_mass', unit: 'kg', sides: [''], trials: 1, low: 500, high: 1100, digits: 1 },
  { name: 'pulse', unit: '/min', sides: [''], trials: 1, low: 45, high: 100, digits: 0 },
  { name: 'height', unit: 'cm', sides: [''], trials: 1, low: 1550, high: 2050, digits: 1 },
];

const PROTOCOL = `bilat: 1
name: Benchmark battery
measures:
${TESTS.map(
  ({ name, unit, sides, trials }) =>
    `  ${name}: {label: ${name.replaceAll('_', ' ')}, unit: "${unit}", sides: ${sides[0] === '' ? 'none' : 'each'}, ` +
    `trials: {keep: best, expect: ${trials}}${name === 'hip_rotation' || name === 'ankle_lunge' ? ', compare: gap' : ''}, ` +
    `error: {${name === 'hip_rotation' ? 'sem: 3' : 'sem_pct: 5'}, basis: occasions, source: invented for the benchmark}}`,
).join('\n')}
derived:
  adductor_ratio: {label: Adductor to abductor ratio, ratio: [hip_adduction, hip_abduction]}
  adduction_per_kg: {label: Adduction per kilogram, per: [hip_adduction, body_mass]}
  hop_by_height: {label: Hop by height, percent_of: [single_hop, height]}
rules:
  adduction_deficit: {measure: hip_adduction, field: deficit_pct, above: 15, grade: act, source: invented for the benchmark}
  ratio_low: {measure: adductor_ratio, field: value, below: 0.8, grade: act, source: invented for the benchmark}
  rotation_gap: {measure: hip_rotation, field: gap, at_least: 10, grade: watch, source: invented for the benchmark}
  pulse_high: {measure: pulse, field: value, above: 95, of: any_trial, grade: refer, source: invented for the benchmark}
`;

/** Writes a screening folder whose one sheet has about `rows` rows. Returns the number of rows. */
export function makeFolder(folder, rows) {
  mkdirSync(path.join(folder, 'sheets'), { recursive: true });
  writeFileSync(path.join(folder, 'protocol.yaml'), PROTOCOL);
  writeFileSync(path.join(folder, 'screening.yaml'), 'sheets:\n  - files: sheets/archive.csv\n');
  const random = xoroshiro128plus(SEED);
  const fd = openSync(path.join(folder, 'sheets/archive.csv'), 'w');
  let text = 'athlete_id,date,team,test,side,trial,value,unit,tester\n';
  let written = 0;
  for (let athlete = 0; written < rows; athlete++) {
    const id = `B${String(athlete % 60_000).padStart(5, '0')}`;
    const year = 2021 + Math.floor(athlete / 60_000);
    const date = `${year}-08-${String(uniformInt(random, 1, 28)).padStart(2, '0')}`;
    const team = `Team ${uniformInt(random, 1, 20)}`;
    for (const { name, unit, sides, trials, low, high, digits } of TESTS) {
      for (const side of sides) {
        for (let trial = 1; trial <= trials; trial++) {
          const value = uniformInt(random, low, high) / 10 ** digits;
          text += `${id},${date},${team},${name},${side},${trial},${value},${unit},T${uniformInt(random, 1, 6)}\n`;
          written++;
        }
      }
    }
    if (text.length > 1 << 20) {
      writeSync(fd, text);
      text = '';
    }
  }
  writeSync(fd, text);
  closeSync(fd);
  return written;
}
