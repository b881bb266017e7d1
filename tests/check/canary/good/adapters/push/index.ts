import { hostname } from 'node:os';
import { z } from 'zod';
import type { Reading } from '../contract.ts';
import { NAME } from './name.ts';

export const push = (t: number): Reading => ({ t, temperatureC: 20 });
export const who = z.string().parse(`${NAME} at ${hostname()}`);
