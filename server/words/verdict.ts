/** Verdicts in words, as page and report say them alike: what it is, and what it rests on. */
import type { Expected, PushTest, VerdictMessage } from '../protocol.ts';
import { ratio, signed, withInterval, withSign } from './figures.ts';
import type { Scales } from './scales.ts';
import { clockMinutes } from './times.ts';
import { t as say } from './language.ts';

type Verdict = VerdictMessage['verdict'];
type Now = NonNullable<Expected['now']>;

/** The verdict in a word or three. */
export const VERDICT_WORDS: Record<Verdict, string> = {
  meets: say`Meets`,
  'falls-short': say`Falls short`,
  'cannot-tell': say`Cannot tell`,
  'not-asked': say`Not asked for all it has`,
};

/** "90 %" of a part. */
export const percentOf = (part: number): string => `${Math.round(100 * part)}\u202f%`;

/** A probability, never written as certain. */
export function chance(probability: number): string {
  if (probability > 0.99) return say`over 99\u202f%`;
  return probability < 0.01 ? say`under 1\u202f%` : percentOf(probability);
}

/** The sentence of the verdict. */
export function verdictSentence(v: VerdictMessage, name: string): string {
  const unit = name === '' ? say`The unit` : name;
  const promised = say`${percentOf(v.limit)} of what it should`;
  switch (v.verdict) {
    case 'meets':
      return say`${unit} delivers at least ${promised}. The chance of that is ${chance(v.probability)}.`;
    case 'falls-short':
      return say`${unit} delivers less than ${promised}. The chance that it reaches it is ${chance(v.probability)}.`;
    case 'cannot-tell':
      return v.atMost
        ? say`${unit} gives less than it could alone, but other heads may take the rest.`
        : say`${unit} may or may not deliver ${promised}: the chance that it does is ${chance(v.probability)}.`;
    case 'not-asked':
      return v.otherSpeed
        ? say`The figures are for another fan speed. Set that speed, and push the setpoint again.`
        : say`A variable-speed unit gives what it is asked. Push the setpoint to see whether more comes.`;
  }
}

/** "95.0 °F outdoors, 67.2 °F wet bulb indoors" */
export function conditionsWords(
  { conditions, mode, outdoorFrom }: Pick<Now, 'conditions' | 'mode' | 'outdoorFrom'>,
  temperature: Scales['temperature'],
): string {
  const { outdoorC, indoorC, indoorWetBulbC } = conditions;
  const told = outdoorFrom === 'entered' ? say` (entered)` : '';
  const inside =
    mode === 'cooling'
      ? say`${withSign(indoorWetBulbC, temperature)} wet bulb indoors`
      : say`${withSign(indoorC, temperature)} indoors`;
  return say`${withSign(outdoorC, temperature)} outdoors${told}, ${inside}`;
}

/** What was assumed, as sentences. */
export function assumed(v: Now | VerdictMessage): string[] {
  const list: string[] = [];
  if (v.basis === 'curve') {
    list.push(
      say`No published figure lies at these conditions. An open curve for usual ductless units carries the nearest one here: an estimate, ± 10 % or more.`,
    );
  }
  if (v.outdoorFrom === 'entered') list.push(say`The outdoor temperature is entered: ± 2 K.`);
  if (v.altitudeFactor < 0.995) {
    list.push(
      say`Thin air takes off ${percentOf(1 - v.altitudeFactor)}: an estimate for the indoor side.`,
    );
  }
  if (v.atMost) {
    list.push(
      say`Other heads on this outdoor unit run. What is left for this one is not known: it may be less.`,
    );
  }
  if (v.limited) list.push(say`It is what the other heads leave of the outdoor unit’s capacity.`);
  return list;
}

/** The answer of the last push test. */
export function pushWords({ t, valueC, boost, answer, ...push }: PushTest, scales: Scales): string {
  const how = boost ? say`Boost` : say`Setpoint ${withSign(valueC, scales.temperature)}`;
  const came = signed(push.differenceW, push.differenceU95W, scales.power);
  const at = say`${how} at ${clockMinutes(t)}: ${came}.`;
  switch (answer) {
    case 'all':
      return say`${at} No more came: this is all it gives.`;
    case 'more':
      return say`${at} More came. Push it once more.`;
    case 'unsure':
      return say`${at} The difference is not known well enough. Let it settle longer, or check the probes first.`;
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
  const name = isEer ? say`EER now` : say`COP now`;
  const says = isEer
    ? withInterval(value * per, u95 === null ? null : u95 * per, EER).trim()
    : ratio(value, u95);
  const told = from === 'probe' ? say`by a power probe` : say`entered`;
  return { name, says, more: `${Math.round(powerW)}\u202fW ${told}` };
}

/** Btu/h for each watt. */
const EER = { sign: '', show: (x: number) => x, read: (x: number) => x, finest: 0.1 };
