import type { Protocol } from '../../protocol/types.ts';
import type { Coverage, CoverageState } from '../../tables/schemas.ts';
import { rewritten } from './edit.ts';
import { coachGuard } from './private_words.ts';

/** Whoever still lacks a test, or may not do it. That a test was done, and how, tells of pain. */
const SHOWN: ReadonlySet<string> = new Set<CoverageState>(['missing', 'not_tested', 'partial', 'retest_due', 'held']);

/** Coverage for a coach: who is to come where, or is held, without saying for which test. Equal rows become one. */
export function coachCoverage(coverage: Coverage, protocol: Protocol): Coverage {
  const isFit = coachGuard(protocol);
  const met = new Set<string>();
  return rewritten(coverage, (row) => {
    if (!SHOWN.has(row.state ?? '')) return undefined;
    const station = row.station !== null && isFit(row.station) ? row.station : null;
    const shown = { ...row, measure: null, station };
    const key = JSON.stringify(shown);
    if (met.has(key)) return undefined;
    met.add(key);
    return shown;
  });
}
