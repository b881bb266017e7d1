/// <reference lib="dom" />
/**
 * What pointers do to the time on a plot: one moves it, two stretch it, the wheel with Ctrl (as a trackpad's
 * pinch comes) stretches it about the pointer, and sideways moves it. Two quick taps show all of it again.
 */
import type { TimeHost } from './time-keys.ts';
import { moved, stretched, type Held } from './view.ts';

/** A pointer that goes no further than this has not begun to move anything, CSS pixels. */
const STILL_PX = 5;
/** Two taps within so long, ms. */
const DOUBLE_MS = 350;
/** One notch of a wheel, in its own units, stretches by this much. */
const WHEEL_SHARE = 0.0025;

interface Pointer {
  x: number;
  startX: number;
}

/** Follows the pointers on an element whose width is the time in view. @returns what ends it */
export function gestures(over: HTMLElement, host: TimeHost): () => void {
  const ended = new AbortController();
  const { signal } = ended;
  const pointers = new Map<number, Pointer>();
  /** What was in view when the pointers that lie there had last come or gone, and where they lay. */
  let begun: { view: Held; xs: number[] } | null = null;
  /** Where the element lies: asked of the page when a pointer comes, not with each of its moves. */
  let box = new DOMRect();
  let isMoving = false;
  let tappedAt = -Infinity;

  const xsOf = (): number[] => [...pointers.values()].map(({ x }) => x).sort((a, b) => a - b);
  const timeAt = (x: number, view: Held): number =>
    view.from + ((view.to - view.from) * x) / Math.max(box.width, 1);
  const localX = (event: MouseEvent): number => event.clientX - box.left;

  function begin(): void {
    const view = host.view();
    begun = view === null || pointers.size === 0 ? null : { view, xs: xsOf() };
  }

  function down(event: PointerEvent): void {
    if (event.button !== 0) return;
    box = over.getBoundingClientRect();
    const x = localX(event);
    pointers.set(event.pointerId, { x, startX: x });
    over.setPointerCapture(event.pointerId);
    if (pointers.size === 1) isMoving = false;
    begin();
  }

  function move(event: PointerEvent): void {
    const pointer = pointers.get(event.pointerId);
    if (pointer === undefined || begun === null) return;
    pointer.x = localX(event);
    if (!isMoving && pointers.size === 1 && Math.abs(pointer.x - pointer.startX) <= STILL_PX)
      return;
    isMoving = true;
    const { view, xs } = begun;
    const now = xsOf();
    const [a = 0, b] = xs;
    const [nowA = 0, nowB] = now;
    if (b === undefined || nowB === undefined) {
      host.show(moved(view, timeAt(a, view) - timeAt(nowA, view)));
      return;
    }
    // The times that lie under both fingers stay under them.
    const factor = Math.max(b - a, 1) / Math.max(nowB - nowA, 1);
    const about = timeAt((a + b) / 2, view);
    const wider = stretched(view, factor, about);
    host.show(moved(wider, about - timeAt((nowA + nowB) / 2, wider)));
  }

  function up(event: PointerEvent): void {
    if (!pointers.delete(event.pointerId)) return;
    if (pointers.size === 0 && !isMoving && event.type === 'pointerup') {
      const isDouble = event.timeStamp - tappedAt < DOUBLE_MS;
      tappedAt = isDouble ? -Infinity : event.timeStamp;
      if (isDouble) host.reset();
    }
    begin();
  }

  function wheel(event: WheelEvent): void {
    const view = host.view();
    if (view === null) return;
    box = over.getBoundingClientRect();
    if (event.ctrlKey) {
      event.preventDefault();
      const factor = Math.exp(event.deltaY * WHEEL_SHARE);
      host.show(stretched(view, factor, timeAt(localX(event), view)));
    } else if (Math.abs(event.deltaX) > Math.abs(event.deltaY)) {
      event.preventDefault();
      host.show(moved(view, timeAt(event.deltaX, view) - view.from));
    }
  }

  over.addEventListener('pointerdown', down, { signal });
  over.addEventListener('pointermove', move, { signal });
  over.addEventListener('pointerup', up, { signal });
  over.addEventListener('pointercancel', up, { signal });
  over.addEventListener('wheel', wheel, { signal, passive: false });
  return () => ended.abort();
}
