/** What one row of each table is (design, section 4). Tables without columns of their own are made by later versions. */
export interface TableWords {
  readonly title: string;
  readonly row: string;
  readonly caution: string;
  /** how to get it, in words */
  readonly from: string;
}

export const TABLE_WORDS: Readonly<Record<string, TableWords>> = {
  observations: {
    title: 'Every reading, as it was read from the sheets',
    row: 'One row is one attempt of one athlete: a reading, or a word that says why there is none.',
    caution: 'value is in the unit of the measure; raw is what the hand wrote, and wins in any doubt.',
    from: 'Made by bilat ingest and bilat run.',
  },
  athletes: {
    title: 'Who the athletes are',
    row: 'One row is one athlete in one season: team, sex, dates and dominant sides, and where they were found.',
    caution:
      'Without a roster the athletes are who the sheets say they are: a mistyped id is then an athlete of its own.',
    from: 'Made by bilat run.',
  },
  rejects: {
    title: 'What could not be read',
    row: 'One row is a cell, a row or a file that was not taken, with the reason and what to do.',
    caution: 'What stands here is missing everywhere else: an athlete can look well because a reading was not read.',
    from: 'Made by bilat run, and by bilat ingest with --rejects FILE.',
  },
  ignored: {
    title: 'What was left aside',
    row: 'One row is a cell, or a run of cells, that holds no reading: titles, remarks, averages, with the reason.',
    caution:
      'Look through it once for each new kind of sheet: a reading that stands here was taken for something else.',
    from: 'Made by bilat run, and by bilat ingest with --ignored FILE.',
  },
  ledger: {
    title: 'The count of every cell of every sheet',
    row: 'One row is one sheet: its cells that hold anything are the sum of the five counts beside them.',
    caution: 'It proves that no cell is lost, not that each is read rightly.',
    from: 'Made by bilat run, and by bilat ingest with --ledger FILE.',
  },
  results: {
    title: 'Kept readings, comparison of the sides, derived measures',
    row: 'One row is one measure of one athlete on one occasion.',
    caution: 'An empty number is unknown, never 0; status says why. No result is a judgement: see findings.',
    from: 'Made by bilat derive and bilat run.',
  },
  findings: {
    title: 'Rules that are broken',
    row: 'One row is one broken rule of one athlete on one occasion, with its measurement error.',
    caution: 'A finding is no diagnosis, and an athlete without a finding is not cleared.',
    from: 'Made by bilat flag and bilat run.',
  },
  recheck: {
    title: 'Readings to take again',
    row: 'One row is a reading that looks like an entry error, or that lies far from all others; or a column, tester or device that does.',
    caution: 'It never changes a value: somebody looks at the paper or tests again.',
    from: 'Made by bilat outliers and bilat run.',
  },
  cohort: {
    title: 'What each group shares',
    row: 'One row is one rule in one group and season: how many were tested and flagged, and the share with its interval.',
    caution:
      'An athlete counts in every group of theirs, so rows do not add up; some intervals exclude 1 by chance alone.',
    from: 'Made by bilat cohort and bilat run.',
  },
  plan: {
    title: 'The work list',
    row: 'One row is one thing to be done, with one athlete or with a whole team, in the order of priority.',
    caution:
      'Athletes who are held, limited or in pain are listed as left out of the work of their team. No line is not clearance.',
    from: 'Made by bilat plan and bilat run.',
  },
  coverage: {
    title: 'Who still lacks what',
    row: 'One row is one measure of one athlete in one season, with what became of it.',
    caution: 'Missing says that no sheet holds it, not that it was not done. Whoever is held is not called back.',
    from: 'Made by bilat coverage and bilat run.',
  },
  trend: {
    title: 'Seasons of a group',
    row: 'One row is one measure in one group and season, with the change since the season before.',
    caution: 'A mean moves also because athletes leave and arrive: read the change of those who returned.',
    from: 'Made by bilat trend.',
  },
  changes: {
    title: 'Changes of single athletes',
    row: 'One row is one measure of one athlete before and after, with the verdict.',
    caution: 'An extreme reading comes back towards the middle by itself: compare with what was expected.',
    from: 'Made by bilat trend with --athletes.',
  },
  agreement: {
    title: 'How well repeated tests agree',
    row: 'One row is one statistic of reliability of one measure and side.',
    caution: 'It holds for these testers, devices and athletes, and for no others.',
    from: 'Made by bilat agree.',
  },
  incidence: {
    title: 'Injuries by exposure',
    row: 'One row is one group, region and season: injuries, exposures and their rate with its interval.',
    caution: 'Teams without exposures are in neither count.',
    from: 'Made by bilat incidence.',
  },
  cutoff: {
    title: 'How far a cutoff can be trusted',
    row: 'One row is one statistic by one method.',
    caution: 'A cutoff that was chosen on the same injuries looks better than it is.',
    from: 'Made by bilat cutoff.',
  },
  curve: {
    title: 'Every cutoff of a measure',
    row: 'One row is one cutoff with what it would have found and missed.',
    caution: 'The best row of a curve is the best by luck too: it needs new athletes.',
    from: 'Made by bilat cutoff with --curve FILE.',
  },
};
