/**
 * Probes of one place that tell of different air: by far more than their limits and than the air across
 * an outlet differs. One of them hangs elsewhere, is warmed by something, or is broken; which one, two
 * probes cannot tell.
 */
import { enthalpyJkg } from '../../measure/moist-air.ts';
import type { Doubt } from '../../protocol.ts';
import { doubt, of } from '../doubt.ts';
import type { LiveProbe, PlaceAir } from '../place.ts';
import { kelvins, kw, type Scene } from './scene.ts';
import { sent } from '../../words/sent.ts';

/** More than air across an outlet or an intake differs, K and kg/kg (common practice, no source). */
const APART_K = 5;
const APART_W = 0.003;
/** Of limits that are not known, K. */
const UNKNOWN_K = 0.5;
/** It holds for so long … */
const ON_S = 90;
/** … without coming together: a slow probe is late after a start, and catches up. */
const CATCHES_UP = 0.85;
const GOES_APART = 1.1;

type At = 'return' | 'supply';

/** How far a probe's temperature may be off by its limits, K. */
const limitOf = (probe: LiveProbe): number =>
  probe.temperature.u === 0 ? UNKNOWN_K : 2 * probe.temperature.u;
const moistureLimitOf = (probe: LiveProbe): number =>
  2 * Math.hypot(probe.wPerK * probe.temperature.u, probe.wPerHumidity * probe.humidity.u);

/** By how much two probes are further apart than can be, as a part of that; 1 and more: too far. */
function apart(a: LiveProbe, b: LiveProbe, wet: boolean): number {
  const k = Math.abs(a.temperatureC - b.temperatureC) / (APART_K + limitOf(a) + limitOf(b));
  if (!wet || a.humidityRatio === null || b.humidityRatio === null) return k;
  const w = Math.abs(a.humidityRatio - b.humidityRatio);
  // Mostly so near that the limits, which cost more, need not be known: it is not far apart.
  if (w < CATCHES_UP * APART_W) return k;
  return Math.max(k, w / (APART_W + moistureLimitOf(a) + moistureLimitOf(b)));
}

/** The two that are furthest apart by temperature, or by moisture. */
function widest(probes: readonly LiveProbe[], wet: boolean): number {
  let most = 0;
  for (let i = 1; i < probes.length; i++) {
    for (let j = 0; j < i; j++) {
      const [a, b] = [probes[i], probes[j]];
      if (a !== undefined && b !== undefined) most = Math.max(most, apart(a, b, wet));
    }
  }
  return most;
}

/** One place of a unit. */
export class ProbesDiffer {
  readonly #at: At;
  #seconds = 0;
  /** How far they were apart when counting began, and at most since. */
  #from = 0;
  #most = 0;
  is = false;

  /** Whether they do now, however short. */
  get may(): boolean {
    return this.is || this.#seconds > 0;
  }

  constructor(at: At) {
    this.#at = at;
  }

  /** Takes one second. @returns whether the probes of this place differ */
  second({ mode, ret, sup }: Scene): boolean {
    const { probes } = this.#at === 'return' ? ret : sup;
    // Heating, moisture is in no figure, and hot air makes small errors of humidity large.
    const now = probes.length < 2 ? 0 : widest(probes, mode === 'cooling');
    if (now < (this.is ? CATCHES_UP : 1)) {
      this.clear();
      return false;
    }
    if (this.is) return true;
    this.#seconds++;
    // Counted from where they no longer go apart, and anew where they come together.
    if (now > GOES_APART * this.#from || now < CATCHES_UP * this.#most) {
      this.#from = now;
      this.#most = now;
      this.#seconds = 1;
    }
    this.#most = Math.max(this.#most, now);
    this.is = this.#seconds >= ON_S;
    return this.is;
  }

  clear(): void {
    this.is = false;
    this.#seconds = 0;
    this.#from = 0;
    this.#most = 0;
  }

  /** Adds a doubt for each probe that may be the wrong one. */
  say(scene: Scene, out: Doubt[]): void {
    const { mode, placed } = scene;
    const air = this.#at === 'return' ? scene.ret : scene.sup;
    const wet = mode === 'cooling';
    const nameOf = (id: string): string => placed[this.#at].find((p) => p.id === id)?.name ?? id;
    const isFar = (probe: LiveProbe): boolean => {
      const far = air.probes.filter((other) => apart(probe, other, wet) >= CATCHES_UP).length;
      return 2 * far >= air.probes.length;
    };
    const many = air.probes.filter(isFar);
    // Where none stands alone, all may be wrong.
    const odd = many.length === 0 ? air.probes : many;
    const effect = effectOf(scene, air, odd, nameOf);
    for (const probe of odd) {
      const others = air.probes.filter((other) => other !== probe);
      const other = others[0];
      if (other === undefined) continue;
      const mean = others.reduce((sum, { temperatureC }) => sum + temperatureC, 0) / others.length;
      const k = Math.abs(probe.temperatureC - mean);
      const by = k > APART_K ? kelvins(k) : sent`more moisture than the air at one place can`;
      const [one = '', two = ''] = [probe, other].map(({ id }) => nameOf(id)).sort();
      const text =
        others.length === 1
          ? sent`${one} and ${two} hang in the same ${this.#at} air but differ by ${by}.`
          : sent`${nameOf(probe.id)} differs from the other ${this.#at} probes by ${by}.`;
      out.push(of(probe, doubt('probes-differ', text, effect, REMEDY)));
    }
  }
}

const REMEDY = sent`Make sure each hangs at its place, in the airstream and away from sun, lamps and pipes. Check them side by side to find the wrong one, and take it away.`;

/** What the figure would be with one of them alone. */
function effectOf(
  { mode, ret, sup, dryAirKgs }: Scene,
  air: PlaceAir,
  odd: readonly LiveProbe[],
  nameOf: (id: string) => string,
): string {
  const sign = mode === 'heating' ? -1 : 1;
  const W = ret.humidityRatio ?? sup.humidityRatio;
  const h = (temperatureC: number | null, own: number | null): number =>
    enthalpyJkg(temperatureC ?? NaN, (mode === 'heating' ? W : own) ?? NaN);
  const alone = (probe: LiveProbe): number => {
    const own = h(probe.temperatureC, probe.humidityRatio);
    const other = air === ret ? sup : ret;
    const that = h(other.temperatureC, other.humidityRatio);
    return sign * (dryAirKgs ?? NaN) * (air === ret ? own - that : that - own);
  };
  const said = odd
    .map((probe) => ({ name: nameOf(probe.id), watts: alone(probe) }))
    .filter(({ watts }) => !Number.isNaN(watts))
    .map(({ name, watts }) => sent`with ${name} alone it would be about ${kw(watts)}`);
  return said.length === 0
    ? sent`The figure takes their mean, which is the air of no place.`
    : sent`The figure takes their mean: ${said.join('; ')}.`;
}
