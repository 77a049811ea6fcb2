/** Whether a cell holds more than blanks. */
export function isFilled(cell: string | undefined): boolean {
  if (cell === undefined || cell === '') return false;
  const first = cell.charCodeAt(0);
  return (first > 32 && first < 127) || cell.trim() !== '';
}

/** The cell without blanks around it; most cells have none, and looking is cheaper than trimming. */
export function trimmed(cell: string): string {
  if (cell === '') return cell;
  const first = cell.charCodeAt(0);
  const last = cell.charCodeAt(cell.length - 1);
  return first > 32 && first < 127 && last > 32 && last < 127 ? cell : cell.trim();
}
