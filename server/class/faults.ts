/** The faults of lessons, as who leads a class adds them. */
import {
  FAULT_KINDS,
  FAULT_MODES,
  FAULT_SIZES,
  type FaultKind,
  FROM_THE_START,
} from '../../simulator/faults.ts';

export { FAULT_KINDS };

export interface AddableFault {
  kind: FaultKind;
  /** Of its size. */
  least: number;
  most: number;
  /** The only mode in which it occurs; null: in both. */
  mode: 'cooling' | 'heating' | null;
}

/** Those that can come while a lesson runs. */
export const ADDABLE: readonly AddableFault[] = FAULT_KINDS.filter(
  (kind) => !FROM_THE_START.includes(kind),
).map((kind) => {
  const [least, most] = FAULT_SIZES[kind];
  return { kind, least, most, mode: FAULT_MODES[kind] ?? null };
});
