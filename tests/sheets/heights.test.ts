import { describe, expect, it } from 'vitest';
import { ingestText } from './ingest_text.ts';

/** What a sheet with one reading says of it: its value in centimetres, its status, or code, message and suggestion. */
async function cellOf(heading: string, text: string, decimal?: '.' | ','): Promise<string> {
  const content = `ID,${heading}\nK001,"${text.replaceAll('"', '""')}"\n`;
  const { observations, rejects } = await ingestText(content, { entry: { date: '2026-08-17', decimal } });
  expect(observations.length + rejects.length).toBe(1);
  if (rejects.length === 1) return `${rejects[0].code}: ${rejects[0].message} ${rejects[0].suggestion}`;
  const [{ value, status, unit }] = observations;
  if (value !== null) expect(unit).toBe('cm');
  return value === null ? status! : `${Number(value.toPrecision(9))}${status === 'measured' ? '' : ` ${status}`}`;
}

/** A value in centimetres, or a code and what its words must name. */
type Case = readonly [text: string, expected: string | number, ...named: string[]];

const check = async (heading: string, [text, expected, ...named]: Case, decimal?: '.' | ','): Promise<void> => {
  const said = await cellOf(heading, text, decimal);
  if (typeof expected === 'number') expect(said).toBe(String(expected));
  else expect(said.split(':')[0]).toBe(expected);
  for (const reading of named) expect(said).toContain(reading);
};

// Values worked out by hand: an inch is 2.54 cm, a foot 30.48 cm.
describe('a height in a column without a unit', () => {
  it.each<Case>([
    ['180', 180],
    ['180.5', 180.5],
    ['180cm', 180],
    ['180 cm', 180],
    ['180\u00a0cm', 180],
    ['180 CM', 180],
    ['180 centimeters', 180],
    ['1800 mm', 180],
    ['1.80 m', 180],
    ['1.80m', 180],
    ['1.8 metres', 180],
    ['1m80', 180],
    ['1 m 80', 180],
    ['1m 80cm', 180],
    ['1 m 80 cm', 180],
    ['1M80', 180],
    ['1m80.5', 180.5],
    ['1\u00a0m\u00a080', 180],
    ['1m8', 'height_ambiguous', '"1m8" can be 1 m 8 cm or 1.8 m'],
    ['5\'11"', 180.34],
    ['5’11”', 180.34],
    ['5′11″', 180.34],
    ["5'11''", 180.34],
    ['5´11´´', 180.34],
    ['5`11``', 180.34],
    ['５＇１１＂', 180.34],
    ["5'11", 180.34],
    ['5\' 11"', 180.34],
    ['5\u00a0\'\u00a011"', 180.34],
    ['5\' 11 1/2"', 181.61],
    ["5'11½", 181.61],
    ['5\'11½"', 181.61],
    ['5\'11.5"', 181.61],
    ['5\'11,5"', 181.61],
    ["5'", 152.4],
    ["6'", 182.88],
    ["6'4", 193.04],
    ['6\'0"', 182.88],
    ['5-11', 180.34],
    ['5 - 11', 180.34],
    ['5–11', 180.34],
    ['5 11', 180.34],
    ['5\u00a011', 180.34],
    ['5 ft 11 in', 180.34],
    ['5 ft. 11 in.', 180.34],
    ['5ft11', 180.34],
    ['5ft11in', 180.34],
    ['5 foot 11', 180.34],
    ['5 feet, 11 inches', 180.34],
    ['6 ft', 182.88],
    ['5.75 ft', 175.26],
    ['71 in', 180.34],
    ['71in.', 180.34],
    ['71"', 180.34],
    ['71”', 180.34],
    ["71''", 180.34],
    ['71 inches', 180.34],
    ['71 1/2 in', 181.61],
    ['71½"', 181.61],
    ['１８０', 180],
    ['180*', 180],
    ['180 P', '180 pain'],
    ['71', 'implausible', 'lies outside 120 to 240 cm', 'Looks like 180.3 cm (centimetres and inches).'],
    ['1.80', 'implausible', 'Looks like 180 cm (centimetres and metres).'],
    ['18', 'implausible', 'Looks like 180 cm (a decimal point).'],
    ['5.75', 'implausible', 'Looks like 175.3 cm (centimetres and feet).'],
    ['6', 'implausible', 'Looks like 182.9 cm (centimetres and feet).'],
    ['0', 'implausible'],
    ['-180', 'implausible'],
    ['5.11', 'height_ambiguous', 'Height "5.11" can be 5 ft 11 in or 5.11 ft.'],
    ['５．１１', 'height_ambiguous', '5 ft 11 in or 5.11 ft'],
    ['5,11', 'height_ambiguous', '5 ft 11 in or 5.11 ft'],
    ['5.9', 'height_ambiguous', '5 ft 9 in or 5.9 ft'],
    ['5.1', 'height_ambiguous', '5 ft 1 in or 5 ft 10 in or 5.1 ft'],
    ['5.11 ft', 'height_ambiguous', '5 ft 11 in or 5.11 ft'],
    ['511', 'height_ambiguous', '5 ft 11 in or 511'],
    ['602', 'height_ambiguous', '6 ft 2 in or 602'],
    ['5\'13"', 'height_ambiguous', '5 ft 13 in or 5.13 ft'],
    ['5\'14.5"', 'height_ambiguous', '5 ft 14.5 in'],
    ['1,80', 'number_ambiguous', '1.8'],
    ['1,80 m', 'number_ambiguous', '1.8'],
    ['180,5 cm', 'number_ambiguous', '180.5'],
    ['11-May', 'height_as_date', 'It was probably 5\'11".'],
    ['May-11', 'height_as_date', 'It was probably 5\'11".'],
    ['11 May', 'height_as_date', 'It was probably 5\'11".'],
    ['5-Nov', 'height_as_date', 'It was probably 5\'11".'],
    ['6-May', 'height_as_date', 'It was probably 5\'6" or 6\'5".'],
    ['5/11', 'height_as_date', 'It was probably 5\'11".'],
    ['5/11/2026', 'height_as_date', 'It was probably 5\'11".'],
    ['11/5/2026', 'height_as_date', 'It was probably 5\'11".'],
    ['2026-05-11', 'height_as_date', 'It was probably 5\'11".'],
    ['2026-05-11 00:00:00', 'height_as_date', 'It was probably 5\'11".'],
    // Serial 46153 is 2026-05-11.
    ['46153', 'height_as_date', 'It was probably 5\'11".'],
    ['~180', 'number_approximate', 'is an estimate'],
    ['180?', 'number_approximate'],
    ['>200', 'number_censored'],
    ["6'+", 'number_censored'],
    ['180 kg', 'unit_mismatch'],
    ['tall', 'number_unreadable'],
    ['18O', 'number_unreadable'],
    ['17 ½', 'implausible'],
    ['NT', 'not_tested'],
    ['-', 'not_tested'],
    ['refused', 'refused'],
  ])('%j: %s', async (...row) => {
    await check('Ht', row);
  });
});

describe('a height in a column in feet', () => {
  it.each<Case>([
    ['5', 152.4],
    ['6', 182.88],
    ['6.0', 182.88],
    ['6.00', 182.88],
    ['5.75', 175.26],
    ['5.92', 180.4416],
    ['5.11', 'height_ambiguous', 'Height "5.11" can be 5 ft 11 in or 5.11 ft.'],
    ['5.5', 'height_ambiguous', '5 ft 5 in or 5.5 ft'],
    ['5.08', 'height_ambiguous', '5 ft 8 in or 5.08 ft'],
    ['5.1', 'height_ambiguous', '5 ft 1 in or 5 ft 10 in or 5.1 ft'],
    ['6.2', 'height_ambiguous', '6 ft 2 in or 6.2 ft'],
    ['5,11', 'height_ambiguous', '5 ft 11 in or 5.11 ft'],
    ['5\'11"', 180.34],
    ['5-11', 180.34],
    ['5 11', 180.34],
    ['71 in', 180.34],
    ['180 cm', 180],
    ['1m80', 180],
    ['71', 'implausible', 'Looks like 180.3 cm (feet and inches) or 216.4 cm (a decimal point).'],
    ['180', 'implausible', 'Looks like 180 cm (feet and centimetres).'],
    ['1.80', 'implausible', 'Looks like 180 cm (feet and metres).'],
    ['511', 'height_ambiguous', '5 ft 11 in or 511'],
    ['11-May', 'height_as_date', '5\'11"'],
    ['NT', 'not_tested'],
  ])('%j: %s', async (...row) => {
    await check('Ht (ft)', row);
  });

  it('is kept as painful when it cannot be read', async () => {
    const ingested = await ingestText('ID,Ht (ft)\nK001,5.11 P\n', { entry: { date: '2026-08-17' } });
    expect(ingested.observations).toMatchObject([{ value: null, status: 'pain' }]);
    expect(ingested.rejects).toMatchObject([{ code: 'height_ambiguous' }]);
  });
});

describe('a height in a column in inches', () => {
  it.each<Case>([
    ['71', 180.34],
    ['71.5', 181.61],
    ['71 1/2', 181.61],
    ['71½', 181.61],
    ['71"', 180.34],
    ['5\'11"', 180.34],
    ['5-11', 180.34],
    ['180 cm', 180],
    ['180', 'implausible', '180 cm (inches and centimetres)'],
    ['6', 'implausible', '182.9 cm (inches and feet)'],
    ['1.80', 'implausible', '180 cm (inches and metres)'],
    ['5.11', 'height_ambiguous', '5 ft 11 in or 5.11 ft'],
    ['511', 'height_ambiguous', '5 ft 11 in or 511'],
  ])('%j: %s', async (...row) => {
    await check('Ht (in)', row);
  });
});

describe('a height in a column in metres', () => {
  it.each<Case>([
    ['1.80', 180],
    ['1.8', 180],
    ['2', 200],
    ['1m80', 180],
    ['180 cm', 180],
    ['5\'11"', 180.34],
    ['180', 'implausible', 'Looks like 180 cm (metres and centimetres).'],
    ['71', 'implausible', 'Looks like 180.3 cm (metres and inches).'],
    ['5.11', 'height_ambiguous', '5 ft 11 in or 5.11 ft'],
  ])('%j: %s', async (...row) => {
    await check('Ht (m)', row);
  });
});

describe('a height in a column in centimetres', () => {
  it.each<Case>([
    ['180', 180],
    ['71', 'implausible', 'Looks like 180.3 cm (centimetres and inches).'],
    ['1.80', 'implausible', 'Looks like 180 cm (centimetres and metres).'],
    ['5.11', 'height_ambiguous', '5 ft 11 in or 5.11 ft'],
    ['5\'11"', 180.34],
  ])('%j: %s', async (...row) => {
    await check('Ht (cm)', row);
  });
});

describe('a height with a decimal comma', () => {
  it.each<readonly [heading: string, ...Case]>([
    ['Ht', '1,80 m', 180],
    ['Ht', '180,5 cm', 180.5],
    ['Ht', '180,5', 180.5],
    ['Ht', '1,80', 'implausible'],
    ['Ht', '5,11', 'height_ambiguous', '5 ft 11 in or 5.11 ft'],
    ['Ht (m)', '1,80', 180],
    ['Ht (ft)', '5,75', 175.26],
    ['Ht (ft)', '5,11', 'height_ambiguous', '5 ft 11 in or 5.11 ft'],
    ['Ht', "5'11,5", 181.61],
  ])('%s %j: %s', async (heading, ...row) => {
    await check(heading, row, ',');
  });
});

describe('jumps and reaches', () => {
  it.each<readonly [heading: string, ...Case]>([
    ['Hop L', "6'4", 193.04],
    ['Hop L', '5’11”', 180.34],
    ['Hop L', '5 ft 2 in', 157.48],
    ['Hop L', '1m80', 180],
    ['Hop L', '1.8 m', 180],
    ['Hop L', '5.11', 5.11],
    ['Hop L', '5-11', 'number_unreadable'],
    ['Hop L', '5 11', 'number_ambiguous', '5 ft 11 in or trials 5 and 11'],
    ['Hop L (in)', '17 ½', 44.45],
    ['Hop L (in)', '17½', 44.45],
    ['Hop L (in)', '17 1/2', 44.45],
    ['Hop L (in)', '76', 193.04],
    ['Lunge L (in)', '4 ½', 11.43],
    ['Lunge L (in)', '4 1/2"', 11.43],
    ['Lunge L (in)', '17 ½', 'implausible'],
    ['Lunge L', '12.5cm', 12.5],
  ])('%s %j: %s', async (heading, ...row) => {
    await check(heading, row);
  });
});
