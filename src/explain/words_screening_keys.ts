import { topicsOf } from './topics_of.ts';

const TOP = topicsOf(
  'word',
  {
    protocol: {
      title: 'what is measured and how it is judged',
      definition:
        'The file protocol.yaml: measures, derived measures, rules, sport groups, programmes. In screening.yaml the key protocol: names it.',
      caution: 'Confirm its limits with your team physician before you use them.',
      see: ['measures', 'rules', 'screening folder'],
    },
    roster: {
      title: 'who the athletes are',
      definition:
        'The file roster.csv: ids, names, teams, sex, dominant sides. Needed for names in sheets, for sport groups and for dominant sides.',
      caution: 'Without it athletes are who the sheets say they are.',
      see: ['athlete_id', 'unlisted', 'people'],
    },
    season_starts: {
      title: 'first day of the season',
      definition: 'Month and day, in quotes: "07-01" unless it says otherwise. It turns dates into seasons.',
      see: ['season'],
    },
    occasion_days: {
      title: 'how many days an occasion may take',
      definition:
        '14 unless it says otherwise: a day within so many days of the first one belongs to the same occasion.',
      see: ['occasion'],
    },
    unlisted: {
      title: 'athletes who are not on the roster',
      definition: 'reject (the default): their cells are rejects. keep: they are taken as new athletes.',
      caution: 'With keep a mistyped id becomes an athlete.',
      see: ['athlete_unknown', 'roster'],
    },
    teams: {
      title: 'other spellings of a team',
      definition: 'In screening.yaml: team: {also: [...]}. In a rule of the protocol: the teams it is narrowed to.',
      see: ['team'],
    },
    people: {
      title: 'nicknames and misspellings, settled once',
      definition: 'A name as sheets write it, and the id of the athlete who is meant.',
      see: ['also_known_as', 'athlete_unknown'],
    },
    sheets: {
      title: 'where the sheets are',
      definition: 'A list of entries: files, and what these sheets do not say themselves. The only key that is needed.',
      see: ['files', 'units', 'columns', 'dates', 'purpose'],
    },
    injuries: {
      title: 'the injury log',
      definition: 'The file injuries.csv. An injury between two test days starts a new occasion.',
      also: ['injury', 'injury log'],
      see: ['days_lost', 'region', 'occasion'],
    },
    exposures: {
      title: 'how often athletes took part',
      definition: 'The file exposures.csv: athlete-exposures by season and team.',
      later: true,
      see: ['athlete-exposure', 'rate'],
    },
    history: {
      title: 'injuries of earlier years',
      definition:
        'The file history.csv. It tells which side is meant where a sheet says involved or surgical, and fills previous_injury. In a rule, history: {region, side, within_days} narrows it to athletes with an earlier injury of the region: on the side that is judged, or with side: any on either.',
      caution: 'An earlier injury without a day counts for every day: better asked about once too often.',
      see: ['surgery', 'region', 'within_days', 'previous_injury'],
    },
    clearance: {
      title: 'what medical staff decided',
      definition: 'The file clearance.csv: cleared, limited, not_cleared or pending, by athlete and day.',
      caution: 'Without it nobody is known to be cleared, and nobody is held back.',
      see: ['cleared', 'not_cleared', 'availability', 'hold'],
    },
    referrals: {
      title: 'who was sent to medical staff',
      definition: 'The file referrals.csv: athlete, rule, day seen, outcome, day closed.',
      caution: 'Only a line with closed_on takes a finding off the top of the plan.',
      see: ['seen_on', 'closed_on', 'open', 'closed', 'refer'],
    },
    corrections: {
      title: 'single cells that were put right',
      definition:
        'The file corrections.csv: sheet, line, column, what the cell reads, and what is to be done. No sheet is changed.',
      caution: 'A correction is applied only where the cell still reads as it says; otherwise you are told.',
      see: ['action', 'value', 'void', 'confirmed'],
    },
    work: {
      title: 'who did which programme',
      definition:
        'The file work.csv: athlete, programme, sessions planned and done. The plan says what was begun and stopped, and counts the days until the retest from its start.',
      see: ['programme', 'done', 'started', 'retest_by'],
    },
    out: { title: 'folder of the tables', definition: 'out unless it says otherwise. Only bilat run writes into it.' },
  },
  { where: 'screening.yaml, top level' },
);

const OF_ENTRIES = topicsOf(
  'word',
  {
    files: {
      title: 'the sheets of an entry',
      definition:
        'Paths inside the folder; * stands for any part of a name. Write them in quotes if they begin with *.',
    },
    dates: {
      title: 'order of day, month and year',
      definition: 'dmy, mdy or ymd, for sheets whose own dates leave it open: 03/04 is 3 April or March 4.',
      see: ['date_ambiguous'],
    },
    units: {
      title: 'units of a sheet',
      definition: 'measure: UCUM code, for sheets that do not write the unit.',
      see: ['UCUM', 'kgf', 'lbf', 'written_in'],
    },
    columns: {
      title: 'what columns mean',
      definition:
        'In an entry of sheets: heading: a role, or {measure, side, trial, unit}; it overrules what bilat would take it for. For a side file: heading: column name.',
      caution: 'ignore takes a column out: only if nobody needs it.',
      see: ['headings', 'heading_unknown'],
    },
    decimal: {
      title: 'the decimal mark',
      definition: '"," or "." in quotes, for sheets that leave it open.',
      see: ['number_ambiguous'],
    },
    delimiter: {
      title: 'the mark between columns',
      definition: '",", ";" or a tab, for files that leave it open.',
      see: ['delimiter_unknown'],
    },
    encoding: {
      title: 'how letters are stored',
      definition: 'utf-8, utf-16le, utf-16be or windows-1252, for files that leave it open.',
      see: ['encoding_invalid'],
    },
    layout: { title: 'down or across', definition: 'down: one athlete a line. across: one athlete a column.' },
    from_name: {
      title: 'what the file name says',
      definition: 'A pattern such as "{team}_{station}_{date}"; {} is a part that says nothing.',
    },
    sign: {
      title: 'reversed: plus and minus are exchanged',
      definition: 'In columns: for a column whose sign is the opposite of what the measure means.',
    },
  },
  { where: 'screening.yaml, an entry of sheets' },
);

/** Keys of screening.yaml that are not explained as words of another kind. */
export const SCREENING_KEY_WORDS = [...TOP, ...OF_ENTRIES];
