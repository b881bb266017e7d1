/** One probe of a visit: what is known of it, and its quantities over time. */
import type { Limits, Place, ProbeLine, ProbeLink, Reading } from '../../adapters/contract.ts';
import { humidityRatio, humidityRatioFromDewPoint } from '../measure/moist-air.ts';
import type { ProbeState } from '../protocol.ts';
import { Channel, SPIKE_RULES } from '../signal/channel.ts';
import type { WalkReading } from '../signal/outlet-walk.ts';
import { type ProbeDetails, probeDetails } from '../visit-log/details.ts';
import { offsetAt, type OffsetLine } from './check-lines.ts';
import { type Correction, toProbeCheck } from './correction.ts';
import type { PlacedZero } from './placed-zero.ts';
import { sent } from '../words/sent.ts';

type Quantity = keyof typeof SPIKE_RULES;
const RARE = ['dewPointC', 'velocityMs', 'pressurePa', 'powerW'] as const;
const MEASURED: readonly Quantity[] = ['temperatureC', 'humidityPct', ...RARE];

/** Who brought a line: the adapter's name, and whether its readings are made up. */
export interface Source {
  adapter: string | null;
  simulated: boolean;
}

/** Silent for the longer of this and ten usual intervals: lost, ms. */
const LOST_MS = 60_000;

export class ProbeRecord {
  readonly id: string;
  name: string;
  unit: string | null = null;
  place: Place | null = null;
  limits: Limits = {};
  details: ProbeDetails = {};
  adapter: string | null = null;
  simulated = false;
  link: ProbeLink | null = null;
  batteryPct: number | null = null;
  /** What the last side-by-side check found; it is taken off in `sample`. */
  correction: Correction | null = null;
  /** The zero in place that is taken off its temperature as well. */
  zero: PlacedZero | null = null;
  /** While it lies in a check it hangs at no place; nor does it while it is walked along one. */
  inCheck = false;
  walking = false;
  /** While it traverses an opening it hangs at no place either. */
  traversing = false;
  /** Of one that measures velocity: what it is, as a person said. */
  anemometer: ProbeLine['anemometer'];
  /** How much of its place's flow it stands for, in proportion to the others there. */
  flowShare = 1;
  /** Time of the newest reading, ms; −∞ before the first. */
  lastT = -Infinity;

  temperatureC: Channel | null = null;
  humidityPct: Channel | null = null;
  dewPointC: Channel | null = null;
  velocityMs: Channel | null = null;
  pressurePa: Channel | null = null;
  powerW: Channel | null = null;

  /** The values of the present second; NaN where there is no live one. Set by `sample`. */
  readonly now = {
    temperatureC: NaN,
    humidityPct: NaN,
    dewPointC: NaN,
    velocityMs: NaN,
    pressurePa: NaN,
    powerW: NaN,
  };
  /** Whether its temperature was heard anew in the present second. */
  fresh = false;
  /** The same of its velocity. */
  freshVelocity = false;
  /** The same before the check's offsets are taken off. */
  readonly raw = { temperatureC: NaN, humidityPct: NaN };

  constructor(id: string) {
    this.id = id;
    this.name = id;
  }

  /**
   * The clock was set. What it reads is live again with its next reading.
   * @param sinceT what was checked in this visit was so from here on, by the old clock
   * @param untilT the visit's present by the old clock
   */
  clockSet(shiftMs: number, sinceT: number, untilT: number): void {
    this.lastT += shiftMs;
    for (const quantity of MEASURED) this[quantity] = null;
    const { correction, zero } = this;
    if (zero !== null) this.zero = { ...zero, t: zero.t + shiftMs };
    if (correction === null || correction.t < sinceT || correction.t > untilT) return;
    this.correction = { ...correction, t: correction.t + shiftMs };
  }

  /** Takes over what a line says of it. True when it counts otherwise: unit, place or share. */
  describe(line: ProbeLine): boolean {
    const unit = line.unit === undefined ? this.unit : line.unit;
    const place = line.place === undefined ? this.place : line.place;
    const share = line.flowShare ?? this.flowShare;
    const moved = unit !== this.unit || place !== this.place || share !== this.flowShare;
    this.flowShare = share;
    this.unit = unit;
    this.place = place;
    if (line.name !== undefined) this.name = line.name;
    if (line.limits !== undefined) this.limits = line.limits;
    if (line.anemometer !== undefined) this.anemometer = line.anemometer;
    this.details = probeDetails(this.details, line);
    return moved;
  }

  /**
   * Takes a reading.
   * @returns why it was refused, naming the field, or null
   */
  add(reading: Reading): string | null {
    const { t } = reading;
    // Written out quantity by quantity: this runs for every reading of every probe.
    let measured = 0;
    let repeated = 0;
    let value = reading.temperatureC;
    if (value !== undefined) {
      measured++;
      this.temperatureC ??= new Channel(SPIKE_RULES.temperatureC);
      if (this.temperatureC.add(t, value) === 'duplicate') repeated++;
    }
    value = reading.humidityPct;
    if (value !== undefined) {
      measured++;
      this.humidityPct ??= new Channel(SPIKE_RULES.humidityPct);
      if (this.humidityPct.add(t, value) === 'duplicate') repeated++;
    }
    for (const quantity of RARE) {
      value = reading[quantity];
      if (value === undefined) continue;
      measured++;
      const channel = (this[quantity] ??= new Channel(SPIKE_RULES[quantity]));
      if (channel.add(t, value) === 'duplicate') repeated++;
    }
    if (measured > 0 && repeated === measured) {
      return sent`t: ${t}: the probe "${this.id}" has sent a reading of that time already`;
    }
    if (reading.batteryPct !== undefined) this.batteryPct = reading.batteryPct;
    if (t > this.lastT) this.lastT = t;
    return null;
  }

  /** Works out the values of the second that ends at `t`. */
  sample(t: number): void {
    this.fresh = this.temperatureC?.fresh === true;
    this.freshVelocity = this.velocityMs?.fresh === true;
    this.raw.temperatureC = sampleOf(this.temperatureC, t);
    this.raw.humidityPct = sampleOf(this.humidityPct, t);
    this.now.temperatureC =
      corrected(this.raw.temperatureC, this.correction?.temperature ?? null) -
      (this.zero?.offsetK ?? 0);
    this.now.humidityPct = corrected(this.raw.humidityPct, this.correction?.humidity ?? null);
    this.now.dewPointC = sampleOf(this.dewPointC, t);
    this.now.velocityMs = sampleOf(this.velocityMs, t);
    this.now.pressurePa = sampleOf(this.pressurePa, t);
    this.now.powerW = sampleOf(this.powerW, t);
  }

  /** The air that it reads in the present second; NaN where it tells nothing live. */
  air(pPa: number): WalkReading {
    const { temperatureC, humidityPct, dewPointC } = this.now;
    let W = NaN;
    if (!Number.isNaN(humidityPct) && !Number.isNaN(temperatureC)) {
      W = humidityRatio(temperatureC, Math.min(Math.max(humidityPct, 0), 100), pPa);
    } else if (!Number.isNaN(dewPointC)) {
      W = humidityRatioFromDewPoint(dewPointC, pPa);
    }
    return { temperatureC, humidityRatio: W };
  }

  /** `lost` and `stale` by its own rhythm, or what the link says. */
  stateAt(t: number): ProbeState['state'] {
    if (this.link?.state === 'connecting') return 'connecting';
    if (this.link?.state === 'lost' || this.lastT === -Infinity) return 'lost';
    if (this.isLive(t)) return 'live';
    let staleAfter = 0;
    for (const quantity of MEASURED) {
      staleAfter = Math.max(staleAfter, this[quantity]?.staleAfterMs() ?? 0);
    }
    return t - this.lastT > Math.max(LOST_MS, (10 / 3) * staleAfter) ? 'lost' : 'stale';
  }

  /** Up to which whole second after `t`, ms, all of its quantities stay live or stale as they are; ∞. */
  staysUntil(t: number): number {
    let until = Infinity;
    for (const quantity of MEASURED) {
      const end = this[quantity]?.liveUntil() ?? -Infinity;
      // The last second in which it is live, and then the first in which it is not.
      if (end > t)
        until = Math.min(until, Math.max(Math.ceil(end / 1000) - 1, t / 1000 + 1) * 1000);
    }
    return until;
  }

  /** True while any of its quantities is live. */
  isLive(t: number): boolean {
    if (this.temperatureC?.live(t) === true) return true;
    for (const quantity of MEASURED) if (this[quantity]?.live(t) === true) return true;
    return false;
  }

  /** Its live values, as they were sent. */
  values(t: number): ProbeState['values'] {
    const values: ProbeState['values'] = {};
    for (const quantity of MEASURED) {
      const channel = this[quantity];
      if (channel?.live(t) === true && !Number.isNaN(channel.value)) {
        values[quantity] = channel.value;
      }
    }
    return values;
  }

  /** As it stands in the state. */
  toState(t: number): ProbeState {
    let intervalMs: number | null = null;
    for (const quantity of MEASURED) {
      const interval = this[quantity]?.intervalMs() ?? null;
      if (interval !== null) intervalMs = Math.min(intervalMs ?? Infinity, interval);
    }
    return {
      name: this.name,
      adapter: this.adapter,
      unit: this.unit,
      place: this.place,
      flowShare: this.flowShare,
      limits: { ...this.limits },
      details: this.details,
      ...(this.anemometer === undefined ? {} : { anemometer: this.anemometer }),
      simulated: this.simulated,
      state: this.stateAt(t),
      lastT: this.lastT === -Infinity ? null : this.lastT,
      intervalMs,
      signalDbm: this.link?.signalDbm ?? null,
      batteryPct: this.batteryPct,
      values: this.values(t),
      check: this.correction === null ? null : toProbeCheck(this.correction, t),
      zero: this.zero === null ? null : { t: this.zero.t, temperatureOffsetC: this.zero.offsetK },
      ...(this.link?.needs === undefined ? {} : { needs: this.link.needs }),
    };
  }
}

function corrected(raw: number, line: OffsetLine | null): number {
  return line === null || Number.isNaN(raw) ? raw : raw - offsetAt(line, raw).offset;
}

function sampleOf(channel: Channel | null, t: number): number {
  if (channel === null) return NaN;
  const value = channel.take();
  return channel.live(t) ? value : NaN;
}
