import type { Setup } from './setup.ts';

/** Names by id, only if names were asked for. */
export function namesOf(setup: Setup): ReadonlyMap<string, string> {
  const names = new Map<string, string>();
  if (!setup.showNames) return names;
  for (const row of setup.roster?.rows ?? []) {
    const name = `${row.firstName} ${row.lastName}`.trim();
    if (name !== '') names.set(row.athleteId, name);
  }
  return names;
}
