import type * as z from 'zod';
import type { Path } from './places.ts';

type Def = z.core.$ZodTypes['_zod']['def'];

function defOf(schema: z.core.$ZodType): Def {
  return (schema._zod as z.core.$ZodTypes['_zod']).def;
}

/** What a schema amounts to without its wrappers: one schema, or the branches of a union. */
function branches(schema: z.core.$ZodType): z.core.$ZodType[] {
  const def = defOf(schema);
  if (def.type === 'optional' || def.type === 'default') return branches(def.innerType);
  return def.type === 'union' ? def.options.flatMap(branches) : [schema];
}

function partOf(schema: z.core.$ZodType, part: string | number): z.core.$ZodType[] {
  const def = defOf(schema);
  if (def.type === 'record') return [def.valueType];
  if (def.type === 'array') return [def.element];
  const shape = def.type === 'object' ? (def.shape as { [key: string]: z.core.$ZodType }) : {};
  return Object.hasOwn(shape, part) ? [shape[part]] : [];
}

function schemasAt(schema: z.core.$ZodType, path: Path): z.core.$ZodType[] {
  let found = [schema];
  for (const part of path) found = found.flatMap(branches).flatMap((holder) => partOf(holder, part));
  return found;
}

/** The keys that a mapping at a path may have. */
export function keysAt(schema: z.core.$ZodType, path: Path): string[] {
  return schemasAt(schema, path)
    .flatMap(branches)
    .flatMap((found) => {
      const def = defOf(found);
      return def.type === 'object' ? Object.keys(def.shape) : [];
    });
}

/** What the schema says a value at a path means, for hints. */
export function describedAt(schema: z.core.$ZodType, path: Path): string | undefined {
  return schemasAt(schema, path)
    .map((found) => (found as z.ZodType).description)
    .find((text) => text !== undefined);
}
