import { topicsOf } from './topics_of.ts';

const TAKE_AGAIN = 'It is a suspicion: nothing is changed. Look at the paper, or test again while the athlete is here.';

/** Words of the column kind of recheck, each with an invented example. */
export const RECHECK_WORDS = topicsOf(
  'recheck kind',
  {
    implausible: {
      title: 'outside what can be',
      definition:
        'The reading lies outside plausible of the protocol, and no slip of one unit explains it. A pulse of 14 where 25 to 220 can be. It is a reject too, and counts for nothing.',
      caution: 'It can be true, and then it is an emergency: take blood pressure and pulse again at once.',
      see: ['plausible', 'implausible'],
    },
    unit_slip: {
      title: 'this reading is in another unit',
      definition:
        'One reading is off by the factor between two units, or by a decimal point, and fits with it. A body mass of 165 kg among others around 75 kg: 165 lb are 74.8 kg.',
      caution: 'A painful reading may well be low: it is listed only where the factor fits closely.',
      also: ['wrong unit', 'unit error'],
      see: ['kgf', 'lbf', 'column_unit_slip'],
    },
    column_unit_slip: {
      title: 'the whole column or sheet is in another unit',
      definition:
        'All readings of a measure in one sheet are off by such a factor against other sheets. Hip strengths around 45 N where other sheets read around 200 N: 45 lbf are 200.2 N.',
      caution:
        'No side-to-side deficit shows it, as both sides are wrong alike. Ask the station, and state the unit under units: in screening.yaml.',
      see: ['units', 'unit_slip', 'lbf'],
    },
    sides_identical: {
      title: 'left and right are the same to the last digit',
      definition:
        'In every attempt of an athlete, or in more athletes of the sheet than the steps of the device make likely. Left 31.4, 32.0 and 30.8, right 31.4, 32.0 and 30.8: one side was probably copied.',
      see: ['deficit'],
    },
    columns_swapped: {
      title: 'two columns are exchanged',
      definition:
        'Two measures of a row, or of a whole sheet, fit once their columns are exchanged. A systolic pressure of 72 with a diastolic of 118 is a pressure of 118/72.',
      see: ['columns'],
    },
    sides_swapped: {
      title: 'left and right are exchanged',
      definition:
        'The sides of an athlete, or of all athletes of a sheet or tester, fit other readings once they are exchanged. Left 30 and right 38 last season, left 39 and right 31 now.',
      caution: 'Exchanged sides give the weaker side the wrong name, and the work to the wrong leg.',
      see: ['side', 'side_changed'],
    },
    trial_apart: {
      title: 'one trial lies apart',
      definition:
        'One attempt lies farther from the others of its side and day than attempts usually lie apart. Of 32, 33 and 51 it is the 51.',
      see: ['wide_spread', 'trial'],
    },
    repeated_row: {
      title: 'the same row stands twice',
      definition:
        'The same readings came twice: once more for the same athlete, or under the id of another or another day. K014 and K015 one below the other with the same six numbers.',
      caution: 'If the row is of another athlete, that athlete has not been tested.',
      see: ['repeated_row'],
    },
    digit_slip: {
      title: 'a digit was dropped, doubled or exchanged',
      definition:
        'The reading fits once a digit is put in, taken out or exchanged with the next. For 143: 13, 1433 and 134.',
      see: ['unit_slip'],
    },
    run_of_fill: {
      title: 'a column that a spreadsheet filled or sorted',
      definition:
        'Five or more readings down a column are the same or rise by one step, as when a cell was pulled down: 31, 32, 33, 34, 35. Or one column is sorted and the ids beside it are not.',
      caution: 'Then every reading of the run may belong to another athlete: go back to the paper.',
      also: ['fill handle', 'sorted column'],
    },
    outlier: {
      title: 'far from everybody, and no slip explains it',
      definition:
        'The robust z of the reading is beyond 3.5 among at least 20 alike: with a median of 40 and a MAD of 4 what lies outside 19.2 to 60.8. Without an athlete_id: a tester or a device that reads apart from the others.',
      formula: '|robust z| > 3.5',
      source: 'NIST/SEMATECH e-Handbook 1.3.5.17',
      caution:
        'It may well be real, and a few readings in a thousand are that far out by chance. Look at the paper, or test again.',
      also: ['outliers'],
      see: ['robust z', 'mad', 'expected by chance', 'tester', 'device'],
    },
  },
  { where: 'recheck, kind', caution: TAKE_AGAIN },
);
