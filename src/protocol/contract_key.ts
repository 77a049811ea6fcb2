import type { Path } from './places.ts';

/** American spelling is taken too. */
export function contractKey(path: Path, key: string): string {
  if (path.length === 0 && (key === 'programs' || key === 'program')) return 'programmes';
  if (path.length === 2 && path[0] === 'rules' && key === 'program') return 'programme';
  if (path[0] === 'sharing' && key === 'at_most_programs') return 'at_most_programmes';
  return key;
}
