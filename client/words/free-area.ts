/** The free-area factor of an outlet, fitted to flows that were measured without an anemometer. */
import { grossAreaM2 } from '../../server/measure/airflow/outlet.ts';
import {
  type FactorFit,
  type FactorPoint,
  fitFactor,
} from '../../server/measure/airflow/free-area.ts';
import type { AirflowResult, OutletState } from '../../server/protocol.ts';
import { written } from './figures.ts';
import { t } from '../../server/words/language.ts';
import { speedWord } from '../../server/words/names.ts';

/** What the part of the room says. */
export const FREE_AREA = {
  title: t`Free-area factor`,
  none: t`A flow measured another way at the same fan speed shows how much of the outlet is open: condensate, a metered heater, a flow hood, or a traverse in the duct.`,
  fitted: t`Fitted to flows that need no anemometer here:`,
  picture: t`Known flows against velocity times area, and the fitted line`,
  across: t`velocity × gross area`,
  up: t`known flow`,
  holds: t`It holds for outlets of this kind, with this anemometer, and counts from the next sweep on. A fan table is never used for it: that would hide the fouling that you look for.`,
  use: t`Use it for this outlet`,
  useFor: (outlets: number) =>
    outlets === 1 ? t`Use it for this outlet` : t`Use it for the ${outlets} outlets of this kind`,
  add: t`Add a flow from a hood`,
};

/** Methods that know nothing of the outlet or the anemometer. A fan table is none: it hides fouling. */
const INDEPENDENT: readonly AirflowResult['method'][] = ['condensate', 'heat', 'reference'];
/** Errors that stay in the factor: those of the anemometer and the rule are the same in all traverses. */
const OWN: readonly string[] = ['repeats', 'points', 'scatter'];

export interface Fitted {
  outlet: string;
  points: (FactorPoint & { fan: string | null; reference: number })[];
  fit: FactorFit;
}

/** Pairs each independent flow with the newest traverse at the same fan speed; null: there is no pair. */
export function fittedFactor(
  results: readonly AirflowResult[],
  outlets: Record<string, OutletState>,
): Fitted | null {
  const traverse = results.findLast(({ outlet }) => outlet !== null);
  const id = traverse?.outlet ?? null;
  const outlet = id === null ? undefined : outlets[id];
  if (id === null || outlet === undefined) return null;
  const gross = grossAreaM2(outlet);
  const points = results
    .filter(({ method }) => INDEPENDENT.includes(method))
    .flatMap((reference) => {
      const same = results.findLast((r) => r.outlet === id && r.fan === reference.fan);
      if (same === undefined || same.velocityMs === null) return [];
      const flow = same.velocityMs * gross;
      return [
        {
          fan: reference.fan,
          reference: reference.flowM3s,
          referenceU: reference.u95M3s / 1.96,
          traverse: flow,
          traverseU: flow * Math.hypot(...ownU(same)),
        },
      ];
    });
  return points.length === 0 ? null : { outlet: id, points, fit: fitFactor(points) };
}

const ownU = ({ errors }: AirflowResult): number[] =>
  errors
    .filter(({ cause, shared }) => OWN.includes(cause) && shared === null)
    .map(({ uPct }) => uPct / 100);

/** "0.86 ± 0.04 from 2 flows" */
export function factorWords({ fit, points }: Fitted): string {
  const from = points.length === 1 ? t`one flow` : t`${points.length} flows`;
  return t`${written(fit.factor, 0.001)} ± ${written(fit.u95, 0.001)}, from ${from}`;
}

/** What is said of a point that does not belong to the others; null: none. */
export function outlierWords({ fit, points }: Fitted): string | null {
  if (fit.outlier === null) return null;
  const fan = points[fit.outlier]?.fan ?? null;
  const which = fan === null ? t`Flow ${fit.outlier + 1}` : t`The flow at fan ${speedWord(fan)}`;
  return t`${which} does not fit the others: measure it again before you use the factor.`;
}
