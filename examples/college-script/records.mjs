// What is written down beside the tests: injuries, exposures, earlier injuries, clearance, referrals and work done.
import { chance, daysAfter, oneOf, pad, uniform } from './numbers.mjs';
import { isIn, isThere, SEASONS, SPORT_GROUPS, TEAMS, TRANSFER } from './people.mjs';
import { ALARMING, completesWork, lowerRatio } from './readings.mjs';

/** First day of the season on which somebody may be hurt, how many days it lasts, and what share of a season that is. */
const PLAYED = {
  2024: { from: '2024-09-02', days: 255, share: 1 },
  2025: { from: '2025-09-01', days: 255, share: 1 },
  2026: { from: '2026-09-07', days: 62, share: 0.4 },
};

/** Chance of an injury in a whole season of an athlete of these teams. The groin has its own, by the ratio. */
const HURT = [
  { region: 'ankle', type: 'sprain', teams: SPORT_GROUPS.landing, chance: 0.11, days: [3, 28] },
  { region: 'knee', type: 'sprain', teams: [...SPORT_GROUPS.landing, 'Wrestling'], chance: 0.04, days: [5, 60] },
  { region: 'thigh', type: 'strain', teams: SPORT_GROUPS.power, chance: 0.11, days: [5, 35] },
  { region: 'shoulder', type: 'overuse', teams: SPORT_GROUPS.overhead, chance: 0.07, days: [2, 40] },
  { region: 'hand', type: 'fracture', teams: Object.keys(TEAMS), chance: 0.01, days: [14, 42] },
  { region: 'back', type: 'overuse', teams: ['Rowing', 'Tennis', 'Wrestling'], chance: 0.05, days: [2, 21] },
];
const GROIN = { region: 'groin', type: 'strain', days: [4, 45] };
const GROIN_CHANCE = { low: 0.38, other: 0.06 };

/** The team in which somebody is hurt; of two teams the second. */
const teamOf = ({ team }) => team.split(';').at(-1);

/** Chances follow the ratio that was read, so that a cutoff finds a modest association and no more. */
export function injuries(athletes) {
  const rows = [];
  for (const season of SEASONS) {
    const { from, days, share } = PLAYED[season];
    for (const athlete of athletes.filter((one) => isThere(one, season))) {
      const isLow = lowerRatio(athlete, season) < 0.8;
      const groin = { ...GROIN, teams: SPORT_GROUPS.groin, chance: isLow ? GROIN_CHANCE.low : GROIN_CHANCE.other };
      for (const { region, type, teams, chance: likely, days: lost } of [...HURT, groin]) {
        const isHurt = chance(likely * share);
        const date = daysAfter(from, Math.floor(uniform() * days));
        const row = {
          athlete_id: athlete.id,
          date,
          region,
          side: region === 'back' ? 'n/a' : oneOf(['left', 'right']),
          days_lost: chance(0.05) ? '' : String(lost[0] + Math.floor(uniform() * uniform() * (lost[1] - lost[0]))),
          type,
          contact: type === 'overuse' || type === 'strain' ? 'no' : oneOf(['yes', 'no']),
          setting: oneOf(['practice', 'practice', 'game']),
          recurrent: chance(0.12) ? 'yes' : 'no',
          team: teamOf(athlete),
        };
        if (isHurt && isIn(athlete, teams) && athlete.id !== ALARMING) rows.push(row);
      }
    }
  }
  rows.push({
    ...{ athlete_id: ALARMING, date: '2025-10-14', region: 'groin', side: 'left', days_lost: '38', type: 'strain' },
    ...{ contact: 'no', setting: 'game', recurrent: 'no', team: 'Soccer' },
  });
  return rows.sort((a, b) => (a.date + a.athlete_id < b.date + b.athlete_id ? -1 : 1));
}

/** Practices and games by team: each athlete counts once a session. */
export function exposures(athletes) {
  return SEASONS.flatMap((season) =>
    Object.keys(TEAMS).map((team) => {
      const members = athletes.filter((athlete) => isThere(athlete, season) && isIn(athlete, [team])).length;
      const each = (105 + 30 * uniform()) * PLAYED[season].share;
      return { season: String(season), team, athlete_exposures: String(Math.round(members * each)) };
    }),
  );
}

/** Injuries and operations before the time at this college, or outside its seasons. */
export function history() {
  const row = (athlete_id, region, side, date, surgery, full_return) => ({
    ...{ athlete_id, region, side, date, surgery, full_return },
  });
  return [
    row('K012', 'groin', 'right', '2023-10-02', 'no', '2023-11-06'),
    row('K019', 'ankle', 'left', '2023-04-15', 'no', '2023-05-20'),
    row('K087', 'groin', 'left', '2024-03-11', 'no', '2024-04-08'),
    row(TRANSFER, 'knee', 'left', '2024-03-09', 'yes', '2025-01-20'),
    row('K136', 'shoulder', 'right', '2026-06-22', 'no', ''),
    row('K165', 'thigh', 'right', '2024-04-19', 'no', '2024-05-30'),
  ];
}

const NOT_CLEARED = {
  K120: { status: 'not_cleared', region: 'knee', side: 'right', until: '' },
  K136: { status: 'limited', region: 'shoulder', side: 'right', until: '2026-10-15' },
  K172: { status: 'pending', region: '', side: '', until: '' },
};

/** Of this season: everybody's day of the examination, and what came of it. K034 waits for the second visit. */
export function clearance(athletes) {
  const row = (athlete_id, date, { status, region, side, until }) => ({
    athlete_id,
    date,
    status,
    region,
    side,
    until,
  });
  const cleared = { status: 'cleared', region: '', side: '', until: '' };
  const waiting = { ...cleared, status: 'pending' };
  return athletes
    .filter((athlete) => isThere(athlete, 2026))
    .flatMap(({ id }) => {
      if (id === 'K034') return [row(id, '2026-08-17', waiting), row(id, '2026-08-26', cleared)];
      if (id === 'K100') return [row(id, '2026-08-18', waiting)];
      return [row(id, '2026-08-19', NOT_CLEARED[id] ?? cleared)];
    });
}

export function referrals() {
  const row = (athlete_id, date, rule, seen_on, outcome, closed_on) => ({
    ...{ athlete_id, date, rule, seen_on, outcome, closed_on },
  });
  return [
    row('K008', '2024-08-19', 'systolic_high', '2024-08-21', '126/78 seated on another day', '2024-08-21'),
    row('K144', '2025-08-18', 'systolic_high', '2025-08-20', '124/80 seated on another day', '2025-08-20'),
    ...['systolic_before_lifting', 'diastolic_high'].map((rule) =>
      row('K034', '2026-08-17', rule, '2026-08-19', 'home readings for a week, then cleared', '2026-08-26'),
    ),
    row('K100', '2026-08-18', 'systolic_high', '', '', ''),
    row('K172', '2026-08-18', 'pulse_slow', '2026-08-21', 'tracing taken, answer awaited', ''),
  ];
}

/** Sessions planned and done. */
export function work(athletes) {
  const row = (athlete_id, programme, started, planned, done, stopped = '', reason = '') => ({
    ...{ athlete_id, programme, started, planned: String(planned), done: String(done), stopped, reason },
  });
  const members = (season, team) => athletes.filter((one) => isThere(one, season) && isIn(one, [team]));
  const hockey = members(2024, 'Field hockey').map((athlete) => {
    const share = uniform();
    if (completesWork(athlete))
      return row(athlete.id, 'adductor_strength', '2024-08-26', 24, 20 + Math.floor(share * 5));
    const stopped = `2024-09-${pad(9 + Math.floor(share * 12), 2)}`;
    return row(athlete.id, 'adductor_strength', '2024-08-26', 24, 3 + Math.floor(share * 6), stopped, 'other training');
  });
  // Those who hopped shortest for their height, of a team that comes again the year after.
  const hop = (athlete) => {
    const { hop: readings, height } = athlete.seasons.get(2025);
    return Math.max(...readings.L, ...readings.R) / height;
  };
  const handball = members(2025, 'Handball')
    .filter((athlete) => isThere(athlete, 2026))
    .sort((a, b) => hop(a) - hop(b))
    .slice(0, 3)
    .map(({ id }) => row(id, 'landing_control', '2025-09-01', 18, 16));
  // K040 is in pain at the hip and stays out of the group's work; K034 starts once cleared.
  const polo = members(2026, 'Water polo')
    .filter(({ id }) => id !== 'K040')
    .map(({ id }) => {
      const started = id === 'K034' ? '2026-08-27' : '2026-08-24';
      return row(id, 'adductor_strength', started, 24, 18 + Math.floor(uniform() * 5));
    });
  const alone = [
    row('K044', 'weaker_side_strength', '2024-08-26', 12, 11),
    row(ALARMING, 'adductor_strength', '2025-08-25', 24, 9, '2025-10-14', 'injured'),
    row('K136', 'shoulder_strength', '2025-08-25', 18, 17),
  ];
  return [...hockey, ...handball, ...polo, ...alone];
}
