import type { Reading } from '../adapters/contract.ts';
import { history } from './history.ts';
import { snapshot } from './session.ts';

export const visit = (readings: readonly Reading[]): number => history.push(snapshot(readings));
