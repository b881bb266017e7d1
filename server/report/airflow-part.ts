/** The airflow that was used, what was measured of it, and where it comes out of the opening. */
import type { AirflowResult, OutletState } from '../protocol.ts';
import { airflowWords, sourceWords } from '../words/airflow.ts';
import { percent, withInterval, withSign, written } from '../words/figures.ts';
import type { Scales } from '../words/scales.ts';
import { clockMinutes } from '../words/times.ts';
import type { Block, VelocityMap } from './content.ts';
import type { ReportVisit } from './visit.ts';
import { HEADINGS, NO_AIRFLOW } from './words.ts';
import { t as say, translated } from '../words/language.ts';
import { speedWord } from '../words/names.ts';

export function airflowBlocks(visit: ReportVisit, id: string, scales: Scales): Block[] {
  const airflow = visit.setup.units[id]?.airflow ?? null;
  const results = visit.units[id]?.airflows ?? [];
  const newest = results.at(-1);
  const map = results.findLast(({ points }) => points.length > 0);
  const outlet =
    map === undefined || map.outlet === null ? undefined : visit.setup.outlets[map.outlet];
  const picture =
    map === undefined || outlet === undefined ? null : velocityMap(map, outlet, scales);
  return [
    { kind: 'heading', level: 3, text: HEADINGS.airflow },
    {
      kind: 'text',
      tone: 'plain',
      text:
        airflow === null
          ? NO_AIRFLOW
          : `${withSign(airflow.flowM3s, scales.flow)}, ${airflowWords(airflow)}.`,
    },
    ...(newest === undefined ? [] : [measuredTable(results, scales)]),
    ...(newest === undefined || newest.warnings.length === 0
      ? []
      : ([
          { kind: 'text', text: newest.warnings.map(translated).join(' '), tone: 'quiet' },
        ] satisfies Block[])),
    ...(map === undefined || picture === null
      ? []
      : ([
          { kind: 'map', alt: mapWords(map, scales), map: picture },
          { kind: 'text', text: mapWords(map, scales), tone: 'quiet' },
        ] satisfies Block[])),
  ];
}

function measuredTable(results: readonly AirflowResult[], scales: Scales): Block {
  return {
    kind: 'table',
    columns: [
      { name: say`Method`, width: 1.4 },
      { name: say`At`, width: 0.6 },
      { name: say`Fan`, width: 0.8 },
      { name: say`Airflow`, width: 1.2, isNumber: true },
      { name: say`Velocity`, width: 0.9, isNumber: true },
      { name: say`Used`, width: 0.5 },
    ],
    rows: results.map(({ method, t, fan, flowM3s, u95M3s, velocityMs, used }) => [
      sourceWords(method),
      clockMinutes(t),
      fan === null ? '' : speedWord(fan),
      withInterval(flowM3s, u95M3s, scales.flow),
      velocityMs === null ? '' : withSign(velocityMs, scales.velocity),
      used ? say`yes` : say`no`,
    ]),
  };
}

/** Null where the points do not belong to the outlet any more. */
function velocityMap(
  { points }: AirflowResult,
  { sections }: OutletState,
  { velocity }: Scales,
): VelocityMap | null {
  const most = Math.max(...points.map(({ meanMs }) => meanMs ?? 0));
  if (!(most > 0) || points.some(({ section }) => section >= sections.length)) return null;
  return {
    sections: sections.map(({ widthM, lengthM }, index) => {
      const own = points.filter(({ section }) => section === index);
      const rows = 1 + Math.max(-1, ...own.map(({ row }) => row));
      const columns = 1 + Math.max(-1, ...own.map(({ column }) => column));
      return {
        ...{ widthM, lengthM },
        rows: Array.from({ length: rows }, (_, row) =>
          Array.from({ length: columns }, (_, column) => {
            const meanMs = own.find((p) => p.row === row && p.column === column)?.meanMs ?? null;
            if (meanMs === null) return { text: '', level: 0 };
            return { text: written(velocity.show(meanMs), velocity.finest), level: meanMs / most };
          }),
        ),
      };
    }),
  };
}

function mapWords({ points, velocityMs, variation }: AirflowResult, scales: Scales): string {
  const measured = points.flatMap(({ meanMs }) => (meanMs === null ? [] : [meanMs]));
  const { velocity } = scales;
  const mean = velocityMs === null ? '' : say`, ${withSign(velocityMs, velocity)} on the mean`;
  const varies =
    variation === null ? '' : say`; from point to point it varies by ${percent(100 * variation)}`;
  return say`Velocity over the opening at ${measured.length} points, ${withSign(Math.min(...measured), velocity)} to ${withSign(Math.max(...measured), velocity)}${mean}${varies}. Darker is faster.`;
}
