/**
 * Those who watch one visit. A viewer that cannot keep up misses frames instead of filling memory, and is
 * given state and history again as soon as its line is free: no hole stays.
 */
import type { Socket } from 'node:net';
import type { WebSocket } from 'ws';
import type { Beat, Frame } from '../protocol.ts';
import { snapshotBytes } from '../snapshot-json.ts';
import type { LiveVisit } from '../visit.ts';
import type { Together } from './together.ts';

/** Unsent bytes above which a viewer is behind, and below which it is free again. */
const BEHIND_BYTES = 1 << 20;
const FREE_BYTES = 1 << 14;
/** Viewers that were behind are given all they have missed one after another: so much a frame, ms. */
const CATCH_UP_MS = 20;

export interface Viewer {
  socket: WebSocket;
  /** What is beneath it. */
  wire: Socket;
  /** By what it was let in; null: it is at the computer itself. */
  session: string | null;
  /** Visit's time up to which it has everything; null while it does not want the past. */
  knownT: number | null;
  behind: boolean;
  answered: boolean;
  /** Whether it wants the values of the probes each second. */
  wantsValues: boolean;
  /** What it has sent since the last ping. */
  messages: number;
}

export class Viewers {
  readonly all = new Set<Viewer>();
  readonly #visit: LiveVisit;
  readonly #together: Together;
  /** Whether the last second has brought what shows that the server goes on. */
  #hasTold = false;
  /** While nobody looks, the visit need not say anything. */
  #unwatch: (() => void) | null = null;

  constructor(visit: LiveVisit, together: Together) {
    this.#visit = visit;
    this.#together = together;
  }

  add(viewer: Viewer): void {
    this.#catchUp(viewer);
    this.all.add(viewer);
    this.#unwatch ??= this.#visit.watch((frame) => this.tell(frame));
  }

  remove(viewer: Viewer): void {
    this.all.delete(viewer);
    if (this.all.size === 0) this.end();
  }

  end(): void {
    this.#unwatch?.();
    this.#unwatch = null;
  }

  /** To be called each second: says that the server is there where nothing else has said so. */
  beat(): void {
    if (!this.#hasTold) {
      const frame: Beat = { type: 'beat', t: this.#visit.shownT };
      const text = JSON.stringify(frame);
      for (const { socket, behind } of this.all) if (!behind) socket.send(text);
    }
    this.#hasTold = false;
  }

  tell(frame: Frame): void {
    let text: Buffer | null = null;
    let past: Buffer | null = null;
    let values: Buffer | null = null;
    if (frame.type === 'snapshot' || frame.type === 'state') this.#hasTold = true;
    const begunT = performance.now();
    for (const viewer of this.all) {
      // What it knows of the past is of no use: it is given all of it again, now or once its line is free.
      if (frame.type === 'state' && viewer.knownT !== null) viewer.knownT = 0;
      if (viewer.behind && viewer.socket.bufferedAmount > FREE_BYTES) continue;
      if (viewer.behind) {
        if (performance.now() - begunT > CATCH_UP_MS) continue; // with the next frame
        viewer.behind = false;
        this.#catchUp(viewer); // this frame is part of what it is given
        continue;
      }
      if (viewer.socket.bufferedAmount > BEHIND_BYTES) {
        viewer.behind = true;
        continue;
      }
      text ??= frame.type === 'snapshot' ? snapshotBytes(frame) : bytesOf(frame); // once for all
      this.#send(viewer, text);
      if (frame.type === 'state' && viewer.knownT !== null) {
        past ??= bytesOf(this.#visit.history(0));
        this.#send(viewer, past);
        viewer.knownT = frame.t ?? 0;
      }
      if (frame.type !== 'snapshot') continue;
      if (viewer.knownT !== null) viewer.knownT = frame.t;
      if (!viewer.wantsValues) continue;
      values ??= bytesOf(this.#visit.values());
      this.#send(viewer, values);
    }
  }

  #catchUp(viewer: Viewer): void {
    const state = this.#visit.state();
    this.#send(viewer, JSON.stringify(state));
    if (viewer.knownT === null) return;
    this.#send(viewer, JSON.stringify(this.#visit.history(viewer.knownT)));
    viewer.knownT = state.t ?? viewer.knownT;
  }

  /** @param text what many are sent is made into bytes once */
  #send({ socket, wire }: Viewer, text: string | Buffer): void {
    this.#together.hold(wire);
    socket.send(text, { binary: false });
  }
}

const bytesOf = (frame: Frame): Buffer => Buffer.from(JSON.stringify(frame));
