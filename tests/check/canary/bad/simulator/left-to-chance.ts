/** Error: the simulator is deterministic from its seed. */
export const a = Math.random();
