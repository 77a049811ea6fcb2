import { round9 } from '../stats/round9.ts';
import { unitText } from '../units/unit_text.ts';

/** a, b and c; nothing is ''. */
export function listed(items: readonly string[], last = 'and'): string {
  return items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} ${last} ${items.at(-1)}`;
}

/** Sentences one after the other; what is not there is left out. */
export function sentences(...parts: readonly (string | false | undefined)[]): string {
  return parts.filter((part) => part !== undefined && part !== false && part !== '').join(' ');
}

/** A text with a capital letter at its start. */
export function capital(text: string): string {
  return text === '' ? '' : text[0].toUpperCase() + text.slice(1);
}

/** A text that ends like a sentence. */
export function sentence(text: string): string {
  const plain = text.replace(/\s+/g, ' ').trim();
  return plain === '' || /[.!?]$/.test(plain) ? plain : `${plain}.`;
}

/** A number with three digits, without zeros at its end. */
export function shortNumber(value: number): string {
  const size = Math.abs(value);
  const decimals = size === 0 || size >= 100 ? 0 : Math.min(9, 2 - Math.floor(Math.log10(size)));
  const text = round9(value).toFixed(decimals);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/** A unit as staff write it, with its UCUM code where that is another: lbf (UCUM [lbf_av]). */
export function unitWords(code: string): string {
  const text = unitText(code);
  if (text === '') return 'none: a plain number';
  const written = text === code ? text : `${text} (UCUM ${code})`;
  if (code === 'kgf') return `${written}: kilogram-force, the kg that a dynamometer shows; 1 kgf is 9.80665 N`;
  return written;
}
