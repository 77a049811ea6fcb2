import { type Problem, SEVERITIES, type Severity } from '../../problems/problem.ts';
import { counted } from './counted.ts';
import { printable } from './printable.ts';
import { heading, type Setting, wrapped } from './text.ts';

/** Control characters and marks that turn the direction of writing around. */
const UNPRINTABLE = /[\p{Cc}\p{Bidi_Control}]/gu;

const TITLES: Readonly<Record<Severity, string>> = {
  error: 'Errors: to be mended before anything is screened',
  warning: 'Warnings: what will bite',
  note: 'Notes: what one should know',
};

const MOST_LISTED = 100;

/** Problems as staff read them, worst first, and how many there are. */
export function checkText(problems: readonly Problem[], hasFolder: boolean, setting: Setting): string {
  const sections = SEVERITIES.map((severity) =>
    section(
      severity,
      problems.filter((problem) => problem.severity === severity),
      setting,
    ),
  );
  const listed = sections.join('').replace(/^\n/, '');
  const closing = hasFolder
    ? 'Sheets are not opened by check: bilat scan says how each of them would be read.'
    : 'A protocol alone was read: inside a screening folder check reads all its files.';
  return `${listed}${listed === '' ? '' : '\n'}${wrapped(`${sumText(problems)} ${closing}`, setting)}`;
}

function section(severity: Severity, problems: readonly Problem[], setting: Setting): string {
  if (problems.length === 0) return '';
  const more = problems.length - MOST_LISTED;
  const rest = more > 0 ? wrapped(`and ${more} more: see --format json`, setting, 2) : '';
  const lines = problems.slice(0, MOST_LISTED).map((problem) => problemText(problem, setting));
  return `${heading(TITLES[severity], setting)}${lines.join('')}${rest}`;
}

function problemText({ file, line, column, message, hint, paste }: Problem, setting: Setting): string {
  const place = [file, line, column].filter((part) => part !== null).join(':');
  const said = `${place}: ${sentence(message)}${hint === null ? '' : ` ${sentence(hint)}`}`;
  // What is to be pasted is neither wrapped nor ended by a full stop.
  const lines = (paste ?? '').split('\n').filter((one) => one !== '');
  return wrapped(`- ${printable(said)}`, setting, 2, 4) + lines.map((one) => `      ${printable(one)}\n`).join('');
}

const sentence = (text: string): string => (/[.?!:]$/.test(text) ? text : `${text}.`);

/** "1 error, 3 warnings, 2 notes.", "No errors, no warnings." */
function sumText(problems: readonly Problem[]): string {
  const counts = SEVERITIES.map((severity) => problems.filter((problem) => problem.severity === severity).length);
  const [errors, warnings, notes] = counts.map((count, at) =>
    count === 0 ? `no ${SEVERITIES[at]}s` : counted(count, SEVERITIES[at]),
  );
  const said = [errors, warnings, ...(counts[2] === 0 ? [] : [notes])].join(', ');
  return `${said[0].toUpperCase()}${said.slice(1)}.`;
}

/** One array, a problem a line. */
export function checkJson(problems: readonly Problem[]): string {
  const rows = problems.map((problem) => `\n${JSON.stringify(problem)}`).join(',');
  const text = rows.replace(UNPRINTABLE, (sign) =>
    sign === '\n' ? sign : `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
  return `[${text}\n]\n`;
}
