/** What a frame changes in the state that is held. Pure: the state is replaced, never altered. */
import {
  type AirflowResult,
  type Capture,
  captureKey,
  type EventMessage,
  type Frame,
  type State,
  type ValuesMessage,
} from '../../server/protocol.ts';

/** Frames that come after the state and change it. */
export type Change = Exclude<Frame, { type: 'state' | 'history' | 'beat' | 'changed' }>;

/** The list with a new entry in the place of the one that it replaces, else at the end. */
function put<T>(list: readonly T[], entry: T, isReplaced: (held: T) => boolean): T[] {
  const at = list.findLastIndex(isReplaced);
  return at < 0 ? [...list, entry] : list.with(at, entry);
}

/** An event that was named or dated anew comes again under its id. */
const withEvent = (events: EventMessage[], event: EventMessage): EventMessage[] =>
  put(events, event, ({ id }) => id === event.id);

/** A capture is told again when its span has grown, it is struck, or what it is compared with is. */
function withCapture(captures: Capture[], capture: Capture): Capture[] {
  const key = captureKey(capture);
  return put(captures, capture, (held) => captureKey(held) === key);
}

/** One that is told again, marked. */
const isSameAirflow = (a: AirflowResult, b: AirflowResult): boolean =>
  a.unit === b.unit && a.t === b.t && a.method === b.method;

/** What the live probes read now; a frame of one that is not known here changes nothing. */
function withValues(probes: State['probes'], frame: ValuesMessage): State['probes'] {
  const after = { ...probes };
  for (const [id, { lastT, values }] of Object.entries(frame.probes)) {
    const probe = probes[id];
    if (probe !== undefined) after[id] = { ...probe, lastT, values };
  }
  return after;
}

/** The state with a later frame merged into it. */
export function merged(state: State, frame: Change): State {
  switch (frame.type) {
    case 'snapshot': {
      const { t, simulated, units, sum } = frame;
      return { ...state, t, simulated, units, sum };
    }
    case 'visit': {
      const { type: _, ...visit } = frame;
      return { ...state, visit };
    }
    case 'probe': {
      const { type: _, id, forgotten, ...probe } = frame;
      const { [id]: _old, ...others } = state.probes;
      // In its place, where it is known: a list of probes must not jump with each frame.
      const probes = forgotten === true ? others : { ...state.probes, [id]: probe };
      return { ...state, probes };
    }
    case 'values':
      return { ...state, probes: withValues(state.probes, frame) };
    case 'adapter': {
      const { type: _, name, ...adapter } = frame;
      return { ...state, adapters: { ...state.adapters, [name]: adapter } };
    }
    case 'event':
      return { ...state, events: withEvent(state.events, frame) };
    case 'capture':
      return { ...state, captures: withCapture(state.captures, frame) };
    case 'budget':
      return { ...state, budgets: { ...state.budgets, [frame.unit]: frame } };
    case 'check':
      return { ...state, check: frame };
    case 'walk':
      return { ...state, walk: frame };
    case 'measuring':
      return { ...state, measuring: { ...state.measuring, [frame.unit]: frame } };
    case 'airflow':
      return {
        ...state,
        airflows: put(state.airflows, frame, (held) => isSameAirflow(held, frame)),
      };
    case 'verdict': {
      const key = captureKey(frame);
      return { ...state, verdicts: put(state.verdicts, frame, (v) => captureKey(v) === key) };
    }
    case 'expected':
      return { ...state, expected: { ...state.expected, [frame.unit]: frame } };
    case 'zero':
      return { ...state, zeros: [...state.zeros, frame] };
    case 'record':
      return { ...state, record: frame };
    case 'replay':
      return { ...state, replay: frame };
  }
}
