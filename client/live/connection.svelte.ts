/**
 * The line to the server: one socket, what it last said, and whether that is still true.
 *
 * It reconnects for ever. On connecting the server sends its state, then the history since the last
 * row held here, then live frames; history.ts puts them together. The server's clock rules.
 */
import ReconnectingSocket from 'partysocket/ws';
import * as z from 'zod/mini';
import {
  frameSchema,
  stateSchema,
  type Ask,
  type Frame,
  type State,
} from '../../server/protocol.ts';
import type { Changed } from '../../server/protocol/access.ts';
import { ageMs, type Freshness, freshnessOf, type Moment } from './freshness.ts';
import { History } from './history.ts';
import { merged } from './merge.ts';

// The page's security policy forbids making code at run time, which zod would otherwise do.
z.config({ jitless: true });

/** A state this much older than what is held is another visit: a restarted simulation. */
const ANOTHER_VISIT_MS = 5000;
/** An open socket that has been silent for so long may be dead without knowing it: each second brings something. */
const SILENCE_MS = 10_000;
const WATCH_EVERY_MS = 250;
/** A visit played fast says something new 200 times a second: it is shown so often at most. */
const SHOW_EVERY_MS = 200;
/** The server has so long to answer when it is asked whether it is there. */
const ANSWER_MS = 3000;
/** Further ahead than this, the server has sent what has not come through. */
const MISSED_MS = 4000;

/** How a server closes a line that has no room, or that may not go on (IANA, WebSocket close codes). */
const TRY_LATER = 1013;
const POLICY = 1008;

const now = (): Moment => ({ steady: performance.now(), wall: Date.now() });

export type LineState = 'connecting' | 'open' | 'down';

/** A frame of the stream, or null where the text is none. */
function parseFrame(text: unknown): Frame | null {
  if (typeof text !== 'string') return null;
  try {
    const parsed = frameSchema.safeParse(JSON.parse(text));
    return parsed.success ? parsed.data : null;
  } catch {
    return null; // not JSON
  }
}

function streamUrl(since: number): string {
  // ws: for http:, wss: for https:
  return `${location.origin.replace(/^http/, 'ws')}/api/stream?since=${since}`;
}

/** The time of the server's latest data by another way than the socket; undefined: no answer. */
async function latestT(): Promise<number | null | undefined> {
  try {
    const response = await fetch('/api/state', { signal: AbortSignal.timeout(ANSWER_MS) });
    const parsed = stateSchema.safeParse(await response.json());
    return parsed.success ? parsed.data.t : undefined;
  } catch {
    return undefined;
  }
}

/** Frames that a hand may wait for, or of which each counts (what is read of a probe that is warmed). */
const AT_ONCE: ReadonlySet<Frame['type']> = new Set([
  'visit',
  'event',
  'check',
  'walk',
  'replay',
  'values',
]);

/** How often the clock was set: then all times of before are others. */
function clockSets(state: State | null): number {
  return state?.events.filter(({ kind }) => kind === 'clock').length ?? 0;
}

export class Connection {
  /** How the line is. While it is not `open`, nothing below may be shown as live. */
  line = $state<LineState>('connecting');
  /** Why the server has closed the line, where it has said so (too many pages watch); null otherwise. */
  refusal = $state<string | null>(null);
  /** Whether what was last said is still true, by the page's own clock. */
  freshness = $state<Freshness>('fresh');
  /** The state with what has come since merged into it; null before the first one. See `SHOW_EVERY_MS`. */
  state = $state.raw<State | null>(null);
  /** Grows soon after `history` has changed; read it to be told. */
  historyVersion = $state(0);
  /** What somebody has changed last; null: nothing yet. */
  changed = $state.raw<Changed | null>(null);
  /** Frames that were not understood. */
  refused = $state(0);
  readonly history = new History();

  #socket: ReconnectingSocket | null = null;
  #heardAt = now();
  /** When the figures were last known to be of now; null before the first state. */
  #figuresAt: Moment | null = null;
  /** What `state` is about to be. */
  #latest: State | null = null;
  #hasNewRows = false;
  #shownAt = -Infinity;
  #showing: ReturnType<typeof setTimeout> | undefined;
  #wantsValues = false;
  /** Whether this socket has brought its state: with a later one comes all of the past again. */
  #greeted = false;
  /** How many jumps the replay had behind it in the last state. */
  #jumps: number | undefined;
  readonly #onclosed: (why: string) => void;

  /** @param onclosed told whenever the line has been closed, or could not be made; with why, if that was said */
  constructor(onclosed: (why: string) => void = () => undefined) {
    this.#onclosed = onclosed;
  }

  /** Connects, and keeps connected. @returns what ends it */
  start(): () => void {
    const ended = new AbortController();
    const socket = new ReconnectingSocket(() => streamUrl(this.history.lastT ?? 0), null, {
      // Many pages must not come back in the same instant.
      minReconnectionDelay: 300 + Math.random() * 700,
      maxReconnectionDelay: 4000 + Math.random() * 2000,
      reconnectionDelayGrowFactor: 1.5,
      minUptime: 2000,
      connectionTimeout: 5000,
    });
    const { signal } = ended;
    socket.addEventListener(
      'open',
      () => {
        this.#heardAt = now();
        this.#greeted = false;
        if (this.#wantsValues) this.#ask();
      },
      { signal },
    );
    socket.addEventListener('message', (event) => this.#receive(event.data), { signal });
    socket.addEventListener(
      'close',
      ({ code, reason }) => {
        this.line = 'down';
        // Of a line that breaks before it was open nothing is known: what was said last stands.
        if (reason !== '') this.refusal = code === TRY_LATER ? `${reason}.` : null;
        this.#onclosed(code === POLICY ? reason : '');
      },
      { signal },
    );

    const again = (): void => {
      if (document.visibilityState === 'hidden') return;
      // One that is open or about to be is left alone.
      if (socket.readyState > socket.OPEN) socket.reconnect();
    };
    addEventListener('online', again, { signal });
    addEventListener('pageshow', again, { signal });
    document.addEventListener('visibilitychange', again, { signal });
    addEventListener('offline', () => void this.#prove(socket), { signal });
    // A page that was asleep looks at once; what it held is of before.
    const look = (): void => this.#look(socket);
    for (const wakes of ['visibilitychange', 'resume'])
      document.addEventListener(wakes, look, { signal });
    addEventListener('pageshow', look, { signal });
    const watch = setInterval(look, WATCH_EVERY_MS);

    this.#socket = socket;
    return () => {
      clearInterval(watch);
      clearTimeout(this.#showing);
      ended.abort();
      socket.close();
      this.#socket = null;
    };
  }

  /** Lets go of all that it holds: it is not for whoever looks at this page now. */
  forget(): void {
    this.#latest = null;
    this.#show();
    this.history.clear();
    this.historyVersion = 0;
    this.changed = null;
    this.refusal = null;
    this.line = 'connecting';
    this.#figuresAt = null;
  }

  #look(socket: ReconnectingSocket): void {
    const moment = now();
    this.freshness = freshnessOf(this.#figuresAt, moment);
    if (ageMs(this.#heardAt, moment) >= SILENCE_MS) void this.#prove(socket);
  }

  /** What is held is of now. */
  #refresh(): void {
    this.#figuresAt = this.#heardAt;
    this.freshness = 'fresh';
  }

  /** Whether what the probes read is wanted each second, and not every few. */
  wantValues(on: boolean): void {
    if (on === this.#wantsValues) return;
    this.#wantsValues = on;
    if (this.#socket?.readyState === this.#socket?.OPEN) this.#ask();
  }

  #ask(): void {
    const ask: Ask = { type: 'values', on: this.#wantsValues };
    this.#socket?.send(JSON.stringify(ask));
  }

  /**
   * Finds out whether a silent socket is dead without knowing it, as after a change of network: it
   * is if the server, asked otherwise, does not answer or has gone on. A visit may also be at rest.
   */
  async #prove(socket: ReconnectingSocket): Promise<void> {
    if (socket.readyState !== socket.OPEN) return;
    this.#heardAt = now();
    const serverT = await latestT();
    const lastT = this.#latest?.t ?? null;
    const atRest = serverT !== undefined && (serverT ?? 0) - (lastT ?? 0) < MISSED_MS;
    if (!atRest && socket.readyState === socket.OPEN) socket.reconnect();
  }

  #receive(text: unknown): void {
    this.#heardAt = now();
    const frame = parseFrame(text);
    if (frame === null) {
      this.refused++;
      return;
    }
    this.#take(frame);
  }

  #take(frame: Frame): void {
    if (frame.type === 'state') {
      this.#takeState(frame);
      this.#refresh();
      return;
    }
    if (this.#latest === null) return; // The first frame is the state; nothing before it has a place.
    if (frame.type === 'beat') {
      if (frame.t === this.#latest.t) this.#refresh();
      return;
    }
    if (frame.type === 'changed') {
      this.changed = frame;
      return;
    }
    if (frame.type === 'snapshot') this.#refresh();
    if (frame.type === 'history') this.history.addHistory(frame);
    else this.#latest = merged(this.#latest, frame);
    if (frame.type === 'snapshot') this.history.addSnapshot(frame);
    if (frame.type === 'snapshot' || frame.type === 'history') this.#hasNewRows = true;
    if (AT_ONCE.has(frame.type)) this.#show();
    else this.#showSoon();
  }

  /** Shows what is held: at once, or when the last showing is long enough ago. */
  #showSoon(): void {
    const restMs = this.#shownAt + SHOW_EVERY_MS - performance.now();
    if (restMs <= 0) this.#show();
    else this.#showing ??= setTimeout(() => this.#show(), restMs);
  }

  #show(): void {
    clearTimeout(this.#showing);
    this.#showing = undefined;
    this.#shownAt = performance.now();
    this.state = this.#latest;
    if (!this.#hasNewRows) return;
    this.#hasNewRows = false;
    this.historyVersion++;
  }

  #takeState(state: State): void {
    const lastT = this.history.lastT;
    const another =
      lastT !== null &&
      (state.t === null ||
        state.t < lastT - ANOTHER_VISIT_MS ||
        state.record.visit !== this.#latest?.record.visit ||
        state.replay?.jumps !== this.#jumps ||
        clockSets(state) !== clockSets(this.#latest));
    const isFirst = !this.#greeted;
    this.#greeted = true;
    this.#latest = state;
    this.#jumps = state.replay?.jumps;
    this.line = 'open';
    this.refusal = null;
    if (another) {
      this.history.clear();
      this.#hasNewRows = true;
    }
    this.#show();
    // What was asked for was the history since a time that this visit has not reached.
    if (another && isFirst) this.#socket?.reconnect();
  }
}
