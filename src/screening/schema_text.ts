import { protocolJsonSchema } from '../protocol/json_schema.ts';
import { screeningJsonSchema } from './config_json_schema.ts';

/** The JSON Schema (draft 7) of protocol.yaml or screening.yaml as text that ends in a line end; always the same bytes. */
export function schemaText(kind: 'protocol' | 'screening'): string {
  const schema = kind === 'protocol' ? protocolJsonSchema() : screeningJsonSchema();
  return `${JSON.stringify(schema, null, 2)}\n`;
}
