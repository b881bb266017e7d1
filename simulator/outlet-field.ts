/**
 * The air in an opening: how fast and how warm it is at each spot of each section. Whatever its shape, the
 * integral of the velocity over the openings, times the free-area factor, is the flow that it was made
 * for; and the mean temperature, weighted by velocity, is the supply's.
 *
 * Lengths run along a section (its long side), widths across it. Along and across are independent of
 * each other: velocity = mean × along(x) × across(y).
 */

export interface SectionSize {
  readonly widthM: number;
  readonly lengthM: number;
}

/** A stream that is stronger around one spot of the length. */
export interface Jet {
  readonly section: number;
  /** Where its middle is and its standard deviation, as parts of the length. */
  readonly at: number;
  readonly width: number;
  /** How much faster its middle is than the air around, as a part. */
  readonly strength: number;
}

/** A strip of the length that nothing passes. */
export interface Support {
  readonly section: number;
  readonly atM: number;
  readonly widthM: number;
}

export interface FieldShape {
  /** v ∝ y^power from either end, and from either long side; 0: even. */
  readonly endPower: number;
  readonly sidePower: number;
  /** So much of the length at either end in which nothing moves, m. */
  readonly deadM: number;
  readonly jets: readonly Jet[];
  readonly supports: readonly Support[];
  /** Below level: a louver that turns the stream presses it toward one long side. */
  readonly louverDeg: number;
  /** How the sections' mean velocities are to each other; one of which nothing is said counts 1. */
  readonly shares: readonly number[];
  /** How much warmer the right end of the opening is than the left one, K. */
  readonly slopeK: number;
}

export interface OpeningParameters {
  readonly sections: readonly SectionSize[];
  /** Flow over velocity × gross area. */
  readonly freeArea: number;
  readonly shape: FieldShape;
}

export const EVEN: FieldShape = {
  endPower: 0,
  sidePower: 0,
  deadM: 0,
  jets: [],
  supports: [],
  louverDeg: 0,
  shares: [],
  slopeK: 0,
};

/** A louver at 90° would press so much of the stream to one side, as a part of the mean velocity. */
const LOUVER_SHEAR = 0.8;
const CELLS = 4000;
/** A head is seen as so many strips. */
const STRIPS = 24;

/** A profile over a length, its mean 1, with its integral. */
class Profile {
  readonly lengthM: number;
  readonly #sums = new Float64Array(CELLS + 1);
  readonly #of: (xM: number) => number;
  readonly #scale: number;

  constructor(lengthM: number, of: (xM: number) => number) {
    this.lengthM = lengthM;
    for (let i = 0; i < CELLS; i++) {
      this.#sums[i + 1] = (this.#sums[i] ?? NaN) + of(((i + 0.5) / CELLS) * lengthM);
    }
    this.#of = of;
    this.#scale = CELLS / (this.#sums[CELLS] ?? NaN);
    const perCell = (this.#scale * lengthM) / CELLS;
    for (let i = 0; i <= CELLS; i++) this.#sums[i] = (this.#sums[i] ?? NaN) * perCell;
  }

  /** ∫ from 0 to x. */
  upTo(xM: number): number {
    const cell = Math.min(Math.max(xM / this.lengthM, 0), 1) * CELLS;
    const i = Math.min(Math.floor(cell), CELLS - 1);
    const from = this.#sums[i] ?? NaN;
    return from + (cell - i) * ((this.#sums[i + 1] ?? NaN) - from);
  }

  at(xM: number): number {
    return this.#scale * this.#of(xM);
  }
}

/** How fast it is near a wall, by the distance from the nearer end over half the length. */
const nearWalls = (xM: number, lengthM: number, power: number): number =>
  power === 0 ? 1 : (Math.min(xM, lengthM - xM) / (lengthM / 2)) ** power;

interface SectionField {
  readonly size: SectionSize;
  readonly share: number;
  readonly along: Profile;
  readonly across: Profile;
}

export class OutletField {
  readonly parameters: OpeningParameters;
  readonly #sections: readonly SectionField[];
  /** Flow over mean velocity of a section of share 1, m². */
  readonly #perVelocityM2: number;
  /** What the slope's mean, weighted by velocity, is off its middle, K. */
  readonly #meanK: number;

  constructor(parameters: OpeningParameters) {
    const { sections, shape, freeArea } = parameters;
    this.parameters = parameters;
    const shear = LOUVER_SHEAR * Math.sin((shape.louverDeg * Math.PI) / 180);
    this.#sections = sections.map((size, i) => ({
      size,
      share: shape.shares[i] ?? 1,
      along: new Profile(size.lengthM, (x) => alongOf(shape, i, size.lengthM, x)),
      across: new Profile(
        size.widthM,
        (y) => nearWalls(y, size.widthM, shape.sidePower) * (1 + shear * (y / size.widthM - 0.5)),
      ),
    }));
    this.#perVelocityM2 =
      freeArea *
      this.#sections.reduce((sum, { size, share }) => sum + size.widthM * size.lengthM * share, 0);
    this.#meanK = this.#weightedSlope();
  }

  /** Velocity at a spot, m/s, for a flow of so many m³/s through all sections. */
  velocityMs(flowM3s: number, section: number, alongM: number, acrossM: number): number {
    const { along, across, share } = this.#section(section);
    return (flowM3s / this.#perVelocityM2) * share * along.at(alongM) * across.at(acrossM);
  }

  /** Mean over that part of a round head in which there is an opening before it. */
  headMs(
    flowM3s: number,
    headM: number,
    { section, alongM, acrossM }: { section: number; alongM: number; acrossM: number },
  ): number {
    const { along, across, share, size } = this.#section(section);
    const strip = headM / STRIPS;
    let sum = 0;
    let area = 0;
    for (let i = 0; i < STRIPS; i++) {
      const offM = (i + 0.5) * strip - headM / 2;
      const half = Math.sqrt((headM / 2) ** 2 - offM ** 2);
      const left = Math.max(0, alongM + offM - strip / 2);
      const right = Math.min(size.lengthM, alongM + offM + strip / 2);
      const low = Math.max(0, acrossM - half);
      const high = Math.min(size.widthM, acrossM + half);
      if (right <= left || high <= low) continue;
      area += (right - left) * (high - low);
      sum += (along.upTo(right) - along.upTo(left)) * (across.upTo(high) - across.upTo(low));
    }
    return area === 0 ? 0 : ((flowM3s / this.#perVelocityM2) * share * sum) / area;
  }

  /** Temperature at a spot, °C, of a stream of that mean temperature. */
  temperatureC(meanC: number, section: number, alongM: number): number {
    return meanC + this.#slopeAt(section, alongM) - this.#meanK;
  }

  #section(i: number): SectionField {
    const found = this.#sections[i];
    if (found === undefined) throw new RangeError(`the opening has no section ${i}`);
    return found;
  }

  /** Sections lie side by side, from left to right. */
  #slopeAt(section: number, alongM: number): number {
    const lengths = this.#sections.map(({ size }) => size.lengthM);
    const before = lengths.slice(0, section).reduce((sum, m) => sum + m, 0);
    const all = lengths.reduce((sum, m) => sum + m, 0);
    return this.parameters.shape.slopeK * ((before + alongM) / all - 0.5);
  }

  #weightedSlope(): number {
    let sum = 0;
    let flow = 0;
    this.#sections.forEach(({ size, share, along }, i) => {
      for (let cell = 0; cell < CELLS; cell++) {
        const x = ((cell + 0.5) / CELLS) * size.lengthM;
        const part = size.widthM * size.lengthM * share * along.at(x);
        flow += part;
        sum += part * this.#slopeAt(i, x);
      }
    });
    return sum / flow;
  }
}

function alongOf(shape: FieldShape, section: number, lengthM: number, xM: number): number {
  const { deadM, endPower, jets, supports } = shape;
  if (xM < deadM || xM > lengthM - deadM) return 0;
  const blocked = supports.some(
    (s) => s.section === section && Math.abs(xM - s.atM) < s.widthM / 2,
  );
  if (blocked) return 0;
  const jet = jets.reduce((sum, each) => {
    if (each.section !== section) return sum;
    return sum + each.strength * Math.exp(-(((xM / lengthM - each.at) / each.width) ** 2) / 2);
  }, 1);
  return jet * nearWalls(xM - deadM, lengthM - 2 * deadM, endPower);
}
