import { topicsOf } from './topics_of.ts';

const CLEARANCE_STATUSES = topicsOf(
  'clearance status',
  {
    cleared: {
      title: 'may take part',
      definition:
        'Medical staff decided that the athlete may take part in full. With a day in until that has passed the clearance has run out, and the athlete is held.',
      caution: 'It is their decision, written down: no result of bilat clears anybody.',
      see: ['full', 'until'],
    },
    limited: {
      title: 'may take part within limits',
      definition:
        'Medical staff named limits. With a region they hold for findings and tests of that region, and for findings that no rule gives a region; without one, or with one that no rule has, for the whole athlete. The athlete is left out of what the group does together.',
      see: ['limited', 'left_out'],
    },
    not_cleared: {
      title: 'may not take part',
      definition:
        'Medical staff decided that the athlete may not take part: every line of the plan is a hold. It stays so after the day in until, until they decide anew.',
      see: ['held', 'hold'],
    },
    pending: {
      title: 'not decided yet',
      definition: 'Medical staff have not decided yet. The athlete is held until they have.',
      caution: 'Pending is not cleared.',
      see: ['held', 'hold'],
    },
  },
  { where: 'clearance, status' },
);

const AVAILABILITIES = topicsOf(
  'availability',
  {
    full: {
      title: 'nothing is said against it',
      definition: 'No line of clearance.csv holds the athlete back on the day that is looked at.',
      caution:
        'Without clearance.csv everybody is full, because nobody is known to be cleared; the plan says so. Full is not cleared.',
      see: ['clearance', 'cleared'],
    },
    limited: {
      title: 'some regions only, or with limits',
      definition:
        'Findings of a limited region become a hold, and its tests are not called for; a finding without a region is held too. A region that no rule has holds everything. Other findings are planned as for everybody. The athlete does not do the shared work of the team.',
      see: ['limited', 'left_out', 'hold'],
    },
    held: {
      title: 'not cleared, or nobody can say',
      definition:
        'The newest line of clearance.csv says not_cleared or pending, of the whole athlete or of one region; or it is a clearance that has run out, or its status cannot be read. Nothing is planned for the athlete but a hold, and nobody calls the athlete back for a test.',
      caution: 'Only medical staff lift it, by a newer line in clearance.csv.',
      see: ['hold', 'not_cleared', 'pending', 'clearance'],
    },
  },
  { where: 'plan and coverage, worked out from clearance' },
);

const URGENCIES = topicsOf(
  'urgency',
  {
    now: {
      title: 'medical staff see the athlete at once',
      definition:
        'Stay with the athlete and call medical staff. For rules that say urgency: now, and for pain during a blood pressure or pulse.',
      caution: 'A reading that looks impossible can be true: call first, take it again while you wait.',
      also: ['at once', 'immediately', 'emergency'],
    },
    before_training: {
      title: 'medical staff see the athlete before training',
      definition:
        'No training until the athlete was seen. It is what pain and a refer on a blood pressure or pulse have, unless the rule says otherwise.',
    },
    routine: {
      title: 'medical staff see the athlete at the next visit',
      definition: 'What every other refer has, unless the rule says otherwise: an appointment, no alarm.',
      caution: 'Routine is not optional: the referral stays on the list until it is closed.',
    },
  },
  { where: 'protocol.yaml, urgency of a rule; plan, instruction', see: ['refer', 'urgency', 'priority'] },
);

const REFERRAL_STATES = topicsOf(
  'referral state',
  {
    open: {
      title: 'sent, and not settled yet',
      definition:
        'referrals.csv has a line for the finding without closed_on, or with a day of closing still to come. The athlete stays on top of the plan, which says since when.',
      caution: 'Seen is not closed: seen_on alone takes nobody off the list.',
    },
    closed: {
      title: 'medical staff settled it',
      definition:
        'The newest line for the finding has closed_on, on or before the day that is looked at. The finding tops the list no longer; a newer finding does again.',
      caution: 'A line written before the day of the finding closes nothing.',
    },
  },
  { where: 'referrals; plan, reason', see: ['referral', 'referrals', 'closed_on'] },
);

const PREVIOUS_INJURIES = topicsOf(
  'previous injury',
  {
    same_side: {
      title: 'the same region was hurt on this side before',
      definition:
        'injuries.csv or history.csv knows of an earlier injury of the region, on the side of the finding or on both sides. It raises the priority of the finding.',
    },
    other_side: {
      title: 'the same region was hurt on the other side before',
      definition: 'An earlier injury of the region is known, and all that are known were on the other side.',
    },
    side_unknown: {
      title: 'the region was hurt before, and nobody can say which side',
      definition:
        'An earlier injury of the region is known without its side, or the finding has no single side. None is known to be of the same side.',
      caution: 'Ask the athlete, and write the side into injuries.csv or history.csv.',
    },
  },
  { where: 'findings, previous_injury', see: ['previous_injury', 'history', 'injuries', 'priority'] },
);

const TERMS = topicsOf('word', {
  availability: {
    title: 'how an athlete stands with medical staff',
    definition:
      'full, limited or held, by the newest lines of clearance.csv on the day that is looked at. A line on one region does not lift what was said of another, or of the whole athlete.',
    where: 'plan and coverage',
    caution: 'bilat repeats what medical staff wrote down; it decides nothing.',
    also: ['available', 'cleared to play', 'who may train', 'who is not cleared', 'who is cleared'],
    see: ['full', 'limited', 'held', 'clearance', 'hold'],
  },
  urgency: {
    title: 'how soon medical staff see the athlete',
    definition:
      'now, before_training or routine; only for rules of grade refer. Without the key: before_training for pain and for blood pressure and pulse, now for pain during one of these, routine for all else.',
    where: 'protocol.yaml, rules; plan, instruction and priority',
    also: ['urgent', 'how urgent', 'how soon'],
    see: ['now', 'before_training', 'routine', 'refer'],
  },
});

/** What clearance, referrals, injuries and history come to for an athlete on a day. */
export const DESK_WORDS = [
  ...CLEARANCE_STATUSES,
  ...AVAILABILITIES,
  ...URGENCIES,
  ...REFERRAL_STATES,
  ...PREVIOUS_INJURIES,
  ...TERMS,
];
