/** The lessons that are built in, from the plain to the tricky. They pass the same schema as those from files. */
import * as z from 'zod';
import type { Random } from '../../simulator/random.ts';
import { type Lesson, lessonSchema } from './lesson.ts';

const POWER_OFF =
  'Switch the unit off and lock the power out before any part comes off; the wheel can turn and fins are sharp.';
const HOT = { temperatureC: 33, humidityPct: 40 };
const COOL = { temperatureC: 10, humidityPct: 60 };

/** A summer's day, and a unit that is asked for all it has. */
const COOLING = {
  type: 'lesson',
  version: 1,
  mode: 'cooling',
  outdoor: HOT,
  room: { temperatureC: 26, humidityPct: 55 },
  setpointC: 20,
  fan: 'high',
} as const;
/** The same in winter. */
const HEATING = {
  ...COOLING,
  mode: 'heating',
  outdoor: COOL,
  room: { temperatureC: 19, humidityPct: 40 },
  setpointC: 25,
} as const;

export const LESSONS: readonly Lesson[] = z.array(lessonSchema).parse([
  {
    ...COOLING,
    id: 'healthy',
    title: 'A unit as it should be',
    task: 'The unit was cleaned last week. Commission it: place the probes, show full demand, wait until it is steady, and capture.',
    cause: ['nothing'],
    lookFor:
      'Return and supply placed the right way round, the fan speed told, the setpoint pushed, and a capture only after it is steady. The verdict is that it meets what it should.',
  },
  {
    ...COOLING,
    id: 'dirty-wheel',
    title: 'Dirty blower wheel',
    task: 'The owner says that it still blows cold, but it takes all day. Find out why.',
    faults: [{ kind: 'dirty-wheel', size: 0.8 }],
    cause: ['wheel'],
    lookFor: `The table’s airflow is that of a clean wheel: only a traverse shows that less air moves. Supply is colder than usual, and capacity lower. A clean filter leaves the wheel. ${POWER_OFF}`,
  },
  {
    ...COOLING,
    id: 'loaded-filter',
    title: 'Loaded filter',
    task: 'Nobody remembers when the filter was last washed. Say what it costs.',
    faults: [{ kind: 'clogged-filter', size: 0.9 }],
    cause: ['filter'],
    lookFor:
      'Traverse the outlet: less air moves than the table says, and supply is colder. Filter and wheel look alike in the figures, so look at the filter first. Switch the unit off before you open the front.',
  },
  {
    ...COOLING,
    id: 'dirty-coil',
    title: 'Dirty indoor coil',
    task: 'The filter is new and the wheel is clean. It still falls short. Find out why.',
    faults: [{ kind: 'dirty-coil', size: 0.95 }],
    cause: ['coil'],
    lookFor: `Less air moves, and supply is no colder for it: the coil touches less of the air. ${POWER_OFF}`,
  },
  {
    ...COOLING,
    id: 'low-charge',
    title: 'Low refrigerant charge',
    task: 'The line set was lengthened in spring. Since then the room does not come down. Measure, and say what you suspect.',
    faults: [{ kind: 'low-charge', size: 0.4 }],
    cause: ['charge'],
    lookFor:
      'Airflow is right and full demand is shown, yet the coil does little and the compressor works hard for it. Only licensed persons open the refrigerant circuit or put gauges on it; eye and hand protection is a must.',
  },
  {
    ...COOLING,
    id: 'other-heads',
    title: 'Other heads share the outdoor unit',
    task: 'Two more heads hang on the same outdoor unit, and people work in those rooms. Measure this one.',
    faults: [{ kind: 'other-heads', size: 0.9 }],
    cause: ['other-heads'],
    lookFor:
      'A head that shares can give only its share. Ask what else runs, switch the others off if nobody needs them, and capture again. The meter at the outdoor unit tells it: full power, half the capacity.',
  },
  {
    ...COOLING,
    id: 'turned-down',
    title: 'Not asked for all it has',
    task: 'A colleague captured half of what it should deliver and wrote “falls short.” Check the finding.',
    room: { ...COOLING.room, sensibleW: 700 },
    faults: [{ kind: 'turned-down', size: 0.55 }],
    cause: ['not-asked'],
    lookFor:
      'A variable-speed unit gives what it is asked. Push the setpoint well past the room and watch: the figure rises, so the first capture judged nothing.',
  },
  {
    ...COOLING,
    id: 'recirculation',
    title: 'The return draws supply air',
    task: 'A new bookcase stands close to the head. Since then the room stays warm although the air is icy.',
    faults: [{ kind: 'recirculation', size: 0.35 }],
    cause: ['recirculation'],
    lookFor:
      'Compare the return with the probe in the room: the return is several degrees colder, so the unit breathes its own air. Turn the louver away, or move what turns the airstream back.',
  },
  {
    ...COOLING,
    id: 'uneven-outlet',
    title: 'Uneven outlet',
    task: 'One supply probe hangs right of the middle. Say whether you trust it.',
    faults: [{ kind: 'uneven-outlet', size: 7 }],
    cause: ['uneven-outlet'],
    lookFor:
      'Walk the outlet: the air at its right end is degrees warmer than at its left, and no one spot stands for the mean. More supply probes along the outlet do.',
  },
  {
    ...COOLING,
    id: 'fan-by-itself',
    title: 'The fan slows down by itself',
    task: 'The fan is on high, says the remote. Measure the unit, and keep an eye on the airflow.',
    setpointC: 20.5,
    room: { temperatureC: 25.4, humidityPct: 52, volumeM3: 120 },
    faults: [{ kind: 'fan-on-auto', size: 4.2 }],
    cause: ['fan-by-itself'],
    lookFor:
      'Within minutes the difference between return and supply grows although nothing was touched: the fan is on auto and has gone down a step or more. The airflow in the set-up no longer holds. Set the speed by hand.',
  },
  {
    ...COOLING,
    id: 'reheat',
    title: 'Drying with reheat',
    task: 'It is a cool wet day and the unit has been set to dry the room. Measure what it does.',
    outdoor: { temperatureC: 24, humidityPct: 80 },
    room: { temperatureC: 24, humidityPct: 66, sensibleW: -300, moistureKgH: 1.8 },
    fan: 'medium',
    faults: [{ kind: 'reheat', size: 0.65 }],
    cause: ['reheat'],
    lookFor:
      'Supply is hardly cooler than return and much drier: nearly all of the capacity is latent. This is how the unit dries without cooling the room. Set it to cool, and measure again.',
  },
  {
    ...COOLING,
    id: 'altitude',
    title: 'A site at 2000 m',
    task: 'The lodge stands high in the hills. The fan table is printed at standard density. Measure the unit.',
    altitudeM: 2000,
    cause: ['altitude'],
    lookFor:
      'A fan moves the same volume of thinner air, so about a fifth less mass. Set the site’s pressure or altitude before anything else; the table’s volume holds, its mass does not. Measured so, the unit is in order.',
  },
  {
    ...COOLING,
    id: 'wet-probe',
    title: 'A wet supply probe',
    task: 'Droplets fly from the outlet. The sensible heat ratio looks odd. Find out whether it is the unit.',
    outdoor: { temperatureC: 38, humidityPct: 20 },
    room: { temperatureC: 28, humidityPct: 35 },
    faults: [{ kind: 'wet-probe', size: 0.9 }],
    cause: ['wet-probe'],
    lookFor:
      'Supply reads close to 100 % all the time and colder than a dry probe beside it: water on it evaporates. Total hardly changes, but sensible reads too high and latent too low. Dry the probe and hang it out of the droplets.',
  },
  {
    ...COOLING,
    id: 'swapped-probes',
    title: 'Swapped probes',
    task: 'A helper hung the probes before you came, and their labels say where. Take over.',
    faults: [{ kind: 'swapped-probes' }],
    placed: true,
    cause: ['swapped-probes'],
    lookFor:
      'In cooling the return must be warmer than the supply. Here it is the other way round, so the capacity is negative. Warm one probe in your hand to see which it is, and place both anew.',
  },
  {
    ...COOLING,
    id: 'drifting-probe',
    title: 'A probe that drifts',
    task: 'The figure never quite settles. Find out whether the unit or the measurement moves.',
    faults: [{ kind: 'drifting-probe', size: 6 }],
    cause: ['drifting-probe'],
    lookFor:
      'Capacity falls slowly and steadily while room, power and airflow stay as they are. Lay the probes side by side: one has walked off. Take another, or check again right before the capture.',
  },
  {
    ...COOLING,
    id: 'wrong-airflow',
    title: 'An airflow of another unit',
    task: 'The airflow has been entered for you. Measure, and judge the unit.',
    airflow: { source: 'entered', factor: 1.4 },
    cause: ['wrong-airflow'],
    lookFor:
      'The unit seems to deliver far more than it can. Temperatures are as usual, so the airflow is not: the figure belongs to a larger unit. A traverse gives the right one.',
  },
  {
    ...COOLING,
    id: 'cycling',
    title: 'A unit too large for its room',
    task: 'A mild day in a small room. Find out what the unit delivers.',
    outdoor: { temperatureC: 24, humidityPct: 60 },
    room: {
      ...{ temperatureC: 24.4, humidityPct: 58, volumeM3: 60 },
      ...{ sensibleW: 500, moistureKgH: 0.4 },
    },
    setpointC: 24,
    fan: 'quiet',
    faults: [{ kind: 'cycling', size: 0.4 }],
    cause: ['cycling'],
    lookFor:
      'The compressor cannot go low enough, so it starts and stops. No moment stands for the whole: average over whole cycles. A push to full demand shows that nothing is wrong with it.',
  },
  {
    ...HEATING,
    id: 'defrost',
    title: 'Defrost',
    task: 'It is just above freezing and damp. Measure the heating that the unit delivers.',
    outdoor: { temperatureC: 1, humidityPct: 92 },
    faults: [{ kind: 'frost', size: 0.8 }],
    cause: ['defrost'],
    lookFor:
      'Capacity falls little by little, then the fan stops and supply turns cold for some minutes: the outdoor coil is melted free. Nothing is wrong. Capture between defrosts, or average over a whole one.',
  },
  {
    ...HEATING,
    id: 'healthy-heating',
    title: 'A heating unit as it should be',
    task: 'A cool, dry day. Commission the unit in heating.',
    cause: ['nothing'],
    lookFor:
      'In heating the supply is the warmer one and the coil is dry: sensible is all there is. The setpoint goes up for full demand, and the figure meets what it should.',
  },
  {
    ...COOLING,
    id: 'filter-in-mid-run',
    title: 'Something changes while you measure',
    task: 'The unit runs well when you come. Keep measuring for half an hour, and say when something changes and what it is.',
    faults: [{ kind: 'clogged-filter', size: 1, afterS: 900 }],
    cause: ['filter'],
    lookFor:
      'At a quarter of an hour supply becomes colder and the airflow less: a sheet of paper lies on the intake. What has been captured before still holds, what comes after is another machine.',
  },
]);

/** One for "surprise me". */
export function pick(random: Pick<Random, 'uniform'>): Lesson {
  const lesson = LESSONS[Math.floor(random.uniform() * LESSONS.length)] ?? LESSONS[0];
  if (lesson === undefined) throw new RangeError('there is no lesson to pick from');
  return lesson;
}
