/** What a technician does in a visit to the simulator. */
import type { SystemParameters } from '../../../simulator/system.ts';

export interface Act {
  /** A whole second of the visit. */
  atS: number;
  unit: string;
  setpointC?: number;
  fan?: string;
  /** How long after it the log is told, s; null: never. */
  toldAfterS: number | null;
  /** Another act comes before this one has settled. */
  cut?: boolean;
}

export interface Script {
  parameters: SystemParameters;
  acts: Act[];
  endS: number;
  /** Where it cycles by itself: from one rise to the next, s; `found`: as its compressor starts. */
  cycles?: number | 'found';
}
