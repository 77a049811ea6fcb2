import { printable } from './printable.ts';

/** What lies in a new screening folder, in the order in which it is used. */
const MADE = [
  ['README.md', 'what goes where, and how to fill in a sheet'],
  ['roster.csv', 'who the athletes are: one line an athlete'],
  ['sheets/', 'the sheets of your stations go in here, saved as CSV'],
  ['templates/', 'blank sheets to print or fill in, one a station'],
  ['protocol.yaml', 'what is measured, the limits, the teams of each group'],
  ['screening.yaml', 'what the sheets do not say: team, day, units'],
  ['schema/', 'for editors: they complete and check the .yaml files'],
] as const;

const STEPS = [
  'Fill in roster.csv: an athlete_id and a team for each athlete.',
  'Copy your sheets into sheets/.',
  'Put your own team names into sport_groups: in protocol.yaml.',
  'Have your team physician confirm the limits in protocol.yaml.',
];

/** A word of a command line, in quotes where a shell would take it apart. */
const quoted = (word: string): string => (/^[\w./:+@-]+$/.test(word) ? word : `"${word.replace(/["\\$`]/g, '\\$&')}"`);

/**
 * What `bilat new` has made, and what to do next.
 * @param shown the folder as the user named it
 * @param isHere whether it is the folder in which the user is
 */
export function madeText(shown: string, isHere: boolean): string {
  const name = printable(shown);
  const width = Math.max(...MADE.map(([path]) => path.length));
  const lines = [
    isHere ? 'Made a screening folder here:' : `Made the screening folder ${name}:`,
    '',
    ...MADE.map(([path, what]) => `  ${path.padEnd(width)}  ${what}`),
    '',
    'Next:',
    '',
    ...STEPS.map((step, at) => `  ${at + 1}. ${step}`),
    '',
    'Then type:',
    '',
    ...(isHere ? [] : [`  cd ${quoted(name)}`]),
    '  bilat check    reads your lists and settings over, and names what is wrong',
    '  bilat scan     shows how each sheet would be read',
    '  bilat run      writes the tables to out/, and says what must be seen first',
  ];
  return `${lines.join('\n')}\n`;
}
