/** The parts of a capacity that are ratios of small differences: said only where they mean something. */
import type { CapacitySnapshot } from '../../server/protocol.ts';
import { NO_FIGURE, ratio, withSign } from './figures.ts';
import type { Scale } from './scales.ts';
import { t } from '../../server/words/language.ts';

/** A little over 1 is what scatter makes of a dry coil; more is no ratio of parts any more. */
const HIGHEST_RATIO = 1.05;

export const PARTS = {
  title: t`What the capacity is made of`,
  sensible: t`Sensible`,
  latent: t`Latent`,
  heatRatio: t`Sensible heat ratio`,
  condensate: t`Condensate`,
  together: (units: number): string =>
    units === 2 ? t`Both units together` : t`All ${units} units together`,
};

/** Why several heads have no sum. */
export const NO_SUM = t`One has no figure, or their modes differ.`;

/** The sensible heat ratio; a dash where the latent part has the wrong sign by more than scatter. */
export function heatRatioWords(capacity: CapacitySnapshot | null): string {
  const { sensibleHeatRatio: value = null, sensibleHeatRatioU95 = null } = capacity ?? {};
  const possible = value !== null && value >= 0 && value <= HIGHEST_RATIO;
  return possible ? ratio(value, sensibleHeatRatioU95) : NO_FIGURE;
}

/** The condensate; a dash where it cannot be told whether the coil takes water out of the air. */
export function condensateWords(capacity: CapacitySnapshot | null, scale: Scale): string {
  if (capacity === null) return NO_FIGURE;
  const { condensateKgh, latentW, latentU95W } = capacity;
  const told = latentW !== null && Math.abs(latentW) >= (latentU95W ?? 0);
  return told ? withSign(condensateKgh, scale) : NO_FIGURE;
}
