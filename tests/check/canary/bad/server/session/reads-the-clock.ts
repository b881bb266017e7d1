/** Errors: six ways to read a clock where time comes in with each reading. */
export const a = Date.now();
export const b = new Date();
export const c = Date();
export const d = performance.now();
export const e = globalThis.performance.now();
setTimeout(() => undefined, 1);
/** No error: a time that was given. */
export const f = new Date(0);
