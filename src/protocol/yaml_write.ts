import { Document, Scalar, YAMLMap } from 'yaml';

type Plain = string | number;

/** One line or block of a mapping to be written. */
export type YamlItem =
  | { readonly comment: string }
  | {
      readonly key: string;
      /** whether the key is a text of somebody else's, and stands in quotes */
      readonly quoted?: true;
      /** a mapping in braces, on the line of its key */
      readonly value: Plain | readonly string[] | Readonly<Record<string, Plain | undefined>>;
      /** stands behind the value */
      readonly why?: string;
    }
  | { readonly key: string; readonly block: readonly YamlItem[] };

/** Control characters and marks that turn the direction of writing around, line ends aside. */
const UNPRINTABLE = /(?!\n)[\p{Cc}\p{Bidi_Control}]/gu;
const IN_TEXT = /[\p{Cc}\p{Bidi_Control}\ufeff]/u;
/** A longer key cannot stand on the line of its value. */
export const LONGEST_KEY = 500;

const escaped = (sign: string): string => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`;
const onOneLine = (text: string): string => ` ${text.replace(/\s*[\r\n]+\s*/g, ' ')}`;

/**
 * YAML of a list of mappings under one key, comments included. Every text is quoted where it has to be.
 * @param entries at least one
 */
export function yamlList(key: string, entries: readonly (readonly YamlItem[])[]): string {
  const document = new Document({ [key]: [] });
  for (const entry of entries) document.addIn([key], mapping(document, entry));
  return written(document);
}

/** One pair as a line of YAML: `"Thing L": { measure: grip, side: left }`. */
export function yamlLine(key: string, value: Plain | Readonly<Record<string, Plain | undefined>>): string {
  const document = new Document({});
  document.contents = mapping(document, [{ key, quoted: true, value }]) as never;
  return written(document).trimEnd();
}

function written(document: Document): string {
  return `${document.toString({ lineWidth: 0 }).trimEnd()}\n`.replace(UNPRINTABLE, escaped);
}

function mapping(document: Document, items: readonly YamlItem[]): YAMLMap {
  const map = new YAMLMap();
  let before: string[] = [];
  for (const item of items) {
    if ('comment' in item) {
      before.push(onOneLine(item.comment));
      continue;
    }
    const key = new Scalar(item.key);
    if ('quoted' in item && item.quoted) key.type = Scalar.QUOTE_DOUBLE;
    if (before.length > 0) key.commentBefore = before.join('\n');
    before = [];
    const value = 'block' in item ? mapping(document, item.block) : nodeOf(document, item.value);
    if ('why' in item && item.why !== undefined) value.comment = onOneLine(item.why);
    map.items.push(document.createPair(key, value));
  }
  if (before.length > 0) map.comment = before.join('\n');
  return map;
}

function nodeOf(document: Document, value: Extract<YamlItem, { value: unknown }>['value']) {
  if (typeof value === 'object') {
    const said = Array.isArray(value) ? value : Object.entries(value).filter(([, one]) => one !== undefined);
    return document.createNode(Array.isArray(value) ? said : Object.fromEntries(said), { flow: true });
  }
  const scalar = new Scalar(value);
  if (typeof value === 'string' && IN_TEXT.test(value)) scalar.type = Scalar.QUOTE_DOUBLE;
  return scalar;
}
