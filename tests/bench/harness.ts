/**
 * A benchmark is a set of contestants that are measured in turns: round after round, each once a round
 * and in changing order, so that whatever slows the machine for a while slows them all. Said of each:
 * the median and the range over the rounds; of two: the median of their ratios within a round.
 * Nothing here passes or fails: a figure is read by people.
 */

/** One thing that is measured. */
export interface Contestant {
  name: string;
  /** Runs once and returns the figure, in the benchmark's unit. */
  run(): number | Promise<number>;
}

/** What `NAME.bench.ts` exports as `benchmark`. */
export interface Benchmark {
  title: string;
  /** Of the figures, e.g. `states/s` or `ms`. */
  unit: string;
  /** Nine where it is left out. */
  rounds?: number;
  contestants: Contestant[];
  /** Ratios wanted, by the contestants' names; `aim` as a person would say it, e.g. `≥ 10`. */
  ratios?: { of: string; to: string; aim?: string }[];
}

/** Median and range of what was measured. */
export interface Spread {
  median: number;
  low: number;
  high: number;
}

export interface Result {
  figures: { name: string; spread: Spread }[];
  ratios: { name: string; aim: string; spread: Spread }[];
}

const DEFAULT_ROUNDS = 9;

/** Milliseconds that `work` takes. */
export function millisecondsOf(work: () => void): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}

/** Median, lowest and highest of at least one value. */
export function spreadOf(values: readonly number[]): Spread {
  const sorted = values.toSorted((a, b) => a - b);
  const at = (i: number): number => {
    const value = sorted[i];
    if (value === undefined) throw new RangeError('There is no spread of no values.');
    return value;
  };
  const last = sorted.length - 1;
  const median = (at(Math.floor(last / 2)) + at(Math.ceil(last / 2))) / 2;
  return { median, low: at(0), high: at(last) };
}

/** Runs a benchmark: one round to warm up, which does not count, then the rounds. */
export async function measure(benchmark: Benchmark, rounds?: number): Promise<Result> {
  const { contestants } = benchmark;
  const count = rounds ?? benchmark.rounds ?? DEFAULT_ROUNDS;
  const figures = new Map<string, number[]>(contestants.map(({ name }) => [name, []]));
  for (let round = -1; round < count; round++) {
    for (let i = 0; i < contestants.length; i++) {
      const contestant = contestants[(i + Math.max(round, 0)) % contestants.length];
      if (contestant === undefined) continue;
      const figure = await contestant.run();
      if (round >= 0) figures.get(contestant.name)?.push(figure);
    }
  }
  const of = (name: string): number[] => {
    const values = figures.get(name);
    if (values === undefined) throw new RangeError(`${benchmark.title}: no contestant ${name}.`);
    return values;
  };
  return {
    figures: contestants.map(({ name }) => ({ name, spread: spreadOf(of(name)) })),
    ratios: (benchmark.ratios ?? []).map((ratio) => {
      const below = of(ratio.to);
      const perRound = of(ratio.of).map((value, i) => value / (below[i] ?? Number.NaN));
      return {
        name: `${ratio.of} ÷ ${ratio.to}`,
        aim: ratio.aim ?? '',
        spread: spreadOf(perRound),
      };
    }),
  };
}

/** The result as a table for a terminal. */
export function table(benchmark: Benchmark, result: Result): string {
  const rows = [
    [benchmark.title, `median, ${benchmark.unit}`, 'min – max', ''],
    ...result.figures.map((f) => [f.name, ...cells(f.spread), '']),
    ...result.ratios.map((r) => [r.name, ...cells(r.spread), r.aim && `aim ${r.aim}`]),
  ];
  return aligned(rows);
}

/** Rows of cells in columns, the first to the left, the others to the right. */
export function aligned(rows: readonly (readonly string[])[]): string {
  const width = (column: number): number =>
    Math.max(...rows.map((row) => row[column]?.length ?? 0));
  return rows
    .map((row) => row.map((cell, i) => (i === 0 ? cell.padEnd(width(i)) : cell.padStart(width(i)))))
    .map((row) => row.join('  ').trimEnd())
    .join('\n');
}

function cells({ median, low, high }: Spread): [median: string, range: string] {
  return [readable(median), `${readable(low)} – ${readable(high)}`];
}

/** Three digits where there are few, whole numbers with a thin space between thousands else. */
function readable(value: number): string {
  if (Math.abs(value) < 1000) return String(Number(value.toPrecision(3)));
  return Math.round(value)
    .toString()
    .replaceAll(/\B(?=(\d{3})+$)/g, ' ');
}
