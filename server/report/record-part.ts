/** Probes and their checks, all captures, and what the figures rest on. */
import type { PlaceEvenness, ProbeState, UnitSetup } from '../protocol.ts';
import { howMade } from '../words/captures.ts';
import { NO_FIGURE, percent, signed, withSign, written } from '../words/figures.ts';
import { HUMIDITY, type Scale, type Scales } from '../words/scales.ts';
import { figureText, shownParts } from '../words/shown.ts';
import { clockMinutes } from '../words/times.ts';
import { day } from '../words/visits.ts';
import type { Block } from './content.ts';
import type { ReportUnit, ReportVisit } from './visit.ts';
import { EVENNESS_FROM, METHOD, PLACES, PRESSURE_FROM, STEADY_BY } from './words.ts';
import { t, translated } from '../words/language.ts';
import { codeWord } from '../words/names.ts';

/** Those of the unit, and those that hang outdoors for all. */
export function probesBlock({ probes, checks }: ReportVisit, id: string, scales: Scales): Block[] {
  const own = Object.values(probes).filter(
    ({ unit, place }) => unit === id || (unit === null && place === 'outdoor'),
  );
  const last = checks.at(-1);
  const check: Block[] =
    last === undefined
      ? []
      : [
          {
            kind: 'text',
            tone: 'quiet',
            text: t`Last side-by-side check, ended at ${clockMinutes(last.t)}: ${translated(last.text)}`,
          },
        ];
  const isDetailed = own.some((probe) => madeText(probe) !== NO_FIGURE);
  if (own.length === 0) return [{ kind: 'text', text: t`No probe hangs here.`, tone: 'plain' }];
  return [
    {
      kind: 'table',
      columns: [
        { name: t`Probe`, width: 1.3 },
        { name: t`Place`, width: 0.6 },
        { name: t`Accuracy`, width: 1.2 },
        { name: t`Side-by-side check`, width: 1.6 },
        ...(isDetailed ? [{ name: t`Serial, calibrated`, width: 1.1 }] : []),
      ],
      rows: own.map((probe) => [
        probe.name,
        probe.place === null ? '' : PLACES[probe.place],
        accuracyText(probe, scales),
        checkText(probe, scales),
        ...(isDetailed ? [madeText(probe)] : []),
      ]),
    },
    ...check,
  ];
}

/** "0042, May 4, 2026" */
const madeText = ({ details: { serial = '', calibratedT } }: ProbeState): string =>
  [serial, calibratedT === undefined ? '' : day(calibratedT)].filter(Boolean).join(', ') ||
  NO_FIGURE;

/** "± 0.5 K, ± 2.5 % RH" */
function accuracyText({ limits }: ProbeState, scales: Scales): string {
  const { temperatureC, humidityPct, dewPointC, velocityMs, velocityPct, pressurePa } = limits;
  const parts: string[] = [];
  const add = (value: number | undefined, { sign, show, finest }: Scale): void => {
    if (value === undefined) return;
    parts.push(`±\u00a0${written(show(value) - show(0), finest)}\u202f${sign}`);
  };
  add(temperatureC, scales.offset);
  add(humidityPct, HUMIDITY);
  add(dewPointC, scales.offset);
  if (velocityPct !== undefined) parts.push(`±\u00a0${written(velocityPct, 0.1)}\u202f%`);
  add(velocityMs, scales.velocity);
  add(pressurePa, scales.pressure);
  return parts.length === 0 ? t`not entered` : parts.join(', ');
}

/** "10:02, corrected by −0.12 K, +0.8 % RH" */
function checkText({ check }: ProbeState, scales: Scales): string {
  if (check === null) return t`not checked`;
  const taken: string[] = [];
  if (check.temperatureOffsetC !== null) {
    taken.push(signed(-check.temperatureOffsetC, null, scales.offset));
  }
  if (check.humidityOffsetPct !== null)
    taken.push(signed(-check.humidityOffsetPct, null, HUMIDITY));
  const by = taken.length === 0 ? t`not corrected` : t`corrected by ${taken.join(', ')}`;
  return `${day(check.t)}, ${clockMinutes(check.t)}: ${by}`;
}

export function capturesBlock({ captures }: ReportUnit, { power }: Scales): Block {
  return {
    kind: 'table',
    columns: [
      { name: '', width: 0.2 },
      { name: t`Mean`, width: 2.3 },
      { name: t`Total`, width: 1.1, isNumber: true },
      { name: t`Sensible`, width: 1.1, isNumber: true },
      { name: t`Latent`, width: 1.1, isNumber: true },
    ],
    rows: captures.map(({ capture }, i) => {
      const shown = shownParts(capture, power);
      const { struck, note, baseline } = capture;
      const marked = baseline === true ? t` Baseline.` : '';
      const why =
        struck === undefined ? '' : struck.text ? t` Struck out: ${struck.text}.` : t` Struck out.`;
      return [
        String(i + 1),
        `${howMade(capture)}.${marked}${why}${note === undefined ? '' : ` ${note}`}`,
        ...[shown.total, shown.sensible, shown.latent].map(
          (part) => figureText(part, power) ?? NO_FIGURE,
        ),
      ];
    }),
  };
}

/** What the figures rest on, so that a reader can work them out again. */
export function assumedBlock(
  { setup: { pressurePa, pressureSource, steadyTest } }: ReportVisit,
  { evenness }: UnitSetup,
  scales: Scales,
): Block {
  const uneven = ({ spotsPct, from }: PlaceEvenness, where: string): string =>
    `${where} ${percent(spotsPct)} (${EVENNESS_FROM[from]})`;
  return {
    kind: 'list',
    items: [
      ...METHOD,
      STEADY_BY[steadyTest],
      t`Barometric pressure ${withSign(pressurePa, scales.pressure)}, ${PRESSURE_FROM[pressureSource]}.`,
      t`How much the air differs from spot to spot, of the difference between return and supply: ${uneven(evenness.return, codeWord('intake'))}, ${uneven(evenness.supply, codeWord('outlet'))}.`,
    ],
  };
}
