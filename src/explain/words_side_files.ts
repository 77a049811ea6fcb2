import { topicsOf } from './topics_of.ts';

const READ_NOW = topicsOf('column', {
  last_name: {
    title: 'family name',
    definition: 'With first_name it finds the athlete whose sheet gives a name in place of an id.',
    where: 'roster',
    see: ['people', 'also_known_as'],
  },
  first_name: {
    title: 'given name',
    definition: 'With last_name it finds the athlete whose sheet gives a name in place of an id, in either order.',
    where: 'roster',
    see: ['people', 'also_known_as'],
  },
  also_known_as: {
    title: 'other names of the athlete',
    definition: 'Nicknames and earlier names under which sheets may know the athlete, joined with ;.',
    where: 'roster',
    see: ['people'],
  },
  left_on: {
    title: 'last day on the team',
    definition:
      'From the day after it the athlete is not followed any more: no line of the plan, and no test still to come. Who left before the first test of a season is not counted in it.',
    where: 'roster',
    caution: 'Without it nobody knows who left: "not injured" and "gone" look the same.',
  },
  region: {
    title: 'part of the body',
    definition: 'The region of the injury, in your own words; those of the rules should be the same words.',
    where: 'injuries, history, clearance; later incidence',
    see: ['region'],
  },
  days_lost: {
    title: 'days lost to the injury',
    definition: 'Days without full training or play. Blank or negative is unknown, and never a reject.',
    where: 'injuries; later incidence',
    caution: 'Unknown is not 0: an injury of unknown length is counted apart.',
    also: ['time loss', 'severity'],
    see: ['burden'],
  },
  type: {
    title: 'kind of injury',
    definition: 'Such as strain, sprain or fracture, in your own words.',
    where: 'injuries',
  },
  contact: {
    title: 'by contact or not',
    definition: 'Whether the injury came from contact with somebody or something.',
    where: 'injuries',
  },
  setting: {
    title: 'practice or game',
    definition: 'Where the injury happened: in practice, in a game or elsewhere.',
    where: 'injuries',
  },
  recurrent: {
    title: 'the same injury again',
    definition: 'Whether the athlete had this injury before, at the same place.',
    where: 'injuries',
  },
  surgery: {
    title: 'whether there was an operation',
    definition:
      'yes, no, or the name of an operation; blank is no. It tells which side is meant where a sheet says surgical and other.',
    where: 'history',
    caution: 'What cannot be read as yes or no is unknown, with a warning: then no side is taken from it.',
    see: ['side_needs_roster', 'dominant side'],
  },
  full_return: {
    title: 'day of the full return to sport',
    definition: 'The day on which the athlete was back in full after the earlier injury.',
    where: 'history',
  },
  action: {
    title: 'what the correction does',
    definition: 'value, void or confirmed. It is applied only where the cell still reads as raw says.',
    where: 'corrections',
    see: ['value', 'void', 'confirmed'],
  },
  by: { title: 'who corrected', definition: 'Who put the cell right, for those who ask later.', where: 'corrections' },
});

const DESK = topicsOf('column', {
  until: {
    title: 'last day of the decision',
    definition:
      'The last day for which the clearance status holds; empty: until the next one. After it a clearance has run out and the athlete is held; not_cleared, pending and limited stay.',
    where: 'clearance',
    see: ['cleared', 'limited', 'not_cleared', 'availability'],
  },
  seen_on: {
    title: 'day on which the athlete was seen',
    definition: 'The day on which a clinician saw the athlete about the finding.',
    where: 'referrals',
    caution: 'Seen is not closed: the referral stays open until closed_on.',
    see: ['open', 'closed_on'],
  },
  outcome: {
    title: 'what came of it',
    definition: 'What the clinician decided, in your own words. It is shown to medical staff alone.',
    where: 'referrals',
    see: ['audience'],
  },
  closed_on: {
    title: 'day on which it was closed',
    definition: 'The day on which the referral was settled: from then on the finding tops the plan no longer.',
    where: 'referrals',
    see: ['closed', 'open', 'refer'],
  },
  started: {
    title: 'first day of the work',
    definition: 'The day on which the athlete began the programme. The days until the retest count from it.',
    where: 'work',
    see: ['start', 'retest_by'],
  },
  planned: { title: 'sessions planned', definition: 'How many sessions the programme was to have.', where: 'work' },
  done: { title: 'sessions done', definition: 'How many sessions the athlete did.', where: 'work' },
  stopped: {
    title: 'last day of the work',
    definition:
      'The day on which the athlete stopped the programme. From then on the plan asks whether it goes on, and the team does it without the athlete.',
    where: 'work',
  },
});

const READ_LATER = topicsOf(
  'column',
  {
    athlete_exposures: {
      title: 'athlete-exposures of the team',
      definition: 'How often athletes took part in a practice or game, in that season and team.',
      where: 'exposures',
      see: ['athlete-exposure'],
    },
  },
  { later: true },
);

/** Columns of the side files that stand in no table. */
export const SIDE_FILE_WORDS = [...READ_NOW, ...DESK, ...READ_LATER];
