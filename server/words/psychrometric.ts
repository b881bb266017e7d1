/** The psychrometric picture in words: what its axes are called, and what it shows to who cannot see it. */
import {
  type ChartGrid,
  type ChartPoint,
  IP_GRID,
  SI_GRID,
} from '../measure/psychrometric-chart.ts';
import { withSign, written } from './figures.ts';
import type { Scales } from './scales.ts';
import { t } from './language.ts';

export const PICTURE_TITLE = t`The air on a psychrometric chart`;
export const NO_PICTURE = t`The chart needs temperature and humidity at the return and the supply.`;
export const OUTLINES = t`Each outline holds the air there with 95\u202f% confidence.`;
export const NO_OUTLINES = t`Enter the probes’ accuracy, and outlines show how sure each point is.`;

/** What the two airs are called in it. */
export const AT = { return: t`Return`, supply: t`Supply` };
/** A curve of relative humidity; the lowest says what the others are too. */
export const humidityMark = (pct: number): string =>
  pct === 20 ? t`${pct}\u202f%\u202fRH` : String(pct);

/** The round numbers of a chart in the units that are read. */
export const gridFor = ({ temperature }: Scales): ChartGrid =>
  temperature.sign === '°F' ? IP_GRID : SI_GRID;

/** A round temperature or humidity ratio at the edge of the chart, without its unit. */
export const roundTemperature = (tC: number, { temperature }: Scales): string =>
  written(temperature.show(tC), 1);
export const roundMoisture = (W: number, { moisture }: Scales): string =>
  written(moisture.show(W), 1);

/** "Dry bulb, °C" */
export const dryBulbAxis = ({ temperature }: Scales): string => t`Dry bulb, ${temperature.sign}`;
/** "Humidity ratio, g/kg" */
export const moistureAxis = ({ moisture }: Scales): string => t`Humidity ratio, ${moisture.sign}`;
/** "Drawn for 983 hPa. Curves: relative humidity. Dotted: wet bulb." */
export const curvesWords = (pPa: number, { pressure }: Scales): string =>
  t`Drawn for ${withSign(pPa, pressure)}. Curves: relative humidity. Dotted: wet bulb.`;

/** "From return 26.6 °C, 10.81 g/kg to supply 14.6 °C, 9.45 g/kg: 12.0 K colder, 1.36 g/kg drier." */
export function processWords(from: ChartPoint, to: ChartPoint, scales: Scales): string {
  const { temperature, moisture, difference } = scales;
  const point = ({ temperatureC, humidityRatio }: ChartPoint): string =>
    `${withSign(temperatureC, temperature)}, ${withSign(humidityRatio, moisture)}`;
  const k = to.temperatureC - from.temperatureC;
  const w = to.humidityRatio - from.humidityRatio;
  const byK = withSign(Math.abs(k), difference);
  const warmer = k < 0 ? t`${byK} colder` : t`${byK} warmer`;
  const isLevel = Math.abs(moisture.show(w)) < moisture.finest;
  const byW = withSign(Math.abs(w), moisture);
  const drier = w < 0 ? t`${byW} drier` : t`${byW} moister`;
  return t`From return ${point(from)} to supply ${point(to)}: ${warmer}, ${isLevel ? t`as moist as before` : drier}.`;
}
