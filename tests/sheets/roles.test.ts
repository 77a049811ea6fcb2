import { describe, expect, it } from 'vitest';
import { dateOrderOfHeading, ignoredHeading, roleOfHeading } from '../../src/sheets/roles.ts';

describe('columns that tell about a row', () => {
  it.each([
    ['Athlete #', 'athlete_id'],
    ['ID#', 'athlete_id'],
    ['ID', 'athlete_id'],
    ['Student ID#', 'athlete_id'],
    ['Uni ID', 'athlete_id'],
    ['Ath. No.', 'athlete_id'],
    ['Ath', 'name'],
    ['Athlete', 'name'],
    ["Athlete's name", 'name'],
    ['Name (Last, First)', 'name'],
    ['Last, First', 'name'],
    ['Last', 'last_name'],
    ['LastName', 'last_name'],
    ['Team/Sport', 'team'],
    ['Sex (M/F)', 'sex'],
    ['Date/Time', 'date'],
    ['Tested', 'date'],
    ['Session date', 'date'],
    ['Date (mm/dd/yyyy)', 'date'],
    ['Test date - d.m.y', 'date'],
    ['Test item', 'test'],
    ['L/R', 'side'],
    ['R / L', 'side'],
    ['Left or right', undefined],
    ['Side (L/R)', 'side'],
    ['Limb', 'side'],
    ['Leg tested', 'side'],
    ['Trial #', 'trial'],
    ['Rep #', 'trial'],
    ['Trial*', 'trial'],
    ['Unit of measure', 'unit'],
    ['Examiner initials', 'tester'],
    ['Device used', 'device'],
    // L and R with another sign between or behind them tell no row's side
    ['L-R', undefined],
    ['L – R', undefined],
    ['L:R', undefined],
    ['L&R', undefined],
    ['L+R', undefined],
    ['L/R %', undefined],
    ['% L/R', undefined],
    // nobody can say whose initials, or what is set
    ['Initials', undefined],
    ['Set', undefined],
    ['Pain', undefined],
    ['Pain?', undefined],
    ['Injured side', undefined],
    ['Dominant side', undefined],
    ['#', undefined],
    ['Best', undefined],
    ['', undefined],
    ['constructor', undefined],
    ['__proto__', undefined],
    [' '.repeat(100_000), undefined],
    ['date '.repeat(20_000), undefined],
  ])('%j: %s', (heading, role) => {
    expect(roleOfHeading(heading)).toBe(role);
  });

  it.each(['Hip Add', 'Grip', 'Hop', 'Ht', 'Height', 'Wt', 'BP', 'Pulse', 'HR', 'Squat', 'Reach', 'Time', 'Hand grip'])(
    '%s stays a measure',
    (heading) => {
      expect([roleOfHeading(heading), ignoredHeading(heading)]).toEqual([undefined, undefined]);
    },
  );
});

describe('columns that are left aside', () => {
  it.each([
    ['Notes/Comments', 'remark'],
    ['Remarks', 'remark'],
    ['#', 'not_needed'],
    ['No.', 'not_needed'],
    ['Nr', 'not_needed'],
    ['№', 'not_needed'],
    ['Row', 'not_needed'],
    ['Row #', 'not_needed'],
    ['Jersey', 'not_needed'],
    ['Jersey #', 'not_needed'],
    ['Class', 'not_needed'],
    ['Year in school', 'not_needed'],
    ['Age (yrs)', 'not_needed'],
    ['Timestamp', 'not_needed'],
    ['%', undefined],
    ['Number', undefined],
    ['Pain', undefined],
    ['Grade', undefined],
    ['Athlete #', undefined],
    ['', undefined],
    ['#'.repeat(100_000), undefined],
  ])('%j: %s', (heading, reason) => {
    expect(ignoredHeading(heading)).toBe(reason);
  });
});

describe('the order of dates that a heading spells out', () => {
  it.each([
    ['Date (mm/dd/yyyy)', 'mdy'],
    ['Date (M/D/Y)', 'mdy'],
    ['Test date dd.mm.yy', 'dmy'],
    ['Date [YYYY-MM-DD]', 'ymd'],
    ['Date', undefined],
    ['mm/dd/yyyy', undefined],
    ['Hop mm/dd/yyyy', undefined],
    ['Date (mm/dd)', undefined],
    ['date dd mm yyyy '.repeat(10_000), undefined],
  ])('%j: %s', (heading, order) => {
    expect(dateOrderOfHeading(heading)).toBe(order);
  });
});
