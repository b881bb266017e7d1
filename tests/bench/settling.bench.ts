/**
 * How good settling is: visits of many kinds through the session, second by second against the truth.
 * Three sets of visits from two makers that share nothing but moist air: `curves` (settling/curve-visit.ts),
 * where plateau and time constants are exact; `hover`, the same with machines that hover and ordinary
 * probes (settling/hover-kinds.ts); and `simulator`.
 *
 * `npm run bench -- settling`; `--rounds 1` for the quick set: one visit of each kind. By environment:
 * - `SETTLING_ONLY=ramp,spikes`: only these kinds; also `curves`, `hover` or `simulator` for a whole set.
 * - `SETTLING_SEED=1000`: other visits of the same kinds, to see what was tuned to the first ones. `hover`
 *   prints both: the seeds from there on, and apart from them others.
 * - `SETTLING_DUMP=curves/ramp/3`: that visit as CSV instead (its name as in the list of the worst).
 */
import { bestJudge } from './settling/best-judge.ts';
import { CURVE_KINDS, type Kind } from './settling/curve-kinds.ts';
import { csvOf } from './settling/dump.ts';
import { figuresOf } from './settling/figures.ts';
import { HOVER_KINDS } from './settling/hover-kinds.ts';
import { aimsOf, HOVER_TABLES, TABLES, tableOf, worstOf } from './settling/report.ts';
import { SIMULATED_KINDS } from './settling/simulated-kinds.ts';
import { addTally, emptyTally, type Tally } from './settling/tally.ts';
import type { Visit } from './settling/visit.ts';
import { type Watch, watch } from './settling/watch.ts';

interface Source {
  name: string;
  kinds: readonly Kind[];
  tables: typeof TABLES;
  /** Whether its visits are played once more from seeds that nobody has looked at. */
  heldOut: boolean;
}

const SOURCES: readonly Source[] = [
  { name: 'curves', kinds: CURVE_KINDS, tables: TABLES, heldOut: false },
  { name: 'hover', kinds: HOVER_KINDS, tables: HOVER_TABLES, heldOut: true },
  { name: 'simulator', kinds: SIMULATED_KINDS, tables: TABLES, heldOut: false },
];
const HELD_OUT = 500_000;
const WORST = 2;
const LEGEND = `
wrong: of the steady seconds, those with the truth more than 3 % and 60 W off its plateau. median, 90 %,
never: from truly settled (within 2 % and staying) to called steady. kept: of the seconds after that, those
still called so. cycling?: called so where nothing cycles. 5 % at n: forecast then within 5 % of the final
measured value, n times the truth's 63.2 % time after its dead time ("+ lag": and the probes' mean lag after
that; "with lag": n times the sum of both; "larger": of the larger time constant of a second order); a
steady mean counts as a forecast. itself: the measured value within 5 % at 2.5. flaps: how often an offer
went and came again, a segment. moves/s: median and 95 % of its change in a second. period: error, median.
hold: mean over visits. latent: measured less true, less the same at the segment's end, ÷ plateau; beyond:
more than its interval; doubted: of these. (kinds in brackets) are in no total.
Flat stretches: from their third minute to their end; changes: of state, less the first call. first call:
of visits that begin flat. cycling?: of visits. false: of the steady seconds, those in which the level's mean
since it is steady is more than 2 % and 40 W from that of the next ten minutes; with hover: that of the
capacity itself. hold level: captures whose interval holds the mean of the level; ±: its half-width, median.`;

interface Row {
  name: string;
  tally: Tally;
}

/** Plays the visits of kinds. @returns a row each kind, or each group that its visits are in; the total */
function rowsOf(
  kinds: readonly Kind[],
  rounds: number | undefined,
  seed: number,
  judge: (visit: Visit) => Watch = watch,
): { rows: Row[]; total: Tally } {
  const rows = new Map<string, Tally>();
  const total = emptyTally();
  for (const { name, visits, make, aside, groups } of kinds) {
    for (let i = 0; i < (rounds ?? visits); i++) {
      const visit = make(seed + i);
      const one = figuresOf(visit, judge(visit));
      for (const group of groups?.(seed + i) ?? [aside === true ? `(${name})` : name]) {
        const tally = rows.get(group) ?? emptyTally();
        rows.set(group, tally);
        addTally(tally, one);
      }
      if (aside !== true) addTally(total, one);
    }
  }
  return {
    rows: [...rows].map(([name, tally]) => ({ name, tally })).sort(byName(kinds)),
    total,
  };
}

/** Kinds in their own order; groups of them by name. */
function byName(kinds: readonly Kind[]): (a: Row, b: Row) => number {
  const grouped = kinds.some(({ groups }) => groups !== undefined);
  return (a, b) => (grouped ? a.name.localeCompare(b.name, 'en', { numeric: true }) : 0);
}

function dump(name: string): void {
  const [source, kind, seed] = name.split('/');
  const found = SOURCES.find((s) => s.name === source)?.kinds.find((k) => k.name === kind);
  if (found === undefined || !Number.isInteger(Number(seed))) {
    throw new Error(`SETTLING_DUMP is ${name}; it takes a visit such as curves/ramp/3.`);
  }
  const visit = found.make(Number(seed));
  console.log(csvOf(visit, watch(visit)));
}

/** Works it out and prints the tables. */
export function print(rounds?: number): void {
  const { SETTLING_DUMP, SETTLING_ONLY, SETTLING_SEED } = process.env;
  if (SETTLING_DUMP !== undefined) {
    dump(SETTLING_DUMP);
    return;
  }
  const only = SETTLING_ONLY?.split(',') ?? null;
  const seed = Number(SETTLING_SEED ?? 0);
  const totals: Row[] = [];
  for (const { name: source, kinds: all, tables, heldOut } of SOURCES) {
    const kinds = all.filter(
      ({ name }) => only === null || only.includes(name) || only.includes(source),
    );
    if (kinds.length === 0) continue;
    const { rows, total } = rowsOf(kinds, rounds, seed);
    const labelled = [...rows, { name: 'over all', tally: total }];
    totals.push({ name: source, tally: total });
    if (heldOut) {
      const other = { name: 'held out', tally: rowsOf(kinds, rounds, seed + HELD_OUT).total };
      labelled.push(other);
      totals.push({ ...other, name: `${source}, held out` });
    }
    for (const { title, columns } of tables) {
      console.log(`${tableOf(`${source}: ${title}`, columns, labelled)}\n`);
    }
    if (heldOut) {
      // It knows nothing of cycles.
      const still = kinds.filter(({ name }) => !name.startsWith('cycles'));
      const limit = rowsOf(still, rounds, seed, bestJudge);
      totals.push({ name: 'the limit', tally: limit.total });
      for (const { title, columns } of tables) {
        console.log(`${tableOf(`the limit: ${title}`, columns, limit.rows)}\n`);
      }
    }
    console.log(`${worstOf(rows, WORST)}\n`);
  }
  console.log(aimsOf(totals));
  console.log(LEGEND);
}
