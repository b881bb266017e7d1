import type { Reading } from '../../adapters/contract.ts';

export const inOrder = (a: Reading, b: Reading): number => a.t - b.t;
