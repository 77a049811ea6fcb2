import type { Context } from './context.ts';
import { shortened } from './quoting.ts';
import type { RuleData } from './schema.ts';

/** Rules that wait for each other under `also` would never fire. */
export function checkCycles({ report }: Context, rules: ReadonlyMap<string, RuleData>): void {
  const done = new Set<string>();
  const told = new Set<string>();
  for (const start of rules.keys()) {
    const trail: string[] = [];
    const onTrail = new Set<string>();
    const visits: { name: string; next: number }[] = [];
    const enter = (name: string): void => {
      visits.push({ name, next: 0 });
      trail.push(name);
      onTrail.add(name);
    };
    if (!done.has(start)) enter(start);
    while (visits.length > 0) {
      const visit = visits.at(-1)!;
      const also = rules.get(visit.name)?.also ?? [];
      if (visit.next === also.length) {
        done.add(visit.name);
        onTrail.delete(visit.name);
        trail.pop();
        visits.pop();
        continue;
      }
      const at = visit.next++;
      const other = also[at];
      if (onTrail.has(other) && other !== visit.name && !told.has(visit.name)) {
        told.add(visit.name);
        const circle = shortened([...trail.slice(trail.indexOf(other)), other].join(', '), 120);
        report.add(
          ['rules', visit.name, 'also', at],
          `rules wait for each other in a circle: ${circle}`,
          'Take one out.',
        );
      } else if (!done.has(other) && !onTrail.has(other) && rules.has(other)) enter(other);
    }
  }
}
