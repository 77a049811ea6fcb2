import type { Derivation, Measure } from '../protocol/types.ts';
import { listed } from './words.ts';

const SIDE_WORDS = {
  worse: 'worse side of ',
  better: 'better side of ',
  mean: 'mean of both sides of ',
  both: 'left + right of ',
};

const names = (parts: readonly Measure[], joint: string): string => parts.map(({ name }) => name).join(joint);

function zMean({ parts, within, minGroup, needs }: Extract<Derivation, { operator: 'z_mean' }>): string {
  const terms = parts.map(({ name, better }) => `${better === 'lower' ? '-' : ''}z(${name})`);
  const group = within.length === 0 ? 'everybody tested' : `athletes of the same ${listed(within)}`;
  const enough = needs < parts.length ? `; at least ${needs} of ${parts.length} needed` : '';
  return `mean of ${terms.join(', ')}; z(x) = (x - mean) / SD among ${group} of the same season, at least ${Math.max(minGroup, 10)}${enough}`;
}

function total({ parts, side, needs }: Extract<Derivation, { operator: 'total' }>): string {
  const terms = parts.map(({ name, sides }) => (sides === 'each' ? SIDE_WORDS[side] : '') + name);
  return terms.join(' + ') + (needs < parts.length ? `; at least ${needs} of ${parts.length} needed` : '');
}

function right(derivation: Derivation): string {
  const { parts } = derivation;
  switch (derivation.operator) {
    case 'ratio':
    case 'per':
      return names(parts, ' / ');
    case 'percent_of':
      return `100 ${names(parts, ' / ')}`;
    case 'difference':
      return names(parts, ' - ');
    case 'sum':
    case 'mean': {
      const sum = names(parts, ' + ');
      const divisor = derivation.asPercentOf;
      const value = derivation.operator === 'mean' ? `(${sum}) / ${parts.length}` : sum;
      return divisor ? `100 (${value}) / ${divisor.name}` : value;
    }
    case 'total':
      return total(derivation);
    case 'z_mean':
      return zMean(derivation);
  }
}

/** The formula of a derived measure by its operator: `adductor_ratio = hip_adduction / hip_abduction`, on each side. */
export function formulaOf({ name, sides, derivation }: Measure): string | undefined {
  if (derivation === undefined) return undefined;
  return `${name} = ${right(derivation)}${sides === 'each' ? ', on each side' : ''}`;
}
