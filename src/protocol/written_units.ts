import { FORCE, MASS, NONE, parseUnit, type Unit } from '../units/unit.ts';
import { readUnit } from '../units/written.ts';
import { nearest } from './nearest.ts';
import { type Path, pathText, type Report } from './places.ts';

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

const PLAIN = parseUnit(NONE)!;

/**
 * The UCUM code of a unit as people write it in YAML: a code, or a hand's spelling of one. Where a force is wanted, lb
 * and kg are the force of that mass. What is no unit stays as it is.
 */
export function ucumCode(written: string, wanted: Unit = PLAIN): string {
  // The scales of a station: the one code that means something else under a force.
  if (wanted.dimension === FORCE && written === 'kg') return 'kgf';
  if (parseUnit(written) !== undefined) return written;
  const unit = readUnit(written, wanted);
  return unit === 'unknown' ? written : unit.code;
}

/**
 * The unit written at a place of the file, or undefined with the trouble told.
 * @param wanted a unit whose dimension it must have
 */
export function unitAt(report: Report, path: Path, written: string, wanted?: Unit): Unit | undefined {
  const unit = parseUnit(ucumCode(written, wanted));
  const name = pathText(path);
  if (unit === undefined) {
    report.add(path, `${name} "${written}" is no UCUM unit known here`, hintFor(written, wanted));
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

/** Where units of one kind differ by a factor none is named alone: taken on trust, it would change every reading. */
function hintFor(written: string, wanted: Unit | undefined): string {
  const near = wanted?.code ?? nearest(written, COMMON_CODES);
  if (near === undefined) return `Write a UCUM code such as ${COMMON_CODES.join(', ')}.`;
  const { dimension } = parseUnit(near)!;
  const alike = COMMON_CODES.filter((code) => parseUnit(code)!.dimension === dimension);
  if (alike.length > 1) return `Write one of ${alike.join(', ')}.`;
  return wanted === undefined ? `Did you mean ${near}?` : `Write ${near}.`;
}
