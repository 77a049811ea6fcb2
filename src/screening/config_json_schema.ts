import { editorSchema, type JsonSchema } from '../protocol/json_schema.ts';
import { screeningSchema } from './config_schema.ts';

/** The JSON Schema (draft 7) of screening.yaml. */
export function screeningJsonSchema(): JsonSchema {
  return editorSchema(
    screeningSchema,
    'screening.yaml of bilat',
    'Where the sheets of a screening lie, and what they do not say themselves.',
  );
}
