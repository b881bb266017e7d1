import { kelvin } from '../measure/air.ts';

export const steady = (a: number, b: number): boolean => kelvin(a) === kelvin(b);
