/**
 * How well airflow is measured. First what the rules and a sweep make of fields whose integral is known;
 * then how often the interval of each method holds the true flow, and how wide it is, over outlets,
 * buckets and heaters drawn at random. `--rounds N`: N hundred outlets instead of ten.
 */
import type { AirflowResult } from '../../server/protocol.ts';
import { condensateTrial, heatTrial } from './airflow-air.ts';
import { ductError, FIELDS, HEAD_M, ruleError, sweepError } from './airflow-fields.ts';
import { FORMS, type OutletTrial, outletTrial } from './airflow-outlets.ts';
import { aligned } from './harness.ts';

/** Works it out and prints the tables. */
export function print(rounds = 10): void {
  fields();
  traverses(100 * rounds);
  others(50 * rounds);
}

const signed = (x: number): string => {
  const figure = Math.abs(100 * x).toFixed(1);
  if (figure === '0.0') return figure;
  return `${x < 0 ? '−' : '+'}${figure}`;
};
const pct = (x: number): string => (100 * x).toFixed(1);
const EQUAL_AREA = [3, 4, 5, 6, 8] as const;
const TCHEBYCHEFF = [5, 6, 7] as const;

function fields(): void {
  const rules = [
    ...EQUAL_AREA.map((n) => ['equal-area', n] as const),
    ...TCHEBYCHEFF.map((n) => ['log-tchebycheff', n] as const),
  ];
  const rows = [
    [
      'error, %',
      ...rules.map(([rule, n]) => `${rule === 'equal-area' ? 'EA' : 'LT'} ${n}`),
      'sweep',
      'after end rule',
    ],
  ];
  for (const [name, shape] of FIELDS) {
    const { plain, ruled } = sweepError(shape);
    const each = rules.map(([rule, n]) => ruleError(shape, rule, n));
    rows.push([name, ...[...each, plain, ruled].map(signed)]);
  }
  const duct = rules.map(([rule, n]) => signed(ductError(rule, n)));
  rows.push(['1/7 power, n × n', ...duct, '', '']);
  console.log(aligned(rows));
  console.log(
    `\nEA equal area, LT log-Tchebycheff, by points along a slot of 800 mm, each read by a thin head; a sweep` +
      `\nwith a head of ${1000 * HEAD_M} mm that is moved evenly. A jet is 10 times (the last: once) as fast again` +
      '\nas the air around it.\n',
  );
}

/** A measured flow against the true one. */
interface Outcome {
  error: number;
  u95: number;
}

const outcome = ({ flowM3s, u95M3s }: AirflowResult, trueM3s: number): Outcome => ({
  error: flowM3s / trueM3s - 1,
  u95: u95M3s / trueM3s,
});

function row(name: string, all: readonly Outcome[]): string[] {
  const mean = (of: (x: Outcome) => number): number =>
    all.reduce((sum, x) => sum + of(x), 0) / all.length;
  const bias = mean((x) => x.error);
  const sd = Math.sqrt(mean((x) => (x.error - bias) ** 2));
  const holds = mean((x) => (Math.abs(x.error) <= x.u95 ? 1 : 0));
  return [name, String(all.length), pct(holds), signed(bias), pct(sd), pct(mean((x) => x.u95))];
}
const HEADS = ['n', 'holds, %', 'mean error, %', 'sd, %', 'mean ±, %'];

const METHODS: readonly (readonly [string, (t: OutletTrial) => AirflowResult | undefined])[] = [
  ['one sweep', (t) => t.sweeps[0]],
  ['two sweeps', (t) => t.sweeps[1]],
  ['three sweeps', (t) => t.sweeps[2]],
  ['grid, equal area', (t) => t.grid],
  ['grid, log-Tchebycheff', (t) => t.tchebycheff],
];

const PARTS: readonly (readonly [string, (t: OutletTrial) => boolean])[] = [
  ['all', () => true],
  ...FORMS.map((form) => [form, (t: OutletTrial) => t.form === form] as const),
  ['vanes', (t) => t.headM > 0.02],
  ['thermal', (t) => t.headM < 0.02],
  ['thin air, below 1.05', (t) => t.densityKgM3 < 1.05],
  ['jets', (t) => t.isJet],
  ['no jets', (t) => !t.isJet],
  ['a support', (t) => t.hasSupport],
  ['1 Hz', (t) => t.intervalS === 1],
];

function traverses(count: number): void {
  const trials = Array.from({ length: count }, (_, seed) => outletTrial(seed));
  for (const [method, resultOf] of METHODS) {
    const rows = [[method, ...HEADS]];
    for (const [name, isOf] of PARTS) {
      const all = trials.filter(isOf).flatMap((trial) => {
        const result = resultOf(trial);
        return result === undefined ? [] : [outcome(result, trial.flowM3s)];
      });
      rows.push(row(name, all));
    }
    console.log(`${aligned(rows)}\n`);
  }
}

function others(count: number): void {
  const rows = [['other methods', ...HEADS]];
  for (const [name, trial] of [
    ['condensate, no check', (seed: number) => condensateTrial(seed, false)],
    ['condensate, check', (seed: number) => condensateTrial(seed, true)],
    ['known heat', heatTrial],
  ] as const) {
    const trials = Array.from({ length: count }, (_, seed) => trial(seed)).filter(
      (t) => t !== null,
    );
    const of = (is: (changes: boolean) => boolean): Outcome[] =>
      trials.filter((t) => is(t.changes)).map((t) => outcome(t.result, t.flowM3s));
    rows.push(
      row(
        name,
        of(() => true),
      ),
    );
    rows.push(
      row(
        '  constant errors',
        of((changes) => !changes),
      ),
    );
    rows.push(
      row(
        '  changing errors',
        of((changes) => changes),
      ),
    );
  }
  console.log(aligned(rows));
  console.log(
    '\nholds: those whose 95 % interval holds the true flow, aim 93 to 98 %. Outlets: random geometry, field,' +
      '\nair (0 to 2000 m, 12 to 48 °C), hand and rhythm, and instrument, free area and rule wrong within their limits; bucket and heater: even' +
      '\nair, probes of ± 0.5 K and 2.5 % RH whose error is constant or changes with what they measure.',
  );
}
