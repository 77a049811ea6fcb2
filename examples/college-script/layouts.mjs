// How rows are laid out on a sheet. A sheet holds `rows`, each {who, cells: {heading: text}}; a layout makes lines of it,
// each {cells, row?, at?}: `row` is the row whose cells stand there, `at` the column of each heading.

const blanks = (count) => Array.from({ length: count }, () => '');
const headingsOf = (rows) => Object.keys(rows[0].cells);
const said = (...lines) => lines.map((cells) => ({ cells }));

/** A row with nothing in it. */
export const BLANK_LINE = { who: '', cells: {} };

function rowLine(row, headings, before = 0) {
  if (row === BLANK_LINE) return { cells: [] };
  const at = Object.fromEntries(headings.map((heading, index) => [heading, before + index]));
  return { cells: [...blanks(before), ...headings.map((heading) => row.cells[heading])], row, at };
}

/** One line a row under its headings, between lines above and below. */
export const down =
  ({ above = [], below = () => [] } = {}) =>
  (rows) => {
    const headings = headingsOf(rows);
    return [
      ...said(...above, headings),
      ...rows.map((row) => rowLine(row, headings)),
      ...said(...below(rows, headings)),
    ];
  };

/** Headings such as `Hip Add (kg)|L 1` take two lines, and the test is written over its first column only. */
export const twoHeadingLines = () => (rows) => {
  const headings = headingsOf(rows);
  const parts = headings.map((heading) => heading.split('|'));
  const upper = parts.map(([test], at) => (test === parts[at - 1]?.[0] ? '' : test));
  return [
    ...said(
      upper,
      parts.map(([, qualifier]) => qualifier ?? ''),
    ),
    ...rows.map((row) => rowLine(row, headings)),
  ];
};

/** Athletes across the columns. */
export const across =
  ({ above = [] } = {}) =>
  (rows) =>
    said(...above, ...headingsOf(rows).map((heading) => [heading, ...rows.map((row) => row.cells[heading])]));

/** The name of each team over its rows, and the headings again. */
export const teamBlocks =
  ({ above = [], teamOf }) =>
  (rows) => {
    const headings = headingsOf(rows);
    const teams = [...new Set(rows.map(teamOf))];
    return [
      ...said(...above),
      ...teams.flatMap((team) => [
        ...said([team], headings),
        ...rows.filter((row) => teamOf(row) === team).map((row) => rowLine(row, headings)),
        ...said([]),
      ]),
    ];
  };

/** A page header and the headings again where the printer broke the page. */
export const pages =
  ({ above = [], title, rowsAPage }) =>
  (rows) => {
    const headings = headingsOf(rows);
    const count = Math.ceil(rows.length / rowsAPage);
    return [
      ...said(...above),
      ...Array.from({ length: count }, (_, page) => [
        ...said([title, '', '', `Page ${page + 1} of ${count}`], headings),
        ...rows.slice(page * rowsAPage, (page + 1) * rowsAPage).map((row) => rowLine(row, headings)),
      ]).flat(),
    ];
  };

/** Two tables with a blank column between; `rows` has those of both, `isRight` tells them apart. */
export const sideBySide =
  ({ above = [], isRight }) =>
  (rows) => {
    const left = rows.filter((row) => !isRight(row));
    const right = rows.filter(isRight);
    const [headingsLeft, headingsRight] = [headingsOf(left), headingsOf(right)];
    const lines = said(...above, [...headingsLeft, '', ...headingsRight]);
    for (let index = 0; index < Math.max(left.length, right.length); index++) {
      const one = left[index] ? rowLine(left[index], headingsLeft) : { cells: blanks(headingsLeft.length) };
      const other = right[index]
        ? rowLine(right[index], headingsRight, headingsLeft.length + 1)
        : { cells: blanks(headingsLeft.length + 1 + headingsRight.length) };
      lines.push({
        cells: [...one.cells, '', ...other.cells.slice(headingsLeft.length + 1)],
        places: [one, other].filter((line) => line.row !== undefined),
      });
    }
    return lines;
  };

/** Averages and standard deviations below the rows, as a spreadsheet shows them. */
export function summaries(rows, headings) {
  const numbers = (heading) =>
    rows.map((row) => Number(row.cells[heading] || Number.NaN)).filter((number) => !Number.isNaN(number));
  const mean = (values) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const sd = (values) => {
    const middle = mean(values);
    return Math.sqrt(values.reduce((sum, value) => sum + (value - middle) * (value - middle), 0) / (values.length - 1));
  };
  const line = (label, work) => [
    label,
    ...headings.slice(1).map((heading) => {
      const values = numbers(heading);
      return values.length < 2 ? '' : work(values).toFixed(1);
    }),
  ];
  return [line('Average', mean), line('SD', sd)];
}
