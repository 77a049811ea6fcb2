import type { Topic } from './topic.ts';
import { topicsOf } from './topics_of.ts';

/** What one code of `check` means; texts without their full stop at the end. */
interface Problem {
  readonly title: string;
  /** what was found, and what comes of it */
  readonly what: string;
  readonly cure: string;
  readonly caution?: string;
  readonly see?: readonly string[];
}

type Problems = Readonly<Record<string, Problem>>;

/** What each severity says of a problem. */
const SEVERITIES = {
  error: 'An error: mend it before anything is screened.',
  warning: 'A warning: run goes on, and it will bite.',
  note: 'A note: good to know.',
} as const;

function problems(severity: keyof typeof SEVERITIES, texts: Problems): readonly Topic[] {
  const topics = Object.entries(texts).map(([name, { what, cure, ...others }]) => [
    name,
    { ...others, definition: `${SEVERITIES[severity]} ${what}. What to do: ${cure}.` },
  ]);
  const where = `bilat check --format json, key code, with severity ${severity}`;
  return topicsOf('problem code', Object.fromEntries(topics), { where });
}

/** The side files, and what is lost where one cannot be read. */
const SIDE_FILES = {
  roster: ['roster.csv', 'names, teams, sex and dominant sides of everybody'],
  injuries: ['injuries.csv', 'where an injury parts two test days, and who was hurt before'],
  exposures: ['exposures.csv', 'how often athletes took part'],
  history: ['history.csv', 'who was hurt or operated on before, and on which side'],
  clearance: ['clearance.csv', 'what medical staff decided'],
  referrals: ['referrals.csv', 'who was sent to medical staff and seen'],
  corrections: ['corrections.csv', 'the cells that were put right'],
  work: ['work.csv', 'who did which programme'],
} as const;
const SIDE_FILE_NAMES = Object.keys(SIDE_FILES) as (keyof typeof SIDE_FILES)[];

const refused = (name: keyof typeof SIDE_FILES): Problem => {
  const [file, loss] = SIDE_FILES[name];
  return {
    title: `${file} as a whole cannot be used`,
    what: `A needed heading is missing, or the form of the file is broken; without it nobody knows ${loss}`,
    cure: 'mend the line that is named, or say under columns: in screening.yaml what its headings are',
    see: [name, 'columns'],
  };
};

const ofCell = (name: keyof typeof SIDE_FILES): Problem => ({
  title: `a cell of ${SIDE_FILES[name][0]} cannot be read`,
  what: 'The cell is taken as unknown, or its row is left out; the message says which',
  cure: 'mend the cell; names are not repeated, so look it up by line and column',
  caution: 'Unknown is never taken for no: nothing is guessed from such a cell.',
  see: [name],
});

const FILES = [
  ...problems('error', {
    file_unreadable: {
      title: 'a file that is named cannot be opened',
      what: 'The file is not there, may not be read, or is no text',
      cure: 'put it where screening.yaml looks for it, or write its path as it is',
    },
    settings_refused: {
      title: 'screening.yaml cannot be used',
      what: 'The file is no YAML, a key is unknown, or a value is not one that its key can have',
      cure: 'mend the line and column that are named, and run check again',
      see: ['sheets', 'YAML'],
    },
    protocol_refused: {
      title: 'protocol.yaml cannot be used',
      what: 'The file is no YAML, a key is unknown, or a name is used that is nowhere defined',
      cure: 'mend the line and column that are named, and run check again',
      see: ['protocol', 'YAML'],
    },
    ...Object.fromEntries(SIDE_FILE_NAMES.map((name) => [`${name}_refused`, refused(name)])),
  }),
  ...problems('warning', Object.fromEntries(SIDE_FILE_NAMES.map((name) => [`${name}_cell`, ofCell(name)]))),
  ...problems('warning', {
    injury_team_unknown: {
      title: 'an injury names a team that the roster does not have',
      what: 'The injury counts for no team of the roster',
      cure: 'write the team as the roster has it, or leave it empty: then the roster says it',
      see: ['injuries', 'teams'],
    },
    history_without_file: {
      title: 'a rule needs earlier injuries, and no list of them is there',
      what: 'The rule says history, and there is neither injuries.csv nor history.csv, so that it judges nobody',
      cure: 'write the injuries into history.csv, or take history out of the rule: then it judges everybody',
      see: ['history', 'injuries'],
    },
    history_region_unknown: {
      title: 'a rule needs earlier injuries of a region that no list names',
      what: 'No line of injuries.csv or history.csv has the region that the rule names under history, so that it judges nobody',
      cure: 'write the region alike in all three files; if nobody was hurt there, nothing',
      see: ['history', 'region'],
    },
    clearance_region_unknown: {
      title: 'a region of the clearance that no rule has',
      what: 'A line of clearance.csv names a part of the body that is no region of the rules, so that nobody knows which work it is about: whoever is limited there is held from everything',
      cure: 'write the region as the rules have it, several with a semicolon between, or give the rules concerned that region',
      see: ['clearance', 'region'],
    },
    correction_of_no_sheet: {
      title: 'a correction names a file that is no sheet',
      what: 'A line of corrections.csv names a sheet that no entry reads, so the correction is not applied',
      cure: 'write the path of the sheet from the folder on, as in sheets/hip.csv',
      see: ['corrections'],
    },
  }),
  ...problems('note', {
    column_not_used: {
      title: 'a column of a list is not used',
      what: 'A column of the roster or of another list has a heading that means nothing to bilat, and is left aside',
      cure: 'nothing, if nobody needs it; else say under columns: in screening.yaml what it is',
      see: ['columns'],
    },
    lines_left_aside: {
      title: 'lines above the headings of a list',
      what: 'A title or a date stands above the line of headings, and is left aside',
      cure: 'nothing, if these lines are a title; else look which line holds the headings',
    },
    lists_not_read: {
      title: 'the lists wait for screening.yaml',
      what: 'What their headings mean may stand in screening.yaml, which cannot be read yet, so no list was looked at',
      cure: 'mend screening.yaml first, and run check again',
      see: ['settings_refused'],
    },
    file_incomplete: {
      title: 'a list lacks a column that would tell more',
      what: 'A column that is not needed is missing, and what it would say stays unknown for everybody',
      cure: 'add the column if you know its cells, or leave it',
    },
  }),
];

const SHEETS = [
  ...problems('warning', {
    pattern_without_file: {
      title: 'a pattern of sheets matches no file',
      what: 'An entry under sheets: names files that are not there, and what they hold is missing',
      cure: 'check folder, spelling and ending; * stands for any part of a name, ** for folders',
      see: ['files'],
    },
    entry_never_used: {
      title: 'an entry that other entries leave nothing to',
      what: 'All its files are named by entries above it, and the first entry holds: its team, day or units count for nothing',
      cure: 'put the narrower entry first, or take one of them out',
      see: ['files'],
    },
    sheet_unread: {
      title: 'a file in sheets/ that no entry reads',
      what: 'The file lies among the sheets and no pattern names it, so its athletes look untested',
      cure: 'add an entry under sheets:, or move the file out of sheets/',
      see: ['files', 'sheets'],
    },
    sheet_is_workbook: {
      title: 'a workbook of a spreadsheet program',
      what: 'bilat reads no workbook (.xlsx, .xls, .ods), so nothing of it is screened',
      cure: 'open it and save every sheet of it as CSV (UTF-8)',
      see: ['CSV'],
    },
    list_is_workbook: {
      title: 'a roster or another list is a workbook',
      what: 'The list lies in the folder as .xlsx or the like, which bilat does not read, so nothing is known of what it says',
      cure: 'open it and save it as CSV (UTF-8), under the name that the message gives',
      see: ['CSV', 'roster'],
    },
    out_among_sheets: {
      title: 'tables would be written among the sheets',
      what: 'out: names the folder of the sheets, so that tables of a run lie beside what was handed in',
      cure: 'name a folder of its own, such as out',
      see: ['out'],
    },
    entry_team_unknown: {
      title: 'an entry names a team that the roster does not have',
      what: 'The team under sheets: is no team of the roster, so the athletes of those sheets may be judged by no sport group',
      cure: 'write the team as the roster has it',
      see: ['teams', 'roster'],
    },
    alias_team_unknown: {
      title: 'other spellings of a team that nobody has',
      what: 'teams: in screening.yaml settles spellings of a team that is neither on the roster nor in a sport group, so nothing comes of it',
      cure: 'write the team as the roster or the protocol has it',
      see: ['teams'],
    },
    person_unknown: {
      title: 'people: leads to an id that is not on the roster',
      what: 'A nickname is settled to an athlete_id that nobody has, so cells under that name are still rejects',
      cure: 'write the athlete_id that the roster has',
      see: ['people'],
    },
  }),
  ...problems('note', {
    no_sheets: {
      title: 'there is no sheet yet',
      what: 'No file of the folder is a sheet, as in a new folder',
      cure: 'put the sheets of the stations into sheets/, as CSV',
      see: ['sheets', 'CSV'],
    },
    entries_overlap: {
      title: 'two entries name the same file',
      what: 'For such a file the first entry holds, and what the later one says does not',
      cure: 'put the narrower entry first, if the later one should hold',
      see: ['files'],
    },
  }),
];

const ROSTER = [
  ...problems('warning', {
    athlete_twice: {
      title: 'two ids with one name and one birth date',
      what: 'They are likely one athlete; a sheet that gives the name alone is held back, since nobody knows which id is meant',
      cure: 'if they are one athlete, keep one id',
      caution: 'Nobody is merged on a guess: readings of one athlete under two ids are compared with nothing.',
      see: ['athlete_ambiguous'],
    },
    ids_alike: {
      title: 'two ids that differ in capitals, spaces or leading zeros alone',
      what: 'A spreadsheet program may make one of the other, and readings then go to the wrong athlete or to nobody',
      cure: 'if they are one athlete, keep one id; else give one of them another id',
      caution: 'They are two athletes until you say otherwise.',
      see: ['athlete_id'],
    },
    roster_without_team: {
      title: 'a roster without a column of teams',
      what: 'Unless a sheet says the team, its athletes are given the measures of everyone only',
      cure: 'add a column team, or say under columns: in screening.yaml which heading is meant',
      see: ['roster', 'battery'],
    },
    team_empty: {
      title: 'athletes of the roster without a team',
      what: 'Unless a sheet says the team, they are given the measures of everyone only',
      cure: 'fill in the team',
      see: ['roster', 'battery'],
    },
    team_is_name: {
      title: 'a team that looks like a name',
      what: 'The cell holds a word that is a name on the roster; it is not repeated',
      cure: 'look whether the rows have slipped, or the headings are the right ones',
      see: ['roster'],
    },
    dates_odd: {
      title: 'dates of an athlete that do not go together',
      what: 'Birth date, entry year and left_on contradict each other, such as an entry at the age of four',
      cure: 'look which of them is mistyped',
    },
    team_without_sport_group: {
      title: 'a team that is in no sport group',
      what: 'Its athletes are given the measures of everyone only, and no rule on any other measure judges them',
      cure: 'write the team into teams: of every sport group of the protocol that it belongs to',
      caution: 'No findings of such a team does not mean that all is well with it.',
      see: ['sport_groups', 'battery'],
    },
    sport_group_team_unknown: {
      title: 'a sport group names a team much like one of the roster',
      what: 'The two spellings are taken for two teams, so nobody is in that group through it',
      cure: 'write the team alike in both, or settle the spelling under teams: in screening.yaml',
      see: ['sport_groups', 'teams'],
    },
  }),
  ...problems('note', {
    roster_empty: {
      title: 'the roster lists nobody',
      what: 'The sheets then say who the athletes are, and a mistyped id becomes an athlete of its own',
      cure: 'fill it in, one line an athlete',
      see: ['roster', 'unlisted'],
    },
    name_twice: {
      title: 'two ids with one name',
      what: 'A sheet that gives this name without an id is held back, since nobody knows who is meant',
      cure: 'have the stations write ids, or tell the two apart in also_known_as',
      see: ['athlete_ambiguous', 'also_known_as'],
    },
    sex_other: {
      title: 'sex that is neither F nor M',
      what: 'It is kept as written, and rules for one sex leave these athletes out',
      cure: 'write F or M where one of them is meant',
      see: ['sex'],
    },
    dominance_empty: {
      title: 'athletes whose dominant side is not known',
      what: 'What is judged by the dominant side, such as a throwing shoulder, stays empty for them',
      cure: 'fill in left, right or both',
      see: ['dominant side', 'no_dominant_side'],
    },
    sport_group_team_absent: {
      title: 'teams of sport groups that are not on the roster',
      what: 'The protocol names teams that have no athlete here',
      cure: 'leave them if they will come, or take them out',
      see: ['sport_groups'],
    },
    region_near: {
      title: 'a region that is nearly one of the rules',
      what: 'An injury names a region that is spelt almost like a region of the rules; the two are not taken for one',
      cure: 'if they are one, write it alike in both files',
      see: ['region'],
    },
  }),
];

const RULES = [
  ...problems('error', {
    z_unreachable: {
      title: 'a limit on z that no athlete can reach',
      what: 'Among n athletes no z lies beyond (n - 1)/sqrt(n), so the rule would be silent for ever',
      cure: 'choose a limit nearer to 0, or raise min_group',
      see: ['z', 'min_group'],
    },
  }),
  ...problems('warning', {
    limit_unreachable: {
      title: 'a limit that no plausible reading reaches',
      what: 'The rule is never broken, whoever is tested',
      cure: 'check the limit, its direction and its unit, and plausible: of the measure',
      caution: 'A rule that cannot speak looks like a team without findings.',
      see: ['plausible', 'limit'],
    },
    limit_always_broken: {
      title: 'a limit that every plausible reading breaks',
      what: 'The rule flags everybody who is tested',
      cure: 'check the limit, its direction and its unit',
      see: ['plausible', 'limit'],
    },
    grades_out_of_order: {
      title: 'a stronger grade with a softer limit',
      what: 'Of two rules on one number the graver one is broken first, so the milder one says nothing',
      cure: 'exchange the limits, or the grades',
      see: ['grade'],
    },
    rule_repeated: {
      title: 'two rules that say the same',
      what: 'They judge the same number of the same athletes by the same limit, so the athlete is told twice',
      cure: 'take one of them out, or narrow them to different athletes',
      see: ['rule'],
    },
    rule_without_source: {
      title: 'a rule that does not say where its limit is from',
      what: 'Nobody can tell whether the limit is from a study, from practice or from a slip of the hand',
      cure: 'add source: the study, "common practice" or "from memory"',
      see: ['source'],
    },
    rule_without_battery: {
      title: 'a rule on a measure that nobody is given',
      what: 'Its measure is in no sport group and not in everyone, so it applies to nobody',
      cure: 'add the measure to a sport group or to everyone',
      see: ['battery', 'everyone'],
    },
    rule_team_unknown: {
      title: 'a rule for a team that nobody has',
      what: 'teams: of the rule names a team that is neither on the roster nor in a sport group, so the rule judges nobody through it',
      cure: 'write the team as the roster has it',
      see: ['teams', 'rule'],
    },
    rule_without_team: {
      title: 'a rule narrowed to teams that are not given its measure',
      what: 'No athlete of a single team can break it',
      cure: 'widen teams: or sport_groups: of the rule, or add the measure to their sport group',
      see: ['battery', 'teams'],
    },
    also_never_met: {
      title: 'a rule that waits for one that its athletes are not given',
      what: 'also: asks for a rule on a measure of other teams or of the other sex, so both are hardly ever broken together',
      cure: 'put both measures into one sport group, or take the name out of also:',
      see: ['also'],
    },
    programme_without_shared: {
      title: 'a programme that says nothing for a whole group',
      what: 'A rule that may be shared prescribes it, and there is no text for the group',
      cure: 'add shared: what the group does, or share: no to the rule',
      see: ['programmes', 'share'],
    },
    programme_without_individual: {
      title: 'a programme that says nothing for one athlete',
      what: 'A rule prescribes it, and there is no text for the single athlete',
      cure: 'add individual: what one athlete does',
      see: ['programmes'],
    },
    heading_shared: {
      title: 'one heading for two measures',
      what: 'A column of that name could be either, so it is not read',
      cure: 'take the heading out of one of the two',
      see: ['headings', 'heading_ambiguous'],
    },
    heading_is_role: {
      title: 'a heading of a measure that means another column',
      what: 'The heading is also a word for ids, dates, sides or the like, and is read as that',
      cure: 'choose a heading that names the test',
      see: ['headings'],
    },
    heading_reads_otherwise: {
      title: 'a heading that could be read in two ways',
      what: 'Its words also say a side, an attempt, a unit or another measure, and it is never taken for that',
      cure: 'choose another heading if your sheets mean that by it',
      see: ['headings'],
    },
  }),
  ...problems('note', {
    rule_without_strength: {
      title: 'rules that do not say how strong their evidence is',
      what: 'A reader cannot tell a limit from one small study from a guideline',
      cure: 'add strength: in whom the limit was found, and how many',
      see: ['strength', 'source'],
    },
    source_is_custom: {
      title: 'rules that rest on practice or memory alone',
      what: 'Their source is "common practice" or "from memory": no study stands behind the limit',
      cure: 'confirm them with your team physician before they decide anything',
      see: ['source'],
    },
    error_not_declared: {
      title: 'measures without a measurement error',
      what: 'Findings on them say error_unknown, as nobody can tell a true finding from a chance one',
      cure: 'add error: to the measure, or to those it is worked out from, once you know yours',
      see: ['error', 'error_unknown'],
    },
    limit_within_error: {
      title: 'limits that measurement error alone can reach',
      what: 'A symmetric athlete may read beyond such a limit by chance',
      cure: 'repeat the test before acting on a finding that is within_error',
      see: ['within error', 'error'],
    },
    measure_unused: {
      title: 'measures that nothing uses',
      what: 'No sport group, rule or other measure names them',
      cure: 'add them to a sport group or to everyone, or take them out',
      see: ['measures', 'battery'],
    },
    programme_unused: {
      title: 'programmes that no rule prescribes',
      what: 'They stand in the protocol and are given to nobody',
      cure: 'name them in a rule with programme:, or take them out',
      see: ['programmes'],
    },
  }),
];

/** Codes of the problems that `check` finds in protocol, folder and lists. */
export const PROBLEM_WORDS = [...FILES, ...SHEETS, ...ROSTER, ...RULES];
