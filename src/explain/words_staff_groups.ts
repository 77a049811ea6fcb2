import { topicsOf } from './topics_of.ts';

/** What staff ask about groups, the plan and those who were not there. */
export const STAFF_GROUP_WORDS = topicsOf('word', {
  'make-up list': {
    title: 'who is missing, and whom to call',
    definition:
      'Athletes whose battery holds a test that has no reading, or only of one side: the states missing, partial and not_tested of coverage, by station. Athletes who are held are not on it; pain, unable and refused stand apart, for staff to decide.',
    where: 'bilat coverage',
    caution: 'Somebody who was not tested looks as well as somebody without a finding.',
    also: [
      'makeup list',
      'call list',
      'who is missing',
      'who was missing',
      'who must be called',
      'who must be called back',
      'who to call',
      'who still lacks what',
      'who is not tested',
      'who was not tested',
      'absentees',
    ],
    see: ['coverage', 'missing', 'partial', 'not_tested', 'retest_due', 'held', 'makeup'],
  },
  'shared work': {
    title: 'what a whole team does together',
    definition:
      'The shared form of a programme, mostly in the warm-up: a line of scope shared in the plan for each team in which enough tested athletes are beyond the limit. 9 of 20 are 45 %: shared, as from_share is 33 % and min_tested 5.',
    formula: 'tested >= min_tested and flagged/tested >= from_share, and share: yes in the rule',
    where: 'bilat plan, scope shared; cohort, decision',
    caution:
      'Athletes who are held, limited, in pain or to be seen by medical staff first are left out of it and named, each with the reason.',
    also: [
      'what does the whole team do',
      'what does the team do',
      'what does the group do',
      'what the whole team does',
      'team work',
      'group work',
      'team programme',
      'shared programme',
      'shared program',
      'warm-up programme',
      'warm-up program',
    ],
    see: ['shared', 'sharing', 'left_out', 'at_most_programmes', 'cohort'],
  },
  'nobody flagged': {
    title: 'why a rule finds nobody',
    definition:
      'Nobody tested is beyond its limit; or nobody was tested, as eligible, tested and missing of cohort say; or the rule applies to nobody: its measure is in no battery, a team is spelt otherwise, or it is narrowed. bilat check names the rules that apply to nobody.',
    where: 'bilat cohort; bilat check',
    caution: 'Readings that could not be read are missing too: look at the rejects before you are glad.',
    also: [
      'why is nobody flagged',
      'why is no one flagged',
      'why are there no findings',
      'no findings',
      'no finding',
      'nobody is flagged',
    ],
    see: ['eligible', 'tested', 'missing', 'battery', 'rejects', 'flagged_partial'],
  },
  'retests due': {
    title: 'who is to be tested again, and when',
    definition:
      'After retest_days of a programme the measure is tested again, and coverage gives the day in retest_by. From that day on, without a newer reading, the state is retest_due. --on DATE looks at it from another day.',
    where: 'bilat coverage, state retest_due',
    also: [
      'retest list',
      'whose retest is due',
      'who is due',
      'when is the retest',
      'who must be tested again',
      'who must be retested',
    ],
    see: ['retest_due', 'retest_by', 'retest_days', 'retest'],
  },
  'work list': {
    title: 'who does what, with whom, from when to when',
    definition:
      'The table plan: who is seen by medical staff, who is held, which test is repeated, what a team does together and who is left out, and what one athlete does alone. What is not in it is counted with its reason.',
    where: 'bilat plan',
    caution: 'It orders work; it prescribes nothing that staff have not put into the protocol, and clears nobody.',
    also: ['to-do list', 'todo', 'who does what', 'what must be done', 'what must happen today', 'who needs what'],
    see: ['plan', 'scope', 'priority', 'programme'],
  },
  'blank sheet': {
    title: 'a form for a station and a team',
    definition:
      'bilat forms writes a CSV with the ids of a team and the headings of a station, units in the headings. It is filled in and read back as it is. Whoever is held is marked, and numbers of last year are not shown.',
    where: 'bilat forms',
    also: ['blank form', 'blank sheets', 'form', 'template', 'test sheet'],
    see: ['station', 'sheets', 'headings', 'held'],
  },
  'entry error': {
    title: 'a number that was written down wrongly',
    definition:
      'Wrong unit, sides or columns exchanged, a digit too many, a row copied: the kinds of recheck name what it looks like, with file, line and what was expected. Settle it in corrections.csv; no value is changed by itself.',
    where: 'recheck, kind',
    caution: 'An error that lands among the usual readings is not found by any of them.',
    also: ['entry errors', 'typo', 'typos', 'typing error', 'data entry error', 'entry suspect', 'suspect reading'],
    see: ['recheck', 'unit_slip', 'sides_swapped', 'digit_slip', 'corrections', 'confirmed'],
  },
  'looked at from': {
    title: 'the day by which plan and coverage judge',
    definition:
      'clearance.csv, referrals.csv and work.csv count as they stand on that day: who is held, who was sent and seen, who does which programme, which retest is due. It is --on DATE, else the last day that one of these files or the readings tell of.',
    caution: 'The clock is asked only by --on today: without it the same files give the same plan on any day.',
    where: 'plan, coverage, forms and the summary of run',
    also: ['on date', 'as of', 'today'],
    see: ['clearance', 'referrals', 'work', 'availability'],
  },
});
