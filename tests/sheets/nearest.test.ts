import { describe, expect, it } from 'vitest';
import { nearestTest } from '../../src/sheets/described.ts';
import { headingWords } from '../../src/sheets/headings.ts';
import { mayBeOpposite } from '../../src/sheets/opposites.ts';
import { scanned } from '../screening/scanned.ts';
import { protocolOf } from './ingest_text.ts';

const words = headingWords(protocolOf());

describe('the nearest known heading', () => {
  it.each([
    ['hip adducton', ['hip adduction']],
    // as near to the one as to the other
    ['hip aduction', []],
    ['Grp', ['grip']],
    ['pluse', ['pulse']],
    ['knee torqe', ['knee torque']],
    // another direction, another thing
    ['Hip ER', []],
    ['Hip AD', []],
    ['BP mean', []],
    ['rule', []],
    ['???', []],
  ])('of %j: %j', (heading, near) => expect(nearestTest(heading, words)).toEqual(near));

  it.each([
    ['pm reach', 'pl reach', true],
    ['hip er', 'hip ir', true],
    ['hip add', 'hip abd', true],
    ['post reach', 'ant reach', true],
    ['sys', 'dia', true],
    ['hip abduction', 'hip adduction', true],
    ['hip abducton', 'hip adduction', true],
    // as near to the one as to the other
    ['hip aduction', 'hip abduction', true],
    ['hip adducton', 'hip adduction', false],
    ['external rotaton', 'internal rotation', true],
    ['internal rotaton', 'internal rotation', false],
    ['posteromedial reach', 'posterolateral reach', true],
    ['grp', 'grip', false],
    ['single leg hpo', 'single leg hop', true],
    ['singel leg hop', 'single leg hop', false],
  ])('%j beside %j may be the opposite: %s', (heading, known, expected) => {
    expect(mayBeOpposite(heading, known)).toBe(expected);
  });
});

describe('the line to paste', () => {
  it.each([
    ['Hop L,Grp L (kg)', '"Grp L (kg)": { measure: grip, side: left, unit: kgf }'],
    ['Hop L,Knee torqe R 2 (Nm)', '"Knee torqe R 2 (Nm)": { measure: knee_torque, side: right, trial: 2, unit: N.m }'],
    // What may be another direction is not offered.
    ['Hop L,Hip ER L', '"Hip ER L": { measure: … }'],
  ])('of %j', async (headings, line) => {
    const { blocks } = await scanned(`ID,${headings}\nK001,150,20\n`, { entry: { date: '2026-08-17' } });
    expect(blocks[0].tables[0].columns[2].lines?.[0]).toBe(line);
  });
});
