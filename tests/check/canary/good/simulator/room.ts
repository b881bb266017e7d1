import { kelvin } from '../server/measure/air.ts';
import { draw } from './random.ts';

export const roomTemperatureC = (seed: number): number => kelvin(20 + draw(seed)) - 273.15;
