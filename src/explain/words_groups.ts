import { topicsOf } from './topics_of.ts';

const DECISIONS = topicsOf(
  'decision',
  {
    shared: {
      title: 'the whole group does it',
      definition:
        'min_tested or more of the group were tested, from_share or more of them are beyond the limit, and the rule may be shared. 9 of 20 are 0.45: shared, from a share of 0.33 on.',
      formula: 'tested >= min_tested and share >= from_share, and share: yes in the rule',
      caution:
        'Athletes who are held, limited, in pain or to be seen by medical staff first are left out of the work of the group.',
      see: ['sharing', 'share', 'left_out', 'shared work'],
    },
    individual: {
      title: 'single athletes do it',
      definition:
        'Enough were tested, and too few of them are beyond the limit, or the rule may not be shared, as rules on a side may not. Each athlete with the finding has work of their own.',
      see: ['sharing', 'share', 'individual'],
    },
    too_few: {
      title: 'too few were tested to decide',
      definition:
        'Fewer athletes of the group were tested than min_tested, which is 5 unless it is set. Test more before you decide for the group; until then each athlete has work of their own.',
      formula: 'tested < min_tested',
      caution: 'A group that is too small is never ranked, however high its share.',
      see: ['sharing', 'tested', 'min_tested'],
    },
  },
  { where: 'cohort, decision' },
);

const PLAN_SCOPES = topicsOf(
  'plan scope',
  {
    refer: {
      title: 'medical staff see the athlete',
      definition:
        'One line an athlete and measure with a finding of grade refer that no referral has closed. The instruction says how soon, the reason since when it is open.',
      caution: 'A newer reading does not take it off; only closed_on in referrals.csv does.',
      see: ['refer', 'urgency', 'open', 'referral'],
    },
    hold: {
      title: 'nothing to be done with the athlete for now',
      definition:
        'The athlete is held, with or without a finding, or limited in the region of the finding. One line says hold and gives no exercise; where there is a refer too, it says that medical staff see the athlete, and when.',
      caution: 'Only medical staff lift it, by a newer line in clearance.csv.',
      also: ['on hold', 'hold out'],
      see: ['held', 'limited', 'availability', 'clearance'],
    },
    repeat: {
      title: 'repeat the test first',
      definition:
        'A finding of grade act that is within_error: the same measure is tested again, with as many trials on both sides, before weeks of work are prescribed.',
      see: ['within_error', 'within error'],
    },
    shared: {
      title: 'work of a whole team',
      definition:
        'One line a team and programme, without an athlete_id: everybody of the team does the shared form, mostly in the warm-up. At most at_most_programmes of them a team. The reason gives the share with its interval, and who is left out.',
      see: ['shared', 'shared work', 'left_out', 'at_most_programmes'],
    },
    left_out: {
      title: 'not with the team',
      definition:
        'One line an athlete who does not do the shared work of the team: held, limited, in pain at a measure that the work is for, or to be seen by medical staff before training. It stands behind the shared line.',
      see: ['availability', 'pain', 'shared work'],
    },
    individual: {
      title: 'work of one athlete',
      definition:
        'One line an athlete and programme, with the side, for findings of grade act that the work of the team does not cover: side-to-side findings, and rules that are not shared. At most at_most_programmes an athlete. Without a programme in the protocol the line says that staff decide.',
      caution:
        'A finding of grade watch alone brings no work. Where medical staff see the athlete first, the instruction says so.',
      see: ['individual', 'at_most_programmes', 'programme'],
    },
  },
  { where: 'plan, scope' },
);

const COVERAGE_STATES = topicsOf(
  'coverage state',
  {
    done: { title: 'tested', definition: 'Every side that the measure needs has a reading.' },
    partial: {
      title: 'one side only',
      definition:
        'One side has a reading, and the other has none. It is on the make-up list, unless the athlete is held.',
      see: ['one_side', 'make-up list'],
    },
    pain: {
      title: 'with pain',
      definition: 'At least one attempt hurt, whether there is a number or not. Medical staff decide what comes next.',
      caution: 'Nobody calls the athlete back for it before they do.',
    },
    unable: {
      title: 'could not do it',
      definition: 'The athlete tried and could not do the test. Staff find out why before it is tried again.',
    },
    refused: {
      title: 'did not want to',
      definition: 'The athlete declined the test. It counts as not tested, and is not asked for again by itself.',
    },
    held: {
      title: 'kept from it',
      definition:
        'Medical staff hold the athlete, by clearance.csv or by a cell such as hold, and the measure is not done.',
      caution: 'The athlete is not called back: medical staff decide when.',
      see: ['held', 'clearance'],
    },
    not_tested: {
      title: 'not done, and the sheet says so',
      definition: 'A sheet says that the test was not done, or no attempt counted. It is on the make-up list.',
      see: ['make-up list'],
    },
    missing: {
      title: 'no sheet names it',
      definition:
        'The measure is in the battery of the athlete and no sheet of the season has anything on it. It is on the make-up list.',
      caution: 'A sheet that could not be read looks the same: see the rejects first.',
      see: ['battery', 'rejects', 'make-up list'],
    },
    retest_due: {
      title: 'to be tested again',
      definition:
        'The day in retest_by has come, and there is no reading since. A finding of 2026-08-20 with a programme of 42 days is due from 2026-10-01 on.',
      see: ['retest_days', 'retest_by'],
    },
  },
  { where: 'coverage, state' },
);

/** Words of the closed lists of cohort, plan and coverage. */
export const GROUP_WORDS = [...DECISIONS, ...PLAN_SCOPES, ...COVERAGE_STATES];
