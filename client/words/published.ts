/**
 * What a maker publishes, as it is pasted from a spreadsheet or typed. Either a table (outdoor
 * temperatures in the first row, the indoor condition at the left of each line), or a line for each
 * figure: "rated 95 80/67 12000", with its outdoor temperature, indoor condition and capacity.
 */
import type { PublishedState } from '../../server/protocol.ts';
import { readNumber, startText } from './entry.ts';
import { FACTOR, PERCENT, type Scale, type Scales, WATTS } from './scales.ts';
import { t } from '../../server/words/language.ts';
import { written } from './figures.ts';

type Mode = PublishedState['mode'];
export type Point = PublishedState['points'][number];
export type ReadPublished =
  | { points: Point[]; refusal: null; layout: 'table' | 'list'; thousands: boolean }
  | { points: null; refusal: string };
type Refused = Extract<ReadPublished, { points: null }>;

const refuse = (refusal: string): Refused => ({ points: null, refusal });

/** What stands for no figure in a printed table. */
const BLANK = /^(?:[-–—.]+|n\/?a)?$/i;
const WORDS: Record<string, Point['speed']> = {
  ...{ min: 'minimum', minimum: 'minimum', rated: 'rated', nominal: 'rated' },
  ...{ max: 'maximum', maximum: 'maximum' },
  // In each language of the page: tables come from anywhere.
  ...{ mín: 'minimum', mínimo: 'minimum', mínima: 'minimum', minimo: 'minimum', minima: 'minimum' },
  ...{ máx: 'maximum', máximo: 'maximum', máxima: 'maximum', maximo: 'maximum', maxima: 'maximum' },
};
/** Indoor dry bulb of a table that prints the wet bulb alone, °C; and usual indoors in heating. */
const USUAL_INDOOR_C = { cooling: 26.67, heating: 21.11 } as const;
/** Capacities that can be right, W. */
const LEAST_W = 100;
const MOST_W = 200_000;
/** In Btu/h nobody prints a capacity so low: those are thousands. */
const THOUSANDS_BELOW = 300;

/** The figures that most makers print, without the capacity: cooling, heating; °C outdoors, indoors. */
const USUAL = {
  cooling: {
    C: ['35 27/19', '30 27/19', '25 27/19', '20 27/19'],
    F: ['95 80/67', '82 80/67'],
  },
  heating: {
    C: ['12 20', '7 20', '2 20', '-7 20'],
    F: ['47 70', '17 70', '5 70'],
  },
} as const;

/** The lines to fill in for the points at which makers usually publish. */
export function usualLines(mode: Mode, { temperature }: Scales): string {
  const points = USUAL[mode][temperature.sign === '°F' ? 'F' : 'C'];
  return points
    .flatMap((point, i) => {
      const speeds = i === 0 ? [t`rated`, t`maximum`] : [t`maximum`];
      return speeds.map((speed) => `${speed} ${point} `);
    })
    .join('\n');
}

/** Reads it. `speed` is what the figures of a table are, and of lines that do not say. */
export function readPublished(
  text: string,
  mode: Mode,
  speed: Point['speed'],
  scales: Scales,
): ReadPublished {
  const rows = text.split(/\r?\n/).map(cellsOf);
  const filled = rows
    .map((cells, i) => ({ cells, n: i + 1 }))
    .filter(({ cells }) => cells.length > 0);
  const [first] = filled;
  if (first === undefined) return refuse(t`The figures: nothing is entered.`);
  const isTable = first.cells.length > 2 && !isPoint(first.cells);
  const read = isTable
    ? readTable(filled, mode, speed, scales)
    : readList(filled, mode, speed, scales);
  if ('refusal' in read) return read;
  if (read.length === 0) return refuse(t`The figures: there is no capacity among them.`);
  if (read.every((point) => point.speed === 'minimum')) {
    return refuse(
      t`The figures: all are minimum outputs. Enter rated or maximum ones: those count.`,
    );
  }
  const shown = read.map(({ shownPower }) => shownPower);
  const thousands = scales.power.sign === 'Btu/h' && Math.max(...shown) < THOUSANDS_BELOW;
  const points: Point[] = [];
  for (const { where, shownPower, ...point } of read) {
    const totalW = scales.power.read(thousands ? 1000 * shownPower : shownPower);
    if (!(totalW >= LEAST_W && totalW <= MOST_W)) {
      return refuse(
        t`The figures, ${where}: a capacity cannot be ${shownPower}. Enter it in ${scales.power.sign}.`,
      );
    }
    points.push({ ...point, totalW });
  }
  return { points, refusal: null, layout: isTable ? 'table' : 'list', thousands };
}

/** A figure as it was read, with where it stands. */
type Raw = Omit<Point, 'totalW'> & { where: string; shownPower: number };
interface Line {
  cells: string[];
  n: number;
}

/** Cells are apart by tabs or semicolons, else by spaces. An empty cell between tabs stays one. */
function cellsOf(line: string): string[] {
  if (line.trim() === '') return [];
  const apart = /[\t;]/.test(line)
    ? line.replace(/\r$/, '').split(/[\t;]/)
    : line.trim().split(/\s+/);
  const cells = apart.map((cell) => cell.trim());
  while (cells.length > 0 && cells.at(-1) === '') cells.pop();
  return cells;
}

/** A line of a list: it begins with what kind of figure it is, or has three cells and an indoor pair. */
const isPoint = (cells: readonly string[]): boolean =>
  wordOf(cells[0]) !== null || (cells.length === 3 && (cells[1] ?? '').includes('/'));

const wordOf = (cell = ''): Point['speed'] | null =>
  WORDS[cell.toLowerCase().replace(/[:.]$/, '')] ?? null;

/** "80/67": dry and wet bulb; "67": in cooling the wet bulb, in heating the dry bulb. */
function indoorOf(
  cell: string,
  mode: Mode,
  temperature: Scale,
): Omit<Raw, 'speed' | 'where' | 'shownPower' | 'outdoorC'> | null {
  const [dry, wet, more] = cell.split('/').map(readNumber);
  if (dry === null || dry === undefined || wet === null || more !== undefined) return null;
  const dryC = temperature.read(dry);
  if (mode === 'heating') return { indoorC: dryC };
  if (wet === undefined) return { indoorC: USUAL_INDOOR_C.cooling, indoorWetBulbC: dryC };
  return { indoorC: dryC, indoorWetBulbC: temperature.read(wet) };
}

function readTable(
  lines: readonly Line[],
  mode: Mode,
  speed: Point['speed'],
  { temperature }: Scales,
): Raw[] | Refused {
  const [head, ...rest] = lines;
  const outdoors = (head?.cells ?? []).slice(1).map(numberIn);
  const bad = outdoors.findIndex((t) => t === null);
  if (head === undefined || bad >= 0) {
    return refuse(
      t`The figures, line ${head?.n ?? 1}, column ${bad + 2}: “${head?.cells[bad + 1] ?? ''}” is not an outdoor temperature.`,
    );
  }
  const found: Raw[] = [];
  for (const { cells, n } of rest) {
    const [label = '', ...figures] = cells;
    const indoor = indoorOf(label.replace(/[^\d.,/−-]/g, ''), mode, temperature);
    if (indoor === null) {
      return refuse(
        t`The figures, line ${n}, column 1: “${label}” is not an indoor temperature, as “67” or “80/67”.`,
      );
    }
    if (figures.length > outdoors.length) {
      return refuse(
        t`The figures, line ${n}: there are ${figures.length} capacities for ${outdoors.length} outdoor temperatures.`,
      );
    }
    for (const [i, figure] of figures.entries()) {
      if (BLANK.test(figure)) continue;
      const shownPower = readNumber(figure);
      const outdoor = outdoors[i];
      if (shownPower === null || outdoor === null || outdoor === undefined) {
        return refuse(t`The figures, line ${n}, column ${i + 2}: “${figure}” is not a capacity.`);
      }
      const where = t`line ${n}, column ${i + 2}`;
      found.push({ speed, outdoorC: temperature.read(outdoor), ...indoor, where, shownPower });
    }
  }
  return found;
}

/** A number with its sign or unit beside it: "95°F". */
const numberIn = (cell: string): number | null => readNumber(cell.replace(/[^\d.,−-]/g, ''));

function readList(
  lines: readonly Line[],
  mode: Mode,
  usual: Point['speed'],
  { temperature }: Scales,
): Raw[] | Refused {
  const found: Raw[] = [];
  for (const { cells, n } of lines) {
    const word = wordOf(cells[0]);
    const [outdoor = '', indoor = '', figure = '', power, more] =
      word === null ? cells : cells.slice(1);
    // A line of the usual points that nobody filled in.
    if (figure === '' && indoor !== '') continue;
    const outdoorShown = readNumber(outdoor);
    const inside = indoorOf(indoor, mode, temperature);
    const shownPower = readNumber(figure);
    const powerW = power === undefined ? undefined : readNumber(power);
    const isRead = outdoorShown !== null && inside !== null && shownPower !== null;
    if (!isRead || powerW === null || more !== undefined) {
      return refuse(
        t`The figures, line ${n}: “${cells.join(' ')}” is not an outdoor temperature, an indoor one and a capacity, as “${t`rated`} ${temperature.sign === '°F' ? '95 80/67 12000' : `35 27/19 ${written(3.5, 0.1)}`}”.`,
      );
    }
    found.push({
      ...{ speed: word ?? usual, outdoorC: temperature.read(outdoorShown), ...inside },
      ...{ where: t`line ${n}`, shownPower },
      ...(powerW === undefined ? {} : { powerW }),
    });
  }
  return found;
}

/** What a figure is of, where it stands beside it. */
export const LINE_WORDS: Record<Point['speed'], string> = {
  ...{ minimum: t`minimum`, rated: t`rated`, maximum: t`maximum` },
};

/** The lines that a form starts with. */
export function publishedText(points: readonly Point[], mode: Mode, scales: Scales): string {
  const { temperature, power } = scales;
  return points
    .map(({ speed, outdoorC, indoorC, indoorWetBulbC, totalW, powerW }) => {
      const dry = startText(indoorC, temperature);
      const indoor =
        mode === 'heating' || indoorWetBulbC === undefined
          ? dry
          : `${dry}/${startText(indoorWetBulbC, temperature)}`;
      const figures = [startText(totalW, power), ...(powerW === undefined ? [] : [powerW])];
      return [LINE_WORDS[speed], startText(outdoorC, temperature), indoor, ...figures].join(' ');
    })
    .join('\n');
}

/** A nominal capacity alone is at rating conditions. */
export const nominalPoint = (mode: Mode, totalW: number): Point =>
  mode === 'cooling'
    ? { speed: 'rated', outdoorC: 35, indoorC: 26.67, indoorWetBulbC: 19.44, totalW }
    : { speed: 'rated', outdoorC: 8.33, indoorC: 21.11, totalW };

/** What a figure is of, in words. */
export const SPEED_WORDS: Record<Point['speed'], string> = {
  maximum: t`maximum: all it gives`,
  rated: t`rated`,
  minimum: t`minimum`,
};

export const indoorWords = (mode: Mode): string =>
  mode === 'cooling' ? t`Wet bulb indoors` : t`Indoors`;

/** The number fields of the form. */
export const FIELDS = {
  fanW: { name: t`The power of the fan`, scale: WATTS, least: 0, most: 2000 },
  limitPct: { name: t`The accuracy`, scale: PERCENT, least: 0, most: 50 },
  limit: { name: t`What it has to reach`, scale: PERCENT, least: 10, most: 150 },
  lineFactor: { name: t`The factor for the lines`, scale: FACTOR, least: 0.3, most: 1.1 },
} as const;

/** What the form says. */
export const LABELS = {
  title: t`What the maker publishes`,
  mode: t`For`,
  figures: t`The figures, as they are printed`,
  /** What they are called in a sentence. */
  called: t`The figures`,
  how: ({ temperature, power }: Scales): string =>
    t`Paste a table with outdoor temperatures in its first row and the indoor condition at the left, or enter a line for each figure: outdoors, indoors, capacity, and the power in W where it is printed. ${temperature.sign}, ${power.sign}; 80/67 is dry bulb and wet bulb. In cooling the wet bulb counts.`,
  usual: t`Start with the usual points`,
  speed: t`Figures without a word are`,
  readAs: t`Read as`,
  outdoors: t`Outdoors`,
  capacity: t`Capacity`,
  thousands: t`Read as thousands of Btu/h.`,
  fanHeat: t`The fan’s heat`,
  net: t`is taken into account (net)`,
  gross: t`is not (gross)`,
  fanW: t`Power of the fan, W`,
  noFanW: t`The power of the fan is missing. Gross figures need it.`,
  limitPct: t`Accuracy of the figures, ± %`,
  more: t`Limit, fan speed, lines`,
  limit: t`Part of it that the unit has to reach, %`,
  fan: t`Fan speed that the figures are for`,
  anyFan: t`not stated`,
  lineFactor: t`Factor for the length and height of the lines`,
  lineFactorWhy: t`The maker prints it in the same manual. Without it the lines count as short.`,
};
