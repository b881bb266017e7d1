/**
 * A visit log that is played, paused and jumped about in shows what `analyse` prints of it, to the digit.
 * Checked against the project itself: it proves that the two agree, not that a figure is right.
 */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Writable } from 'node:stream';
import { afterEach, describe, expect, test, vi } from 'vitest';
import type { AdapterHost, Line } from '../../adapters/contract.ts';
import { analyse } from '../../server/cli/analyse.ts';
import { replaying } from '../../server/cli/replaying.ts';
import { type Frame, type Snapshot, snapshotSchema, type State } from '../../server/protocol.ts';
import { snapshotJson } from '../../server/snapshot-json.ts';
import { linesOf } from '../../server/visit-log/lines.ts';
import { LiveVisit } from '../../server/visit.ts';
import { testServer } from '../http/app.ts';
import { tempFolder } from '../program.ts';
import { setUp, T0 } from '../session/visit.ts';

const NOBODY = { adapter: null, simulated: false };

let folder = tempFolder();
afterEach(() => {
  vi.useRealTimers();
  folder.remove();
  folder = tempFolder();
});

/** What `analyse` prints of a log, by the time of the snapshot. */
async function analysed(text: string): Promise<Map<number, Snapshot>> {
  const file = join(folder.path, 'visit.ndjson');
  writeFileSync(file, text);
  let printed = '';
  const out = new Writable({
    write: (chunk: Buffer, _encoding, done) => {
      printed += chunk.toString();
      done();
    },
  });
  const told: string[] = [];
  expect(await analyse({ file, everyS: 1, keepGoing: false }, out, (m) => told.push(m))).toBe(0);
  expect(told).toEqual([]);
  const snapshots = printed
    .trim()
    .split('\n')
    .map((line) => snapshotSchema.safeParse(JSON.parse(line)))
    .flatMap(({ data }) => (data === undefined ? [] : [data]));
  return new Map(snapshots.map((snapshot) => [snapshot.t, snapshot]));
}

/** A log as the server plays it, with its ticks; and a viewer. */
async function played(text: string, speed: number) {
  vi.useFakeTimers();
  const visit = new LiveVisit(() => Date.now());
  const refused: string[] = [];
  const frames: Frame[] = [];
  async function* chunks(): AsyncGenerator<string> {
    for (let i = 0; i < text.length; i += 5000) yield text.slice(i, i + 5000);
  }
  const replay = replaying(visit, () => linesOf(chunks()), speed);
  const stopping = new AbortController();
  const host: AdapterHost = {
    emit: (line: Line) => {
      const why = replay.take(line, line);
      if (why !== null) refused.push(why);
      return why;
    },
    link: () => undefined,
    status: () => undefined,
    signal: stopping.signal,
  };
  visit.watch((frame) => frames.push(frame));
  await replay.adapter.start(host);
  const endRun = replay.run();
  const jump = async (toT: number): Promise<void> => {
    const done = replay.change({ toT });
    await vi.advanceTimersByTimeAsync(150);
    expect(await done).toBeNull();
  };
  const end = async (): Promise<void> => {
    endRun();
    await replay.adapter.stop();
    expect(refused).toEqual([]);
  };
  return { visit, replay, frames, jump, end };
}

/** As it is printed: fewer digits than it is worked out to. */
const asPrinted = ({ t, simulated, units, sum }: Snapshot | State): unknown =>
  JSON.parse(snapshotJson({ type: 'snapshot', t: t ?? NaN, simulated, units, sum }));

/** What stands is told again with its time in the seconds of a silence that are not worked out. */
function expectSame(shown: Snapshot | State, printed: Map<number, Snapshot>): void {
  const { t } = shown;
  const newest = printed.get(Math.max(...[...printed.keys()].filter((at) => at <= (t ?? NaN))));
  expect(newest, String(t)).toBeDefined();
  if (newest !== undefined) expect(asPrinted(shown)).toEqual(asPrinted({ ...newest, t: t ?? NaN }));
}

/** Half an hour of two probes out of step, a setpoint, and a silence of ten minutes. */
function log(): string {
  const lines: Line[] = [];
  const wave = (s: number): number => Math.sin(s / 7) + Math.sin(s / 131);
  for (let ms = 0; ms < 1_800_000; ms += 700) {
    if (ms > 900_000 && ms < 1_500_000) continue;
    const s = ms / 1000;
    const temperatureC = 26.7 + 0.1 * wave(s);
    lines.push({ type: 'reading', t: T0 + ms, probe: 'r', temperatureC, humidityPct: 51 });
    if (ms % 2100 !== 0) continue;
    const supplyC = 12 + 6 * Math.exp(-s / 200) + 0.2 * wave(s + 3);
    lines.push({ type: 'reading', t: T0 + ms, probe: 's', temperatureC: supplyC, humidityPct: 94 });
  }
  lines.push({ type: 'event', kind: 'setpoint', t: T0 + 1_600_000, unit: 'u1', valueC: 18 });
  lines.sort((a, b) => ('t' in a && 't' in b ? (a.t ?? 0) - (b.t ?? 0) : 0));
  return [...setUp(), ...lines].map((line) => `${JSON.stringify(line)}\n`).join('');
}

/** A visit that was lived: with readings that came late, and a clock that was set back. */
async function lived(): Promise<string> {
  const server = await testServer();
  for (const line of setUp()) server.visit.line(line, NOBODY);
  for (let s = 0; s < 600; s++) {
    server.clock(s * 1000 - (s > 400 ? 1_800_000 : 0));
    if (s === 400) server.setClock(-1_800_000);
    server.visit.tick();
    const t = server.visit.time();
    const late = s % 10 === 3 ? 3300 : 0;
    const reading = (probe: string, temperatureC: number): object => ({
      ...{ probe, t: Math.round(t) - late, temperatureC, humidityPct: 60 },
    });
    if (s > 200 && s < 280) continue;
    await server.post([reading('r', 26 + (s % 5) / 10), reading('s', 14 + (s % 3) / 10)]);
  }
  return server.record.map((line) => `${line}\n`).join('');
}

describe.each([
  ['a log', async () => log()],
  ['the log of a visit that was lived', lived],
])('%s', (_, make) => {
  test.each([7, 60])('played %d times as fast shows the same figures', async (speed) => {
    const text = await make();
    const printed = await analysed(text);
    const { frames, replay, visit, end } = await played(text, speed);
    await vi.advanceTimersByTimeAsync(1_900_000 / speed);
    expect(replay.state().ended).toBe(true);
    const shown = frames.filter((frame) => frame.type === 'snapshot');
    expect(shown.length).toBeGreaterThanOrEqual(printed.size);
    for (const snapshot of shown) expectSame(snapshot, printed);
    expect(visit.state().t).toBe([...printed.keys()].at(-1));
    await end();
  });

  test('jumped about in, paused and played on shows the same figures', async () => {
    const text = await make();
    const printed = await analysed(text);
    const { frames, replay, visit, jump, end } = await played(text, 5);
    await vi.advanceTimersByTimeAsync(1000);
    const { from, to } = replay.state();
    if (from === null || to === null) throw new Error('it has been read through');
    for (const share of [0.3, 0.9, 0.35, 0.6, 0.1, 0.97, 0]) {
      frames.splice(0);
      await jump(Math.round(from + share * (to - from)));
      // Nobody is told what is worked out on the way; then all is told at once.
      const before = frames.findIndex(({ type }) => type === 'state');
      expect(frames.slice(0, before).filter(({ type }) => type !== 'replay')).toEqual([]);
      if (share > 0) expectSame(visit.state(), printed);
      const { t } = visit.state();
      await replay.change({ paused: true });
      await vi.advanceTimersByTimeAsync(60_000);
      expect((visit.state().t ?? 0) - (t ?? 0)).toBeLessThanOrEqual(1000);
      await replay.change({ paused: false });
      await vi.advanceTimersByTimeAsync(3000);
      for (const frame of frames) if (frame.type === 'snapshot') expectSame(frame, printed);
    }
    await end();
  });
});
