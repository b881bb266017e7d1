/** Errors: nobody waits for the promises, and nobody sees them fail. */
const work = (): Promise<void> => Promise.reject(new Error('unseen'));

export function start(): void {
  work();
  setInterval(async () => {
    await work();
  }, 1000);
}
