/** What a frame changes in the state that is held. Pure: the state is replaced, never altered. */
import type { Frame, State } from '../../server/protocol.ts';

/** Frames that come after the state and change it. */
export type Change = Exclude<Frame, { type: 'state' | 'history' }>;

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
      const { type: _, id, ...probe } = frame;
      return { ...state, probes: { ...state.probes, [id]: probe } };
    }
    case 'adapter': {
      const { type: _, name, ...adapter } = frame;
      return { ...state, adapters: { ...state.adapters, [name]: adapter } };
    }
    case 'event':
      return { ...state, events: [...state.events, frame] };
    case 'capture':
      return { ...state, captures: [...state.captures, frame] };
    case 'budget':
      return { ...state, budgets: { ...state.budgets, [frame.unit]: frame } };
    case 'check':
      return { ...state, check: frame };
  }
}
