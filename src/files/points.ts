/** Places at which the kill tests stop a run. */
export const POINTS = [
  'locked',
  'staging_opened',
  'file_written',
  'before_renames',
  'metadata_renamed',
  'file_renamed',
  'before_unlock',
] as const;
export type Point = (typeof POINTS)[number];

const [stopAt, count = '1'] = (process.env.BILAT_TEST_STOP_AT ?? '').split(':');
let left = Number(count);

/** Does nothing, unless BILAT_TEST_STOP_AT is `name` or `name:count`: then the count-th call kills this process at once. */
export function point(name: Point): void {
  if (name === stopAt && --left === 0) process.kill(process.pid, 'SIGKILL');
}
