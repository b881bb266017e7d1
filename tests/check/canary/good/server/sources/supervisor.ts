import { setTimeout } from 'node:timers/promises';
import type { Reading } from '../../adapters/contract.ts';

export async function later(take: () => Promise<Reading>): Promise<Reading> {
  await setTimeout(1);
  return take();
}
