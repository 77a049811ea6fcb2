import { describe, expect, it } from 'vitest';
import { loadProtocol } from '../../src/protocol/load.ts';
import { ucumCode } from '../../src/protocol/written_units.ts';
import { parseUnit } from '../../src/units/unit.ts';

describe('a unit as people write it in YAML', () => {
  it.each<readonly [written: string, wanted: string | undefined, code: string]>([
    ['lbf', 'N', '[lbf_av]'],
    ['lb', 'N', '[lbf_av]'],
    ['lbs', 'N', '[lbf_av]'],
    ['pounds', 'N', '[lbf_av]'],
    ['kg', 'N', 'kgf'],
    ['kilos', 'N', 'kgf'],
    ['newtons', 'kgf', 'N'],
    ['lb', 'kg', '[lb_av]'],
    ['lbs', 'kg', '[lb_av]'],
    ['Pounds', 'kg', '[lb_av]'],
    ['kg', 'kg', 'kg'],
    ['inches', 'cm', '[in_i]'],
    ['in', 'cm', '[in_i]'],
    ['ft', 'cm', '[ft_i]'],
    ['degrees', 'deg', 'deg'],
    ['mmHg', 'mm[Hg]', 'mm[Hg]'],
    ['bpm', '/min', '/min'],
    ['ft-lb', 'N.m', '[ft_i].[lbf_av]'],
    ['lbs', undefined, '[lb_av]'],
    ['lbf', undefined, '[lbf_av]'],
    ['inches', undefined, '[in_i]'],
    ['degrees', undefined, 'deg'],
    // A code is never read as a spelling: a mass is no force.
    ['[lb_av]', 'N', '[lb_av]'],
    ['lbx', 'N', 'lbx'],
    ['', 'N', ''],
    ['constructor', undefined, 'constructor'],
  ])('%s, where %s is wanted, is %s', (written, wanted, code) => {
    expect(ucumCode(written, wanted === undefined ? undefined : parseUnit(wanted))).toBe(code);
  });
});

it('a protocol takes them', () => {
  const { measures } = loadProtocol(
    `bilat: 1
name: Small
measures:
  force: {unit: newtons, written_in: pounds, sides: each}
  reach: {unit: cm, written_in: inches, sides: each}
  angle: {unit: degrees, sides: each, compare: gap}
  mass: {unit: kg, written_in: lbs, sides: none}
`,
    'protocol.yaml',
  );
  expect(measures.map(({ unit, writtenIn }) => [unit.code, writtenIn])).toEqual([
    ['N', '[lbf_av]'],
    ['cm', '[in_i]'],
    ['deg', undefined],
    ['kg', '[lb_av]'],
  ]);
});
