/** What somebody else has changed, in a short line. Pure. */
import type { EventMessage, State } from '../../server/protocol.ts';
import type { Changed } from '../../server/protocol/access.ts';
import { t } from '../../server/words/language.ts';

/** Whoever uses the computer itself has given no name. */
const AT_COMPUTER = t`Somebody at the computer`;
export const changerName = ({ name }: Pick<Changed, 'name'>): string => name || AT_COMPUTER;

/** An event that was told longer ago than this is not the change, ms of the visit. */
const JUST_MS = 5000;

/**
 * "Ana changed the airflow of Study."
 * @param told the state with the change in it
 */
export function changedWords(change: Pick<Changed, 'name' | 'what'>, told: State): string {
  const who = changerName(change);
  const [kind, id = '', part] = change.what.split('/');
  const unitName = (unit: string): string => told.visit.units[unit]?.name ?? unit;
  switch (kind) {
    case 'units':
      if (part === 'airflow') return t`${who} changed the airflow of ${unitName(id)}.`;
      if (part === 'expectation') return t`${who} changed what ${unitName(id)} should deliver.`;
      return t`${who} changed the set-up of ${unitName(id)}.`;
    case 'outlets': {
      const unit = told.visit.outlets[id]?.unit;
      return unit === undefined
        ? t`${who} changed an opening.`
        : t`${who} changed the opening of ${unitName(unit)}.`;
    }
    case 'probes': {
      const probe = told.probes[id]?.name;
      return probe === undefined
        ? t`${who} took a probe out of the list.`
        : t`${who} changed the probe ${probe}.`;
    }
    case 'systems':
      return t`${who} changed the outdoor unit.`;
    case 'visit':
      return t`${who} changed the visit settings.`;
    case 'captures':
      return t`${who} added a photo to a capture.`;
    case 'events':
      return eventWords(who, justTold(told), unitName);
    default:
      return t`${who} changed something.`;
  }
}

/** The event that has just been told, where a person told it. */
function justTold({ events, t }: State): EventMessage | null {
  const newest = events.at(-1);
  return newest === undefined || t === null || t - newest.t > JUST_MS ? null : newest;
}

function eventWords(
  who: string,
  event: EventMessage | null,
  unitName: (unit: string) => string,
): string {
  const unit = event?.unit === undefined ? null : unitName(event.unit);
  if (event?.kind === 'setpoint' && unit !== null)
    return t`${who} changed the setpoint of ${unit}.`;
  if (event?.kind === 'fan' && unit !== null) return t`${who} changed the fan speed of ${unit}.`;
  if (event?.kind === 'note') return t`${who} added a note.`;
  return t`${who} made an entry.`;
}

/** In a form that is open on what another has changed: at its top, and at its button. */
export const CONFLICT = {
  top: (who: string): string =>
    t`${who} has changed this since you opened it. Saving replaces those entries.`,
  atSave: (who: string): string => t`Saving replaces what ${who} has entered.`,
  show: t`Show theirs`,
};
