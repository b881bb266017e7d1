/**
 * Many probes at once: the air, the radio process with the real library, and the Bluetooth adapter
 * with a host that only takes. For the test of what is lost, and for the benchmark.
 */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { createBleAdapter } from '../../../adapters/ble/index.ts';
import type { AdapterHost } from '../../../adapters/contract.ts';
import { AirHost } from '../../../simulator/bluetooth/beneath/air-host.ts';
import type { FromAir } from '../../../simulator/bluetooth/beneath/line.ts';
import type { Plan } from '../../../simulator/bluetooth/plan.ts';
import type { ProbeReading } from '../../../simulator/probe.ts';

/** Where npm runs everything. */
const ROOT = resolve('.');
/** No two readings of a probe are the same: so many hundredths of a degree from here on, °C. */
const FIRST_C = 20;
const EVERY_MS = 250;
/** Ticks of /proc are hundredths of a second everywhere that Node runs. */
const TICK_MS = 10;
const LIMIT_MS = 60_000;

/** Temperatures of one probe, hundredths of a degree, in order. */
type Series = Map<string, number[]>;

export interface Load {
  /** What the link has delivered, and what has arrived, by address. */
  readonly delivered: ReadonlyMap<string, readonly number[]>;
  readonly arrived: ReadonlyMap<string, readonly number[]>;
  /** CPU time from the first reading to the last, ms; the radio's is NaN where it cannot be known. */
  readonly radioCpuMs: number;
  readonly serverCpuMs: number;
}

/** The `i`th of them. */
export function loadPlan(i: number): Plan {
  const address = `f0:1a:b0:00:01:${i.toString(16).padStart(2, '0')}`;
  return {
    ...{ kind: 'environmental', address, name: `Shelf ${i + 1}`, advertisingMs: 100 },
    instances: [{ probe: `p${i}`, measures: ['temperatureC'], intervalS: EVERY_MS / 1000 }],
  };
}

const sleep = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms));

function note(series: Series, address: string, hundredths: number): void {
  const values = series.get(address);
  if (values === undefined) series.set(address, [hundredths]);
  else values.push(hundredths);
}
/** How many there are. */
export function count(series: Load['arrived']): number {
  return [...series.values()].reduce((sum, values) => sum + values.length, 0);
}

/** CPU time that a process has used, ms; NaN where there is no /proc. */
function cpuMsOf(pid: number): number {
  try {
    const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]?.split(' ') ?? [];
    return (Number(fields[11]) + Number(fields[12])) * TICK_MS;
  } catch {
    return NaN;
  }
}

/**
 * Lets so many probes speak four times a second.
 * @param readings of each probe, at most 5000
 * @param speed how many times faster than the clock
 */
export async function load(probes: number, readings: number, speed: number): Promise<Load> {
  execFileSync(process.execPath, ['server/launch.mjs', '--version'], { cwd: ROOT }); // builds
  const plans = Array.from({ length: probes }, (_, i) => loadPlan(i));
  const delivered: Series = new Map();
  const arrived: Series = new Map();
  let pid = 0;

  function said(message: FromAir): void {
    if ('ready' in message) pid = message.ready;
    if (!('heard' in message)) return;
    for (const { what, address, hex } of message.heard) {
      const bytes = Buffer.from(hex, 'hex'); // a notification: code, handle, value
      if (what !== 'frame' || bytes[0] !== 0x1b) continue;
      const value = bytes.readInt16LE(3);
      if (value >= FIRST_C * 100) note(delivered, address.replaceAll(':', ''), value);
    }
  }
  const air = new AirHost({ plans, speed, tells: true, said, controller: { blocks: false } });
  await air.start();
  const adapter = createBleAdapter({
    radioFile: join(ROOT, 'build/server/radio.mjs'),
    radioImports: [air.import(pathToFileURL(join(ROOT, 'build/server/virtual-radio.mjs')))],
  });
  const connected = new Set<string>();
  const host: AdapterHost = {
    emit(line) {
      if (line.type !== 'reading' || line.temperatureC === undefined) return null;
      connected.add(line.probe);
      const hundredths = Math.round(line.temperatureC * 100);
      if (hundredths >= FIRST_C * 100) note(arrived, line.probe.slice(4), hundredths);
      return null;
    },
    ...{ link: () => undefined, status: () => undefined, signal: new AbortController().signal },
  };
  const feed = (temperatureC: number): void =>
    air.feed(plans.map((_, i): ProbeReading => ({ t: Date.now(), probe: `p${i}`, temperatureC })));

  try {
    await adapter.start(host);
    await until(() => {
      feed(5);
      return connected.size === probes;
    }, 'all probes are heard');
    await sleep(1000); // until all have subscribed as well
    const before = { radio: cpuMsOf(pid), server: process.cpuUsage() };
    let dueMs = performance.now();
    for (let k = 0; k < readings; k++) {
      feed(FIRST_C + k / 100);
      // What is late is not made up for: a probe does not hurry either.
      dueMs = Math.max(dueMs + EVERY_MS / speed, performance.now());
      await sleep(dueMs - performance.now());
    }
    let last = -1;
    await until(() => {
      const before = last;
      last = count(delivered) + count(arrived);
      return before === last;
    }, 'nothing more comes');
    const server = process.cpuUsage(before.server);
    return {
      ...{ delivered, arrived, radioCpuMs: cpuMsOf(pid) - before.radio },
      serverCpuMs: (server.user + server.system) / 1000,
    };
  } finally {
    await adapter.stop();
    air.stop();
  }
}

async function until(so: () => boolean, what: string): Promise<void> {
  const end = Date.now() + LIMIT_MS;
  while (!so()) {
    if (Date.now() > end) throw new Error(`it never came to that: ${what}`);
    await sleep(250);
  }
}
