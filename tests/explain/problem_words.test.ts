import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { asked } from '../../src/explain/asked.ts';
import { catalogue } from '../../src/explain/catalogue.ts';
import { findTopics } from '../../src/explain/find.ts';
import { PROBLEM_WORDS } from '../../src/explain/words_problems.ts';
import { ROOT } from '../cases/bilat.ts';

const TOPICS = catalogue(undefined);
const names = new Set(PROBLEM_WORDS.map(({ name }) => name));
const SOURCES = path.join(ROOT, 'src/screening');
/** Modules of check, and whatever else of the folder makes problems. */
const texts = readdirSync(SOURCES, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .map((file) => ({ file, text: readFileSync(path.join(SOURCES, file), 'utf8') }))
  .filter(({ file, text }) => file.startsWith('checks') || /\bProblem\b/.test(text));

/** Places in which a word is a code. */
const CODE_PLACES = [
  /'(?:error|warning|note)',\s*'([a-z_]+)'/g,
  /\bcode: '([a-z_]+)'/g,
  /\battempt\(\s*'([a-z_]+)'/g,
  /\btold\(\s*'([a-z_]+)'/g,
];

describe('codes of check', () => {
  test('each has a topic of its own', () => {
    const codes = texts.flatMap(({ text }) =>
      CODE_PLACES.flatMap((place) => [...text.matchAll(place)].map(([, code]) => code)),
    );
    expect(new Set(codes).size).toBeGreaterThan(25);
    expect([...new Set(codes)].filter((code) => !names.has(code))).toEqual([]);
  });

  test('whatever word with an underscore stands in the sources can be explained', () => {
    const words = texts.flatMap(({ text }) => [...text.matchAll(/'([a-z]+(?:_[a-z]+)+)'/g)].map(([, word]) => word));
    expect(new Set(words).size).toBeGreaterThan(50);
    expect([...new Set(words)].filter((word) => findTopics(word, TOPICS).length === 0)).toEqual([]);
  });

  test('those that are made up of a list and an end have one for each list', () => {
    const ends = new Set(
      texts.flatMap(({ text }) => [...text.matchAll(/`\$\{name\}_([a-z]+)`/g)].map(([, end]) => end)),
    );
    expect([...ends].sort()).toEqual(['cell', 'refused']);
    for (const list of 'roster injuries exposures history clearance referrals corrections work'.split(' ')) {
      for (const end of ends) expect(names).toContain(`${list}_${end}`);
    }
  });

  test('no topic is of a code that nothing says', () => {
    const all = texts.map(({ text }) => text).join('\n');
    const made = /_(?:cell|refused)$/;
    expect([...names].filter((name) => !made.test(name) && !all.includes(`'${name}'`))).toEqual([]);
  });

  test('say how grave it is, what comes of it and what to do', () => {
    for (const { name, definition, where } of PROBLEM_WORDS) {
      expect(definition, name).toMatch(/^(An error: mend|A warning: run goes on|A note: good to know)/);
      expect(definition, name).toMatch(/\. What to do: [^.].{10,}\.$/);
      expect(where, name).toMatch(/^bilat check --format json, key code, with severity (error|warning|note)\.$/);
    }
  });

  test('are asked for one by one and as a list', () => {
    const code = findTopics('rule_without_source', TOPICS);
    expect(code.map(({ kind }) => kind)).toEqual(['problem code']);
    expect(asked(['problem', 'rule_without_source'], TOPICS).topics).toEqual(code);
    expect(asked(['problems'], TOPICS)).toMatchObject({ kinds: ['problem code'], unknown: [] });
  });
});
