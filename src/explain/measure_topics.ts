import type { Compound, Measure, Protocol } from '../protocol/types.ts';
import { Z95 } from '../stats/normal.ts';
import { unitText, withUnit } from '../units/unit_text.ts';
import { formulaOf } from './formulas.ts';
import { generalError, hasError } from './measure_error.ts';
import type { Topic } from './topic.ts';
import { capital, listed, sentence, sentences, shortNumber, unitWords } from './words.ts';

const KEEP_WORDS = {
  best: 'the best is kept',
  mean: 'their mean is kept',
  median: 'the middle one is kept',
  first: 'the first is kept',
  last: 'the last is kept',
} as const;
const BETTER_WORDS = {
  higher: 'Higher is better.',
  lower: 'Lower is better.',
  between: 'Neither higher nor lower is better.',
} as const;
const BASIS_WORDS = {
  occasions: 'between days',
  testers: 'between testers',
  trials: 'between attempts of one day',
} as const;

const range = ([low, high]: readonly [number, number], unit: string): string =>
  `${low} to ${withUnit(String(high), unit)}`;

function trialWords({ trials, sides, unit }: Measure): string {
  const { keep, expect, spreadPct } = trials;
  const often = expect === 1 ? 'one attempt' : `${expect} attempts`;
  const place = sides === 'each' ? ' on each side' : '';
  const apart =
    spreadPct !== undefined &&
    `Attempts that lie more than ${spreadPct} % of their mean apart are marked wide_spread: repeat the test.`;
  const kept = expect === 1 ? `of several ${KEEP_WORDS[keep]}` : KEEP_WORDS[keep];
  const written = unitText(unit.code);
  return sentences(`Tested with ${often}${place}${written ? `, in ${written}` : ''}; ${kept}.`, apart);
}

function compareWords({ sides, compare, dominance }: Measure): string | undefined {
  if (sides === 'none') return undefined;
  const how = {
    percent: 'The sides are compared in percent of the larger one.',
    gap: 'The sides are compared in its own unit, never in percent.',
    none: 'The sides are not compared.',
  }[compare];
  return sentences(how, dominance && `The roster column ${dominance} says which side is dominant.`);
}

function rangeWords({ plausible, plausibleBoth, unit, levels, derivation }: Measure): string {
  const what = derivation ? 'Results' : 'Readings';
  const fate = derivation ? 'point to an entry error.' : 'are held to be entry errors, and are not taken.';
  return sentences(
    levels && `A score can be ${listed(levels.map(String), 'or')}.`,
    plausible && `${what} outside ${range(plausible, unit.code)} ${fate}`,
    plausibleBoth && `For both limbs at once: ${range(plausibleBoth, unit.code)}.`,
  );
}

/** What its declared or derived error means for one reading; nothing where nothing is judged by it. */
function errorWords(measure: Measure): string | undefined {
  const { error, unit, derivation } = measure;
  const general = generalError(measure);
  if (general === undefined) {
    return hasError(measure)
      ? 'Its measurement error depends on the readings, and stands beside each finding.'
      : `${derivation ? 'Its measurement error is not known' : 'No measurement error is declared'}, so findings on it say error_unknown: how far to trust them cannot be said.`;
  }
  const amount =
    'pct' in general
      ? `${shortNumber(Z95 * general.pct)} % of the reading`
      : withUnit(shortNumber(Z95 * general.amount), unit.code);
  const basis = error ? ` ${BASIS_WORDS[error.basis]}` : ', worked out from its parts';
  return sentences(
    `Measurement error${basis}: 95 of 100 readings lie within ±${amount} of the athlete's usual one.`,
    'A finding that is not further from its limit than that is within_error: repeat the test first.',
    error?.basis === 'trials' && 'Between days the error is larger than that.',
  );
}

const SAME_METHOD =
  'Both parts must be tested by the same method: a ratio says nothing where device, position or lever changed between them, and a good ratio of two weak parts is still weak.';

function operatorCaution({ derivation, levels }: Measure): string | undefined {
  if (levels)
    return 'It depends on who counts: let one tester see all athletes of a team. A score is not added to others.';
  switch (derivation?.operator) {
    case 'ratio':
      return SAME_METHOD;
    case 'percent_of':
    case 'per': {
      const [above, below] = derivation.parts;
      return below.sides === 'none'
        ? `It is as right as ${below.name}: an old or mistyped one moves every side of the athlete alike, and no side-to-side comparison shows it.`
        : above.unit.dimension === below.unit.dimension
          ? SAME_METHOD
          : undefined;
    }
    case 'z_mean':
      return 'It is an average of z, not a z: no percentile is read from it. It says how an athlete stands among those tested, not whether that is enough.';
    case 'total':
      return derivation.parts.length > 1
        ? 'A total hides its parts: read them first. Two athletes with one total can need different work.'
        : undefined;
    default:
      return undefined;
  }
}

function batteries({ sportGroups, everyone }: Protocol, name: string): string[] {
  const groups = sportGroups.filter(({ measures }) => measures.includes(name)).map((group) => group.name);
  return everyone.includes(name) ? ['everyone', ...groups] : groups;
}

function givenWords(protocol: Protocol, measure: Measure): string {
  const given = batteries(protocol, measure.name);
  const compounds = protocol.compounds.filter(({ parts }) => parts.includes(measure)).map(({ name }) => name);
  return sentences(
    `The protocol, under ${measure.derivation ? 'derived' : 'measures'}.`,
    given.length === 0 ? 'In no battery of its own.' : `In the battery of ${listed(given)}.`,
    compounds.length > 0 && `Also read from ${listed(compounds)}.`,
  );
}

function sourceWords({ error, errors }: Measure): string | undefined {
  const all = [error, ...Object.values(errors)].flatMap((one) => (one?.source ? [one.source] : []));
  return all.length === 0 ? undefined : sentence(`${[...new Set(all)].join('; ')} (measurement error)`);
}

function measureTopic(measure: Measure, protocol: Protocol): Topic {
  const { name, label, unit, derivation, better, sides, compare, headings } = measure;
  const rules = protocol.rules.filter((rule) => rule.measure === measure).map((rule) => rule.name);
  const parts = derivation?.parts.map((part) => part.name) ?? [];
  const origin = derivation
    ? `Worked out from ${listed(parts)}${sides === 'each' ? ', for the left and for the right' : ''}.`
    : trialWords(measure);
  const comparison = { percent: ['deficit_pct'], gap: ['gap'], none: [] }[compare];
  return {
    name,
    kind: 'measure',
    title: label,
    definition: sentences(origin, BETTER_WORDS[better], compareWords(measure), rangeWords(measure)),
    formula: formulaOf(measure),
    unit: unitWords(unit.code),
    source: sourceWords(measure),
    caution: sentences(errorWords(measure), operatorCaution(measure)),
    where: givenWords(protocol, measure),
    see: [...parts, ...rules, ...(sides === 'each' ? comparison : [])],
    also: [...new Set([label, ...headings])],
  };
}

function compoundTopic({ name, headings, parts, between }: Compound): Topic {
  const labels = parts.map((part) => part.label.toLowerCase());
  return {
    name,
    kind: 'measure',
    title: capital(`${listed(labels)} in one cell`),
    definition: `A cell under this heading holds ${listed(labels)}, in this order, with ${between} between them. Each part is a reading of its own; a cell with a part missing is not taken.`,
    caution:
      'Two readings in one cell, as with a recheck behind an arrow, are two attempts: none of them replaces the other.',
    where: `The protocol, under compounds. Headings: ${headings.join(', ')}.`,
    see: parts.map((part) => part.name),
    also: headings,
  };
}

/** Topics of the measures, derived measures and compounds of a protocol. */
export function measureTopics(protocol: Protocol): readonly Topic[] {
  return [
    ...protocol.measures.map((measure) => measureTopic(measure, protocol)),
    ...protocol.compounds.map(compoundTopic),
  ];
}
