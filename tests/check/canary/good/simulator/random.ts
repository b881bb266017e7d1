export const draw = (seed: number): number => Math.abs(Math.sin(seed));
