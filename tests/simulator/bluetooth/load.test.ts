import { expect, it } from 'vitest';
import { load } from './load-stage.ts';

it('tries', { timeout: 200_000 }, async () => {
  const t0 = performance.now();
  const { delivered, arrived, radioCpuMs, serverCpuMs } = await load(40, Number(process.env['READ'] ?? 400), Number(process.env['SPEED'] ?? 20));
  const n = (s: ReadonlyMap<string, readonly number[]>) => [...s.values()].reduce((a, b) => a + b.length, 0);
  console.log(n(delivered), n(arrived), radioCpuMs, serverCpuMs, performance.now() - t0);
  expect([...delivered]).toEqual([...arrived]);
});
