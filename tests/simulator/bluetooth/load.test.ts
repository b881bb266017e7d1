import { expect, it } from 'vitest';
import { hasRadioLibrary } from '../../radio-library.mjs';
import { count, load } from './load-stage.ts';

const PROBES = 40;
/** Ten minutes of four a second. */
const READINGS = 2400;
const SPEED = 20;

it.skipIf(!hasRadioLibrary)(
  'of forty probes at 4 Hz for ten minutes loses nothing that the link delivers',
  async () => {
    const { delivered, arrived } = await load(PROBES, READINGS, SPEED);
    // A probe whose buffer is full loses readings itself, when this computer comes to a halt for a while.
    expect(count(delivered)).toBeGreaterThan(0.9 * PROBES * READINGS);
    expect(delivered.size).toBe(PROBES);
    for (const [address, values] of delivered) expect(arrived.get(address)).toEqual(values);
  },
  180_000,
);
