/** `demo` and `start`: puts the parts together, listens, and ends them in order. */
import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import type { Adapter, EventLine, Line } from '../../adapters/contract.ts';
import { type BleAdapter, createBleAdapter } from '../../adapters/ble/index.ts';
import { createPushAdapter } from '../../adapters/push/index.ts';
import { createSimulatedAdapter } from '../../adapters/simulated/index.ts';
import { simulatedAir } from '../../adapters/simulated/over-bluetooth.ts';
import { Classroom } from '../class/classroom.ts';
import { ClockWatch } from '../clock-watch.ts';
import { fileTrouble } from '../file-trouble.ts';
import { buildApp } from '../http/app.ts';
import { lanUrls } from '../http/access/addresses.ts';
import { AccessBook, ENDED } from '../http/access/book.ts';
import { allowedHosts } from '../http/guard.ts';
import { reencodeAside } from '../photo/photos.ts';
import type { State } from '../protocol.ts';
import { installErrorNet, parsePlugIn, Supervisor } from '../sources/supervisor.ts';
import { databasePath } from '../store/database.ts';
import { PhotoCheck } from '../store/photos.ts';
import type { VisitRecord } from '../store/visit-record.ts';
import { troubleWith } from '../store/folder.ts';
import { linesOf } from '../visit-log/lines.ts';
import { checkLine } from '../visit-log/schema.ts';
import { LiveVisit } from '../visit.ts';
import { every, systemClocks } from './clocks.ts';
import { type ServeOptions, UsageError } from './options.ts';
import { CLIENT_DIR, PHOTO_FILE, RADIO_FILE, REPORT_FILE, VIRTUAL_RADIO } from './built-files.ts';
import { certificate } from './certificate.ts';
import { archiveSender } from './archive-sender.ts';
import { Desk } from './desk.ts';
import { goOn } from './go-on.ts';
import { sayHowToCome } from './how-to-come.ts';
import { lessonShelf } from './lesson-shelf.ts';
import { listen, portOf } from './listen.ts';
import { openRecord, type RecordKind } from './record.ts';
import { type Replaying, replaying } from './replaying.ts';
import { version } from './version.ts';
import type { SetKey, Warm } from '../http/stage.ts';

/** Answered where keys can be of no use. */
const NO_BLUETOOTH =
  'There is no Bluetooth source here that could use a key: start Plateau with one, then enter it.';
/** Ending in order may take so long, ms. */
const END_LIMIT_MS = 8000;
/** Where this and the page are when this runs from the bundle (build/server). */

/** Runs until a signal ends it. */
export async function serve(options: ServeOptions): Promise<void> {
  // From the first moment on: whoever ends it while it is starting ends it cleanly, too.
  const toEnd: (() => void | Promise<void>)[] = [];
  let ending = false;
  const end = async (): Promise<void> => {
    if (ending) return;
    ending = true;
    setTimeout(() => process.exit(0), END_LIMIT_MS).unref(); // whatever hangs is left behind
    for (const step of toEnd.reverse()) await step();
    process.exit(0);
  };
  process.on('SIGINT', () => void end());
  process.on('SIGTERM', () => void end());

  // What is written here is of the person who runs it: nobody else's to read.
  process.umask(0o077);
  await checkFiles(options);
  const tls = await certificate(options.tls);
  const book = new AccessBook({ now: Date.now, steady: () => performance.now() });
  const visit = new LiveVisit(Date.now, hasOwnTime(options) ? null : new ClockWatch(systemClocks));
  const dataDir = resolve(options.dataDir);
  const { record, goesOn } = await openRecord(visit, dataDir, recordKind(options), tell);
  const desk = new Desk({
    ...{ dataDir, visit, record, reportFile: REPORT_FILE },
    begun: () => void supervisor.beginAgain(),
    ended: () => book.endVisit(ENDED.visit),
  });
  toEnd.push(() => {
    visit.finish();
    desk.record.close();
  });
  /** A demo that goes on keeps what a person has made of it: its set-up is not told anew. */
  let keeps = goesOn;
  const push = createPushAdapter();
  const photos = new PhotoCheck();
  const supervisor = new Supervisor({
    sink: {
      line: (adapter, simulated, line) => {
        const checked = checkLine(line);
        if ('refusal' in checked) return checked.refusal;
        if (own.replay !== undefined) return own.replay.take(checked.line, line);
        if (isClock(checked.line)) return NO_CLOCK;
        // One source with a wrong clock must not shut out the others; made-up time is its own.
        if (!simulated && isAhead(checked.line)) return AHEAD;
        if (desk.record.full && checked.line.type === 'reading') return desk.record.trouble;
        if (keeps && simulated && isKnown(checked.line, visit)) return null;
        return photos.take(checked.line) ?? visit.line(checked.line, { adapter, simulated });
      },
      link: (adapter, probe, link) => visit.link(probe, link, { adapter, simulated: false }),
      status: (adapter, state, text) => {
        visit.status(adapter, { state, text });
        if (state === 'unavailable') tell(`${adapter}: ${text ?? 'unavailable'}`);
      },
    },
  });
  installErrorNet(); // before any adapter's code is loaded
  const own = ownAdapters(options, visit);
  if (own.replay === undefined) supervisor.add(push, { linesPerS: Infinity });
  for (const adapter of own.adapters) supervisor.add(adapter, { linesPerS: Infinity });
  for (const text of options.adapters) await supervisor.addPlugIn(plugIn(text));

  const room = new Classroom({
    ...{ now: Date.now, steady: () => performance.now(), newCode: () => book.freshDigits() },
    every,
    isHere: (id) => book.sessions.some(({ trainee, here }) => trainee === id && here),
    left: (id) => book.endClass(id === null ? ENDED.lesson : ENDED.sentAway, id),
  });
  toEnd.push(() => room.close());
  const sender = await archiveSender(options.archive, dataDir, () => desk.live);
  if (sender !== null) toEnd.push(() => sender.end());
  const allowed = allowedHosts(options.host, options.allowedHosts);
  const scheme = tls === null ? 'http' : 'https';
  const port = (): number => portOf(app) ?? options.port;
  const app = await buildApp({
    house: {
      visit,
      push: async (readings, turn) => {
        const answers = await push.push(readings, turn);
        desk.record.write(); // before they are answered
        return answers;
      },
      full: () => (desk.record.full ? desk.record.trouble : null),
      desk,
      reports: desk,
      photos: {
        reencode: (bytes) => reencodeAside(PHOTO_FILE, bytes),
        photo: (id) => desk.photo(id),
        trouble: () => desk.record.trouble,
      },
      told: (event) => supervisor.event(event),
      forgot: (probe) => supervisor.forget(probe),
      setKey: own.setKey,
      warm: own.warm,
      replay: own.replay,
    },
    access: {
      ...{ book, allowed, lan: options.lan, secure: tls !== null },
      urls: () => lanUrls(scheme, port(), options.host),
      ofClass: (code, name, address) => room.join(code, name, address),
    },
    sending: () => sender?.state ?? null,
    classroom: { room, shelf: lessonShelf(join(dataDir, 'lessons')), random: Math.random },
    version,
    clientDir: CLIENT_DIR,
    tls: tls ?? undefined,
  });
  toEnd.unshift(() => app.close());
  const url = await listen(app, options);
  if (own.replay === undefined) tickRecord(record, visit);
  supervisor.startAll();
  if (goesOn) for (const event of standing(visit.state())) supervisor.event(event);
  keeps = false;
  toEnd.push(() => supervisor.stopAll());
  toEnd.push(own.replay?.run() ?? goOn(visit, () => tickRecord(desk.record, visit)));
  void desk.workOutAll().then(() => sender?.start());
  process.stdout.write(`Plateau ${version} is at ${url}\n`);
  process.stdout.write(
    own.replay === undefined
      ? `The record is in ${databasePath(dataDir)} (visit ${record.id})\n`
      : 'A visit log is played: it cannot be altered, and nothing is recorded.\n',
  );
  if (options.lan) sayHowToCome(lanUrls(scheme, port(), options.host), book);
}

/** @throws UsageError where the data folder or the log to be replayed cannot be used */
async function checkFiles({ dataDir, replay }: ServeOptions): Promise<void> {
  const trouble = await troubleWith(resolve(dataDir));
  if (trouble !== null) throw new UsageError(trouble);
  if (replay === null) return;
  const path = resolve(replay);
  const file = await open(path)
    .then((handle) => handle.stat().finally(() => handle.close()))
    .catch((error: unknown) => {
      throw new UsageError(`--replay ${replay}: ${fileTrouble(error)}`);
    });
  if (file.isDirectory())
    throw new UsageError(`--replay ${replay}: is a folder; it takes a visit log`);
}

interface OwnAdapters {
  adapters: Adapter[];
  setKey: SetKey;
  warm?: Warm;
  /** Where a visit log is played: then it is the only source. */
  replay?: Replaying;
}

function ownAdapters(options: ServeOptions, visit: LiveVisit): OwnAdapters {
  const adapters: Adapter[] = [];
  const own: OwnAdapters = { adapters, setKey: () => NO_BLUETOOTH };
  const { replay } = options;
  if (replay !== null) {
    const path = resolve(replay);
    own.replay = replaying(visit, () => linesOf(textOf(path)), options.speed);
    adapters.push(own.replay.adapter);
  } else if (options.command === 'demo') {
    // A visit that ran ahead of the clock (at 60×) goes on where it was.
    const newest = visit.state().t ?? 0;
    const scenario = options.scenario ?? undefined;
    const seed = options.seed ?? undefined;
    const air = options.overBluetooth ? simulatedAir(scenario, seed) : undefined;
    const simulated = createSimulatedAdapter({
      ...{ scenario, seed, outlet: air },
      ...(newest >= Date.now() ? { startT: newest + 1000 } : {}),
      speed: options.speed,
    });
    adapters.push(simulated);
    own.warm = (probe) => simulated.warm(probe);
    if (air !== undefined) {
      // The Bluetooth adapter, whole, above a radio in whose air are the simulated probes.
      const ble = bluetooth(options, visit, [air.radioImport(VIRTUAL_RADIO)]);
      for (const { probe, key } of air.keys) ble.setKey(probe, key);
      adapters.push({ ...ble, simulated: true });
      own.setKey = (probe, key) => ble.setKey(probe, key);
    }
  } else {
    const ble = bluetooth(options, visit);
    adapters.push(ble);
    own.setKey = (probe, key) => ble.setKey(probe, key);
  }
  return own;
}

/** A wrong description of a probe ends the start: what is meant to be read would never come. */
function bluetooth(
  options: ServeOptions,
  visit: LiveVisit,
  radioImports: readonly string[] = [],
): BleAdapter {
  try {
    return createBleAdapter({
      radioFile: RADIO_FILE,
      radioImports,
      adapterIndex: options.bluetoothAdapter,
      descriptionFiles: options.probeDescriptions,
      keysFile: join(resolve(options.dataDir), 'bluetooth-keys.json'),
      nameOf: (id) => {
        const name = visit.probeName(id);
        return name === id ? null : name;
      },
    });
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
}

function plugIn(text: string): ReturnType<typeof parsePlugIn> {
  try {
    return parsePlugIn(text);
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
}

/** Sees to the record; that nothing can be written is part of the state, and of its own output. */
function tickRecord(record: VisitRecord, visit: LiveVisit): void {
  const before = record.trouble;
  record.tick();
  visit.recording(record.id, record.trouble, record.kept);
  if (record.trouble !== null && record.trouble !== before) tell(record.trouble);
}

/** What a source says at its start of units and probes that are there already. */
function isKnown(line: Line, visit: LiveVisit): boolean {
  if (line.type === 'unit' || line.type === 'probe') return visit.has(line.type, line.id);
  return line.type === 'visit' || line.type === 'airflow' || line.type === 'event';
}

/** What a person did to the units and probes, and still holds: a simulation begins with it again. */
function* standing({ visit, check, walk, t: latest }: State): Generator<EventLine> {
  const t = latest ?? 0;
  for (const [unit, { setpointC, fan }] of Object.entries(visit.units)) {
    if (setpointC !== null) yield { type: 'event', t, kind: 'setpoint', unit, valueC: setpointC };
    if (fan !== null) yield { type: 'event', t, kind: 'fan', unit, speed: fan };
  }
  if (check?.phase === 'running') {
    yield { type: 'event', t, kind: 'check', phase: 'start', probes: Object.keys(check.probes) };
  }
  if (walk?.phase !== 'running') return;
  const { unit, place, probe, verdict } = walk;
  const step = { type: 'event', t, kind: 'walk', unit, place, probe } as const;
  yield { ...step, phase: 'start' };
  if (verdict === 'waiting' || verdict === 'found') yield { ...step, phase: 'go' };
}

function textOf(path: string): AsyncIterable<string> {
  return createReadStream(path, { encoding: 'utf8', highWaterMark: 1 << 18 });
}

/** Readings may be dated ahead of the computer's clock by as much as clocks differ, ms. */
const AHEAD_MS = 2000;
const AHEAD =
  "t: lies in the future of this computer's clock; set the clock of the source (or of the computer)";
function isAhead(line: Line): boolean {
  return 't' in line && (line.t ?? 0) > Date.now() + AHEAD_MS;
}

const NO_CLOCK = "kind: that the computer's clock was set is found here, not told by a source";
function isClock(line: Line): boolean {
  return line.type === 'event' && line.kind === 'clock';
}

/** A recording and a simulation keep their own time, whatever the computer's clock does. */
function hasOwnTime({ command, replay, overBluetooth }: ServeOptions): boolean {
  return replay !== null || (command === 'demo' && !overBluetooth);
}

function recordKind({ command, replay, newVisit }: ServeOptions): RecordKind {
  if (replay !== null) return 'replay';
  if (newVisit) return 'new';
  return command === 'demo' ? 'demo' : 'go on';
}

function tell(message: string): void {
  process.stderr.write(`${message}\n`);
}
