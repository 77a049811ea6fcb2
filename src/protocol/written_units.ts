import { FORCE, MASS, parseUnit, type Unit } from '../units/unit.ts';
import { nearest } from './nearest.ts';
import { type Path, pathText, type Report } from './places.ts';

/** Spellings that are taken for their UCUM codes. */
const SYNONYMS: ReadonlyMap<string, string> = new Map([
  ['lb', '[lb_av]'],
  ['mmHg', 'mm[Hg]'],
  ['degrees', 'deg'],
  ['in', '[in_i]'],
  ['ft', '[ft_i]'],
]);

/** Under a force the scales of a station mean the force of that mass. */
const FORCE_SYNONYMS: ReadonlyMap<string, string> = new Map([
  ['lb', '[lbf_av]'],
  ['kg', 'kgf'],
]);

const COMMON_CODES = [
  'N',
  'kgf',
  '[lbf_av]',
  'N.m',
  'kg',
  '[lb_av]',
  'm',
  'cm',
  'mm',
  '[in_i]',
  '[ft_i]',
  'deg',
  's',
  'ms',
  'min',
  'mm[Hg]',
  '/min',
  'W',
  'N/kg',
  'kg/m2',
  '%',
  '1',
];

/** The UCUM code of a unit as people write it in YAML. */
export function ucumCode(written: string, wanted?: Unit): string {
  const forced = wanted?.dimension === FORCE ? FORCE_SYNONYMS.get(written) : undefined;
  return forced ?? SYNONYMS.get(written) ?? written;
}

/**
 * The unit written at a place of the file, or undefined with the trouble told.
 * @param wanted a unit whose dimension it must have
 */
export function unitAt(report: Report, path: Path, written: string, wanted?: Unit): Unit | undefined {
  const unit = parseUnit(ucumCode(written, wanted));
  const name = pathText(path);
  if (unit === undefined) {
    const near = nearest(written, COMMON_CODES);
    const hint = near === undefined ? `Write a UCUM code such as ${COMMON_CODES.join(', ')}.` : `Did you mean ${near}?`;
    report.add(path, `${name} "${written}" is no UCUM unit known here`, hint);
    return undefined;
  }
  if (wanted !== undefined && unit.dimension !== wanted.dimension) {
    const isMassForForce = wanted.dimension === FORCE && unit.dimension === MASS;
    report.add(
      path,
      `${name} "${written}" does not convert into ${wanted.code}, the unit it stands for`,
      isMassForForce ? 'A force is read in N, kgf or [lbf_av].' : 'Write a unit of the same kind.',
    );
    return undefined;
  }
  return unit;
}
