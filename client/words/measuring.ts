/** The methods by which an airflow is measured, and with what, in words. */
import { wetnessAt } from '../../server/measure/airflow/coil.ts';
import { grossAreaM2 } from '../../server/measure/airflow/outlet.ts';
import { REFERENCE } from '../../server/measure/capacity.ts';
import type {
  CoilState,
  Measuring,
  OutletState,
  ProbeState,
  ZeroResult,
} from '../../server/protocol.ts';
import { written } from './figures.ts';
import { type Scale, type Scales } from './scales.ts';
import { duration } from './times.ts';
import { t as say, translated } from '../../server/words/language.ts';
import { allOf } from '../../server/words/names.ts';

export type Method = Measuring['method'];

/** How each is called, what it takes, and how sure it is. */
export const METHODS: { method: Method; name: string; how: string }[] = [
  {
    method: 'sweep',
    name: say`Sweep`,
    how: say`Move an anemometer over the opening, twice. About 2 minutes, ± 5 to 8 %.`,
  },
  {
    method: 'grid',
    name: say`Point by point`,
    how: say`Hold it at each point of a picture. Slower; shows where the air comes out.`,
  },
  {
    method: 'condensate',
    name: say`Weighed condensate`,
    how: say`Catch what the drain gives for half an hour of steady cooling. Needs checked probes.`,
  },
  {
    method: 'heat',
    name: say`Metered heater`,
    how: say`Warm the intake with a heater of known power, fan alone. The surest, for bench and class.`,
  },
  {
    method: 'zero',
    name: say`Zero in place`,
    how: say`Fan alone on a dry coil: what the probes are off by where they hang is taken off. Measures no airflow.`,
  },
];

/** A zero in place, as it stands now. @param probes all of the visit */
export function zeroWords(zero: ZeroResult, probes: Record<string, ProbeState>): string {
  const holds = Object.values(probes).some((p) => p.unit === zero.unit && p.zero !== null);
  const text = translated(zero.text);
  if (!zero.used) return text;
  return holds
    ? say`${text} That is taken off.`
    : say`${text} It no longer counts: since then a probe was moved, walked or checked, or another zero begun.`;
}

export const methodName = (method: string): string =>
  method === REFERENCE
    ? say`Hood or duct`
    : (METHODS.find((each) => each.method === method)?.name ?? method);

/** Probes that tell a velocity, or are said to be anemometers; those in the hand first. */
export function anemometers(
  probes: Record<string, ProbeState>,
): { id: string; probe: ProbeState }[] {
  return Object.entries(probes)
    .filter(([, p]) => p.anemometer !== undefined || p.values.velocityMs !== undefined)
    .map(([id, probe]) => ({ id, probe }))
    .sort((a, b) => Number(a.probe.place !== null) - Number(b.probe.place !== null));
}

/** What the form of an anemometer says. */
export const ANEMOMETER = {
  title: (name: string) => say`Anemometer ${name}`,
  kind: say`Kind`,
  kinds: [
    ['vane', say`vane`],
    ['thermal', say`hot wire`],
  ],
  head: { label: (sign: string) => say`Diameter of the head, ${sign}`, called: say`The head` },
  headHint: say`With it, the ends of the slot that the head cannot reach are corrected for.`,
  pct: { label: say`Accuracy, ± % of reading`, called: say`The accuracy` },
  least: { label: (sign: string) => say`and ± ${sign}`, called: say`The fixed part` },
} as const;

const anemometerKind = (kind: string | undefined): string => {
  if (kind === undefined) return say`assumed to be a vane`;
  return ANEMOMETER.kinds.find(([code]) => code === kind)?.[1] ?? kind;
};

/** "vane, 100 mm, ± 3 % and 0.1 m/s" */
export function anemometerWords({ anemometer, limits }: ProbeState, scales: Scales): string {
  const parts: string[] = [anemometerKind(anemometer?.kind)];
  if (anemometer?.headM !== undefined) parts.push(withSide(anemometer.headM, scales.side));
  const { velocityPct, velocityMs } = limits;
  const limit = [
    ...(velocityPct === undefined ? [] : [`${written(velocityPct, 0.1)}\u202f%`]),
    ...(velocityMs === undefined ? [] : [withSide(velocityMs, scales.velocity)]),
  ];
  parts.push(limit.length === 0 ? say`accuracy not known` : `± ${allOf(limit)}`);
  return parts.join(', ');
}

const withSide = (value: number, scale: Scale): string =>
  `${written(scale.show(value), scale.finest)}\u202f${scale.sign}`;

/** "2 sections, 64 × 610 mm and 64 × 610 mm, free area 0.95" */
export function outletWords(outlet: OutletState, scales: Scales): string {
  const { side } = scales;
  const sizes = outlet.sections.map(({ widthM, lengthM }) => {
    const [a, b] = [widthM, lengthM].map((m) => written(side.show(m), side.finest));
    return `${a ?? ''} × ${b ?? ''}`;
  });
  const all =
    new Set(sizes).size === 1 && sizes.length > 1
      ? [`${sizes.length} × (${sizes[0] ?? ''})`]
      : sizes;
  const where = outlet.plane === 'supply' ? say`Outlet` : say`Intake`;
  const factor =
    outlet.freeArea === 1 ? say`open` : say`free area ${written(outlet.freeArea, 0.01)}`;
  return `${where}: ${all.join(', ')}\u202f${side.sign}, ${factor}`;
}

/** Area in the units of the sides: "0.078 m²", "0.84 ft²". */
export function areaWords(
  outlet: Pick<OutletState, 'sections' | 'freeArea' | 'plane'>,
  scales: Scales,
): string {
  const m2 = grossAreaM2(outlet) * outlet.freeArea;
  return scales.side.sign === 'in'
    ? say`${written(m2 / 0.3048 ** 2, 0.01)}\u202fft²`
    : `${written(m2, 0.001)}\u202fm²`;
}

/** "Coil: wet, moisture taken out for 22 min." */
export function coilWords(coil: CoilState, t: number | null): string {
  const { removes, sinceT, said } = coil;
  const wetness = wetnessAt(coil, t ?? sinceT ?? 0);
  const state = wetness <= 0 ? say`dry` : wetness >= 1 ? say`wet` : say`getting wet or drying`;
  if (said !== null)
    return said === 'dry'
      ? say`The coil counts as dry, as entered.`
      : say`The coil counts as wet, as entered.`;
  if (removes === null || sinceT === null || t === null) {
    return say`The coil counts as ${state}: nothing is known of its moisture yet.`;
  }
  const time = duration(Math.max(0, t - sinceT) / 1000);
  return removes
    ? say`The coil counts as ${state}: it has taken out moisture for ${time}.`
    : say`The coil counts as ${state}: no moisture taken out for ${time}.`;
}
