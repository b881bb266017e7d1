/** Error: what measures imports nothing from outside. */
import { readFileSync } from 'node:fs';

export const table = (path: string): string => readFileSync(path, 'utf8');
