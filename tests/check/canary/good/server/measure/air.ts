import { ZERO_K } from './zero.ts';

export const kelvin = (temperatureC: number): number => temperatureC + ZERO_K;
