/** One trainee: a visit of their own, over a simulation of their own of the air that all breathe. */
import type { SimulatedAdapter } from '../../adapters/simulated/index.ts';
import type { AdapterHost, EventLine } from '../../adapters/contract.ts';
import type { Result, TraineeItem } from '../protocol/class.ts';
import { LiveVisit } from '../visit.ts';
import type { Decision } from './decisions.ts';
import { resultOf } from './result.ts';
import { UNIT } from './site.ts';

const SOURCE = { adapter: 'simulated', simulated: true } as const;
/** The visit's time goes on so often, ms: as soon as a second's readings are there. */
const TICK_MS = 100;

/** Does something every so many ms. @returns what ends it */
export type Every = (ms: number, work: () => void) => () => void;

export interface TraineeOptions {
  id: string;
  name: string;
  /** The machine from which they have joined. */
  address: string;
  /** The visit's id, as it stands in its state. */
  visitId: string;
  /** The time of the class, ms since the epoch. */
  now: () => number;
  source: SimulatedAdapter;
  every: Every;
}

export class Trainee {
  readonly id: string;
  readonly name: string;
  readonly address: string;
  readonly joinedT: number;
  readonly visit: LiveVisit;
  readonly source: SimulatedAdapter;
  #decision: { cause: Decision; t: number } | null = null;
  readonly #now: () => number;
  readonly #ended = new AbortController();
  readonly #endTicking: () => void;

  constructor({ id, name, address, visitId, now, source, every }: TraineeOptions) {
    this.id = id;
    this.name = name;
    this.address = address;
    this.joinedT = now();
    this.source = source;
    this.#now = now;
    this.visit = new LiveVisit(now);
    const { visit } = this;
    const host: AdapterHost = {
      emit: (line) => visit.line(line, SOURCE),
      link: (probe, link) => visit.link(probe, link, SOURCE),
      status: (state, text = undefined) => visit.status(source.name, { state, text: text ?? null }),
      signal: this.#ended.signal,
    };
    visit.recording(visitId, null, false);
    void source.start(host);
    this.#endTicking = every(TICK_MS, () => visit.tick());
  }

  /** What the simulation has to know of what they did. */
  told(event: EventLine): void {
    this.source.event?.(event);
  }

  decide(cause: Decision): void {
    this.#decision = { cause, t: Math.round(this.#now()) };
  }
  get decision(): { cause: Decision; t: number } | null {
    return this.#decision;
  }

  /** @param here whether a page of theirs is open */
  stand(here: boolean, right: readonly Decision[] | null, startT: number): TraineeItem {
    const { units, probes, captures, visit, verdicts } = this.visit.state();
    const all = Object.values(probes);
    const unit = units[UNIT];
    return {
      ...{ id: this.id, name: this.name, joinedT: this.joinedT, here },
      placed: all.filter(({ place }) => place !== null).length,
      probes: all.filter(({ anemometer }) => anemometer === undefined).length,
      checked: all.some(({ check }) => check !== null),
      airflow: visit.units[UNIT]?.airflow?.source ?? null,
      state: unit?.settling.state ?? null,
      totalW: unit?.capacity.totalW ?? null,
      totalU95W: unit?.capacity.totalU95W ?? null,
      captures: captures.filter(({ struck }) => struck === undefined).length,
      verdict: verdicts.at(-1)?.verdict ?? null,
      decision: this.#decision,
      result: right === null ? null : this.result(right, startT),
    };
  }

  /** @param right the answers that are right @param startT when the lesson began */
  result(right: readonly Decision[], startT: number): Result {
    return resultOf(this.visit.state(), {
      truth: (from, to) => this.source.truth(UNIT, from, to),
      decision: this.#decision,
      right,
      sinceT: Math.max(startT, this.joinedT),
    });
  }

  end(): void {
    this.#endTicking();
    this.#ended.abort();
    void this.source.stop();
    this.visit.finish();
  }
}
