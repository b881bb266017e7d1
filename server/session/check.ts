/** A side-by-side check of a visit: probes that lie in the same air, from its start to its end. */
import type { Limits } from '../../adapters/contract.ts';
import { statement, type Uncertain } from '../measure/gum.ts';
import { saturationPressurePa } from '../measure/moist-air.ts';
import type { Check, CheckProbe } from '../protocol.ts';
import { type CheckResult, type Offset, SideBySide } from '../signal/side-by-side.ts';
import { checkName, lineFrom, sharedErrors } from './correction.ts';
import type { ProbeRecord } from './probe.ts';
import { sent } from '../words/sent.ts';

const isUsable = ({ verdict }: CheckResult): boolean => verdict === 'agree' || verdict === 'off';

export class RunningCheck {
  #from: number;
  readonly #probes: readonly ProbeRecord[];
  readonly #watch: SideBySide;
  /** Whether ending it now would correct the probes. */
  heardEnough = false;

  constructor(t: number, probes: readonly ProbeRecord[]) {
    this.#from = t;
    this.#probes = probes;
    this.#watch = new SideBySide(new Map(probes.map((p) => [p.id, p.limits])));
    for (const probe of probes) probe.inCheck = true;
  }

  clockSet(shiftMs: number): void {
    this.#from += shiftMs;
  }

  get probeIds(): string[] {
    return this.#probes.map((probe) => probe.id);
  }

  /** Takes the second that ends at `t`; the probes have been sampled. */
  second(t: number): Check {
    this.#watch.second(
      this.#probes.map((p) => p.raw.temperatureC),
      this.#probes.map((p) => p.raw.humidityPct),
    );
    const result = this.#watch.result();
    this.heardEnough = isUsable(result);
    return this.#message('running', t, result);
  }

  /**
   * Ends it: the probes hang at their places again, and if they were steady long enough, what was
   * found is taken off their readings from now on. Else nothing changes.
   */
  end(t: number): Check {
    const result = this.#watch.result();
    const usable = isUsable(result);
    for (const probe of this.#probes) probe.inCheck = false;
    if (usable) this.#apply(t, result);
    return this.#message('ended', t, result);
  }

  #apply(t: number, result: CheckResult): void {
    const { temperatureC: atC, humidityPct: atPct } = result;
    const heard = this.#probes.filter((p) => result.probes.get(p.id)?.temperature);
    const probes = heard.map((p) => p.id);
    const shared = {
      of: checkName(t, probes),
      temperature: widened(
        sharedErrors(this.#counting('temperature', result), atC, atPct, t).temperature,
        heard.map((p) => result.probes.get(p.id)?.temperature ?? null),
      ),
      humidity: widened(
        sharedErrors(this.#counting('humidity', result), atC, atPct, t).humidity,
        heard.map((p) => result.probes.get(p.id)?.humidity ?? null),
      ),
    };
    for (const probe of heard) {
      const { temperature, humidity } = result.probes.get(probe.id) ?? NOTHING;
      const before = probe.correction;
      probe.correction = {
        probes,
        shared,
        t,
        atC,
        atPct,
        temperature: lineFrom(before, probes, 'temperature', atC, temperature),
        humidity: lineFrom(before, probes, 'humidity', atPct, humidity),
      };
    }
  }

  /** Limits of the probes from whose mean the offsets are: those that agree, or all that were heard. */
  #counting(quantity: 'temperature' | 'humidity', { probes }: CheckResult): Limits[] {
    const heard = this.#probes.filter((p) => probes.get(p.id)?.[quantity]);
    const agreeing = heard.filter((p) => probes.get(p.id)?.[quantity]?.agrees);
    return (agreeing.length > 0 ? agreeing : heard).map((p) => p.limits);
  }

  #message(phase: Check['phase'], t: number, result: CheckResult): Check {
    return {
      type: 'check',
      phase,
      from: this.#from,
      t,
      verdict: result.verdict,
      progress: result.progress,
      text: this.#sentence(phase, result),
      probes: Object.fromEntries(
        [...result.probes].map(([id, { temperature, humidity }]) => [
          id,
          told(temperature, humidity, result.temperatureC, result.humidityPct),
        ]),
      ),
    };
  }

  #sentence(phase: Check['phase'], { verdict, probes }: CheckResult): string {
    const off = this.#probes.filter(({ id }) => {
      const found = probes.get(id);
      return found?.temperature?.agrees === false || found?.humidity?.agrees === false;
    });
    const names = off.map((p) => p.name).join(', ');
    let differ = sent`These differ by more than their accuracies explain: ${names}.`;
    if (this.#probes.length === 2) {
      differ = sent`The two differ by more than their accuracies explain.`;
    } else if (off.length === 1) {
      differ = sent`${names} differs from the others by more than their accuracies explain.`;
    }
    const ended = phase === 'ended';
    switch (verdict) {
      case 'listening':
        return ended
          ? sent`The check was too short. Nothing was corrected.`
          : sent`Listening. Leave the probes alone for two minutes.`;
      case 'moving':
        return ended
          ? sent`The air was not still. Nothing was corrected.`
          : sent`Wait: the air or a probe is not still yet.`;
      case 'agree':
        return ended
          ? sent`They agree within their accuracies. From now on their offsets are corrected.`
          : sent`They agree within their accuracies.`;
      case 'off':
        return ended
          ? sent`${differ} Their offsets are corrected all the same. Have the odd one calibrated.`
          : sent`${differ} Dry them, and make sure all lie in the same air.`;
    }
  }
}

/**
 * Where no probe agrees with the others, the limits do not hold of some of them, and the mean may be
 * as far off as any of them is from it.
 */
function widened(shared: Uncertain, offsets: readonly (Offset | null)[]): Uncertain {
  const known = offsets.filter((o) => o !== null);
  if (known.length === 0 || known.some((o) => o.agrees)) return shared;
  const furthest = Math.max(...known.map((o) => Math.abs(o.offset)));
  return { u: Math.hypot(shared.u, statement(furthest).u), shape: shared.shape };
}

const NOTHING = { temperature: null, humidity: null };

function told(
  temperature: Offset | null,
  humidity: Offset | null,
  atC: number,
  atPct: number,
): CheckProbe {
  const ps = saturationPressurePa(atC);
  // p_w = φ p_ws(t): the offset of a probe's vapour pressure, from those of its two readings.
  const vapour =
    temperature === null || humidity === null
      ? null
      : ((atPct + humidity.offset) / 100) * saturationPressurePa(atC + temperature.offset) -
        (atPct / 100) * ps;
  return {
    temperatureOffsetC: temperature?.offset ?? null,
    humidityOffsetPct: humidity?.offset ?? null,
    vapourOffsetPa: vapour,
    uTemperatureC: temperature?.u ?? null,
    uHumidityPct: humidity?.u ?? null,
    agrees:
      temperature === null ? null : temperature.agrees && (humidity === null || humidity.agrees),
  };
}
