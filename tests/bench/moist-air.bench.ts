/**
 * Moist air against the package `psychrolib` (MIT), on the same 20,000 random states. Ours with
 * `REAL_AIR`, the model in use: it works out the enhancement factor and the compressibility as well.
 */
import psychrolib from 'psychrolib';
import {
  enthalpyJkg,
  humidityRatio,
  stateFromRelativeHumidity,
  statePartials,
  volumeM3kg,
} from '../../server/measure/moist-air.ts';
import { randomStream } from '../../simulator/random.ts';
import { type Benchmark, type Contestant, millisecondsOf } from './harness.ts';

psychrolib.SetUnitSystem(psychrolib.SI);

const COUNT = 20_000;
const random = randomStream(1, 'moist air');
const draw = (low: number, high: number): Float64Array =>
  Float64Array.from({ length: COUNT }, () => random.between(low, high));
const temperaturesC = draw(-20, 60);
const humiditiesPct = draw(0, 100);
const pressuresPa = draw(60_000, 110_000);

/** What was worked out goes here, so that no compiler may leave the work out. */
let sink = 0;

/**
 * States a second of something that turns a state into a number. `passes` over all states make a round
 * long enough to measure.
 */
function contestant(
  name: string,
  passes: number,
  work: (tC: number, rhPct: number, pPa: number) => number,
): Contestant {
  return {
    name,
    run(): number {
      let sum = 0;
      const ms = millisecondsOf(() => {
        for (let n = 0; n < passes * COUNT; n++) {
          const i = n % COUNT;
          sum += work(
            temperaturesC[i] as number,
            humiditiesPct[i] as number,
            pressuresPa[i] as number,
          );
        }
      });
      sink += sum;
      if (!Number.isFinite(sink)) throw new Error(`${name} gave a state that is not a number.`);
      return (passes * COUNT * 1000) / ms;
    },
  };
}

export const benchmark: Benchmark = {
  title: 'Moist air',
  unit: 'states/s',
  rounds: 25,
  contestants: [
    contestant('full state', 10, (tC, rhPct, pPa) => {
      const air = stateFromRelativeHumidity(tC, rhPct, pPa);
      return air.wetBulbC + air.enthalpyJkg + (air.dewPointC ?? 0);
    }),
    contestant('full state, psychrolib', 1, (tC, rhPct, pPa) => {
      const air = psychrolib.CalcPsychrometricsFromRelHum(tC, rhPct / 100, pPa);
      return (air[1] as number) + (air[4] as number) + (air[2] as number);
    }),
    contestant('W, h, v', 40, (tC, rhPct, pPa) => {
      const W = humidityRatio(tC, rhPct, pPa);
      return W + enthalpyJkg(tC, W) + volumeM3kg(tC, W, pPa);
    }),
    contestant('W, h, v and nine derivatives', 40, (tC, rhPct, pPa) => {
      const air = statePartials(tC, rhPct, pPa);
      return air.humidityRatio + air.enthalpyJkg + air.volumeM3kg + air.hPerK;
    }),
    contestant('W, h, v, psychrolib', 20, (tC, rhPct, pPa) => {
      const W = psychrolib.GetHumRatioFromRelHum(tC, rhPct / 100, pPa);
      return W + psychrolib.GetMoistAirEnthalpy(tC, W) + psychrolib.GetMoistAirVolume(tC, W, pPa);
    }),
  ],
  ratios: [
    { of: 'full state', to: 'full state, psychrolib', aim: '≥ 10' },
    { of: 'W, h, v', to: 'W, h, v, psychrolib' },
    { of: 'W, h, v and nine derivatives', to: 'W, h, v, psychrolib' },
  ],
};
