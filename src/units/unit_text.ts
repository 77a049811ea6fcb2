/** UCUM atoms that hands write another way. */
const ATOMS: ReadonlyMap<string, string> = new Map([
  ['deg', '°'],
  ['mm[Hg]', 'mmHg'],
  ['[in_i]', 'in'],
  ['[ft_i]', 'ft'],
  ['[yd_i]', 'yd'],
  ['[lb_av]', 'lb'],
  ['[oz_av]', 'oz'],
  ['[lbf_av]', 'lbf'],
]);
const RAISED: ReadonlyMap<string, string> = new Map([...'-0123456789'].map((sign, at) => [sign, '⁻⁰¹²³⁴⁵⁶⁷⁸⁹'[at]]));

const raised = (exponent: string): string => [...exponent].map((sign) => RAISED.get(sign)).join('');

function partText(part: string): string {
  if (part === '.') return '·';
  if (part.startsWith('{')) return part.slice(1, -1);
  if (part === '1') return '';
  const exponent = /-?\d+$/.exec(part)?.[0] ?? '';
  const atom = part.slice(0, part.length - exponent.length);
  return (ATOMS.get(atom) ?? atom) + raised(exponent);
}

/** A UCUM code as staff write the unit: mm[Hg] is mmHg, deg is °, N.m is N·m, 1 is nothing. */
export function unitText(code: string): string {
  return code.replace(/\{[^}]*\}|\.|[^./{]+/g, partText);
}

/** A number with its unit: 11.2 %, 35°, 0.72. */
export function withUnit(number: string, unit: string): string {
  const text = unitText(unit);
  return text === '' || text.startsWith('°') ? number + text : `${number} ${text}`;
}
