const SEPARATORS = /([.,' \u00a0\u2009\u202f’])/;
const GROUP = 3;

/**
 * The number that digits with points, commas, spaces or apostrophes between them stand for; the readings if there are
 * several; undefined if there is none. Groups are of three digits and all parted by the same mark.
 * @param body an optional sign, digits and separators, nothing else
 * @param decimal the decimal mark, if it is known; without it a point is one, and a comma can be that, a thousands
 *   separator or the gap between two trials
 */
export function readGrouped(body: string, decimal: '.' | ',' | undefined): number | string[] | undefined {
  const sign = body.startsWith('-') ? '-' : '';
  const parts = body.replace(/^[-+]/, '').split(SEPARATORS);
  const runs = parts.filter((_, index) => index % 2 === 0);
  const marks = parts.filter((_, index) => index % 2 === 1);
  const mark = marks.at(-1);
  if (mark === undefined) return Number(body);

  const apart = sign + runs.join(' and ');
  const whole = allEqual(marks) && areGroups(runs) ? Number(sign + runs.join('')) : undefined;
  if (mark !== '.' && mark !== ',') {
    return whole !== undefined && mark === ' ' && couldBeTrials(runs) ? [String(whole), apart] : whole;
  }
  if (marks.length === 1) return readSingle(mark, decimal, { whole, broken: toNumber(sign, runs), apart, runs });
  if (whole !== undefined) return mark === decimal ? undefined : openIf(mark === ',' && !decimal, whole, apart);

  const groupMark = marks[0]!;
  const groups = runs.slice(0, -1);
  if (groupMark === mark || !allEqual(marks.slice(0, -1)) || !areGroups(groups) || runs.at(-1) === '') return undefined;
  const broken = toNumber(sign, runs);
  if (groupMark === '.' || groupMark === ',') return openIf(decimal !== undefined && decimal !== mark, broken);
  if (mark !== (decimal ?? '.')) return openIf(true, broken, `${sign}${groups.join('')} and ${runs.at(-1)}`);
  return openIf(groupMark === ' ' && couldBeTrials(groups), broken, `${sign}${groups.join(' and ')}.${runs.at(-1)}`);
}

interface Readings {
  /** the separator parts thousands */
  readonly whole: number | undefined;
  /** the separator is a decimal mark */
  readonly broken: number;
  /** the separator parts two readings */
  readonly apart: string;
  readonly runs: readonly string[];
}

function readSingle(
  mark: '.' | ',',
  decimal: '.' | ',' | undefined,
  readings: Readings,
): number | string[] | undefined {
  const { whole, broken, apart, runs } = readings;
  if (mark === (decimal ?? '.')) return broken;
  if (runs[1] === '') return undefined;
  if (whole !== undefined) return decimal === undefined ? [String(whole), String(broken)] : whole;
  return mark === ',' && runs[0] !== '' ? [String(broken), apart] : [String(broken)];
}

function openIf(open: boolean, value: number, apart?: string): number | string[] {
  if (!open) return value;
  return apart === undefined ? [String(value)] : [String(value), apart];
}

/** The last run holds the decimals. */
function toNumber(sign: string, runs: readonly string[]): number {
  return Number(`${sign}${runs.slice(0, -1).join('')}.${runs.at(-1)}`);
}

function areGroups(runs: readonly string[]): boolean {
  const [lead, ...rest] = runs;
  return /^[1-9]\d{0,2}$/.test(lead!) && rest.every((run) => run.length === GROUP);
}

/** Two trials of two or three digits with a space between them look like one number of thousands: `98 102`. */
function couldBeTrials(runs: readonly string[]): boolean {
  return runs[0]!.length > 1;
}

function allEqual(marks: readonly string[]): boolean {
  return marks.every((mark) => mark === marks[0]);
}
