/** How often the interval of the sum of several heads holds the truth. */
import { capacity } from '../../server/measure/capacity.ts';
import { randomStream } from '../../simulator/random.ts';
import { CONDITIONS, point, recorded } from './coverage-visits.ts';

const LIMIT_PCT = 10;
const FLOW_M3S = 0.15;
const PRESSURE_PA = 98_300;
const LIMITS = { temperatureC: 0.3, humidityPct: 2 };
const T0 = 1_777_885_200_000;

/** Visits of so many heads, whose airflows are off together (one vane) or each by itself (its table). */
export function sumCoverage(
  heads: number,
  flow: 'one vane' | 'a table each',
  visits: number,
): { share: number; width: number } {
  const [condition] = CONDITIONS;
  if (condition === undefined) throw new Error('no condition');
  const { mode, ret, supply } = condition;
  const actual = { basis: 'actual', plane: 'supply' } as const;
  const truth = capacity(
    mode,
    point(ret),
    point(supply),
    { flowM3s: FLOW_M3S, ...actual },
    PRESSURE_PA,
  );
  let held = 0;
  const widths: number[] = [];
  for (let seed = 0; seed < visits; seed++) {
    const random = randomStream(seed, `sum of ${heads} ${flow}`);
    const within = (limit: number): number => random.between(-limit, limit);
    const { take, session } = recorded();
    take({ type: 'visit', version: 1, mode, pressurePa: PRESSURE_PA + within(200) });
    const bias = within(LIMIT_PCT);
    for (let i = 1; i <= heads; i++) {
      const off = (flow === 'one vane' ? bias : within(LIMIT_PCT)) / 100;
      take({
        type: 'unit',
        id: `u${i}`,
        unevenPct: { return: 0, supply: 0 },
        airflow: {
          source: flow === 'one vane' ? 'sweep' : 'fan-table',
          flowM3s: FLOW_M3S * (1 + off),
          ...actual,
          limitPct: LIMIT_PCT,
        },
      });
      for (const [place, air] of [
        ['return', ret],
        ['supply', supply],
      ] as const) {
        const probe = `${place}${i}`;
        take({ type: 'probe', id: probe, unit: `u${i}`, place, limits: LIMITS });
        take({
          type: 'reading',
          t: T0,
          probe,
          temperatureC: air.tC + within(LIMITS.temperatureC),
          humidityPct: air.rhPct + within(LIMITS.humidityPct),
        });
      }
    }
    session.finish();
    const sum = session.latest?.sum;
    if (!sum || sum.totalW === null || sum.totalU95W === null) {
      throw new Error(`no sum, seed ${seed}`);
    }
    const trueW = heads * truth.totalW;
    widths.push(sum.totalU95W / trueW);
    if (Math.abs(sum.totalW - trueW) <= sum.totalU95W) held++;
  }
  widths.sort((a, b) => a - b);
  return { share: held / visits, width: widths[widths.length >> 1] ?? NaN };
}
