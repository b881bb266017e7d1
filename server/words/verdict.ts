/** Verdicts in words, as page and report say them alike: what it is, and what it rests on. */
import type { Expected, PushTest, VerdictMessage } from '../protocol.ts';
import { ratio, signed, withInterval, withSign } from './figures.ts';
import type { Scales } from './scales.ts';
import { clockMinutes } from './times.ts';

type Verdict = VerdictMessage['verdict'];
type Now = NonNullable<Expected['now']>;

/** The verdict in a word or three. */
export const VERDICT_WORDS: Record<Verdict, string> = {
  meets: 'Meets',
  'falls-short': 'Falls short',
  'cannot-tell': 'Cannot tell',
  'not-asked': 'Not asked for all it has',
};

/** "90 %" of a part. */
export const percentOf = (part: number): string => `${Math.round(100 * part)}\u202f%`;

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
