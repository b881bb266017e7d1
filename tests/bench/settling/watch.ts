/** What was said of a visit, second by second: by the session, or by a detector made up for a test. */
import type { Capture, SettlingSnapshot } from '../../../server/protocol.ts';
import { Session } from '../../../server/session.ts';
import { nameOf, type Visit } from './visit.ts';

export type State = SettlingSnapshot['state'];

/** NaN where nothing was said. */
export interface Watch {
  states: State[];
  totalW: Float64Array;
  totalU95W: Float64Array;
  latentW: Float64Array;
  latentU95W: Float64Array;
  plateauW: Float64Array;
  plateauU95W: Float64Array;
  steadyInS: Float64Array;
  periodS: Float64Array;
  /** Since when it is in its state, second of the visit. */
  since: Float64Array;
  /** Whether the second carries the doubt that the figure is in a transient. */
  transient: boolean[];
  captures: Capture[];
}

/** Nothing said yet, of `n` seconds. */
export function silent(n: number): Watch {
  const none = (): Float64Array => new Float64Array(n).fill(NaN);
  return {
    states: new Array<State>(n).fill('waiting'),
    totalW: none(),
    totalU95W: none(),
    latentW: none(),
    latentU95W: none(),
    plateauW: none(),
    plateauU95W: none(),
    steadyInS: none(),
    periodS: none(),
    since: none(),
    transient: new Array<boolean>(n).fill(false),
    captures: [],
  };
}

/** Lets the session see a visit. @throws Error for a line that it refuses */
export function watch(visit: Visit): Watch {
  const seen = silent(visit.trueW.length);
  const nothing = (): void => undefined;
  const session = new Session({
    snapshot({ t, units }) {
      const i = Math.round((t - visit.startT) / 1000);
      const unit = units[visit.unit];
      if (unit === undefined || i < 0 || i >= seen.states.length) return;
      const { capacity, mode, settling } = unit;
      // In heating there is no latent part.
      const dry = mode === 'heating' ? 0 : NaN;
      seen.states[i] = settling.state;
      seen.totalW[i] = capacity.totalW ?? NaN;
      seen.totalU95W[i] = capacity.totalU95W ?? NaN;
      seen.latentW[i] = capacity.latentW ?? dry;
      seen.latentU95W[i] = capacity.latentU95W ?? dry;
      seen.plateauW[i] = settling.plateauW ?? NaN;
      seen.plateauU95W[i] = settling.plateauU95W ?? NaN;
      seen.steadyInS[i] = settling.steadyInS ?? NaN;
      if (settling.since !== null)
        seen.since[i] = Math.round((settling.since - visit.startT) / 1000);
      seen.periodS[i] = settling.cycle?.periodS ?? NaN;
      seen.transient[i] = unit.doubts.some(({ code }) => code === 'transient');
    },
    capture: (capture) => {
      if (capture.unit === visit.unit && capture.open !== true) seen.captures.push(capture);
    },
    check: nothing,
    walk: nothing,
    event: nothing,
    probe: nothing,
    setup: nothing,
  });
  for (const line of visit.lines) {
    const refusal = session.apply(line, { adapter: 'bench', simulated: true });
    if (refusal !== null) throw new Error(`${nameOf(visit)}: ${JSON.stringify(line)}: ${refusal}`);
  }
  session.finish();
  return seen;
}
