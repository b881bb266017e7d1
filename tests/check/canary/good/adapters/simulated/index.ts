import { roomTemperatureC } from '../../simulator/room.ts';
import type { Reading } from '../contract.ts';

export const simulated = (now: () => number = Date.now): Reading => ({
  t: now(),
  temperatureC: roomTemperatureC(1),
});
