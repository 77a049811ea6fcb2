import type { Observations } from '../tables/schemas.ts';

/** How many readings of each sheet belong to which season: a year mistyped by one looks like a season of its own. */
export class SeasonsOfSheets {
  readonly #counts = new Map<string, Map<number, number>>();

  add({ columns, length }: Observations): void {
    let start = 0;
    for (let row = 1; row <= length; row++) {
      const isSame =
        row < length &&
        columns.file.codes[row] === columns.file.codes[start] &&
        columns.season.values[row] === columns.season.values[start];
      if (isSame) continue;
      this.#count(columns.file.get(start) ?? '', columns.season.values[start], row - start);
      start = row;
    }
  }

  #count(file: string, season: number, readings: number): void {
    const seasons = this.#counts.get(file) ?? new Map<number, number>();
    this.#counts.set(file, seasons);
    seasons.set(season, (seasons.get(season) ?? 0) + readings);
  }

  /** One sentence a sheet whose days lie in more than one season. */
  *notes(): Generator<string> {
    for (const [file, seasons] of this.#counts) {
      if (seasons.size < 2) continue;
      const [[most], ...others] = [...seasons].sort((a, b) => b[1] - a[1]);
      const rest = others.map(([season, readings]) => `${readings} of season ${season}`).join(', ');
      yield `${file}: beside readings of season ${most} it holds ${rest}: look for a mistyped year`;
    }
  }
}
