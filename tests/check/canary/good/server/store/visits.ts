import { appendFileSync } from 'node:fs';
import type { Reading } from '../../adapters/contract.ts';

export const keep = (path: string, reading: Reading): void =>
  appendFileSync(path, JSON.stringify(reading));
