/** The push adapter: order, clocks, answers. */
import { describe, expect, it } from 'vitest';
import type { Reading } from '../../adapters/contract.ts';
import { createPushAdapter } from '../../adapters/push/index.ts';
import { recordingHost } from './recording-host.ts';

const NOW = Date.UTC(2026, 4, 4, 9, 0, 0);

function at(t: number, probe = 'p'): Reading {
  return { type: 'reading', t, probe, temperatureC: 21 };
}

async function started(refusal: string | null = null) {
  const adapter = createPushAdapter({ now: () => NOW });
  const host = recordingHost(refusal);
  await adapter.start(host);
  return { adapter, host };
}

describe('pushed readings', () => {
  it('go on in the order of their times; of equal times, in the order given', async () => {
    const { adapter, host } = await started();
    const batch = [at(NOW - 1), at(NOW - 3, 'a'), at(NOW - 3, 'b'), at(NOW - 2)];
    expect(await adapter.push(batch)).toEqual([null, null, null, null]);
    expect(host.readings()).toEqual([batch[1], batch[2], batch[3], batch[0]]);
  });

  it('are answered in the order given', async () => {
    const { adapter, host } = await started();
    const answers = await adapter.push([at(NOW + 60_000), at(NOW), at(NOW + 2000), at(NOW + 2001)]);
    expect(answers.map((answer) => answer === null)).toEqual([false, true, true, false]);
    expect(host.readings().map(({ t }) => t)).toEqual([NOW, NOW + 2000]);
  });

  it.each([
    [8200, '8.2 s', '2026-05-04T09:00:08.200Z'],
    [150_000, '2.5 min', '2026-05-04T09:02:30.000Z'],
    [5.5 * 3_600_000, '5.5 h', '2026-05-04T14:30:00.000Z'],
    [365 * 86_400_000, '365.0 days', '2027-05-04T09:00:00.000Z'],
  ])('from %s ms ahead are refused: by how much, and both times', async (ahead, span, iso) => {
    const { adapter } = await started();
    expect(await adapter.push([at(NOW + ahead)])).toEqual([
      `t: the reading is ${span} ahead of this computer's clock ` +
        `(it says ${iso}, here it is 2026-05-04T09:00:00.000Z): set the sender's clock.`,
    ]);
  });

  it('from ahead are shown on the screen, until the clock is set', async () => {
    const { adapter, host } = await started();
    const texts = () => host.statuses.map(({ text }) => text);
    await adapter.push([at(NOW + 60_000, 'a'), at(NOW + 61_000, 'b'), at(NOW, 'c')]);
    const shown = 'Readings of a are refused: the clock of their sender is ahead.';
    expect(texts()).toEqual([undefined, shown]);
    await adapter.push([at(NOW, 'a')]);
    expect(texts()).toEqual([undefined, shown, undefined]);
  });

  it('in other units of time are refused, not a crash', async () => {
    const { adapter } = await started();
    expect((await adapter.push([at(NOW * 1e6)]))[0]).toMatch(/^t: the reading is .* days ahead /);
  });

  it('are answered with what the server says to them', async () => {
    const { adapter } = await started('probe: is missing');
    expect(await adapter.push([at(NOW)])).toEqual(['probe: is missing']);
  });

  it('are refused before a start and after a stop', async () => {
    const { adapter, host } = await started();
    await adapter.stop();
    const words = 'Pushed readings are not taken at the moment; send it again later.';
    expect(await adapter.push([at(NOW), at(NOW)])).toEqual([words, words]);
    expect(await createPushAdapter().push([at(NOW)])).toEqual([words]);
    expect(host.readings()).toEqual([]);
    expect(await adapter.push([])).toEqual([]);
  });
});
