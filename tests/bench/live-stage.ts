/**
 * A live visit under load: probes that push JSON lines, as to `POST /api/readings`, and a page that is
 * sent what the stream would send. No sockets: what is measured is the work between them.
 */
import type { Line } from '../../adapters/contract.ts';
import type { Frame } from '../../server/protocol.ts';
import { snapshotJson } from '../../server/snapshot-json.ts';
import { LiveVisit, type Recorder } from '../../server/visit.ts';
import { parseJsonLine } from '../../server/visit-log/reader.ts';
import { checkReading } from '../../server/visit-log/schema.ts';
import { type Random, randomStream } from '../../simulator/random.ts';

export interface Load {
  units: number;
  /** Of each unit, half of them in its return. */
  probes: number;
  /** Readings of each probe in a second. */
  hz: number;
  /** Whether a page is connected. */
  watched: boolean;
}

const T0 = 1_777_885_200_000;
/** Of the way to the new capacity after a setpoint, s. */
const TIME_CONSTANT_S = 150;
const SOURCE = { adapter: 'push', simulated: false };
const LIMITS = { temperatureC: 0.5, humidityPct: 2.5 };
const AIRFLOW = {
  source: 'entered',
  flowM3s: 0.151,
  limitPct: 6,
  basis: 'actual',
  plane: 'supply',
} as const;

export class LiveStage {
  readonly #load: Load;
  readonly #visit: LiveVisit;
  readonly #random: Random = randomStream(1, 'live stage');
  #nowMs = T0;
  /** The next whole second of which there are no readings yet. */
  #second = 0;
  #changedAtS = 0;
  /** How many characters the page was sent. */
  sent = 0;

  constructor(load: Load, record?: Recorder) {
    this.#load = load;
    this.#visit = new LiveVisit(() => this.#nowMs);
    if (record !== undefined) this.#visit.recordTo(record);
    this.#line({ type: 'visit', version: 1, pressurePa: 98_300, mode: 'cooling' });
    for (let u = 0; u < load.units; u++) {
      this.#line({ type: 'unit', id: `u${u}`, airflow: AIRFLOW });
      for (let p = 0; p < load.probes; p++) {
        const place = p % 2 === 0 ? 'return' : 'supply';
        this.#line({ type: 'probe', id: `u${u}-p${p}`, unit: `u${u}`, place, limits: LIMITS });
      }
    }
    if (load.watched) {
      this.#visit.watch((frame: Frame) => {
        const text = frame.type === 'snapshot' ? snapshotJson(frame) : JSON.stringify(frame);
        this.sent += text.length;
      });
    }
  }

  #line(line: Line): void {
    const refusal = this.#visit.line(line, SOURCE);
    if (refusal !== null) throw new Error(refusal);
  }

  /** A new setpoint at every unit: settling begins anew. */
  change(): void {
    this.#changedAtS = this.#second;
    const t = this.#visit.eventTime();
    for (let u = 0; u < this.#load.units; u++) {
      this.#line({ type: 'event', t, kind: 'setpoint', unit: `u${u}`, valueC: 16 });
    }
  }

  /** The visit is over: its chart is recorded to the end. */
  end(): void {
    this.#visit.finish();
  }

  /** What all probes send in the next `seconds`: a body each time they have measured. */
  bodies(seconds: number): string[] {
    const { units, probes, hz } = this.#load;
    const bodies: string[] = [];
    for (let n = 0; n < seconds * hz; n++) {
      const t = T0 + Math.round((this.#second + n / hz) * 1000);
      const settled = 1 - Math.exp(-((t - T0) / 1000 - this.#changedAtS) / TIME_CONSTANT_S);
      let body = '';
      for (let u = 0; u < units; u++) {
        for (let p = 0; p < probes; p++) {
          const share = p % 2 === 0 ? 0 : settled;
          const temperatureC = 26.6 - 12 * share + (this.#random.uniform() - 0.5) * 0.1;
          const humidityPct = 48 + 40 * share + this.#random.uniform() - 0.5;
          body +=
            `{"type":"reading","t":${t},"probe":"u${u}-p${p}",` +
            `"temperatureC":${temperatureC.toFixed(2)},"humidityPct":${humidityPct.toFixed(1)}}\n`;
        }
      }
      // One piece of text, as it comes off a socket, and not the many it was put together from.
      bodies.push(Buffer.from(body).toString());
    }
    this.#second += seconds;
    return bodies;
  }

  /** Takes them as the server does; returns how many readings that were. */
  feed(bodies: readonly string[]): number {
    let taken = 0;
    for (const body of bodies) {
      for (const raw of body.split('\n')) {
        const parsed = parseJsonLine(raw);
        if (parsed === null) continue;
        if ('refusal' in parsed) throw new Error(parsed.refusal);
        const checked = checkReading(parsed.value);
        if ('refusal' in checked) throw new Error(checked.refusal);
        this.#nowMs = checked.line.t;
        this.#line(checked.line);
        taken++;
      }
      this.#visit.tick();
    }
    return taken;
  }
}

/** CPU time of the process that `work` takes, µs: other threads of it (compiler, collector) included. */
export function cpuMicrosOf(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return user + system;
}
