/**
 * A process with a broken adapter and a sound one, for error-net.test.ts. First argument: what is
 * broken; second: `supervised`, or `bare` for the same without a supervisor. Prints what happened to
 * the adapters as JSON when the broken one has been started again and the sound one still delivers.
 */
import type { Adapter, AdapterHost } from '../../adapters/contract.ts';
import { systemClock } from '../../server/sources/clock.ts';
import { installErrorNet, parsePlugIn, Supervisor } from '../../server/sources/supervisor.ts';
import { brokenAdapters } from './broken-adapters.ts';

const [what = '', how] = process.argv.slice(2);
const HASTE = 50;
const statuses: { adapter: string; state: string; text: string | null }[] = [];
let delivered = 0;
let deliveredBefore: number | null = null;

function soundAdapter(): Adapter {
  let timer: NodeJS.Timeout | undefined;
  return {
    name: 'sound',
    start(host) {
      const say = () => host.emit({ type: 'reading', t: 0, probe: 'p', temperatureC: 21 });
      timer = setInterval(say, 2);
    },
    stop: () => clearInterval(timer),
  };
}

const supervisor = new Supervisor({
  clock: { ...systemClock, setTimer: (work, ms) => setTimeout(work, ms / HASTE) },
  random: () => 0,
  sink: {
    line() {
      delivered += 1;
      if (what === 'our own code') setTimeout(() => fail(), 5);
      if (deliveredBefore !== null && delivered >= deliveredBefore + 20) void finish();
      return null;
    },
    link: () => undefined,
    status(adapter, state, text) {
      statuses.push({ adapter, state, text });
      const starts = statuses.filter((s) => s.adapter === 'broken' && s.state === 'starting');
      const noted = text?.includes('left behind') === true;
      if (starts.length >= 2 || noted) deliveredBefore ??= delivered;
    },
  },
});

function fail(): never {
  throw new Error('the roof came down');
}

async function finish(): Promise<void> {
  deliveredBefore = Infinity;
  await supervisor.stopAll();
  process.stdout.write(JSON.stringify(statuses), () => process.exit(0));
}

/** Starts an adapter as a server without a supervisor would. */
function startBare(adapter: Adapter): void {
  const host: AdapterHost = {
    emit: () => null,
    link: () => undefined,
    status: () => undefined,
    signal: new AbortController().signal,
  };
  void Promise.resolve(adapter.start(host)).catch(() => undefined);
}

const broken = brokenAdapters[what]?.();
if (how === 'bare') {
  if (broken !== undefined) startBare(broken);
  startBare(soundAdapter());
} else {
  installErrorNet();
  supervisor.add(soundAdapter());
  if (broken !== undefined) supervisor.add(broken);
  if (what.endsWith('.mjs')) await supervisor.addPlugIn(parsePlugIn(what));
  supervisor.startAll();
  if (what === 'nobody in particular') setTimeout(fail, 5);
  if (what === "nobody's promise") void Promise.resolve().then(fail);
}
