import type { Protocol } from '../../protocol/types.ts';
import type { COVERAGE, Coverage, CoverageState } from '../../tables/schemas.ts';
import type { RowOf } from '../../tables/table.ts';
import { rewritten } from './edit.ts';
import { rulesHiddenFromCoach } from './private_rules.ts';
import { coachGuard } from './private_words.ts';

type CoverageRow = RowOf<typeof COVERAGE>;

/** Whoever still lacks a test, or may not do it. That a test was done, and how, tells of pain. */
const SHOWN: ReadonlySet<string> = new Set<CoverageState>(['missing', 'not_tested', 'partial', 'retest_due', 'held']);

/**
 * Coverage for a coach: who is to come where, or is held, without saying for which test. Equal rows become one. A retest
 * is shown where strength staff ask for it: so many days after a test only one programme of medical staff may ask for it.
 */
export function coachCoverage(coverage: Coverage, protocol: Protocol): Coverage {
  const isFit = coachGuard(protocol);
  const isOfStrength = retestTest(protocol);
  const met = new Set<string>();
  return rewritten(coverage, (row) => {
    const isRetestShown = isOfStrength(row);
    if (!SHOWN.has(row.state ?? '') || (row.state === 'retest_due' && !isRetestShown)) return undefined;
    const station = row.station !== null && isFit(row.station) ? row.station : null;
    const retest = row.state !== 'held' && isRetestShown ? row.retest_by : null;
    const shown = { ...row, measure: null, station, retest_by: retest, retest_for: null };
    const key = JSON.stringify(shown);
    if (met.has(key)) return undefined;
    met.add(key);
    return shown;
  });
}

/** Says whether the rule that asks for a retest is shown to a coach, and its programme is one of strength staff. */
function retestTest(protocol: Protocol): (row: CoverageRow) => boolean {
  const hidden = rulesHiddenFromCoach(protocol);
  const shown = protocol.rules.filter(
    ({ name, programme }) => !hidden.has(name) && protocol.programmes.get(programme ?? '')?.owner === 'strength',
  );
  const names = new Set(shown.map(({ name }) => name));
  return ({ retest_for }) => names.has(retest_for ?? '');
}
