import * as z from 'zod';
import { protocolSchema } from './schema.ts';

/** A JSON Schema, or a part of one. */
export interface JsonSchema {
  readonly [key: string]: unknown;
}

/** The draft that editors of YAML take. */
const DRAFT = 'draft-7';
/** What zod writes for whole numbers without a limit, and what tells nobody anything. */
const NO_LIMIT = Number.MAX_SAFE_INTEGER;

const isObject = (value: unknown): value is JsonSchema =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Names of entries as editors check and complete them: by pattern, or each by itself. */
function named({ propertyNames, additionalProperties, ...rest }: JsonSchema): JsonSchema {
  if (!isObject(propertyNames)) return { ...rest, ...(additionalProperties !== undefined && { additionalProperties }) };
  const { pattern, enum: words } = propertyNames;
  if (typeof pattern === 'string') {
    return { ...rest, patternProperties: { [pattern]: additionalProperties }, additionalProperties: false };
  }
  if (Array.isArray(words)) {
    const properties = Object.fromEntries(words.map((word) => [word, additionalProperties]));
    return { ...rest, properties, additionalProperties: false };
  }
  return { ...rest, additionalProperties };
}

function forEditors(part: unknown): unknown {
  if (Array.isArray(part)) return part.map(forEditors);
  if (!isObject(part)) return part;
  const { maximum, ...rest } = part;
  const limited = maximum === undefined || maximum === NO_LIMIT ? rest : { ...rest, maximum };
  return Object.fromEntries(Object.entries(named(limited)).map(([key, value]) => [key, forEditors(value)]));
}

/**
 * The JSON Schema (draft 7) of a YAML file as people write it: what has a default may be left out. It knows what editors
 * can check; how the parts of a file go together only `bilat check` tells.
 */
export function editorSchema(schema: z.ZodType, title: string, description: string): JsonSchema {
  const { $schema, ...rest } = z.toJSONSchema(schema, { io: 'input', target: DRAFT, reused: 'inline' });
  return { $schema, title, description, ...(forEditors(rest) as JsonSchema) };
}

/** The JSON Schema (draft 7) of protocol.yaml. */
export function protocolJsonSchema(): JsonSchema {
  return editorSchema(
    protocolSchema,
    'protocol.yaml of bilat',
    'What a screening measures, how results are judged, and what is done about findings.',
  );
}
