/**
 * Tables for spreadsheets and scripts: comma-separated as in RFC 4180, decimal points, SI with the unit in
 * the header. Text that a spreadsheet would take for a formula gets an apostrophe before it; numbers stay
 * numbers.
 */
import type { Line } from '../../adapters/contract.ts';
import type { OldVisit } from '../protocol.ts';

type Cell = string | number | null | undefined;

/** Text is pieced together to so many characters. */
const PIECE = 1 << 16;
/** What begins a formula, also behind spaces. */
const FORMULA = /^\s*[=+\-@\t\r]/;

/** One row with its line end. */
export function csvRow(cells: readonly Cell[]): string {
  return `${cells.map(csvCell).join(',')}\r\n`;
}

function csvCell(cell: Cell): string {
  if (cell === null || cell === undefined) return '';
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : '';
  const safe = FORMULA.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

const time = (t: number): string => new Date(t).toISOString();
const yesNo = (is: boolean): string => (is ? 'yes' : 'no');
/** Watts to a tenth: far below what any interval is. */
const watts = (w: number | null): number | null => (w === null ? null : Number(w.toFixed(1)));

/** The captures of a visit, one a row, those that were struck out as well. */
export function capturesCsv({ captures, unitDetails, id }: OldVisit): string {
  const head = csvRow([
    ...['visit', 'unit', 'unit_name', 'from', 'to', 'duration_s', 'mode', 'state', 'cycles'],
    ...['total_W', 'total_U95_W', 'sensible_W', 'sensible_U95_W', 'latent_W', 'latent_U95_W'],
    ...['made_by', 'struck_out', 'why_struck_out', 'note', 'simulated'],
  ]);
  const rows = captures.map((c) =>
    csvRow([
      ...[id, c.unit, unitDetails[c.unit]?.name ?? '', time(c.from), time(c.to)],
      (c.to - c.from) / 1000,
      ...[c.latentW === null ? 'heating' : 'cooling', c.state, c.cycles],
      ...[c.totalW, c.totalU95W, c.sensibleW, c.sensibleU95W, c.latentW, c.latentU95W].map(watts),
      ...[c.by, yesNo(c.struck !== undefined), c.struck?.text ?? '', c.note ?? ''],
      yesNo(c.simulated),
    ]),
  );
  return head + rows.join('');
}

/**
 * Every reading of a visit in the order in which it was taken, in pieces of text.
 * @param simulated whether the visit has made-up readings: then every row says so
 */
export function* readingsCsv(lines: Iterable<Line>, simulated: boolean): Generator<string> {
  let piece = csvRow([
    ...['time', 'probe', 'probe_name', 'unit', 'place', 'temperature_C', 'humidity_pct'],
    ...['dew_point_C', 'velocity_m_s', 'pressure_Pa', 'power_W', 'battery_pct', 'simulated'],
  ]);
  const probes = new Map<string, { name: string; unit: string; place: string }>();
  const mark = yesNo(simulated);
  for (const line of lines) {
    if (line.type === 'probe') {
      const known = probes.get(line.id) ?? { name: line.id, unit: '', place: '' };
      probes.set(line.id, {
        name: line.name ?? known.name,
        unit: line.unit === undefined ? known.unit : (line.unit ?? ''),
        place: line.place === undefined ? known.place : (line.place ?? ''),
      });
    }
    if (line.type !== 'reading') continue;
    const { name = line.probe, unit = '', place = '' } = probes.get(line.probe) ?? {};
    piece += csvRow([
      ...[time(line.t), line.probe, name, unit, place, line.temperatureC, line.humidityPct],
      ...[line.dewPointC, line.velocityMs, line.pressurePa, line.powerW, line.batteryPct, mark],
    ]);
    if (piece.length < PIECE) continue;
    yield piece;
    piece = '';
  }
  yield piece;
}
