// The fifteen sheets as the stations hand them in, before anybody slips.
import { across, down, pages, sideBySide, summaries, teamBlocks, twoHeadingLines } from './layouts.mjs';
import {
  comma,
  feetAndInches,
  halves,
  KILOGRAMS_A_POUND,
  kilograms,
  pounds,
  SIDES,
  shuffled,
  tenths,
  whole,
} from './numbers.mjs';
import { isIn, isThere, SPORT_GROUPS, TEAMS } from './people.mjs';

const COLLEGE = 'Thrumbleford College';
const LEG_TEAMS = [...new Set([...SPORT_GROUPS.landing, ...SPORT_GROUPS.power])];
const SHORT_TEAM = { 'Water polo': 'WP', 'Field hockey': 'FH' };
const FIRST_DAY = ['Rowing', 'Water polo', 'Field hockey', 'Swimming', 'Tennis', 'Wrestling'];

/** These missed the hip station of 2026; all but the last came on the make-up day, as did K017 for the right side. */
export const MISSED_HIP_STATION = ['K002', 'K032', 'K031', 'K041', 'K028'];
export const HALF_AT_HIP_STATION = 'K017';

const firstTeam = (athlete) => athlete.team.split(';')[0];
const dayOf2026 = (athlete) => (isIn(athlete, FIRST_DAY) ? '17' : '18');
const isRaised = (systolic, diastolic) => systolic >= 130 || diastolic >= 80;

/** A pressure in one cell, with its recheck where the first reading was raised. */
function pressureCell({ systolic, diastolic }) {
  const [first, second] = [0, 1].map((at) => `${systolic[at]}/${diastolic[at]}`);
  return isRaised(systolic[0], diastolic[0]) ? `${first} → ${second}` : first;
}

/** Cells of the attempts of both sides: first trial left, first trial right, and so on. */
function trialCells(name, readings, format) {
  const cells = {};
  for (const [at] of readings.L.entries()) {
    for (const side of SIDES) cells[name(side, at + 1)] = format(readings[side][at]);
  }
  return cells;
}

const sideCells = (name, readings, format) =>
  Object.fromEntries(SIDES.map((side) => [name(side), format(readings[side])]));

/** @param athletes everybody, with readings drawn */
export function makeSheets(athletes) {
  /** Who is there in a season, of these teams, at a station. */
  const tested = (season, teams, station) =>
    athletes
      .filter((athlete) => isThere(athlete, season) && isIn(athlete, teams))
      .filter((athlete) => !(station && athlete.seasons.get(season).isAway[station]))
      .map((athlete) => ({ ...athlete, ...athlete.seasons.get(season) }));

  const everybody = (season) => tested(season, Object.keys(TEAMS));
  const row = (athlete, cells) => ({ who: athlete.id, cells });

  function intake2024() {
    const rows = everybody(2024).map((athlete) =>
      row(athlete, {
        'Athlete no': athlete.id,
        Team: firstTeam(athlete),
        Height: feetAndInches(athlete.height),
        'Weight (lb)': whole(athlete.mass / KILOGRAMS_A_POUND),
        BP: pressureCell(athlete),
        Pusle: whole(athlete.pulse),
        ...trialCells((side, trial) => `Grip ${side} ${trial} (kg)`, athlete.grip, tenths),
      }),
    );
    const above = [['Preseason intake - Monday 19 August 2024'], []];
    return { file: 'sheets/2024/intake.csv', layout: down({ above }), rows };
  }

  function hip2024() {
    const force = (newtons) => comma(kilograms(newtons));
    const rows = tested(2024, SPORT_GROUPS.groin, 'hip').map((athlete) =>
      row(athlete, {
        'Athlete no': athlete.id,
        Date: '19.08.2024',
        ...trialCells((side, trial) => `Hip Add (kg)|${side} ${trial}`, athlete.adduction, force),
        ...trialCells((side, trial) => `Hip Abd (kg)|${side} ${trial}`, athlete.abduction, force),
        ...sideCells((side) => `Hip IR (°)|${side}`, athlete.internal, whole),
        ...sideCells((side) => `Hip ER (°)|${side}`, athlete.external, whole),
      }),
    );
    const bytes = { delimiter: ';', encoding: 'windows-1252' };
    return { file: 'sheets/2024/hip.csv', layout: twoHeadingLines(), ...bytes, rows };
  }

  function landing2024() {
    const rows = tested(2024, LEG_TEAMS, 'landing').flatMap((athlete) => {
      const lands = isIn(athlete, SPORT_GROUPS.landing);
      return SIDES.map((side) =>
        row(athlete, {
          ID: athlete.id,
          Side: side === 'L' ? 'Left' : 'Right',
          'Hop 1 (cm)': whole(athlete.hop[side][0]),
          'Hop 2 (cm)': whole(athlete.hop[side][1]),
          'Lunge (cm)': lands ? halves(athlete.lunge[side]) : '',
          'Ant reach 1 (cm)': lands ? whole(athlete.anteriorReach[side][0]) : '',
          'Ant reach 2 (cm)': lands ? whole(athlete.anteriorReach[side][1]) : '',
          'Ant reach 3 (cm)': lands ? whole(athlete.anteriorReach[side][2]) : '',
          'Squat faults': lands ? String(athlete.squatFaults[side]) : '',
        }),
      );
    });
    return { file: 'sheets/2024/landing.csv', layout: down(), delimiter: '\t', hasMark: true, rows };
  }

  function hipRetest2024() {
    const rows = tested(2024, ['Field hockey']).map((athlete) =>
      row(athlete, {
        Athlete: athlete.id,
        ...trialCells((side, trial) => `Hip Add ${side} ${trial} (kg)`, athlete.retest.adduction, kilograms),
        ...trialCells((side, trial) => `Hip Abd ${side} ${trial} (kg)`, athlete.retest.abduction, kilograms),
      }),
    );
    const above = [['Field hockey'], ['Retest after the adductor work'], ['Date: 7 October 2024'], []];
    return { file: 'sheets/2024/hip-retest.csv', layout: across({ above }), rows };
  }

  function intake2025() {
    const rows = [...everybody(2025)]
      .sort((a, b) => (`${a.lastName}, ${a.firstName}` < `${b.lastName}, ${b.firstName}` ? -1 : 1))
      .map((athlete) =>
        row(athlete, {
          Name: `${athlete.lastName}, ${athlete.firstName}`,
          Team: firstTeam(athlete),
          Ht: feetAndInches(athlete.height),
          'Wt (kg)': tenths(athlete.mass),
          'Blood pressure': pressureCell(athlete),
          'Resting HR': whole(athlete.pulse),
          ...trialCells((side, trial) => `Grip ${side}${trial} (kg)`, athlete.grip, tenths),
        }),
      );
    const above = [['Intake'], ['Date: 18 August 2025'], []];
    const layout = pages({ above, title: COLLEGE, rowsAPage: 32 });
    return { file: 'sheets/2025/intake.csv', layout, lineEnd: () => '\r\n', rows };
  }

  function hip2025() {
    const withBest = (test, readings) =>
      Object.assign(
        {},
        ...SIDES.map((side) => ({
          [`${test} ${side} 1 (N)`]: whole(readings[side][0]),
          [`${test} ${side} 2 (N)`]: whole(readings[side][1]),
          [`${test} ${side} best (N)`]: String(Math.max(...readings[side].map(Math.round))),
        })),
      );
    const rows = tested(2025, SPORT_GROUPS.groin, 'hip').map((athlete) =>
      row(athlete, {
        ID: athlete.id,
        ...withBest('Add', athlete.adduction),
        ...withBest('Abd', athlete.abduction),
        ...sideCells((side) => `Hip IR ${side} (deg)`, athlete.internal, whole),
        ...sideCells((side) => `Hip ER ${side} (deg)`, athlete.external, whole),
        ...sideCells((side) => `BKFO ${side} (cm)`, athlete.fallOut, tenths),
      }),
    );
    const above = [['Hip station'], ['Tuesday 19 August 2025'], []];
    const footnotes = [[], ['* NT: not tested. P = pain'], ['BKFO: fibular head to the table']];
    const below = (all, headings) => [...summaries(all, headings), ...footnotes];
    return { file: 'sheets/2025/hip.csv', layout: down({ above, below }), rows };
  }

  function landing2025() {
    const all = tested(2025, LEG_TEAMS, 'landing');
    const hops = all.map((athlete) =>
      row(athlete, {
        ID: athlete.id,
        ...trialCells((side, trial) => `Hop ${side}${trial} (cm)`, athlete.hop, whole),
        ...trialCells((side, trial) => `Triple hop ${side}${trial} (cm)`, athlete.tripleHop, whole),
      }),
    );
    const lands = all.filter((athlete) => isIn(athlete, SPORT_GROUPS.landing));
    const others = shuffled(lands).map((athlete) =>
      row(athlete, {
        'Athlete id': athlete.id,
        ...sideCells((side) => `Lunge ${side} (cm)`, athlete.lunge, halves),
        ...trialCells((side, trial) => `Ant reach ${side}${trial} (cm)`, athlete.anteriorReach, whole),
        ...trialCells((side, trial) => `PL reach ${side}${trial} (cm)`, athlete.posterolateralReach, whole),
        ...sideCells((side) => `Squat faults ${side}`, athlete.squatFaults, String),
        'Landing faults': String(athlete.landingFaults),
      }),
    );
    const isRight = ({ cells }) => 'Athlete id' in cells;
    const layout = sideBySide({ above: [['Landing station - 20 August 2025'], []], isRight });
    return { file: 'sheets/2025/landing.csv', layout, rows: [...hops, ...others] };
  }

  function shoulder2025() {
    const all = tested(2025, SPORT_GROUPS.overhead, 'shoulder');
    // The fencer who plays handball too is tested with the handball players.
    const teams = new Map(all.map(({ id, team }) => [id, team.split(';').at(-1)]));
    const rows = all.map((athlete) =>
      row(athlete, {
        ID: athlete.id,
        ...sideCells((side) => `Shoulder IR ${side} (deg)`, athlete.shoulderInternal, whole),
        ...sideCells((side) => `Shoulder ER ${side} (deg)`, athlete.shoulderExternal, whole),
        ...trialCells((side, trial) => `ER strength ${side} ${trial} (N)`, athlete.externalStrength, whole),
        ...trialCells((side, trial) => `IR strength ${side} ${trial} (N)`, athlete.internalStrength, whole),
      }),
    );
    const layout = teamBlocks({ teamOf: ({ who }) => teams.get(who) });
    const bytes = { delimiter: '\t', encoding: 'utf-16le', hasMark: true };
    return { file: 'sheets/2025/shoulder.csv', layout, ...bytes, rows };
  }

  function power2025() {
    const several = (values, format) => values.map(format).join(', ');
    const rows = tested(2025, LEG_TEAMS, 'power').map((athlete) => {
      const sprints = isIn(athlete, SPORT_GROUPS.power);
      return row(athlete, {
        ID: athlete.id,
        Date: '8/21/2025',
        ...sideCells(
          (side) => `Hamstrings ${side} (N)`,
          athlete.kneeFlexion,
          (values) => several(values, whole),
        ),
        ...sideCells(
          (side) => `Quads ${side} (N)`,
          athlete.kneeExtension,
          (values) => several(values, whole),
        ),
        ...sideCells((side) => `SLR ${side} (deg)`, athlete.legRaise, sprints ? whole : () => ''),
        'VJ (cm)': sprints ? several(athlete.jump, whole) : '',
      });
    });
    return { file: 'sheets/2025/power.csv', layout: down(), rows };
  }

  function intake2026() {
    const rows = everybody(2026).map((athlete) => {
      const again = isRaised(athlete.systolic[0], athlete.diastolic[0]);
      return row(athlete, {
        ID: athlete.id,
        Team: SHORT_TEAM[athlete.team] ?? firstTeam(athlete),
        Date: `2026-08-${dayOf2026(athlete)}`,
        'Ht (cm)': tenths(athlete.height),
        'Wt (kg)': tenths(athlete.mass),
        'SBP 1': String(athlete.systolic[0]),
        'DBP 1': String(athlete.diastolic[0]),
        'SBP 2': again ? String(athlete.systolic[1]) : '',
        'DBP 2': again ? String(athlete.diastolic[1]) : '',
        Pulse: whole(athlete.pulse),
        ...trialCells((side, trial) => `Grip ${side} ${trial} (kg)`, athlete.grip, tenths),
        Notes: '',
      });
    });
    // Half of the file went through another program, which wrote other line ends.
    const lineEnd = (line) => (line % 9 === 0 ? '\n' : '\r\n');
    return { file: 'sheets/2026/intake.csv', layout: down(), lineEnd, rows };
  }

  function hip2026() {
    const rows = tested(2026, SPORT_GROUPS.groin, 'hip')
      .filter(({ id }) => !MISSED_HIP_STATION.includes(id))
      .map((athlete) =>
        row(athlete, {
          'Athlete no': athlete.id,
          Date: `${dayOf2026(athlete)}/08/2026`,
          Tester: athlete.tester,
          ...trialCells((side, trial) => `Hip Add ${side} ${trial}`, athlete.adduction, pounds),
          ...trialCells((side, trial) => `Hip Abd ${side} ${trial}`, athlete.abduction, pounds),
          ...sideCells((side) => `Hip IR ${side} (deg)`, athlete.internal, whole),
          ...sideCells((side) => `Hip ER ${side} (deg)`, athlete.external, whole),
          ...sideCells((side) => `BKFO ${side} (cm)`, athlete.fallOut, tenths),
          Remarks: '',
        }),
      );
    const above = [['Hip station 2026'], ['All forces in pounds'], []];
    return { file: 'sheets/2026/hip.csv', layout: down({ above }), rows };
  }

  function hipMakeup2026() {
    const late = tested(2026, SPORT_GROUPS.groin).filter(
      ({ id }) => MISSED_HIP_STATION.slice(0, -1).includes(id) || id === HALF_AT_HIP_STATION,
    );
    const rows = late.flatMap((athlete) =>
      (athlete.id === HALF_AT_HIP_STATION ? ['R'] : SIDES).map((side) =>
        row(athlete, {
          ID: athlete.id,
          Side: side,
          'Hip Add 1 (lbs)': pounds(athlete.adduction[side][0]),
          'Hip Add 2 (lbs)': pounds(athlete.adduction[side][1]),
          'Hip Abd 1 (lbs)': pounds(athlete.abduction[side][0]),
          'Hip Abd 2 (lbs)': pounds(athlete.abduction[side][1]),
          'Hip IR (deg)': whole(athlete.internal[side]),
          'Hip ER (deg)': whole(athlete.external[side]),
        }),
      ),
    );
    return { file: 'sheets/2026/hip-makeup.csv', layout: down(), rows };
  }

  function landing2026() {
    const rows = shuffled(tested(2026, LEG_TEAMS, 'landing')).flatMap((athlete) => {
      const test = (name, side, trial, value, unit) =>
        row(athlete, {
          athlete_id: athlete.id,
          date: '2026-08-18',
          test: name,
          side,
          trial: String(trial),
          value,
          unit,
          status: 'ok',
        });
      const attempts = (name, readings) =>
        SIDES.flatMap((side) => readings[side].map((value, at) => test(name, side, at + 1, whole(value), 'cm')));
      const once = (name, readings, format, unit) =>
        SIDES.map((side) => test(name, side, 1, format(readings[side]), unit));
      const hops = [...attempts('Single hop', athlete.hop), ...attempts('Triple hop', athlete.tripleHop)];
      if (!isIn(athlete, SPORT_GROUPS.landing)) return hops.slice(0, 4);
      return [
        ...hops,
        ...once('Knee to wall', athlete.lunge, halves, 'cm'),
        ...once('Lunge angle', athlete.lungeAngle, whole, 'deg'),
        ...attempts('Anterior reach', athlete.anteriorReach),
        ...attempts('Posterolateral reach', athlete.posterolateralReach),
        ...once('Squat faults', athlete.squatFaults, String, 'count'),
        test('Landing faults', '', 1, String(athlete.landingFaults), 'count'),
      ];
    });
    return { file: 'sheets/2026/landing.csv', layout: down(), rows };
  }

  function shoulder2026() {
    const both = (readings, format) => `${format(readings.L)}/${format(readings.R)}`;
    const trial = (readings, at) => both({ L: readings.L[at], R: readings.R[at] }, kilograms);
    const rows = tested(2026, SPORT_GROUPS.overhead, 'shoulder').map((athlete) =>
      row(athlete, {
        ID: athlete.id,
        Date: `2026-08-${dayOf2026(athlete)}`,
        'Shoulder IR L/R (deg)': both(athlete.shoulderInternal, whole),
        'Shoulder ER L/R (deg)': both(athlete.shoulderExternal, whole),
        'ER strength L/R 1 (kg)': trial(athlete.externalStrength, 0),
        'ER strength L/R 2 (kg)': trial(athlete.externalStrength, 1),
        'IR strength L/R 1 (kg)': trial(athlete.internalStrength, 0),
        'IR strength L/R 2 (kg)': trial(athlete.internalStrength, 1),
      }),
    );
    return { file: 'sheets/2026/shoulder.csv', layout: down(), rows };
  }

  function power2026() {
    const rows = tested(2026, LEG_TEAMS, 'power').flatMap((athlete, place) => {
      const sprints = isIn(athlete, SPORT_GROUPS.power);
      return (sprints ? [0, 1, 2] : [0, 1]).map((at) =>
        row(athlete, {
          Athlete: at === 0 ? athlete.id : '',
          // The day stands once, and ditto marks below it.
          Date: place === 0 && at === 0 ? '19 Aug 2026' : '"',
          Trial: String(at + 1),
          ...sideCells(
            (side) => `Hamstrings ${side} (N)`,
            athlete.kneeFlexion,
            (values) => (at < 2 ? whole(values[at]) : ''),
          ),
          ...sideCells(
            (side) => `Quads ${side} (N)`,
            athlete.kneeExtension,
            (values) => (at < 2 ? whole(values[at]) : ''),
          ),
          ...sideCells(
            (side) => `SLR ${side} (deg)`,
            athlete.legRaise,
            (value) => (sprints && at === 0 ? whole(value) : ''),
          ),
          'VJ (cm)': sprints ? whole(athlete.jump[at]) : '',
        }),
      );
    });
    return { file: 'sheets/2026/power.csv', layout: down({ above: [['Power station'], []] }), rows };
  }

  const made = [
    ...[intake2024(), hip2024(), landing2024(), hipRetest2024()],
    ...[intake2025(), hip2025(), landing2025(), shoulder2025(), power2025()],
    ...[intake2026(), hip2026(), hipMakeup2026(), landing2026(), shoulder2026(), power2026()],
  ];
  return new Map(made.map((sheet) => [sheet.file, sheet]));
}
