/** What stands of each trainee in a table. */

/** A cell: what it is of, and what it says, line by line. */
export interface Cell {
  of: string;
  lines: string[];
  steady?: boolean;
}
export interface Row {
  id: string;
  name: string;
  cells: Cell[];
}
