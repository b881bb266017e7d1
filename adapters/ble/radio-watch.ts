/**
 * What is known of the radio, and what is to be done about it next: scan, replace its process, or
 * nothing. Time comes in as an argument.
 */
import type { RadioState } from './sentences.ts';

/** A scan that is off is begun again after so long; connecting ends it, and so do other programs. */
const SCAN_AGAIN_MS = 1000;
/** Another program can end a scan without a word: after a silence it is begun anew, ms. */
const SILENCE_MS = 15_000;
/** Where the loaded library says nothing of the computer's Bluetooth for so long, there is none, ms. */
const NO_WORD_MS = 5000;
/** A process sees only the adapter that was there at its start: a new one looks again, ms. */
const LOOK_AGAIN_MS = { off: 30_000, other: 15_000 };
/** Nothing at all was heard so long: perhaps the other way of scanning hears more, ms. */
const OTHER_WAY_MS = 45_000;
/** So many orders to scan that nothing comes of, and the adapter refuses this way. */
const MOST_REFUSED = 5;
/** A library that chokes more often than this in the time is in disorder. */
const MOST_FAULTS = 50;
const FAULTS_MS = 10_000;

export type Todo = 'scan' | 'replace' | null;

export class RadioWatch {
  #radio: RadioState = { is: 'starting' };
  /** How it scans, and what is known of the ways: the new one is tried where the adapter has it. */
  #extended = false;
  #extendedIs: 'untried' | 'tried' | 'refused' = 'untried';
  /** Of the present process. */
  #process: {
    t: number;
    loadedT: number | null;
    hasState: boolean;
    wasOn: boolean;
    /** How it scans. */
    extended: boolean;
  } | null = null;
  #scan = { on: false, t: -Infinity, askedT: -Infinity };
  #scansRefused = 0;
  #heardT = -Infinity;
  #heardEver = false;
  #onSinceT = 0;
  #faults = { count: 0, sinceT: 0 };

  get radio(): RadioState {
    return this.#radio;
  }

  /** Whether scanning and linking make sense. */
  get isOn(): boolean {
    return this.#process !== null && this.#radio.is === 'on';
  }

  /** The way in which the next process is to scan. */
  get extended(): boolean {
    return this.#extended;
  }

  begun(t: number): void {
    const extended = this.#extended;
    this.#process = { t, loadedT: null, hasState: false, wasOn: false, extended };
    this.#scan = { on: false, t, askedT: -Infinity };
    this.#scansRefused = 0;
    this.#faults = { count: 0, sinceT: t };
  }

  /** @param why as a sentence; null: it was to end, and what is known of the radio still holds */
  ended(why: string | null): void {
    this.#process = null;
    if (why !== null) this.#radio = { is: 'replaced', why };
    else if (this.#radio.is === 'on') this.#radio = { is: 'starting' };
  }

  /** The library is loaded. */
  loaded(t: number): void {
    if (this.#process !== null) this.#process.loadedT = t;
  }

  /**
   * The system has said how its Bluetooth is.
   * @param extended whether the adapter scans in the new way
   */
  state(state: string, extended: boolean, t: number): void {
    const known = stateOf(state);
    if (known === null || this.#process === null) return;
    this.#process.hasState = true;
    this.#radio = known;
    if (known.is === 'on') {
      this.#process.wasOn = true;
      if (extended) this.#hasExtended();
      this.#onSinceT = t;
      this.#scan = { on: false, t, askedT: -Infinity };
    }
  }

  /** The adapter scans in the new way, so that is tried. */
  #hasExtended(): void {
    if (this.#extendedIs !== 'untried') return;
    this.#extendedIs = 'tried';
    this.#extended = true;
  }

  /** There is none to be had. */
  absent(why: Extract<RadioState, { is: 'absent' }>['why'], text: string): void {
    this.#radio = { is: 'absent', why, text };
  }

  scanning(on: boolean, t: number): void {
    if (on) this.#scansRefused = 0;
    this.#scan.on = on;
    this.#scan.t = t;
  }

  heard(t: number): void {
    this.#heardT = t;
    this.#heardEver = true;
  }

  /** A probe was connected, or could not be: either has ended the scan. */
  connected(t: number): void {
    this.#scan = { on: false, t: t - SCAN_AGAIN_MS, askedT: -Infinity };
  }

  fault(t: number): void {
    if (t - this.#faults.sinceT > FAULTS_MS) this.#faults = { count: 0, sinceT: t };
    this.#faults.count += 1;
  }

  /**
   * What is to be done now.
   * @param connecting whether a probe is being connected
   * @param links how many are linked, or being linked
   */
  next(t: number, connecting: boolean, links: number): Todo {
    const process = this.#process;
    if (process === null) return null;
    if (this.#faults.count > MOST_FAULTS) return 'replace';
    if (!process.hasState && this.#radio.is !== 'absent') {
      if (process.loadedT === null || t - process.loadedT < NO_WORD_MS) return null;
      if (process.extended) return this.#backToPlain();
      this.#radio = { is: 'no-adapter' };
    }
    if (this.#radio.is !== 'on') return this.#lookAgain(process, t);
    if (connecting) return null;
    if (process.extended !== this.#extended && links === 0) return 'replace';
    if (process.extended && this.#scansRefused >= MOST_REFUSED) return this.#backToPlain();
    const hearsNothing = !this.#heardEver && links === 0 && t - this.#onSinceT > OTHER_WAY_MS;
    if (hearsNothing && this.#extendedIs === 'tried') {
      this.#extended = !this.#extended;
      return 'replace';
    }
    return this.#scanAgain(t) ? this.#ask(t) : null;
  }

  #ask(t: number): Todo {
    this.#scan.askedT = t;
    this.#scansRefused += 1;
    return 'scan';
  }

  #backToPlain(): Todo {
    this.#extended = false;
    this.#extendedIs = 'refused';
    return 'replace';
  }

  /** A switched-off adapter keeps dead links in its process; a missing one may come back as another. */
  #lookAgain({ t: beganT, wasOn }: { t: number; wasOn: boolean }, t: number): Todo {
    const { is } = this.#radio;
    if (is === 'off' && wasOn) return 'replace';
    if (is === 'unauthorized' || is === 'unsupported') return null;
    if (is === 'absent' && this.#radio.why !== 'no-bluetooth') return null;
    const limitMs = is === 'off' ? LOOK_AGAIN_MS.off : LOOK_AGAIN_MS.other;
    return t - beganT > limitMs ? 'replace' : null;
  }

  #scanAgain(t: number): boolean {
    const { on, t: sinceT, askedT } = this.#scan;
    if (askedT === -Infinity) return true;
    if (!on) return t - Math.max(askedT, sinceT) >= SCAN_AGAIN_MS;
    return t - Math.max(askedT, this.#heardT) > SILENCE_MS;
  }
}

function stateOf(state: string): RadioState | null {
  switch (state) {
    case 'poweredOn':
      return { is: 'on' };
    case 'poweredOff':
      return { is: 'off' };
    case 'unauthorized':
      return { is: 'unauthorized' };
    case 'unsupported':
      return { is: 'unsupported' };
    default:
      return null; // `unknown`, `resetting`: another follows
  }
}
