/** What happened, in words: for the flags on the chart and for the list below it. */
import type { EventMessage, ProbeState } from '../protocol.ts';
import { withSign } from './figures.ts';
import type { Scales } from './scales.ts';
import { duration } from './times.ts';
import { t } from './language.ts';
import { codeWord, speedWord } from './names.ts';

type Probes = Record<string, Pick<ProbeState, 'unit'>>;

/** What an event does not say itself. */
export interface EventContext {
  scales: Scales;
  /** The airflow in use, m³/s: what the last airflow event of the unit has brought. */
  flowM3s: number | null;
  /** Which unit each probe belongs to. */
  probes: Probes;
}

/** An event with its words. */
export interface ToldEvent {
  id: string;
  t: number;
  kind: EventMessage['kind'];
  /** What happened, with its name where a person gave it one. */
  words: string;
  /** The name alone, empty where there is none. */
  name: string;
  /** For the flag on the chart: the name, else what happened. */
  short: string;
  /** Whether it may be dated anew: what a person told, or noted, a little late. */
  movable: boolean;
}

const MOVABLE: ReadonlySet<EventMessage['kind']> = new Set(['setpoint', 'fan', 'note']);

/** Whether an event is of a unit, or of the whole visit. A check is of the units of its probes. */
function concerns(event: EventMessage, unit: string, probes: Probes): boolean {
  if (event.kind === 'check') return event.probes?.some((id) => probes[id]?.unit === unit) ?? true;
  return event.unit === undefined || event.unit === unit;
}

function eventWords(event: EventMessage, scales: Scales, flowM3s: number | null): string {
  switch (event.kind) {
    case 'setpoint':
      return event.valueC === undefined
        ? t`set`
        : t`set ${withSign(event.valueC, scales.temperature)}`;
    case 'fan':
      return event.speed === undefined ? t`fan` : t`fan ${speedWord(event.speed)}`;
    case 'airflow':
      return flowM3s === null ? t`airflow` : t`airflow ${withSign(flowM3s, scales.flow)}`;
    case 'check':
      return event.phase === 'end' ? t`check ends` : t`check begins`;
    case 'walk': {
      const where = codeWord(event.place === 'return' ? t`intake` : t`outlet`);
      if (event.phase === 'start') return t`walk along the ${where} begins`;
      return event.phase === 'go' ? t`walk along the ${where}` : t`${where} walked`;
    }
    case 'traverse':
      return phaseWords(event, event.method === 'grid' ? t`grid` : t`sweep`, t`traverse`);
    case 'condensate':
      return phaseWords(event, t`condensate`);
    case 'heat':
      return phaseWords(event, t`heater`);
    case 'zero':
      return phaseWords(event, t`zero in place`);
    case 'defrost':
      return event.phase === 'end' ? t`defrost ends` : t`defrost begins`;
    case 'clock':
      return clockWords(event.shiftMs ?? 0);
    case 'note':
      return event.text || t`note`;
  }
}

/** "sweep begins"; of all but the start the method is not told. */
function phaseWords({ phase }: EventMessage, begins: string, name = begins): string {
  if (phase === 'start') return t`${begins} begins`;
  return phase === 'cancel' ? t`${name} cancelled` : phase === 'end' ? t`${name} ends` : name;
}

function clockWords(shiftMs: number): string {
  const by = duration(Math.abs(shiftMs) / 1000);
  return shiftMs < 0 ? t`clock set back by ${by}` : t`clock set ahead by ${by}`;
}

/** The events that concern a unit, in order of time. */
export function toldEvents(
  events: readonly EventMessage[],
  unit: string,
  { scales, flowM3s, probes }: EventContext,
): ToldEvent[] {
  const ofUnit = events.filter((event) => concerns(event, unit, probes)).sort((a, b) => a.t - b.t);
  const lastAirflow = ofUnit.findLast(({ kind }) => kind === 'airflow');
  return ofUnit.map((event) => {
    const { id, t, kind, text: name = '' } = event;
    const what = eventWords(event, scales, event === lastAirflow ? flowM3s : null);
    return {
      id,
      t,
      kind,
      words: name === '' || kind === 'note' ? what : `${name} (${what})`,
      name,
      short: name || what,
      movable: MOVABLE.has(kind),
    };
  });
}
