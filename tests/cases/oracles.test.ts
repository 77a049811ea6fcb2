import { beforeAll, describe, expect, it } from 'vitest';
import { bilat, read, readCsv, tempFolder } from './bilat.ts';
import { agrees, LONGITUDINAL_SHEET, longitudinalProtocol, reference, unzipped } from './longitudinal.ts';

type Row = Record<string, string>;

/** Runs a folder and returns a table of it by key. */
function tables(folder: string, key: (row: Row) => string): { results: Map<string, Row>; findings: Row[] } {
  const { code, stderr } = bilat(['run', '--folder', folder]);
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  const rows = readCsv(read(folder, 'out/results.csv'));
  return { results: new Map(rows.map((row) => [key(row), row])), findings: readCsv(read(folder, 'out/findings.csv')) };
}

const SIDE: Row = { L: 'left', R: 'right', both: 'value' };

describe('500 simulated athletes over four seasons', () => {
  const kept = new Map<string, ReturnType<typeof tables>>();
  const keyOf = (row: Row): string => `${row.athlete_id} ${row.season} ${row.measure}`;
  const wantedKey = (row: Row, measure = row.test): string => `${row.athlete_ref} ${row.season.slice(0, 4)} ${measure}`;

  beforeAll(() => {
    for (const keep of ['best', 'mean', 'median']) {
      const folder = tempFolder({
        'protocol.yaml': longitudinalProtocol(keep),
        'screening.yaml': LONGITUDINAL_SHEET,
        'sheets/observations.csv': unzipped('observations'),
      });
      kept.set(keep, tables(folder, keyOf));
    }
  }, 120_000);

  it.each(['best', 'mean', 'median'])('every kept score of expected_trials, keep: %s', (keep) => {
    const { results } = kept.get(keep)!;
    const wanted = readCsv(unzipped('expected_trials'));
    expect(wanted.length).toBe(18_891);
    const wrong = wanted.filter((row) => {
      // Body mass has one attempt and keeps its default.
      const want = row.test === 'body_mass' ? row.best : row[keep];
      const got = results.get(wantedKey(row));
      return !agrees(got?.[SIDE[row.limb]], want);
    });
    expect(wrong).toEqual([]);
  });

  it('the number of valid attempts of each side', () => {
    const { results } = kept.get('best')!;
    const wrong = readCsv(unzipped('expected_trials')).filter(
      (row) => row.limb !== 'both' && results.get(wantedKey(row))?.[`trials_${SIDE[row.limb]}`] !== row.n_valid,
    );
    expect(wrong).toEqual([]);
  });

  it('every row of expected_deficits', () => {
    const { results } = kept.get('best')!;
    const { results: means } = kept.get('mean')!;
    const wanted = readCsv(unzipped('expected_deficits'));
    expect(wanted.length).toBe(6890);
    const weaker: Row = { L: 'left', R: 'right', equal: '' };
    const wrong = wanted.filter((row) => {
      const got = results.get(wantedKey(row));
      const mean = means.get(wantedKey(row));
      return !(
        agrees(got?.left, row.left_best) &&
        agrees(got?.right, row.right_best) &&
        agrees(got?.deficit_pct, row.deficit_best_pct) &&
        agrees(got?.direction_pct, row.right_minus_left_best_pct_of_max) &&
        agrees(got?.symmetry_angle, row.symmetry_angle_best) &&
        agrees(mean?.deficit_pct, row.deficit_mean_pct) &&
        got?.weaker === weaker[row.lower_side_best]
      );
    });
    expect(wrong).toEqual([]);
  });

  it('who is beyond 10 % and 15 %, decided exactly', () => {
    const { findings } = kept.get('best')!;
    for (const limit of [10, 15]) {
      const flagged = new Set(
        findings
          .filter((row) => row.rule.endsWith(`_${limit}`))
          .map((row) => `${row.athlete_id} ${row.season} ${row.measure}`),
      );
      const wanted = readCsv(unzipped('expected_deficits')).filter((row) => row[`deficit_best_gt${limit}`] === '1');
      expect(flagged).toEqual(new Set(wanted.map((row) => wantedKey(row))));
    }
  });

  it('every row of expected_ratios', () => {
    const wanted = readCsv(unzipped('expected_ratios'));
    expect(wanted.length).toBe(3437);
    const value = (keep: string, row: Row, measure: string): string | undefined =>
      kept.get(keep)!.results.get(wantedKey(row, measure))?.[SIDE[row.limb]];
    const wrong = wanted.filter(
      (row) =>
        !agrees(value('best', row, 'flexion_to_extension'), row.flex_ext_ratio_best) ||
        !agrees(value('mean', row, 'flexion_to_extension'), row.flex_ext_ratio_mean) ||
        !agrees(value('best', row, 'extension_per_kg'), row.ext_best_per_kg),
    );
    expect(wrong).toEqual([]);
  });
});

// tests/reference/a1-survey: data `survey` of the R package MASS 7.3-58.2, expected columns by R 4.2.2.
const SPANS_PROTOCOL = `bilat: 1
name: Hand spans
measures:
  hand_span: {label: Hand span, unit: cm, sides: each, dominance: writing_hand, headings: [span]}
rules:
  beyond_10: {measure: hand_span, field: deficit_pct, above: 10, grade: watch, source: common practice}
`;

describe('hand spans of 237 people', () => {
  const people = readCsv(read(reference('a1-survey/spans.csv')));
  const pair = (row: Row): boolean => row.left !== '' && row.right !== '';
  const roster = `athlete_id,writing_hand\n${people.map((row) => `${row.id},${row.writing_hand}`).join('\n')}\n`;
  const bySide = people
    .filter((row) => row.writing_hand !== '')
    .flatMap((row) => [
      [row.id, 'L', row.left],
      [row.id, 'R', row.right],
    ])
    .map((cells) => cells.join(','))
    .join('\n');
  const byHand = people.map((row) => [row.id, row.span_writing_cm, row.span_nonwriting_cm].join(',')).join('\n');

  const SHEETS: Record<string, { sheet: string; columns: string }> = {
    'one row a side': { sheet: `id,side,span (cm)\n${bySide}\n`, columns: '{}' },
    'one column a hand, dominant and other': {
      sheet: `id,span_writing_cm,span_nonwriting_cm\n${byHand}\n`,
      columns:
        '{span_writing_cm: {measure: hand_span, side: dominant, unit: cm}, span_nonwriting_cm: {measure: hand_span, side: other, unit: cm}}',
    },
  };

  for (const [name, { sheet, columns }] of Object.entries(SHEETS)) {
    it(`every deficit, direction, dominance and symmetry angle: ${name}`, () => {
      const folder = tempFolder({
        'protocol.yaml': SPANS_PROTOCOL,
        'roster.csv': roster,
        'screening.yaml': `sheets:\n  - files: sheets/spans.csv\n    date: 2026-08-12\n    columns: ${columns}\n`,
        'sheets/spans.csv': sheet,
      });
      const { results, findings } = tables(folder, (row) => row.athlete_id);
      const complete = people.filter(pair);
      expect(complete.length).toBe(235);
      const wrong = complete.filter((row) => {
        const got = results.get(row.id);
        return !(
          agrees(got?.left, row.left) &&
          agrees(got?.right, row.right) &&
          agrees(got?.deficit_pct, row.deficit_pct) &&
          agrees(got?.direction_pct, row.right_minus_left_pct_of_max) &&
          agrees(got?.dominance_pct, row.dominant_minus_other_pct_of_max) &&
          agrees(got?.symmetry_angle, row.symmetry_angle)
        );
      });
      expect(wrong).toEqual([]);
      const beyond = JSON.parse(read(reference('a1-survey/beyond_10.json')));
      expect(findings.filter((row) => row.rule === 'beyond_10').map((row) => row.athlete_id)).toEqual(beyond.ids);
    });
  }

  it('a hand that the roster does not know is never guessed', () => {
    // S045 gave no writing hand: the reference has a deficit, which needs no sides, but which hand is left cannot be known.
    const unhanded = people.filter((row) => row.writing_hand === '').map((row) => [row.id, row.deficit_pct]);
    expect(unhanded).toEqual([['S045', '0']]);
    const folder = tempFolder({
      'protocol.yaml': SPANS_PROTOCOL,
      'roster.csv': roster,
      'screening.yaml': `sheets:\n  - files: sheets/spans.csv\n    date: 2026-08-12\n    columns: ${SHEETS['one column a hand, dominant and other'].columns}\n`,
      'sheets/spans.csv': SHEETS['one column a hand, dominant and other'].sheet,
    });
    const { results } = tables(folder, (row) => row.athlete_id);
    expect(results.has('S045')).toBe(false);
    const rejects = readCsv(read(folder, 'out/rejects.csv'));
    expect(rejects.map(({ line, code, cells }) => [line, code, cells])).toEqual([
      ['46', 'side_needs_roster', '1'],
      ['46', 'side_needs_roster', '1'],
    ]);
  });
});
