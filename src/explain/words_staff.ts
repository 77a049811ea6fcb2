import { topicsOf } from './topics_of.ts';

/** What staff ask about findings and about the summary of `run`. */
const READING_IT = topicsOf('word', {
  why: {
    title: 'why an athlete is flagged',
    definition:
      'Each finding says it in its message: the number, the limit, the measurement error and how far it can be trusted. explain with the name of the rule says where the limit is from and in whom it was found.',
    where: 'findings, message and rule; the summary of run',
    also: ['why flagged', 'why is this athlete flagged', 'reason of a finding'],
    see: ['finding', 'rule', 'within error', 'certainty'],
  },
  flagged: {
    title: 'has a finding',
    definition: 'An athlete or a side is flagged by a rule if the result is beyond its limit.',
    where: 'messages of findings; the column beyond in the summary of run',
    caution: 'Flagged is not injured, and not flagged is not cleared.',
    also: ['flag', 'red flag'],
    see: ['finding', 'beyond', 'limit'],
  },
  beyond: {
    title: 'on the wrong side of the limit',
    definition:
      'Lower than allowed where a rule says below or at_most, higher where it says above or at_least. In the summary of run the column beyond counts the tested athletes who are.',
    caution: 'Beyond by less than the measurement error may be chance: such a finding is within_error.',
    also: ['beyond the limit', 'outside the limit'],
    see: ['limit', 'share', 'within error', 'margin'],
  },
  limit: {
    title: 'the number of a rule',
    definition:
      'From this number on a result is a finding. It stands in protocol.yaml under rules:, as below, at_most, above or at_least, with its source.',
    caution:
      'A limit describes the athletes of its study. It predicts little for one athlete, and does not make a reading near it good.',
    also: ['threshold', 'cut-off value', 'cutoff value', 'normal value'],
    see: ['below', 'at_least', 'source', 'beyond', 'within error'],
  },
  cutoff: {
    title: 'another word for a limit',
    definition:
      'The limits in use stand in protocol.yaml under rules:. How well one of them would have found the injured is worked out by the command cutoff, which is for a later version.',
    caution: 'A cutoff that was searched on your own injuries looks better than it is.',
    also: ['cut-off', 'cut-point', 'cut point'],
    see: ['limit', 'rules', 'cutpoint'],
  },
  risk: {
    title: 'what a finding does not say',
    definition:
      'A finding says that a number lies beyond a limit. It does not say how likely this athlete is to be injured: no screening test is known to tell that.',
    source: 'Br J Sports Med 2016;50:776-780, doi 10.1136/bjsports-2016-096256',
    caution: 'Do not tell an athlete "you will be injured", nor "you are safe".',
    also: ['injury risk', 'at risk', 'prediction', 'predict'],
    see: ['finding', 'limit', 'risk_ratio'],
  },
  asymmetry: {
    title: 'a difference between left and right',
    definition:
      'bilat writes it as a deficit in percent of the larger side for strengths and hops, and as a gap in degrees or centimetres for ranges of motion and reaches.',
    caution:
      'Nobody is quite symmetric, and measurement error alone makes a difference. Symmetric is not healthy either: both sides can be weak.',
    also: ['symmetry', 'symmetric', 'imbalance', 'asymmetric', 'side difference', 'left-right difference'],
    see: ['deficit', 'gap', 'limb symmetry index', 'deficit versus gap', 'within error'],
  },
  everybody: {
    title: 'all athletes, whatever their team',
    definition:
      'In the summary of run: all athletes of the season whom a rule could judge. A rule that flags more than half of everybody is questioned: check device, unit and tester first.',
    also: ['all athletes', 'everybody tested'],
    see: ['everyone', 'all', 'tested'],
  },
  'not read': {
    title: 'cells that could not be read',
    definition:
      'In the summary of run: cells, rows and whole sheets that nobody can understand for certain, by file and line, with what to do. They became no reading, and nothing became 0.',
    where: 'the summary of run; rejects',
    caution: 'An athlete whose reading was not read looks as well as one without a finding.',
    also: ['unread', 'could not be read', 'not understood'],
    see: ['reject', 'rejects', 'held back', 'corrections'],
  },
  'held back': {
    title: 'readings that wait for an answer',
    definition:
      'A number that was understood and is not used, since something is missing that nobody may guess: mostly the unit of a force. State it under units: in screening.yaml, or in the heading, and run again.',
    where: 'the summary of run, Not read; rejects',
    caution: 'It is not held, which says that medical staff keep the athlete from test or work.',
    also: ['hold back', 'held-back reading'],
    see: ['unit_unknown', 'units', 'held', 'athlete_ambiguous'],
  },
  'to take again': {
    title: 'readings that cannot be, or could not be read',
    definition:
      'Test these once more while the athlete is still in the building, blood pressure and pulse first. They stand in the summary of run, and in recheck with what was expected.',
    caution: 'A pressure that looks impossible can be true: take it at once.',
    also: ['take again', 'recheck list', 'what must be measured again', 'what to measure again'],
    see: ['recheck', 'implausible', 'corrections', 'rejects'],
  },
  normal: {
    title: 'a judgement, not a reading',
    definition:
      'normal, WNL or WFL in a cell says that somebody judged, and not what was read: the cell is a reject with the code number_unreadable. bilat itself calls nobody normal.',
    caution: 'Write the number. What one tester calls normal another would send to medical staff.',
    also: ['WNL', 'WFL', 'within normal limits', 'within functional limits'],
    see: ['number_unreadable', 'limit'],
  },
});

/** People and what they decide. */
const PEOPLE = topicsOf('word', {
  referral: {
    title: 'an athlete is sent to medical staff',
    definition:
      'A finding of grade refer. The plan and the summary of run name these athletes first, by urgency. referrals.csv is the place to write down who was seen, what came of it and when it was closed.',
    caution:
      'Only a clinician takes a referral off. Measurement error does not, and neither does a better second reading.',
    also: [
      'referred',
      'refer out',
      'sent to medical staff',
      'who must be seen',
      'who must be seen now',
      'who must be seen today',
      'who must see a doctor',
    ],
    see: ['refer', 'urgency', 'open', 'closed', 'referrals', 'clinician'],
  },
  clinician: {
    title: 'who decides about an athlete',
    definition:
      'Licensed medical staff: team physician, athletic trainer, physiotherapist. They examine, diagnose and clear; bilat does none of it, and says only whom they should see.',
    caution: 'Local rules and clearance procedures come before anything that bilat prints.',
    also: [
      'physician',
      'team physician',
      'doctor',
      'medical staff',
      'athletic trainer',
      'physiotherapist',
      'physical therapist',
    ],
    see: ['medical', 'referral', 'clearance', 'PPE'],
  },
  PPE: {
    title: 'the physical before the season',
    definition:
      'The preparticipation examination by medical staff: history, heart, joints, and the decision whether the athlete may take part. A screening adds measurements to it and replaces nothing of it.',
    caution: 'No finding is not clearance. What medical staff decided is written into clearance.csv.',
    also: [
      'physical',
      'preseason physical',
      'sports physical',
      'preparticipation examination',
      'preparticipation physical evaluation',
      'pre-participation examination',
    ],
    see: ['clearance', 'cleared', 'clinician'],
  },
  transfer: {
    title: 'an athlete who comes from another college',
    definition:
      'Add a line to roster.csv with an id of your own and the entry_year. Earlier injuries and operations go into history.csv; earlier test sheets only if unit, side and method are known.',
    caution: 'Readings of another college are of other devices and testers: a change from them to yours means little.',
    also: ['transfer athlete', 'transfer student', 'new athlete'],
    see: ['roster', 'entry_year', 'history'],
  },
  'multi-sport athlete': {
    title: 'one athlete, two teams or more',
    definition:
      'Write both teams into one cell of the roster, as in Soccer;Track. The athlete is given the battery of each sport group once, counts once among all and once in each team.',
    caution:
      'Counts of teams therefore do not add up to all athletes, and the work of both teams may be planned for one athlete.',
    also: ['two-sport athlete', 'dual-sport athlete', 'two teams', 'multisport'],
    see: ['team', 'battery', 'sport group'],
  },
});

/** Tests and devices. */
const TESTING = topicsOf('word', {
  'hop test': {
    title: 'how far an athlete hops on one leg',
    definition:
      'Distance on each leg, in centimetres, the best attempt kept; a single hop or three in a row. The sides are compared in percent of the longer hop.',
    caution:
      'A hop index of 90 % is a criterion for the return to sport, made for athletes after an injury. The starter has no limit on it; pain on a hop is a finding all the same.',
    also: ['hop tests', 'hops', 'hopping', 'hop index'],
    see: ['single_hop', 'triple_hop', 'return', 'limb symmetry index'],
  },
  squeeze: {
    title: 'both thighs pressed together against a resistance',
    definition:
      'A test of the adductors of both legs at once. The starter does not have it; add it under measures: with sides: none and a unit of force. It gives one number for two legs, so it says nothing of left against right.',
    caution: 'Angle of hip and knee and place of the device change the force: keep them the same each time.',
    also: ['squeeze test', 'adductor squeeze', 'groin squeeze'],
    see: ['measures', 'groin', 'unit_unknown'],
  },
  'range of motion': {
    title: 'how far a joint moves',
    definition:
      'In degrees, or in centimetres where a tape is used. Its sides are compared as a gap in that unit, never in percent.',
    caution: 'Testers differ by several degrees: one tester for a whole team, and the same start position.',
    also: ['ROM', 'mobility', 'flexibility', 'joint motion', 'tightness'],
    see: ['deficit versus gap', 'gap', 'goniometer', 'error'],
  },
  GIRD: {
    title: 'loss of internal rotation of the throwing shoulder',
    definition:
      'Internal rotation of the throwing side less that of the other, in degrees: the field dominance_gap, negative where the throwing side has less. In the starter it counts only together with a loss of the whole arc of rotation.',
    caution: 'In throwers the arc often moves towards external rotation: the loss alone is then no sign of trouble.',
    also: ['internal rotation deficit', 'glenohumeral internal rotation deficit', 'internal rotation loss'],
    see: ['dominance_gap', 'dominant side', 'shoulder_internal_loss', 'shoulder_arc_loss'],
  },
  groin: {
    title: 'a region of the body',
    definition:
      'Inner thigh, adductors and front of the hip. A rule may name it as region, injuries.csv and history.csv name it in the same word, and the starter has a sport group for it.',
    also: ['groin pain', 'adductor'],
    see: ['region', 'squeeze', 'sport group'],
  },
  dynamometer: {
    title: 'a device that measures force',
    definition:
      'Held in the hand or fixed to a frame; it shows newtons, kilograms-force or pounds-force. Write its unit into the heading: a force without one is held back.',
    caution: 'A tester who is weaker than the athlete reads the tester. Same device, position and lever on both sides.',
    also: ['hand-held dynamometer', 'HHD', 'force gauge', 'load cell'],
    see: ['kgf', 'lbf', 'N', 'unit_unknown', 'device'],
  },
  goniometer: {
    title: 'a device that measures angles',
    definition:
      'Two arms laid along the bones of a joint, or an inclinometer that shows the tilt of one. Readings are in degrees.',
    caution: 'Goniometer and inclinometer are two methods: do not change between them within a team.',
    also: ['inclinometer', 'angle meter'],
    see: ['deg', 'range of motion'],
  },
  'warm-up': {
    title: 'before a test, and where shared work is done',
    definition:
      'Before a test: the same for everybody, as cold muscles read weaker and stiffer. In programmes: the shared form of a programme is often done in the warm-up of the team; the plan names who is left out.',
    also: ['warmup'],
    see: ['shared work', 'programme', 'shared'],
  },
});

/** Files and how they are written. */
const WRITING = topicsOf('word', {
  CSV: {
    title: 'the form in which sheets are handed in',
    definition:
      'A plain text table. In Excel: File, Save As, file type "CSV UTF-8 (Comma delimited) (*.csv)", once for each sheet of the workbook. Keep the workbook; bilat reads the CSV.',
    caution:
      'Colours, comments and hidden columns do not come along, and 5-11 may have become a date: look at heights.',
    also: ['Excel', 'xlsx', 'spreadsheet', 'workbook', 'save as CSV', 'CSV UTF-8', 'UTF-8'],
    see: ['sheets', 'encoding', 'delimiter', 'height_as_date'],
  },
  YAML: {
    title: 'the form of protocol.yaml and screening.yaml',
    definition:
      'Plain text, one key: value a line. What belongs to a key stands indented under it by spaces, never by tabs. Texts with : # * [ or a comma stand in quotes.',
    caution: 'One wrong space changes what belongs to what: run bilat check after each change.',
    also: ['yml', 'indentation'],
    see: ['protocol', 'screening folder'],
  },
});

/** Words of the trade that staff ask for, and what bilat says of them. */
export const STAFF_WORDS = [...READING_IT, ...PEOPLE, ...TESTING, ...WRITING];
