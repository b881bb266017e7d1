import type { Snapshot } from './protocol.ts';

export const history: Snapshot[] = [];
