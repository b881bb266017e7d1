import { z } from 'zod';
import { inOrder } from './lateness.ts';

export const schema = z.array(z.object({ t: z.number(), temperatureC: z.number() }));
export const sorted = (text: string) => schema.parse(JSON.parse(text)).sort(inOrder);
