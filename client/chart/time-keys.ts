/** What keys do to the time that plots show; for those without a pointer that can drag. */
import { moved, stretched, type Held } from './view.ts';

/** Whose time it is. */
export interface TimeHost {
  /** What is in view now, ms since the epoch; null where there is nothing. */
  view: () => Held | null;
  /** Shows another stretch. */
  show: (stretch: Held) => void;
  /** Shows all of it. */
  reset: () => void;
}

/** A step of the arrow keys, as a share of what is in view, and of + and −. */
const KEY_MOVE = 0.1;
const KEY_STRETCH = 1.4;

/** What a key does to the time. @returns whether it did anything */
export function keyed(key: string, host: TimeHost, whole: Held): boolean {
  const view = host.view();
  if (view === null) return false;
  const span = view.to - view.from;
  // What goes on with the time goes on with it when it is stretched.
  const about = view.to >= whole.to - 1 ? view.to : (view.from + view.to) / 2;
  switch (key) {
    case 'ArrowLeft':
    case 'PageUp':
      host.show(moved(view, -span * (key === 'PageUp' ? 1 : KEY_MOVE)));
      return true;
    case 'ArrowRight':
    case 'PageDown':
      host.show(moved(view, span * (key === 'PageDown' ? 1 : KEY_MOVE)));
      return true;
    case '+':
    case '=':
    case 'ArrowUp':
      host.show(stretched(view, 1 / KEY_STRETCH, about));
      return true;
    case '-':
    case 'ArrowDown':
      host.show(stretched(view, KEY_STRETCH, about));
      return true;
    case 'Home':
      host.show({ from: whole.from, to: whole.from + span });
      return true;
    case 'End':
      host.show({ from: whole.to - span, to: whole.to });
      return true;
    case 'Escape':
      host.reset();
      return true;
    default:
      return false;
  }
}
