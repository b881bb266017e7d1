/**
 * What the maker of a simulated head would print: its capacity over outdoor and indoor air, healthy, alone on
 * its outdoor unit, with the fan at its fastest speed and at sea level. It follows from the same physics that
 * the simulation moves on second by second, at rest: the coil is as warm as makes the air give what the
 * refrigerant takes.
 */
import { pressureAtAltitudePa, volumeM3kg } from '../server/measure/moist-air.ts';
import { type Air, enthalpyOf, ratioOfWetBulb, warm, WATER_HEAT } from './air.ts';
import { contactFactorAt, passCoil } from './coil.ts';
import { flowFactor, type IndoorUnitParameters } from './indoor-unit.ts';
import { outdoorFactor, type OutdoorUnitParameters, surfaceFactor } from './outdoor-unit.ts';
import type { SystemParameters } from './system.ts';

export type Output = 'minimum' | 'rated' | 'maximum';

export interface PublishedCapacity {
  speed: Output;
  outdoorC: number;
  indoorC: number;
  /** In cooling. */
  indoorWetBulbC?: number;
  totalW: number;
}

/** Dry and wet bulb of the return in cooling, °C. */
const COOLING_INDOOR = [
  [20, 14],
  [22, 16],
  [25, 18],
  [27, 19],
  [28, 20],
  [30, 22],
] as const;
const COOLING_OUTDOOR_C = [20, 25, 30, 35, 40, 45];
const HEATING_INDOOR_C = [16, 18, 20, 21, 22, 24];
const HEATING_OUTDOOR_C = [-15, -10, -5, 0, 7, 15];
/** Humidity of the return in heating, kg/kg: it hardly matters. */
const HEATING_W = 0.0065;
/** The rated output is so much of the greatest. */
const RATED = 0.8;
/** Printed to so many watts. */
const STEP_W = 10;

/** A head at rest. */
export interface AtRest {
  /** Delivered, W: positive is what the mode asks for, the fan's heat counted. */
  totalW: number;
  supply: Air;
  /** Actual flow at the supply, m³/s. */
  flowM3s: number;
  surfaceC: number;
}

/** What a head is asked, and in which air. */
export interface Working {
  readonly return: Air;
  readonly outdoorC: number;
  readonly heating: boolean;
  readonly pressurePa: number;
  /** The compressor's output before the factor of the coil, W. */
  readonly levelW: number;
  /** A fan speed's name; the fastest where it is left out. */
  readonly fan?: string;
}

/** A healthy head at rest. */
export function atRest(head: IndoorUnitParameters, working: Working): AtRest {
  const { return: entering, heating, levelW } = working;
  let [low, high] = heating
    ? [entering.temperatureC, 70]
    : [entering.temperatureC - 45, entering.temperatureC];
  for (let i = 0; i < 40; i++) {
    const surfaceC = (low + high) / 2;
    const sign = heating ? -1 : 1;
    const { takenW } = passing(head, working, surfaceC);
    const excess = takenW - sign * levelW * surfaceFactor(surfaceC, heating);
    // A coil that takes more out of the air than the refrigerant does becomes warmer.
    if (excess > 0) low = surfaceC;
    else high = surfaceC;
  }
  const surfaceC = (low + high) / 2;
  const { supply, dryAirKgS, flowM3s } = passing(head, working, surfaceC);
  const sign = heating ? -1 : 1;
  const totalW = sign * dryAirKgS * (enthalpyOf(entering) - enthalpyOf(supply));
  return { totalW, supply, flowM3s, surfaceC };
}

/** Air through a coil of this temperature, and the heat that the coil takes from it, W. */
function passing(
  head: IndoorUnitParameters,
  { return: entering, pressurePa, fan }: Working,
  surfaceC: number,
): { supply: Air; dryAirKgS: number; flowM3s: number; takenW: number } {
  const speed = head.fanSpeeds.find(({ name }) => name === fan) ?? head.fanSpeeds.at(-1);
  if (speed === undefined) throw new RangeError('a head without a fan speed moves no air');
  const surface = { temperatureC: surfaceC, spreadK: head.coil.spreadK };
  let supply = entering;
  let passage = { dryAirKgS: 0, flowM3s: 0, takenW: 0 };
  let wet = 0;
  for (let i = 0; i < 4; i++) {
    const flowM3s = speed.flowM3s * flowFactor({ ...head, ...CLEAN }, wet);
    const { temperatureC, humidityRatio: W } = supply;
    const dryAirKgS = flowM3s / volumeM3kg(temperatureC, W, pressurePa);
    const contact = contactFactorAt(head.coil, dryAirKgS);
    const { leaving, condensingShare, condensed } = passCoil(
      entering,
      contact,
      surface,
      wet,
      pressurePa,
    );
    wet = condensingShare;
    supply = warm(leaving, speed.powerW / dryAirKgS);
    const water = condensed * WATER_HEAT * surfaceC;
    const takenW = dryAirKgS * (enthalpyOf(entering) - enthalpyOf(leaving) - water);
    passage = { dryAirKgS, flowM3s, takenW };
  }
  return { supply, ...passage };
}

const CLEAN = { fouling: 0, filterLoading: 0, coilFouling: 0 };

/** The compressor's output for a head alone at full demand, before the factor of the coil, W. */
export function fullLevelW(
  head: IndoorUnitParameters,
  outdoorUnit: OutdoorUnitParameters,
  outdoorC: number,
  heating: boolean,
): number {
  const factor = outdoorFactor(outdoorC, heating);
  const leastW = outdoorUnit.minW * factor;
  return Math.max(Math.min(head.maxW, outdoorUnit.maxW * factor), leastW);
}

/** The printed table of a unit of a scenario, in the scenario's mode. @throws RangeError for an unknown unit */
export function publishedTable(
  { mode, units, outdoorUnit }: SystemParameters,
  unit: string,
): PublishedCapacity[] {
  const head = units.find(({ id }) => id === unit)?.head;
  if (head === undefined) throw new RangeError(`there is no unit "${unit}" in this scenario`);
  const heating = mode === 'heating';
  const pressurePa = pressureAtAltitudePa(0);
  const indoor: readonly { indoorC: number; indoorWetBulbC?: number }[] = heating
    ? HEATING_INDOOR_C.map((indoorC) => ({ indoorC }))
    : COOLING_INDOOR.map(([indoorC, indoorWetBulbC]) => ({ indoorC, indoorWetBulbC }));
  const outdoor = heating ? HEATING_OUTDOOR_C : COOLING_OUTDOOR_C;
  return outdoor.flatMap((outdoorC) =>
    indoor.flatMap((at) => {
      const entering = airAt(at.indoorC, at.indoorWetBulbC ?? null, pressurePa);
      const most = fullLevelW(head, outdoorUnit, outdoorC, heating);
      const least = Math.min(outdoorUnit.minW * outdoorFactor(outdoorC, heating), most);
      const levels = { minimum: least, rated: RATED * most, maximum: most };
      return (['minimum', 'rated', 'maximum'] as const).map((speed) => {
        const working = { return: entering, outdoorC, heating, pressurePa };
        const { totalW } = atRest(head, { ...working, levelW: levels[speed] });
        return { speed, outdoorC, ...at, totalW: STEP_W * Math.round(totalW / STEP_W) };
      });
    }),
  );
}

/** Air of a dry and a wet bulb, °C; without the latter that of a heated room. */
function airAt(temperatureC: number, wetBulbC: number | null, pressurePa: number): Air {
  if (wetBulbC === null) return { temperatureC, humidityRatio: HEATING_W };
  return { temperatureC, humidityRatio: ratioOfWetBulb(temperatureC, wetBulbC, pressurePa) };
}
