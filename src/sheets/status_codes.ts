import { SIDES } from '../units/sides.ts';
import { OBSERVATION_STATUSES, type ObservationStatus } from '../units/statuses.ts';

/** Position of each status in the contract's list. */
export const STATUS = Object.fromEntries(OBSERVATION_STATUSES.map((status, code) => [status, code])) as Record<
  ObservationStatus,
  number
>;

export const LEFT = SIDES.indexOf('left');
export const RIGHT = SIDES.indexOf('right');
export const BOTH = SIDES.indexOf('both');
