import type { Measure } from '../../protocol/types.ts';
import { isVitalSign } from '../../sheets/row_cells.ts';
import { OUTLIER_Z } from '../../stats/robust_z.ts';
import { withUnit } from '../../units/unit_text.ts';
import { formatBeside } from '../format_beside.ts';
import type { Readings } from '../suspects/readings.ts';
import type { Apart } from './apart.ts';
import type { Source } from './deviations.ts';
import type { Outlier } from './robust_outliers.ts';

const digits = (value: number, count: number): string => String(Number(value.toPrecision(count)));

function whatToDo(measure: Measure): string {
  return isVitalSign(measure)
    ? 'Real or typed wrongly: take it again first, and look at the paper; if it stands, medical staff see the athlete.'
    : 'Real or typed wrongly: look at the paper, and test again while the athlete is here.';
}

/**
 * What an outlier is, and what to do.
 * @param read the reading at the place that is named: another one where the kept score is a mean
 */
export function outlierSuggestion({ z, value, cell }: Outlier, read: number): string {
  const { measure, sex, sportGroup, firstScores } = cell;
  const who = [sex, sportGroup].filter((word) => word !== '').join(', ');
  const among = `robust z ${formatBeside(z, Math.sign(z) * OUTLIER_Z)} among ${firstScores.length} athletes`;
  const kept =
    read === value ? '' : ` It is the ${measure.trials.keep} of several attempts; the nearest one stands here.`;
  return `Far from the others: ${among}${who === '' ? '' : ` (${who})`}.${kept} ${whatToDo(measure)}`;
}

const AGAINST: Readonly<Record<Apart['against'], string>> = {
  own_earlier: 'going by the change of each athlete since an earlier season',
  peers: 'alike in sex and sport groups',
};

const nameOf = (readings: Readings, source: Source, code: number): string =>
  (source === 'tester' ? readings.testers : readings.devices).get(code) ?? '';

/** Who or what reads apart, by how much, on how many athletes, and what to do. */
export function apartSuggestion(apart: Apart, readings: Readings): string {
  const { source, code, onlyOther, measure, difference, athletes, others, changes } = apart;
  const isAbove = difference > 0;
  const unit = apart.isPercent ? '%' : measure.unit.code;
  const amount = (value: number): string => digits(isAbove ? value : -value, 2);
  const interval = ({ low, high }: Pick<Apart, 'low' | 'high'>): string => {
    const [least, most] = isAbove ? [low, high] : [high, low];
    return `95 % interval ${amount(least)} to ${withUnit(amount(most), unit)}`;
  };
  const subject = `${source === 'tester' ? 'Tester' : 'Device'} ${nameOf(readings, source, code)}`;
  const other = onlyOther === undefined ? 'the others' : nameOf(readings, source, onlyOther);
  return [
    `${subject} reads ${withUnit(amount(difference), unit)} ${isAbove ? 'above' : 'below'} ${other} (${interval(apart)}), ${athletes} athletes against ${others}, ${AGAINST[apart.against]}.`,
    ...(changes
      ? [
          `By the change of each athlete since an earlier season it is ${withUnit(amount(changes.difference), unit)} (${interval(changes)}).`,
        ]
      : []),
    ...(onlyOther === undefined ? [] : ['Which of the two is right is not known.']),
    `Have both ${source}s measure the same athletes, and compare unit, device and position: side-to-side deficits and ratios hide it.`,
  ].join(' ');
}
