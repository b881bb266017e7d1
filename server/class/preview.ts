/** The true course of a lesson, before anybody plays it: what an instructor sees when choosing or writing one. */
import { atRest, fullLevelW } from '../../simulator/published.ts';
import { System } from '../../simulator/system.ts';
import type { Lesson } from './lesson.ts';
import { changesOf, healthySystemOf, systemOf, UNIT } from './site.ts';

/** What is true at a moment. */
export interface CoursePoint {
  /** Since the lesson began, s. */
  readonly elapsedS: number;
  readonly totalW: number;
  readonly sensibleW: number;
  readonly latentW: number;
  /** Actual flow at the supply, m³/s. */
  readonly flowM3s: number;
  /** Null in heating, and where nothing is delivered. */
  readonly sensibleHeatRatio: number | null;
  /** What is taken of the most that the compressor has, as a part. */
  readonly compressorShare: number;
}

export interface Preview {
  /** One each ten seconds. */
  readonly course: readonly CoursePoint[];
  readonly end: CoursePoint;
  /**
   * What a healthy unit, alone on its outdoor unit and asked for all it has, would give at the end: in this
   * room and weather, at the fan speed that the lesson sets, W.
   */
  readonly healthyW: number;
}

const EVERY_S = 10;
/** A class does not last longer, min. */
const LONGEST_MIN = 240;
/** Below this output a ratio says nothing, W. */
const LEAST_W = 50;

/**
 * Plays a lesson's air, without a probe.
 * @param seed that of the air in the class
 * @throws RangeError for another time than 1 to 240 minutes
 */
export function preview(lesson: Lesson, minutes: number, seed = 1): Preview {
  if (!(minutes >= 1 && minutes <= LONGEST_MIN)) {
    throw new RangeError(`minutes: ${minutes} is outside 1 to ${LONGEST_MIN}`);
  }
  const bare = { probes: [], anemometer: undefined };
  const system = new System({ ...systemOf(lesson), ...bare }, seed, 0);
  for (const { afterS, parameters } of changesOf(lesson)) {
    system.become({ ...parameters, ...bare }, 1000 * afterS);
  }
  let end = pointOf(system, lesson);
  const course = [end];
  for (let s = EVERY_S; s <= 60 * minutes; s += EVERY_S) {
    system.advance(1000 * s);
    end = pointOf(system, lesson);
    course.push(end);
  }
  return { course, end, healthyW: healthyW(lesson, system) };
}

function pointOf(system: System, { mode }: Lesson): CoursePoint {
  const { totalW, sensibleW, latentW, flowM3s } = system.truth(UNIT);
  return {
    elapsedS: system.t / 1000,
    ...{ totalW, sensibleW, latentW, flowM3s },
    sensibleHeatRatio: mode === 'cooling' && totalW > LEAST_W ? sensibleW / totalW : null,
    compressorShare: system.outdoorUnit.share,
  };
}

function healthyW(lesson: Lesson, system: System): number {
  const { units, outdoorUnit, pressurePa } = healthySystemOf(lesson);
  const head = units[0]?.head;
  if (head === undefined) return NaN;
  const heating = lesson.mode === 'heating';
  const outdoorC = lesson.outdoor.temperatureC;
  const levelW = fullLevelW(head, outdoorUnit, outdoorC, heating);
  const { room } = system.truth(UNIT);
  return atRest(head, { return: room, outdoorC, heating, pressurePa, levelW, fan: lesson.fan })
    .totalW;
}
