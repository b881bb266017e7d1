/** What this browser remembers for this person: small choices, each under its key. */
import type * as z from 'zod/mini';

/** What was remembered, or `otherwise` where there is nothing, or nothing of ours. */
export function remembered<T>(key: string, schema: z.ZodMiniType<T>, otherwise: T): T {
  try {
    const parsed = schema.safeParse(JSON.parse(localStorage.getItem(key) ?? 'null'));
    return parsed.success ? parsed.data : otherwise;
  } catch {
    return otherwise; // storage is closed to us, or holds something that is not ours
  }
}

export function remember(key: string, value: unknown): void {
  try {
    localStorage.setItem(key, JSON.stringify(value));
  } catch {
    // Not remembered; it holds for as long as the page does.
  }
}
