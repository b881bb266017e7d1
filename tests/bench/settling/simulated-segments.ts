/** The segments of a simulated visit, and their plateaus, from its truth. */
import type { Act, Script } from './simulated-script.ts';
import { type SlowCourse, slowCourse } from './slow-course.ts';
import { type Approach, at, type Segment, type Stretch } from './visit.ts';

/** Mean lag of its air probes, s. */
function lagOf({ parameters }: Script): number {
  const lags = parameters.probes
    .filter(({ place }) => place === 'supply')
    .map(({ sensors }) => ({
      t: sensors.temperatureC?.lagS ?? 0,
      rh: sensors.humidityPct?.lagS ?? 0,
    }));
  const { t, rh } = lags[0] ?? { t: 0, rh: 0 };
  return parameters.mode === 'heating' ? t : (t + rh) / 2;
}

/** A change that is smaller than this share of its plateau has no approach worth a forecast. */
const WORTH = 0.1;
/** From the act until a twentieth of the way is done: dead time. */
const BEGUN = 0.05;
/** Quicker than this there is nothing to be forecast: a fan's speed changes the capacity at once, s. */
const LEAST_TAU_S = 10;
const AFTER_DEFROST_S = 300;
/** What drifts faster stands nowhere, and nobody need call it steady: a share in ten minutes. */
const MOST_DRIFT = 0.03;
/** Less than this is no delivery, W. */
const LEAST_W = 200;

interface Cut {
  at: number;
  stretch: Stretch;
  act: Act | null;
}

export function simulatedSegments(
  script: Script,
  trueW: Float64Array,
  compressor: readonly string[],
): { segments: Segment[]; plateauW: Float64Array } {
  const plateauW = new Float64Array(trueW.length).fill(NaN);
  const cuts = cutsOf(script, compressor);
  const segments = cuts.map(({ at: from, stretch, act }, k): Segment => {
    const to = (cuts[k + 1]?.at ?? trueW.length) - 1;
    const told = act?.toldAfterS ?? null;
    const segment: Segment = {
      ...{ stretch, from, to, settledAt: null, approach: null },
      toldAt: told === null ? null : Math.ceil(from + told),
      turns: stretch === 'cycles' ? turnsOf(script, compressor, from) : [],
    };
    if (stretch === 'defrost') {
      // What it was heading for before: nothing in a defrost is on that.
      plateauW.fill(at(plateauW, from - 1), from, to + 1);
    }
    if (stretch !== 'settles') return segment;
    const course = slowCourse(trueW, from, to);
    if (course === null || course.at(to) < LEAST_W) return { ...segment, stretch: 'cut' };
    // Until it is told, nobody can know.
    for (let i = segment.toldAt ?? from; i <= to; i++) plateauW[i] = course.at(i);
    if (Math.abs(course.drift) > MOST_DRIFT) return { ...segment, stretch: 'cut' };
    const afterDefrost = cuts[k - 1]?.stretch === 'defrost';
    segment.settledAt = afterDefrost
      ? Math.max(course.since, from + AFTER_DEFROST_S)
      : course.since;
    segment.approach = act === null ? null : approachOf(trueW, course, segment, lagOf(script));
    return segment;
  });
  return { segments, plateauW };
}

/** Where one segment ends and the next begins: acts, and what the machine does by itself. */
function cutsOf({ acts, cycles }: Script, compressor: readonly string[]): Cut[] {
  if (cycles !== undefined) {
    const first = acts[0]?.atS ?? compressor.indexOf('running');
    return [
      { at: 0, stretch: 'lead', act: null },
      { at: Math.max(first, 1), stretch: 'cycles', act: acts[0] ?? null },
    ];
  }
  const cuts: Cut[] = [{ at: 0, stretch: 'settles', act: null }];
  for (const act of acts) {
    cuts.push({ at: act.atS, stretch: act.cut === true ? 'cut' : 'settles', act });
  }
  let defrosting = false;
  compressor.forEach((state, i) => {
    if (state === 'defrost' && !defrosting) cuts.push({ at: i, stretch: 'defrost', act: null });
    if (state === 'running' && defrosting) cuts.push({ at: i, stretch: 'settles', act: null });
    if (state === 'defrost') defrosting = true;
    if (state === 'running') defrosting = false;
  });
  return cuts.sort((a, b) => a.at - b.at);
}

/** By the period that is known, or as the compressor starts. */
function turnsOf({ cycles, endS }: Script, compressor: readonly string[], from: number): number[] {
  if (typeof cycles === 'number') {
    const count = Math.floor((endS - from) / cycles);
    return Array.from({ length: count }, (_, k) => from + k * cycles);
  }
  return compressor.flatMap((state, i) =>
    state === 'running' && compressor[i - 1] !== 'running' ? [i] : [],
  );
}

function approachOf(
  trueW: Float64Array,
  course: SlowCourse,
  { from }: Segment,
  lagS: number,
): Approach | null {
  const before = at(trueW, from - 1);
  const end = course.since;
  if (Math.abs(course.at(end) - before) < WORTH * Math.abs(course.at(end))) return null;
  const done = (i: number): number => (at(trueW, i) - before) / (course.at(i) - before);
  const since = (share: number): number => {
    let i = from;
    while (i < end && done(i) < share) i++;
    return i - from;
  };
  const deadS = since(BEGUN);
  const tauS = since(1 - Math.exp(-1)) - deadS;
  return tauS < LEAST_TAU_S ? null : { deadS, tauS, largerS: null, lagS };
}
