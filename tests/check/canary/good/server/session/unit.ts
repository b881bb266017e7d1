import type { Reading } from '../../adapters/contract.ts';
import { steady } from '../signal/steady.ts';

export const calm = (a: Reading, b: Reading): boolean => steady(a.temperatureC, b.temperatureC);
