/** What there is in the air: plain data, so that it can be sent to where the air is. */

/** Quantities of the Environmental Sensing Service that a probe can have. */
export const MEASURES = ['temperatureC', 'humidityPct', 'velocityMs', 'pressurePa'] as const;
export type Measure = (typeof MEASURES)[number];

interface PlanBase {
  /** Six bytes, as `f0:1a:b0:00:00:01`. */
  readonly address: string;
  /** Default: `random` (static). */
  readonly addressType?: 'public' | 'random' | undefined;
  readonly name: string;
  /** How often it advertises, ms; default 200. */
  readonly advertisingMs?: number | undefined;
  /** How strong it is heard, dBm; default −60. */
  readonly rssiDbm?: number | undefined;
}

export interface EnvironmentalPlan extends PlanBase {
  readonly kind: 'environmental';
  readonly instances: readonly {
    /** The probe of the physical simulation that it carries. */
    readonly probe: string;
    readonly measures: readonly Measure[];
    readonly intervalS: number;
    /** User description and application, where there are several instances. */
    readonly description?: string | undefined;
    readonly application?: number | undefined;
  }[];
  /** Whether one can subscribe; default true. */
  readonly notify?: boolean | undefined;
  /** The longest ATT packet, bytes; default 247. */
  readonly mtu?: number | undefined;
  /** Whether it is read by those only who have paired; default false. */
  readonly secured?: boolean | undefined;
}

export interface BeaconPlan extends PlanBase {
  readonly kind: 'beacon';
  readonly probes: readonly string[];
  /** 32 hexadecimal digits; without it the beacon is plain. */
  readonly key?: string | undefined;
}

export interface DescribedPlan extends PlanBase {
  readonly kind: 'described';
  readonly probe: string;
}

export type Plan = EnvironmentalPlan | BeaconPlan | DescribedPlan;
