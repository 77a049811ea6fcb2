import type { ColumnSlip } from './column_units.ts';
import type { Identical } from './identical.ts';
import type { Model } from './model.ts';
import type { Repeat } from './repeated_rows.ts';
import type { Run } from './runs.ts';
import type { SheetSwap } from './sheet_column_swaps.ts';
import type { SidesTurned } from './sheet_sides.ts';
import type { Extent, Suspect } from './types.ts';
import { mixedUp, shownChance, shownValue } from './words.ts';

const NOT_KNOWN = { score: Number.NaN, low: Number.NaN, high: Number.NaN };
const MOST_NAMED = 8;

type Given = Partial<Suspect> & Pick<Suspect, 'kind' | 'suggestion'>;

function suspect(rows: readonly number[], extent: Extent, given: Given): Suspect {
  return { at: rows[0], reject: -1, extent, covers: rows, ...NOT_KNOWN, ...given };
}

/** Reading that stands first in its sheet. */
function first({ readings }: Model, rows: readonly number[]): number {
  const { line, column } = readings;
  return rows.reduce((one, other) =>
    line[other] < line[one] || (line[other] === line[one] && column[other] < column[one]) ? other : one,
  );
}

function idsOf({ readings }: Model, rows: readonly number[]): string {
  const ids = [...new Set(rows.map((row) => readings.athletes.get(readings.athlete[row]) ?? ''))];
  const shown = ids.slice(0, MOST_NAMED).join(', ');
  return ids.length > MOST_NAMED ? `${shown} and ${ids.length - MOST_NAMED} more` : shown;
}

export function columnSlipSuspect(model: Model, slip: ColumnSlip): Suspect {
  const { readings } = model;
  const { rows, extent, factor, between, others, ratio, athletes, score } = slip;
  const measure = readings.measureOf(rows[0]);
  const whose =
    slip.tester !== undefined
      ? `All readings of ${readings.testers.get(slip.tester) ?? 'the tester'} in this sheet`
      : slip.team !== undefined
        ? `All readings of ${readings.teams.get(slip.team) ?? 'the team'} in this sheet`
        : extent === 'column'
          ? 'The whole column'
          : 'The whole sheet';
  const [low, high] = model.usual(measure.index, new Set(rows)) ?? [Number.NaN, Number.NaN];
  const times = ratio > 1 ? ratio : 1 / ratio;
  const off = `${whose} read about ${Number(times.toPrecision(2))} times too ${ratio > 1 ? 'high' : 'low'}`;
  const value = readings.value[rows[0]];
  const example = `${shownValue(value, measure.unit.code)} may be ${shownValue(value * factor, measure.unit.code)}`;
  const or = others.length === 0 ? '' : ` Or ${others.map(mixedUp).join(', or ')}.`;
  const against = athletes === rows.length ? '' : `, by ${athletes} athletes`;
  return suspect(
    [...rows].sort((a, b) => a - b),
    extent,
    {
      kind: 'column_unit_slip',
      score,
      low,
      high,
      suggestion: `${off}${against}: probably ${mixedUp(between)}, and ${example}.${or} Ask the station, and state the unit under units in screening.yaml.`,
    },
  );
}

export function runSuspect(model: Model, { rows, how, step }: Run): Suspect {
  const { readings } = model;
  const { line, athletes, athlete, value } = readings;
  const unit = readings.measureOf(rows[0]).unit.code;
  const last = rows[rows.length - 1];
  const place = `${rows.length} athletes one after the other, ${athletes.get(athlete[rows[0]])} to ${athletes.get(athlete[last])} (line ${line[rows[0]]} to ${line[last]})`;
  const words = {
    equal: `${place}, have the same ${shownValue(value[rows[0]], unit)}: the cell was probably pulled down.`,
    stepped: `${place}, ${step > 0 ? 'rise' : 'fall'} by ${shownValue(Math.abs(step), unit)} each: the cells were probably pulled down.`,
    sorted: `${place}, stand in order of size: the column may have been sorted without the ids beside it.`,
  };
  return suspect(rows, 'run', {
    kind: 'run_of_fill',
    suggestion: `${words[how]} Go back to the paper: each reading may belong to another athlete.`,
  });
}

export function repeatSuspect(model: Model, { rows, of, how }: Repeat): Suspect {
  const { readings } = model;
  const { athletes, athlete, files, file, line } = readings;
  const start = first(model, rows);
  const other = first(model, [of]);
  const there = `${files.get(file[other])}:${line[other]}`;
  const words = {
    again:
      rows.length === 1
        ? 'The reading stands there twice, and counts once.'
        : `The ${rows.length} readings of this row stand there twice, and count once.`,
    other_athlete: `The ${rows.length} numbers of this row are also those of ${athletes.get(athlete[other])} (${there}). One of the two has probably not been tested: go back to the paper.`,
    other_day: `The ${rows.length} numbers of this row also stand under another day of the same athlete (${there}). One of the two days is probably wrong.`,
  };
  return suspect([start, ...rows.filter((row) => row !== start)], 'reading', {
    kind: 'repeated_row',
    suggestion: words[how],
  });
}

/** A sheet of which most stands in another sheet too. */
export function repeatedSheetSuspect(model: Model, repeats: readonly Repeat[]): Suspect {
  const { files, file } = model.readings;
  const rows = repeats.flatMap((repeat) => [...repeat.rows]);
  return suspect(rows, 'sheet', {
    kind: 'repeated_row',
    suggestion: `${repeats.length} rows of this sheet also stand in ${files.get(file[repeats[0].of])}, and count once: take one of the two out.`,
  });
}

export function identicalSuspect(model: Model, { rows, expected, ofSheet }: Identical): Suspect {
  const { readings } = model;
  if (ofSheet === undefined) {
    const attempts = rows.length / 2;
    return suspect(rows, 'reading', {
      kind: 'sides_identical',
      suggestion: `Left and right are the same in all ${attempts} attempts, which chance makes ${shownChance(expected)}: one side was probably copied. Look at the paper, or test it again.`,
    });
  }
  const { equal, of } = ofSheet;
  const chance = expected < 1 ? 'fewer than 1' : `about ${Math.round(expected)}`;
  const start = first(model, rows);
  return suspect([start, ...rows.filter((row) => row !== start)], 'sheet', {
    kind: 'sides_identical',
    suggestion: `${equal} of ${of} athletes have the same reading left and right, ${chance} would by chance: ${idsOf(model, rows)}. In steps of ${shownValue(model.steps.inSheet(rows[0]), readings.measureOf(rows[0]).unit.code)}. One side was probably copied.`,
  });
}

export function sheetSwapSuspect(model: Model, { one, other, score }: SheetSwap): Suspect {
  const { readings } = model;
  const [first, second] = [readings.measureOf(one[0]), readings.measureOf(other[0])];
  const values = [readings.value[one[0]], readings.value[other[0]]];
  const example = `${shownValue(values[0], first.unit.code)} and ${shownValue(values[1], second.unit.code)} in line ${readings.line[one[0]]}`;
  return suspect([...one, ...other], 'sheet', {
    kind: 'columns_swapped',
    score,
    suggestion: `${first.label} and ${second.label} of the whole sheet fit once they are exchanged (${example}): the columns probably stand under each other's headings. Say under columns in screening.yaml what each holds.`,
  });
}

export function sidesTurnedSuspect(model: Model, { rows, testers, athletes, evidence }: SidesTurned): Suspect {
  const { readings } = model;
  const { label } = readings.measureOf(rows[0]);
  const by = testers.map((tester) => readings.testers.get(tester) ?? 'no tester named').join(', ');
  const whose = testers.length === 0 ? 'the whole sheet' : `the readings of ${by}`;
  const start = first(model, rows);
  return suspect([start, ...rows.filter((row) => row !== start)], 'sheet', {
    kind: 'sides_swapped',
    score: -Math.sqrt(-2 * evidence),
    suggestion: `Left and right of ${label} in ${whose} fit the other days of ${athletes} athletes once they are exchanged. Ask who tested whether left was the athlete's left.`,
  });
}
