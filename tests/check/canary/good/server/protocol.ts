import * as z from 'zod/mini';

export const snapshotSchema = z.object({ totalW: z.nullable(z.number()) });
export type Snapshot = z.infer<typeof snapshotSchema>;
