/** Verdicts in words: what it is, what it rests on, and what would make it surer. */
import type { Expected, PushTest, UnitSetup, VerdictMessage } from '../../server/protocol.ts';
import { ratio, signed, withInterval, withSign } from './figures.ts';
import type { Scales } from './scales.ts';
import { clockMinutes } from './times.ts';
import { VERDICT_WORDS } from './verdict-word.ts';

type Now = NonNullable<Expected['now']>;

/** What the room says. */
export const ROOM = {
  title: 'Verdict',
  noCapture: 'No verdict yet. Capture a steady figure: it is the measured side.',
  notYet: 'No verdict yet: what the unit should deliver is not known.',
  surer: 'What would tell',
  should: 'What it should give now',
  at: 'at',
  published: 'Enter what the maker publishes',
  around: 'Outdoors and power',
  heads: 'Other heads',
  picture: (limit: number) => ({
    measured: 'Measured',
    expected: 'Expected',
    limit: `${percentOf(limit)} of it`,
  }),
};

const percentOf = (part: number): string => `${Math.round(100 * part)}\u202f%`;

/** A probability, never written as certain. */
export function chance(probability: number): string {
  if (probability > 0.99) return 'over 99\u202f%';
  return probability < 0.01 ? 'under 1\u202f%' : percentOf(probability);
}

/** The sentence of the verdict. */
export function verdictSentence(v: VerdictMessage, name: string): string {
  const unit = name === '' ? 'The unit' : name;
  const promised = `${percentOf(v.limit)} of what it should`;
  switch (v.verdict) {
    case 'meets':
      return `${unit} delivers at least ${promised}. The chance of that is ${chance(v.probability)}.`;
    case 'falls-short':
      return `${unit} delivers less than ${promised}. The chance that it reaches it is ${chance(v.probability)}.`;
    case 'cannot-tell':
      return v.atMost
        ? `${unit} gives less than it could alone, but other heads may take the rest.`
        : `${unit} may or may not deliver ${promised}: the chance that it does is ${chance(v.probability)}.`;
    case 'not-asked':
      return v.otherSpeed
        ? `The figures are for another fan speed. Set that speed, and push the setpoint again.`
        : `A variable-speed unit gives what it is asked. Push the setpoint to see whether more comes.`;
  }
}

/** "1.02 ± 0.11 of what it should" */
export const ratioWords = ({ ratio: r, ratioU95 }: VerdictMessage): string => ratio(r, ratioU95);

/** The two sides of a verdict, and what they rest on. */
export function sides(
  v: VerdictMessage,
  measured: { totalW: number; totalU95W: number | null },
  { power, temperature }: Scales,
): { name: string; says: string; more: string }[] {
  return [
    {
      name: 'Measured',
      says: withInterval(measured.totalW, measured.totalU95W, power),
      more: `captured ${clockMinutes(v.from)} to ${clockMinutes(v.to)}`,
    },
    {
      name: 'Expected',
      says: withInterval(v.expectedW, v.expectedU95W, power),
      more: conditionsWords(v, temperature),
    },
  ];
}

/** "95.0 °F outdoors, 67.2 °F wet bulb indoors" */
export function conditionsWords(
  { conditions, mode, outdoorFrom }: Pick<Now, 'conditions' | 'mode' | 'outdoorFrom'>,
  temperature: Scales['temperature'],
): string {
  const { outdoorC, indoorC, indoorWetBulbC } = conditions;
  const told = outdoorFrom === 'entered' ? ' (entered)' : '';
  const inside =
    mode === 'cooling'
      ? `${withSign(indoorWetBulbC, temperature)} wet bulb indoors`
      : `${withSign(indoorC, temperature)} indoors`;
  return `${withSign(outdoorC, temperature)} outdoors${told}, ${inside}`;
}

/** What was assumed, as sentences. */
export function assumed(v: Now | VerdictMessage): string[] {
  const list: string[] = [];
  if (v.basis === 'curve') {
    list.push(
      'No published figure lies at these conditions. An open curve for usual ductless units carries the nearest one here: an estimate, ± 10 % or more.',
    );
  }
  if (v.outdoorFrom === 'entered') list.push('The outdoor temperature is entered: ± 2 K.');
  if (v.altitudeFactor < 0.995) {
    list.push(
      `Thin air takes off ${percentOf(1 - v.altitudeFactor)}: an estimate for the indoor side.`,
    );
  }
  if (v.atMost) {
    list.push(
      'Other heads on this outdoor unit run. What is left for this one is not known: it may be less.',
    );
  }
  if (v.limited) list.push('It is what the other heads leave of the outdoor unit’s capacity.');
  return list;
}

/** Why nothing can be expected yet, and where that is mended. */
export function whyWords(why: NonNullable<Expected['why']>, setup: UnitSetup | null): string {
  const modes = (setup?.published ?? []).map(({ mode }) => mode);
  switch (why) {
    case 'nothing':
      return modes.length === 0
        ? 'Nobody has entered what this unit should deliver.'
        : `What this unit should deliver is entered for ${modes.join(' and ')} only.`;
    case 'no-mode':
      return 'The unit neither heats nor cools yet.';
    case 'no-outdoor':
      return 'The outdoor temperature is not known. Hang a probe at the outdoor coil’s inlet, in the shade, or enter it.';
    case 'no-indoor':
      return 'No probe reads the return air.';
    case 'no-wet-bulb':
      return 'Cooling capacity goes with the wet bulb. The return probe needs humidity.';
    case 'outside':
      return 'These conditions lie outside the published figures, and outside where the open curve holds.';
  }
}

const ACTION_WORDS: Record<
  VerdictMessage['prospects'][number]['action'],
  { does: string; href: string | null }
> = {
  check: { does: 'Check the probes side by side', href: '#side-by-side' },
  walk: { does: 'Walk the outlet and the intake', href: '#walk' },
  traverse: { does: 'Measure the airflow by a traverse', href: '#airflow' },
  'outdoor-probe': { does: 'Hang a probe at the outdoor coil’s inlet', href: '#probes' },
  table: { does: 'Enter the maker’s table for these conditions', href: null },
  wait: { does: 'Capture a longer steady span', href: '#figure' },
};

/** What would make it surer: what to do, where, and what the interval would be then. */
export function prospectRows(
  v: VerdictMessage,
): { key: string; does: string; href: string | null; gain: string }[] {
  return v.prospects.slice(0, 3).map(({ action, ratioU95, verdict }) => {
    const now = percentOf(v.ratioU95 / v.ratio);
    const then = percentOf(ratioU95 / v.ratio);
    const told =
      verdict !== v.verdict && (verdict === 'meets' || verdict === 'falls-short')
        ? `. If the figure stays, that says: ${VERDICT_WORDS[verdict].toLowerCase()}`
        : '';
    return {
      key: action,
      ...ACTION_WORDS[action],
      gain: `± ${now} becomes about ± ${then}${told}.`,
    };
  });
}

/** The answer of the last push test. */
export function pushWords({ t, valueC, boost, answer, ...push }: PushTest, scales: Scales): string {
  const how = boost ? 'Boost' : `Setpoint ${withSign(valueC, scales.temperature)}`;
  const came = signed(push.differenceW, push.differenceU95W, scales.power);
  const at = `${how} at ${clockMinutes(t)}: ${came}.`;
  switch (answer) {
    case 'all':
      return `${at} No more came: this is all it gives.`;
    case 'more':
      return `${at} More came. Push it once more.`;
    case 'unsure':
      return `${at} The difference is not known well enough. Let it settle longer, or check the probes first.`;
  }
}

/** Field efficiency: W/W in SI, Btu/h per W where power is in Btu/h. */
export function efficiencyWords(
  { value, u95, powerW, from }: NonNullable<Expected['efficiency']>,
  mode: 'cooling' | 'heating',
  scales: Scales,
): { name: string; says: string; more: string } {
  const isEer = scales.power.sign === 'Btu/h' && mode === 'cooling';
  const per = isEer ? scales.power.show(1) : 1;
  const name = isEer ? 'EER now' : 'COP now';
  const says = isEer
    ? withInterval(value * per, u95 === null ? null : u95 * per, EER).trim()
    : ratio(value, u95);
  const told = from === 'probe' ? 'by a power probe' : 'entered';
  return { name, says, more: `${Math.round(powerW)}\u202fW ${told}` };
}

/** Btu/h for each watt. */
const EER = { sign: '', show: (x: number) => x, read: (x: number) => x, finest: 0.1 };
