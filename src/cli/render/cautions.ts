/** Stand at the foot of everything that staff read. */
export const CAUTIONS: readonly string[] = [
  'A screen finds limits; it does not diagnose, and no finding is not clearance.',
  'Pain, raised pressure and marked deficits go to a licensed clinician. Local rules and clearance procedures come first.',
  'A cutoff predicts little for one athlete: most athletes beyond a limit are never injured, and many who are injured were inside it (Br J Sports Med 2016;50:776-780).',
  'Read each finding beside its measurement error: within the error, repeat the test before acting on it.',
];
