import { readFileSync } from 'node:fs';
import path from 'node:path';
import { gunzipSync } from 'node:zlib';
import { ROOT } from './bilat.ts';

/** A file of tests/reference. */
export const reference = (...parts: string[]): string => path.join(ROOT, 'tests/reference', ...parts);
/** A table of tests/reference/c-longitudinal. */
export const unzipped = (name: string): string =>
  gunzipSync(readFileSync(reference('c-longitudinal', `${name}.csv.gz`))).toString('utf8');

/** |got − want| ≤ 1e-9·|want| + 1e-10, and empty where nothing is expected. */
export function agrees(got: string | undefined, want: string): boolean {
  if (want === '') return got === '' || got === undefined;
  return (
    got !== undefined && got !== '' && Math.abs(Number(got) - Number(want)) <= 1e-9 * Math.abs(Number(want)) + 1e-10
  );
}

// tests/reference/c-longitudinal: seeded R script (seed 7301, R 4.2.2), own work. Its "kg" of force is kgf.
export const longitudinalProtocol = (keep: string): string => `bilat: 1
name: Longitudinal reference
measures:
  single_leg_hop: {label: Single-leg hop, unit: cm, sides: each, trials: {keep: ${keep}}}
  ankle_reach: {label: Ankle reach, unit: cm, sides: each, trials: {keep: ${keep}}}
  knee_extension_force: {label: Knee extension force, unit: kgf, sides: each, trials: {keep: ${keep}}}
  knee_flexion_force: {label: Knee flexion force, unit: kgf, sides: each, trials: {keep: ${keep}}}
  standing_jump: {label: Standing jump, unit: cm, sides: none, trials: {keep: ${keep}}}
  shuttle_time: {label: Shuttle time, unit: s, sides: none, better: lower, trials: {keep: ${keep}}}
  body_mass: {label: Body mass, unit: kg, sides: none}
derived:
  flexion_to_extension: {label: Flexion to extension, ratio: [knee_flexion_force, knee_extension_force]}
  extension_per_kg: {label: Extension per kilogram, per: [knee_extension_force, body_mass]}
rules:
${['single_leg_hop', 'ankle_reach', 'knee_extension_force', 'knee_flexion_force']
  .flatMap((measure) =>
    [10, 15].map(
      (limit) =>
        `  ${measure}_${limit}: {measure: ${measure}, field: deficit_pct, above: ${limit}, grade: watch, source: common practice}`,
    ),
  )
  .join('\n')}
`;

export const LONGITUDINAL_SHEET = `sheets:
  - files: sheets/observations.csv
    columns: {athlete_ref: athlete_id, squad: team, limb: side, attempt: trial, reading: value,
      test_date: date, dominant_limb: ignore, age_y: ignore, season: ignore}
`;
