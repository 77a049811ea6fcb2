// Writes the invented college beside this file: protocol, roster, station sheets and what else belongs to a folder.
//
//   node examples/make-college.mjs
//
// Everybody and every number in it is made up. The same seed gives the same bytes on every machine. screening.yaml alone
// is kept by hand; protocol.yaml is the starter protocol with the teams of this college.
import { writeSheet, writeTable } from './college-script/files.mjs';
import { drawPeople } from './college-script/people.mjs';
import { writeProtocol } from './college-script/protocol.mjs';
import { drawAll } from './college-script/readings.mjs';
import { clearance, exposures, history, injuries, referrals, work } from './college-script/records.mjs';
import { makeSheets } from './college-script/sheets.mjs';
import { makeSlips } from './college-script/slips.mjs';

const athletes = drawPeople();
drawAll(athletes);
const sheets = makeSheets(athletes);
const corrections = makeSlips(sheets);

writeProtocol();
for (const sheet of sheets.values()) writeSheet(sheet);
writeTable('corrections.csv', corrections);
writeTable('injuries.csv', injuries(athletes));
writeTable('exposures.csv', exposures(athletes));
writeTable('history.csv', history());
writeTable('clearance.csv', clearance(athletes));
writeTable('referrals.csv', referrals());
writeTable('work.csv', work(athletes));
writeTable(
  'roster.csv',
  athletes.map((athlete) => ({
    athlete_id: athlete.id,
    last_name: athlete.lastName,
    first_name: athlete.firstName,
    team: athlete.team,
    sex: athlete.sex,
    birth_date: athlete.birthDate,
    entry_year: String(athlete.entryYear),
    left_on: athlete.leftOn,
    kicking_foot: athlete.kickingFoot,
    throwing_hand: athlete.throwingHand,
  })),
);
