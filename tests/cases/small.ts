/** A protocol of two measures and one rule. */
export const PROTOCOL = `bilat: 1
name: Small battery
measures:
  grip: { label: Grip strength, unit: kgf, sides: each, plausible: [1, 150], headings: [grip] }
  height: { label: Standing height, unit: cm, sides: none, plausible: [120, 240], headings: [height] }
rules:
  grip_deficit: { measure: grip, field: deficit_pct, at_least: 10, grade: watch, source: common practice }
everyone: [grip, height]
`;

export const SHEET = `ID,Date,Team,Grip L (kg),Grip R (kg),Height (cm)
A1,2026-08-17,Rowing,40,50,180
A2,2026-08-17,Rowing,40,41,
A3,2026-08-17,Fencing,38 P,unable,17.5
`;

/** A whole screening folder: one finding of each grade, one reject. */
export const SMALL = { 'protocol.yaml': PROTOCOL, 'sheets/a.csv': SHEET };

/** Names of the files that a run leaves in its folder. */
export const RUN_FILES = [
  'athletes',
  'cohort',
  'coverage',
  'findings',
  'ignored',
  'ledger',
  'observations',
  'plan',
  'recheck',
  'rejects',
  'results',
].flatMap((name) => [`${name}-metadata.json`, `${name}.csv`]);
