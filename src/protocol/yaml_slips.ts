import { type Document, isCollection, isScalar, type LineCounter, type Node, visit, type YAMLError } from 'yaml';
import { quotedYaml, shortened } from './quoting.ts';
import { inQuotes, lineAround, lineText, valueAround, valueOfLine } from './yaml_lines.ts';

/** A slip in the YAML itself: what it is, where, and its cure. */
export interface Slip {
  readonly line: number;
  readonly column: number;
  readonly message: string;
  readonly hint: string;
}

/** What an error of the parser is due to; `offset` says where the slip itself is, if that is elsewhere. */
interface Diagnosis {
  readonly message: string;
  readonly hint: string;
  readonly offset?: number;
}

interface Source {
  readonly text: string;
  readonly document: Document;
}

type Cause = (source: Source, at: number, said: string) => Diagnosis | undefined;

const CLOSE_IT = 'Close it, or put a text that holds an inch mark in single quotes.';

function lastNode(document: Document, wanted: (node: Node, start: number, end: number) => boolean): Node | undefined {
  let found: Node | undefined;
  visit(document, {
    Node(_, node) {
      const { range } = node as Node;
      if (range && wanted(node as Node, range[0], range[1])) found = node as Node;
    },
  });
  return found;
}

/** Start and end of the last quoted text that opens before an offset. */
function quotedBefore({ text, document }: Source, offset: number): { start: number; end: number } | undefined {
  const node = lastNode(
    document,
    (candidate, start) => isScalar(candidate) && start < offset && /["']/.test(text[start] ?? ''),
  );
  const [start, end] = node?.range ?? [];
  return start === undefined || end === undefined ? undefined : { start, end };
}

function unclosedBracket({ text, document }: Source, at: number): Diagnosis {
  const node = lastNode(
    document,
    (candidate, _, end) => isCollection(candidate) && candidate.flow === true && !/[\]}]/.test(text[end - 1] ?? ''),
  );
  // A bracket that stands in a comment looks like the closing one: then the last one that opens is meant.
  const opening = Math.max(text.lastIndexOf('[', at), text.lastIndexOf('{', at));
  const offset = node?.range?.[0] ?? (opening >= 0 ? opening : at);
  const hasComment = text.slice(offset, lineAround(text, offset).to).includes('#');
  return {
    offset,
    message: `the ${text[offset] ?? 'bracket'} that opens here is never closed`,
    hint: hasComment ? 'A # begins a comment, which runs to the end of the line: write "#" in quotes.' : 'Close it.',
  };
}

/** Something stands behind a value that is over: brackets or braces inside a plain text, or a quote inside a quoted one. */
const afterValue: Cause = (source, at) => {
  const { text } = source;
  const around = valueAround(text, at);
  if (around.value.includes('[') && around.value.includes(']')) {
    return {
      offset: around.start,
      message: `${around.value} holds brackets, which YAML takes for a list`,
      hint: inQuotes(around),
    };
  }
  const whole = valueOfLine(text, at);
  if (whole.value.startsWith('{')) {
    return {
      offset: whole.start,
      message: `${whole.value} holds braces, which YAML takes for keys and values`,
      hint: inQuotes(whole),
    };
  }
  const quoted = quotedBefore(source, at);
  if (quoted === undefined) return undefined;
  const { start, end } = quoted;
  const mark = text[start];
  if (text.slice(start, end).includes('\n')) {
    return { offset: start, message: `the ${mark} that opens here is not closed on its line`, hint: CLOSE_IT };
  }
  const { from, to } = lineAround(text, at);
  if (start < from) return undefined;
  const last = text.lastIndexOf(mark, to - 1);
  const value = text.slice(start + 1, last > start ? last : to);
  return {
    offset: start,
    message: `a ${mark} inside the text ends it too early`,
    hint: `Write ${mark === '"' ? quotedYaml(value) : `"${value}"`}.`,
  };
};

/** A comment sign that cuts a key off before its colon. */
function cutKey(text: string, at: number): Diagnosis | undefined {
  const line = lineText(text, at);
  const sign = line.indexOf(' #');
  const colon = line.lastIndexOf(':');
  if (sign < 0 || colon < sign) return undefined;
  return {
    offset: lineAround(text, at).from + sign + 1,
    message: '# begins a comment here, so that the key before it is cut off',
    hint: inQuotes({ value: line.slice(0, colon).trim() }),
  };
}

function badStart(text: string, at: number): Diagnosis {
  const whole = valueOfLine(text, at);
  const here = whole.start === at ? whole : { ...valueAround(text, at), start: at };
  return {
    offset: at,
    message: `a value cannot begin with ${text[at] ?? 'this'} unless it is in quotes`,
    hint: inQuotes(here.value === '' ? { value: text[at] ?? '' } : here),
  };
}

const CAUSES: { readonly [code in YAMLError['code']]?: Cause } = {
  TAB_AS_INDENT: () => ({
    message: 'a tab indents this line, and YAML takes spaces only',
    hint: 'Replace the tab by spaces.',
  }),
  BAD_SCALAR_START: ({ text }, at) => badStart(text, at),
  BAD_ALIAS: ({ text }, at) => badStart(text, at),
  TAG_RESOLVE_FAILED: ({ text }, at) => badStart(text, at),
  MULTIPLE_DOCS: () => ({
    message: 'a second document begins here, and only one is read',
    hint: 'Take this line out.',
  }),
  RESOURCE_EXHAUSTION: () => ({
    message: 'this is nested too deeply to be read',
    hint: 'Check the brackets and the indentation.',
  }),
  BAD_DQ_ESCAPE: () => ({
    message: 'a \\ in double quotes begins a code that YAML does not know',
    hint: 'Put the text in single quotes.',
  }),
  BLOCK_AS_IMPLICIT_KEY: ({ text }, at) => {
    if (!text.slice(at, lineAround(text, at).to).includes(': ')) return hasNoColon(text, at);
    const value = valueOfLine(text, at);
    return {
      offset: value.start,
      message: 'a colon with a space after it begins a new key, even inside a value',
      hint: inQuotes(value),
    };
  },
  MULTILINE_IMPLICIT_KEY: ({ text }, at) => hasNoColon(text, at),
  BAD_INDENT: (source, at, said) => {
    if (said.startsWith('Flow')) return unclosedBracket(source, at);
    const before = lineAround(source.text, at).from - 1;
    return (
      (before > 0 ? cutKey(source.text, before) : undefined) ?? {
        message: 'this line is indented differently from the lines it belongs to',
        hint: 'Begin the lines of one mapping or list at the same column.',
      }
    );
  },
  MISSING_CHAR: (source, at, said) => {
    const { text } = source;
    if (said.includes('closing')) {
      const offset = quotedBefore(source, at)?.start ?? at;
      return { offset, message: `the ${text[offset] ?? 'quote'} that opens here is never closed`, hint: CLOSE_IT };
    }
    if (said.startsWith('Comments')) {
      return {
        message: '# begins a comment here, which runs to the end of the line',
        hint: 'Write "#" in quotes.',
      };
    }
    if (said.startsWith('Flow')) return unclosedBracket(source, at);
    if (said.startsWith('Missing ,')) return afterValue(source, at, said);
    return cutKey(text, at) ?? hasNoColon(text, at);
  },
  UNEXPECTED_TOKEN: (source, at, said) => {
    if (said.startsWith('Unexpected , in flow')) {
      return {
        message: 'a comma stands here without a value before it',
        hint: 'A comma that is meant as a value goes in quotes: ",".',
      };
    }
    if (said.startsWith('Block scalar header') || said.startsWith('Not a YAML token')) {
      return badStart(source.text, valueOfLine(source.text, at).start);
    }
    if (said.includes('block-seq-ind on same line')) return badStart(source.text, at);
    return said.endsWith('at node end') ? afterValue(source, at, said) : undefined;
  },
};

function hasNoColon(text: string, at: number): Diagnosis {
  return {
    message: `"${shortened(lineText(text, at).trim())}" has no colon of its own, or the next line is indented too far`,
    hint: 'Write each line as key: value, with a space after the colon and one mapping at one column.',
  };
}

/** Codes whose place and cure stand for themselves; other errors may only follow from the first one. */
const INDEPENDENT: ReadonlySet<string> = new Set([
  'TAB_AS_INDENT',
  'BAD_SCALAR_START',
  'BAD_ALIAS',
  'TAG_RESOLVE_FAILED',
]);

/** The slips behind the parser's errors: the first, and those further down that do not follow from it. */
export function syntaxSlips(text: string, document: Document.Parsed, lines: LineCounter): Slip[] {
  const slips: Slip[] = [];
  const seen = new Set<number>();
  const place = (offset: number): { line: number; column: number } => {
    const { line, col } = lines.linePos(offset);
    return { line: Math.max(1, line), column: Math.max(1, col) };
  };
  for (const [position, error] of [...document.errors, ...document.warnings].entries()) {
    const [at] = error.pos;
    if ((position > 0 && !INDEPENDENT.has(error.code)) || seen.has(place(at).line)) continue;
    const { offset, message, hint } = CAUSES[error.code]?.({ text, document }, at, error.message) ?? {
      message: `this line cannot be read as YAML (${error.message})`,
      hint: 'Write each line as key: value, and put texts with special characters in quotes.',
    };
    const { line, column } = place(offset ?? at);
    seen.add(place(at).line).add(line);
    slips.push({ line, column, message, hint });
  }
  return slips;
}
