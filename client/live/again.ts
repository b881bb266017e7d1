/**
 * Does something now, and again so long after it was done: a slow server is not asked twice at once.
 * @returns what ends it
 */
export function again(everyMs: number, act: () => Promise<unknown>): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let isOver = false;
  const once = async (): Promise<void> => {
    await act();
    if (!isOver) timer = setTimeout(() => void once(), everyMs);
  };
  void once();
  return () => {
    isOver = true;
    clearTimeout(timer);
  };
}
