/**
 * How good settling is: visits of many kinds through the session, second by second against the truth.
 * Two makers of visits that share nothing but moist air: `curves` (settling/curve-visit.ts), where
 * plateau and time constants are exact, and `simulator`.
 *
 * `npm run bench -- settling`; `--rounds 1` for the quick set: one visit of each kind. By environment:
 * - `SETTLING_ONLY=ramp,spikes`: only these kinds; also `curves` or `simulator` for all of one maker.
 * - `SETTLING_SEED=1000`: other visits of the same kinds, to see what was tuned to the first ones.
 * - `SETTLING_DUMP=curves/ramp/3`: that visit as CSV instead (its name as in the list of the worst).
 */
import { CURVE_KINDS, type Kind } from './settling/curve-kinds.ts';
import { csvOf } from './settling/dump.ts';
import { figuresOf } from './settling/figures.ts';
import { aimsOf, TABLES, tableOf, worstOf } from './settling/report.ts';
import { SIMULATED_KINDS } from './settling/simulated-kinds.ts';
import { addTally, emptyTally, type Tally } from './settling/tally.ts';
import { watch } from './settling/watch.ts';

const SOURCES: readonly { name: string; kinds: readonly Kind[] }[] = [
  { name: 'curves', kinds: CURVE_KINDS },
  { name: 'simulator', kinds: SIMULATED_KINDS },
];
const WORST = 2;
const LEGEND = `
wrong: of the steady seconds, those with the truth more than 3 % and 60 W off its plateau. median, 90 %,
never: from truly settled (within 2 % and staying) to called steady. kept: of the seconds after that, those
still called so. cycling?: called so where nothing cycles. 5 % at n: forecast then within 5 % of the final
measured value, n times the truth's 63.2 % time after its dead time ("+ lag": and the probes' mean lag after
that; "larger": of the larger time constant of a second order); a steady mean counts as a forecast. itself:
the measured value within 5 % at 2.5. flaps: how often an offer went and came again, a segment. moves/s:
median and 95 % of its change in a second. period: error, median. hold: mean over visits. latent: measured
less true, less the same at the segment's end, ÷ plateau; beyond: more than its interval; doubted: of these.
(kinds in brackets) are in no total.`;

interface Row {
  name: string;
  tally: Tally;
}

/** Plays the visits of a kind. */
function rowOf({ name, visits, make }: Kind, rounds: number | undefined, seed: number): Row {
  const tally = emptyTally();
  for (let i = 0; i < (rounds ?? visits); i++) {
    const visit = make(seed + i);
    addTally(tally, figuresOf(visit, watch(visit)));
  }
  return { name, tally };
}

function totalOf(kinds: readonly Kind[], rows: readonly Row[]): Row {
  const tally = emptyTally();
  kinds.forEach(({ aside }, k) => {
    const row = rows[k];
    if (aside !== true && row !== undefined) addTally(tally, row.tally);
  });
  return { name: 'over all', tally };
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
  for (const { name: source, kinds: all } of SOURCES) {
    const kinds = all.filter(
      ({ name }) => only === null || only.includes(name) || only.includes(source),
    );
    if (kinds.length === 0) continue;
    const rows = kinds.map((kind) => rowOf(kind, rounds, seed));
    const total = totalOf(kinds, rows);
    const labelled = [
      ...rows.map(({ name, tally }, k) => ({
        name: kinds[k]?.aside === true ? `(${name})` : name,
        tally,
      })),
      total,
    ];
    for (const { title, columns } of TABLES) {
      console.log(`${tableOf(`${source}: ${title}`, columns, labelled)}\n`);
    }
    console.log(`${worstOf(rows, WORST)}\n`);
    totals.push({ name: source, tally: total.tally });
  }
  console.log(aimsOf(totals));
  console.log(LEGEND);
}
