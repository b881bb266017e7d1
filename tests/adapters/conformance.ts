/** The suite that every adapter must pass, whatever it reads. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Adapter } from '../../adapters/contract.ts';
import { checkLine } from '../../server/visit-log/schema.ts';
import { recordingHost, type RecordingHost } from './recording-host.ts';
import { watchResources, type Resources } from './resources.ts';

export interface Candidate<A extends Adapter> {
  /** As it is shown in the report. */
  readonly name: string;
  /** Makes a new adapter; called several times. */
  readonly make: () => A | Promise<A>;
  /** Makes a started adapter deliver something, where it does not do so by itself. */
  readonly drive?: (adapter: A) => void | Promise<void>;
  /** False where there is nothing to deliver here: it must then say why. Default: true. */
  readonly delivers?: boolean;
}

/** Long enough for the slowest adapter; only a failing test waits so long. */
const PATIENCE = { timeout: 10_000, interval: 5 };
/** Long enough for a forgotten timer of an adapter to speak up. */
const AFTERMATH_MS = 120;

/** Registers the suite for one adapter. */
export function testAdapter<A extends Adapter>(candidate: Candidate<A>): void {
  const { make, drive, delivers = true } = candidate;

  describe(`${candidate.name} keeps the contract`, () => {
    let resources: Resources;
    beforeEach(() => {
      resources = watchResources();
    });
    afterEach(() => resources.end());

    const begin = (adapter: A, host: RecordingHost): Promise<void> =>
      resources.run(async () => adapter.start(host));
    const end = (adapter: A, host: RecordingHost): Promise<void> =>
      resources.run(async () => {
        host.abort();
        await adapter.stop();
      });
    const speak = async (adapter: A, host: RecordingHost): Promise<void> => {
      const before = host.readings().length;
      await resources.run(async () => drive?.(adapter));
      if (delivers)
        await vi.waitFor(() => expect(host.readings().length).toBeGreaterThan(before), PATIENCE);
    };
    const expectQuiet = async (...hosts: RecordingHost[]): Promise<void> => {
      const before = hosts.map((host) => host.said());
      await vi.waitFor(() => expect(resources.alive()).toEqual([]), PATIENCE);
      await new Promise((resolve) => setTimeout(resolve, AFTERMATH_MS));
      expect(hosts.map((host) => host.said())).toEqual(before);
    };

    it('has a name and does nothing before it is started', async () => {
      const adapter = await resources.run(async () => make());
      expect(adapter.name).toMatch(/^[\w:.-]{1,40}$/);
      expect([undefined, true, false]).toContain(adapter.simulated);
      await expectQuiet();
    });

    it('says how it is: running, or unavailable and why', async () => {
      const [adapter, host] = [await make(), recordingHost()];
      await begin(adapter, host);
      // Fulfilled without a word means that it runs.
      const last = host.statuses.at(-1) ?? { state: 'running', text: undefined };
      expect(last.state).toBe(delivers ? 'running' : 'unavailable');
      if (!delivers) expect(last.text).toMatch(/^[A-Z].*\.$/);
      await end(adapter, host);
    });

    it('hands over lines that are fit, dated when they were measured', async () => {
      const [adapter, host] = [await make(), recordingHost()];
      await begin(adapter, host);
      await speak(adapter, host);
      await end(adapter, host);
      const refused = host.lines.map(checkLine).filter((checked) => 'refusal' in checked);
      expect(refused).toEqual([]);
      for (const { t } of host.readings()) expect(t).toBeLessThanOrEqual(Date.now() + 5000);
    });

    it('marks what is simulated in its set-up lines as well', async () => {
      const [adapter, host] = [await make(), recordingHost()];
      await begin(adapter, host);
      await speak(adapter, host);
      await end(adapter, host);
      if (adapter.simulated !== true) return;
      const visits = host.lines.filter((line) => line.type === 'visit');
      for (const visit of visits) expect(visit.simulated).toBe(true);
    });

    it('falls silent when it is stopped, and leaves nothing behind', async () => {
      const [adapter, host] = [await make(), recordingHost()];
      await begin(adapter, host);
      await speak(adapter, host);
      await end(adapter, host);
      await resources.run(async () => drive?.(adapter));
      await expectQuiet(host);
    });

    it('can be stopped in the middle of its start', async () => {
      const [adapter, host] = [await make(), recordingHost()];
      const starting = begin(adapter, host).catch(() => undefined);
      await end(adapter, host);
      await starting;
      await expectQuiet(host);
    });

    it('begins afresh when it is started again', async () => {
      const adapter = await make();
      const [first, second] = [recordingHost(), recordingHost()];
      for (const host of [first, second]) {
        await begin(adapter, host);
        await speak(adapter, host);
        await end(adapter, host);
      }
      expect(setUp(second)).toEqual(setUp(first));
      await expectQuiet(first, second);
    });

    it('shares nothing with another of its kind', async () => {
      const [a, b] = [await make(), await make()];
      const [hostA, hostB] = [recordingHost(), recordingHost()];
      await begin(a, hostA);
      await begin(b, hostB);
      await speak(a, hostA);
      await speak(b, hostB);
      expect(setUp(hostB)).toEqual(setUp(hostA));
      await end(a, hostA);
      const silent = hostA.said();
      await speak(b, hostB);
      expect(hostA.said()).toBe(silent);
      await end(b, hostB);
      await expectQuiet(hostA, hostB);
    });

    it('goes on when its lines are refused', async () => {
      const [adapter, host] = [await make(), recordingHost('not this one')];
      await begin(adapter, host);
      await speak(adapter, host);
      await speak(adapter, host);
      await end(adapter, host);
    });

    it('takes events of units that it does not know', async () => {
      const [adapter, host] = [await make(), recordingHost()];
      await begin(adapter, host);
      const t = Date.now();
      const tell = (): void => {
        adapter.event?.({ type: 'event', t, kind: 'setpoint', unit: 'nowhere', valueC: 21 });
        adapter.event?.({ type: 'event', t, kind: 'fan', unit: 'nowhere', speed: 'none' });
        adapter.event?.({ type: 'event', t, kind: 'note', text: 'a door was opened' });
      };
      expect(() => resources.run(tell)).not.toThrow();
      await end(adapter, host);
    });
  });
}

/** What a host was told of the visit, its units and probes. */
function setUp(host: RecordingHost) {
  return host.lines.filter(({ type }) => type === 'visit' || type === 'unit' || type === 'probe');
}
