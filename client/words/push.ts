/** The push test in words: what to do next, from what has been told and captured. Pure. */
import type { Capture, EventMessage, Expected, UnitSnapshot } from '../../server/protocol.ts';
import { stateWord } from './settling.ts';
import type { Scales } from './scales.ts';
import { withSign } from './figures.ts';
import { clockMinutes } from './times.ts';
import { t } from '../../server/words/language.ts';

/** As far as a remote usually goes, °C: whole degrees in either unit. */
const FURTHEST = {
  cooling: { C: 16, F: (61 - 32) / 1.8 },
  heating: { C: 30, F: (86 - 32) / 1.8 },
} as const;

export const PUSH = {
  title: t`Push test`,
  start: t`Start the push test`,
  boost: t`Boost is on`,
  set: (valueC: number, { temperature }: Scales): string =>
    t`It is set to ${withSign(valueC, temperature)}`,
  do: (valueC: number | null, { temperature }: Scales): string =>
    valueC === null
      ? t`The setpoint is as far as it goes. Press boost on the remote, then touch here.`
      : t`Set the unit to ${withSign(valueC, temperature)} on its remote, or press boost. Then touch here.`,
  first: t`First capture a steady figure: the push is compared with it.`,
  toCapacity: t`To the capacity`,
  again: t`Push it once more`,
};

export type PushStep =
  /** Nothing to compare with yet. */
  | { is: 'capture-first' }
  /** The setpoint to push to; null where it is as far as it goes. */
  | { is: 'ready'; valueC: number | null }
  | { is: 'waiting'; says: string }
  | { is: 'shown'; says: string };

/** Where the push test of a unit stands. */
export function pushStep(
  {
    mode,
    setpointC,
    unit,
    events,
    captures,
    expected,
  }: {
    mode: 'cooling' | 'heating';
    setpointC: number | null;
    unit: UnitSnapshot | null;
    /** Of this unit. */
    events: readonly EventMessage[];
    captures: readonly Capture[];
    expected: Expected | null;
  },
  scales: Scales,
): PushStep {
  const { temperature } = scales;
  const shown = expected?.fullDemand ?? null;
  if (shown !== null) {
    const at = withSign(shown.valueC, temperature);
    return { is: 'shown', says: t`Shown at ${clockMinutes(shown.t)}, setpoint ${at}.` };
  }
  const made = captures.filter(({ struck }) => struck === undefined);
  const told = events.findLast(({ kind }) => kind === 'setpoint');
  const last = made.at(-1);
  // A push that no capture has answered yet.
  const asked =
    told !== undefined && (told.boost === true || isFar(told.valueC, mode, temperature.sign));
  const before = made.some(({ to }) => told !== undefined && to <= told.t + 60_000);
  if (asked && before && last !== undefined && last.to < told.t + 60_000) {
    const state = unit === null ? t`No figure` : stateWord(unit.settling);
    return { is: 'waiting', says: t`${state}. It is captured by itself when it is steady.` };
  }
  if (last === undefined) return { is: 'capture-first' };
  const far = FURTHEST[mode][temperature.sign === '°F' ? 'F' : 'C'];
  return {
    is: 'ready',
    valueC: isFar(setpointC ?? undefined, mode, temperature.sign) ? null : far,
  };
}

function isFar(valueC: number | undefined, mode: 'cooling' | 'heating', sign: string): boolean {
  if (valueC === undefined) return false;
  const far = FURTHEST[mode][sign === '°F' ? 'F' : 'C'];
  return mode === 'cooling' ? valueC <= far + 0.3 : valueC >= far - 0.3;
}
