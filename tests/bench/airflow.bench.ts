/**
 * How well airflow is measured: what each rule and a sweep make of fields whose integral is known, and how
 * often the interval of each method holds the true flow, over outlets, bucket and heater drawn at random.
 * `--rounds N`: N hundred outlets instead of ten.
 */
import { type OutletTrial, outletTrial, FORMS } from './airflow-outlets.ts';
import { aligned } from './harness.ts';
import type { AirflowResult } from '../../server/protocol.ts';

/** Works it out and prints the tables. */
export function print(rounds = 10): void {
  traverses(100 * rounds);
}

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
  ['vane', (t) => t.headM > 0.02],
  ['thermal', (t) => t.headM < 0.02],
  ['jets', (t) => t.isJet],
  ['no jets', (t) => !t.isJet],
  ['support', (t) => t.hasSupport],
  ['1 Hz', (t) => t.intervalS === 1],
];

const pct = (x: number): string => `${(100 * x).toFixed(1)}`;

function traverses(count: number): void {
  const trials = Array.from({ length: count }, (_, seed) => outletTrial(seed));
  for (const [method, of] of METHODS) {
    const rows = [[method, 'n', 'holds', 'bias', 'sd', '± mean']];
    for (const [name, isOf] of PARTS) {
      const of2 = trials.filter(isOf).flatMap((t) => {
        const result = of(t);
        if (result === undefined) return [];
        return [{ error: result.flowM3s / t.flowM3s - 1, u95: result.u95M3s / t.flowM3s }];
      });
      const mean = of2.reduce((s, x) => s + x.error, 0) / of2.length;
      const sd = Math.sqrt(of2.reduce((s, x) => s + (x.error - mean) ** 2, 0) / of2.length);
      const held = of2.filter((x) => Math.abs(x.error) <= x.u95).length / of2.length;
      const width = of2.reduce((s, x) => s + x.u95, 0) / of2.length;
      rows.push([name, String(of2.length), pct(held), pct(mean), pct(sd), pct(width)]);
    }
    console.log(`${aligned(rows)}\n`);
  }
}
