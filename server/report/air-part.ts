/** The air on both sides of the coil: on a psychrometric chart, and as numbers. */
import { regionOutline } from '../measure/air-region.ts';
import { type MoistAir, stateFromHumidityRatio } from '../measure/moist-air.ts';
import {
  type ChartPoint,
  frameAround,
  psychrometricChart,
} from '../measure/psychrometric-chart.ts';
import { NO_FIGURE, percent, withSign } from '../words/figures.ts';
import {
  dryBulbAxis,
  gridFor,
  curvesWords,
  moistureAxis,
  NO_OUTLINES,
  OUTLINES,
  processWords,
  roundMoisture,
  roundTemperature,
} from '../words/psychrometric.ts';
import type { Scales } from '../words/scales.ts';
import type { AirPicture, Block } from './content.ts';
import { type AirMoment, meanAir, type ReportCapture, type ReportVisit } from './visit.ts';
import { HEADINGS } from './words.ts';
import { t } from '../words/language.ts';
import { speedWord } from '../words/names.ts';

/** How long before its capture the way of the air is drawn, ms. */
const TRAIL_MS = 20 * 60_000;
const MOST_TRAIL = 120;

export function airBlocks(
  visit: ReportVisit,
  id: string,
  result: ReportCapture | null,
  scales: Scales,
): Block[] {
  const unit = visit.units[id];
  if (unit === undefined || result === null) return [];
  const air = meanAir(unit, result.capture);
  if (air === null) return [];
  const picture = airPicture(air, unit.trail, result, scales);
  const said = processWords(air.from, air.to, scales);
  const notes = `${curvesWords(result.pressurePa, scales)} ${picture.outlines.length > 0 ? OUTLINES : NO_OUTLINES}`;
  return [
    { kind: 'heading', level: 3, text: HEADINGS.air },
    {
      kind: 'beside',
      left: [{ kind: 'air', alt: said, picture }],
      right: [
        statesTable(air, result.pressurePa, scales),
        { kind: 'text', text: conditions(visit, id, result, scales), tone: 'plain' },
        { kind: 'text', text: `${said} ${notes}`, tone: 'quiet' },
      ],
    },
  ];
}

function airPicture(
  { from, to }: AirMoment,
  trail: readonly AirMoment[],
  { capture, budget, pressurePa }: ReportCapture,
  scales: Scales,
): AirPicture {
  const grid = gridFor(scales);
  const outlines = (['return', 'supply'] as const).flatMap((place) => {
    const region = budget?.regions[place] ?? null;
    if (region === null) return [];
    // As sure as at the end of the span, about its mean.
    return [{ place, points: regionOutline({ ...region, ...(place === 'return' ? from : to) }) }];
  });
  const way = thinned(
    trail.filter(({ t }) => t >= capture.from - TRAIL_MS && t <= capture.to),
    MOST_TRAIL,
  );
  const all: ChartPoint[] = [from, to, ...outlines.flatMap(({ points }) => points)];
  const chart = psychrometricChart(frameAround(all, pressurePa, grid), grid);
  const { lowC, highC, topW } = chart.frame;
  const inFrame = (p: ChartPoint): boolean =>
    p.temperatureC >= lowC && p.temperatureC <= highC && p.humidityRatio <= topW;
  return {
    ...{ chart, from, to, outlines },
    fromTrail: way.map((moment) => moment.from).filter(inFrame),
    toTrail: way.map((moment) => moment.to).filter(inFrame),
    dryBulbs: chart.dryBulbsC.map((tC) => roundTemperature(tC, scales)),
    moistures: chart.humidityRatios.map((W) => roundMoisture(W, scales)),
    lineNames: chart.lines.map(({ kind, value }) => {
      if (kind === 'saturation') return '';
      return kind === 'wet-bulb' ? roundTemperature(value, scales) : `${value}\u202f%`;
    }),
    axes: { dryBulb: dryBulbAxis(scales), moisture: moistureAxis(scales) },
  };
}

function thinned<T>(all: readonly T[], most: number): T[] {
  const step = Math.max(1, Math.ceil(all.length / most));
  return all.filter((_, i) => i % step === 0);
}

function statesTable({ from, to }: AirMoment, pPa: number, scales: Scales): Block {
  const states = [from, to].map((p) =>
    stateFromHumidityRatio(p.temperatureC, p.humidityRatio, pPa),
  );
  const { temperature, moisture } = scales;
  const row = (name: string, of: (state: MoistAir) => string): string[] => [
    name,
    ...states.map(of),
  ];
  return {
    kind: 'table',
    columns: [
      { name: '', width: 1.2 },
      { name: t`Return`, width: 1, isNumber: true },
      { name: t`Supply`, width: 1, isNumber: true },
    ],
    rows: [
      row(t`Dry bulb`, (s) => withSign(s.temperatureC, temperature)),
      row(t`Relative humidity`, (s) => percent(Math.min(100, s.humidityPct))),
      row(t`Wet bulb`, (s) => withSign(s.wetBulbC, temperature)),
      row(t`Dew point`, (s) =>
        s.dewPointC === null ? NO_FIGURE : withSign(s.dewPointC, temperature),
      ),
      row(t`Humidity ratio`, (s) => withSign(s.humidityRatio, moisture)),
    ],
  };
}

/** "Outdoors 35.0 °C, setpoint 18.0 °C, fan high, pressure 983 hPa.": when the capture was made. */
function conditions(
  { events }: ReportVisit,
  id: string,
  { capture, outdoorC, verdict, pressurePa }: ReportCapture,
  scales: Scales,
): string {
  const before = events.filter(({ unit, t }) => unit === id && t <= capture.to);
  const setpointC = before.findLast(({ kind }) => kind === 'setpoint')?.valueC;
  const fan = before.findLast(({ kind }) => kind === 'fan')?.speed;
  const outdoor = outdoorC ?? verdict?.conditions.outdoorC ?? null;
  const { temperature } = scales;
  const parts = [
    outdoor === null ? t`Outdoors not measured` : t`Outdoors ${withSign(outdoor, temperature)}`,
  ];
  if (setpointC !== undefined) parts.push(t`setpoint ${withSign(setpointC, temperature)}`);
  if (fan !== undefined) parts.push(t`fan ${speedWord(fan)}`);
  parts.push(t`pressure ${withSign(pressurePa, scales.pressure)}`);
  return `${parts.join(', ')}.`;
}
