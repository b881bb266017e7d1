/** The ways from one plateau to the next: how much of the way is done, by time since it began. */

export interface Shape {
  /** 0 at 0 and before; goes to 1. */
  done: (s: number) => number;
  /** The larger time constant of a second order, s; null for any other. */
  largerS: number | null;
}

export function firstOrder(tauS: number): Shape {
  return { done: (s) => 1 - Math.exp(-Math.max(s, 0) / tauS), largerS: null };
}

/** Two lags in a row, of unequal time constants. */
export function secondOrder(largerS: number, smallerS: number): Shape {
  return {
    done: (s) => {
      const t = Math.max(s, 0);
      const left = largerS * Math.exp(-t / largerS) - smallerS * Math.exp(-t / smallerS);
      return 1 - left / (largerS - smallerS);
    },
    largerS,
  };
}

/** A limited rate, and a short lag that rounds its corners. */
export function ramp(lengthS: number, roundingS: number): Shape {
  /** Response of the lag to a slope that begins at 0. */
  const slope = (t: number): number => (t <= 0 ? 0 : t - roundingS * -Math.expm1(-t / roundingS));
  return { done: (s) => (slope(s) - slope(s - lengthS)) / lengthS, largerS: null };
}

/** A second order that swings over: damping 0…1, and the time of the undamped swing, s. */
export function overshoot(damping: number, swingS: number): Shape {
  const w = (2 * Math.PI) / swingS;
  const root = Math.sqrt(1 - damping * damping);
  return {
    done: (s) => {
      const t = Math.max(s, 0);
      const phase = w * root * t;
      const swing = Math.cos(phase) + (damping / root) * Math.sin(phase);
      return 1 - Math.exp(-damping * w * t) * swing;
    },
    largerS: null,
  };
}

/** A limited rate that goes on too far, as a controller does that has wound up, and a slow way back. */
export function windup(lengthS: number, roundingS: number, over: number, backS: number): Shape {
  const up = ramp(lengthS, roundingS);
  const back = firstOrder(backS);
  return {
    done: (s) => (1 + over) * up.done(s) - over * back.done(s - lengthS),
    largerS: null,
  };
}

/** Most of the way quickly, the rest slowly. */
export function twoStage(fastS: number, slowS: number, slowShare: number): Shape {
  const fast = firstOrder(fastS);
  const slow = firstOrder(slowS);
  return { done: (s) => (1 - slowShare) * fast.done(s) + slowShare * slow.done(s), largerS: null };
}

/** Time to 63.2 % of the way, s: found by steps, then by halving. */
export function timeConstantS(shape: Shape): number {
  const wanted = 1 - Math.exp(-1);
  let high = 1;
  while (shape.done(high) < wanted) high += 1;
  let low = high - 1;
  for (let i = 0; i < 30; i++) {
    const middle = (low + high) / 2;
    if (shape.done(middle) < wanted) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
