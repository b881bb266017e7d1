/** Nothing is lost and nothing comes from nowhere, whatever the machine does. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { capacity } from '../../server/measure/capacity.ts';
import { WATER_HEAT } from '../../simulator/air.ts';
import { flowFactor } from '../../simulator/indoor-unit.ts';
import { scenario } from '../../simulator/scenarios.ts';
import { STEP_MS, System, type SystemParameters } from '../../simulator/system.ts';

const STEP_S = STEP_MS / 1000;

/** A machine in a room from which nothing else gets in or out. */
const sealed = fc
  .record({
    mode: fc.constantFrom('cooling' as const, 'heating' as const),
    temperatureC: fc.double({ min: 18, max: 30, noNaN: true }),
    humidityPct: fc.double({ min: 20, max: 80, noNaN: true }),
    outdoorC: fc.double({ min: -10, max: 42, noNaN: true }),
    setpointC: fc.double({ min: 16, max: 30, noNaN: true }),
    fan: fc.constantFrom('quiet', 'low', 'medium', 'high'),
    fouling: fc.double({ min: 0, max: 1, noNaN: true }),
    recirculation: fc.double({ min: 0, max: 0.3, noNaN: true }),
  })
  .map(({ mode, temperatureC, humidityPct, outdoorC, ...unitParts }): SystemParameters => {
    const { fouling, recirculation, ...unit } = unitParts;
    const plain = scenario('plain');
    const closed = {
      massOutdoorWK: 0,
      glazingWK: 0,
      infiltrationPerH: 0,
      sensibleW: 0,
      moistureKgH: 0,
    };
    return {
      ...plain,
      mode,
      warmUpS: 0,
      outdoorAir: { temperatureC: outdoorC, humidityPct: 60, driftKPerH: 0 },
      units: plain.units.map((each) => ({
        ...each,
        ...unit,
        room: { ...each.room, ...closed, temperatureC, humidityPct },
        head: { ...each.head, fouling, recirculation },
      })),
    };
  });

describe('energy and water', () => {
  it('what the truth calls capacity is what the room has lost, and the refrigerant taken', () => {
    fc.assert(
      fc.property(sealed, (parameters) => {
        const system = new System(parameters, 1, 0);
        const { room, unit } = system.parts('u1');
        const sign = parameters.mode === 'cooling' ? 1 : -1;
        const head = parameters.units[0]?.head;
        const speed = head?.fanSpeeds.find(({ name }) => name === unit.fan);
        // Dirt takes air, and with it some of what the fan takes.
        const fanW = head === undefined ? 0 : (speed?.powerW ?? 0) * flowFactor(head, 0);
        const startRoomJ = room.energyJ;
        const startCoilJ = unit.coil.energyJ;
        const startKg = room.waterKg;
        let deliveredJ = 0;
        let refrigerantJ = 0;
        let fanJ = 0;
        let withWaterJ = 0;
        let removedKg = 0;
        for (let i = 1; i <= 1600; i++) {
          const { surfaceC } = unit.coil;
          system.advance(i * STEP_MS);
          const truth = system.truth('u1');
          deliveredJ += STEP_S * sign * truth.totalW;
          refrigerantJ += STEP_S * (system.outdoorUnit.refrigerantW[0] ?? 0);
          fanJ += STEP_S * (unit.fanWaiting ? 0 : fanW);
          withWaterJ += STEP_S * truth.condensateKgS * WATER_HEAT * surfaceC;
          removedKg += STEP_S * truth.condensateKgS;
          expect(truth.sensibleW + truth.latentW).toBeCloseTo(truth.totalW, 6);
        }
        const scaleJ = Math.abs(refrigerantJ) + fanJ + 1000;
        expect(Math.abs(startRoomJ - room.energyJ - deliveredJ) / scaleJ).toBeLessThan(1e-8);
        const coilJ = unit.coil.energyJ - startCoilJ;
        const left = deliveredJ + fanJ - refrigerantJ - withWaterJ - coilJ;
        expect(Math.abs(left) / scaleJ).toBeLessThan(1e-8);
        // Water: out of the room, on the coil, in the pan, down the drain.
        expect(Math.abs(startKg - room.waterKg - removedKg)).toBeLessThan(1e-9);
        const { holdUpKg, panKg, drainedKg } = unit.coil;
        expect(Math.abs(removedKg - holdUpKg - panKg - drainedKg)).toBeLessThan(1e-9);
      }),
      { numRuns: 30 },
    );
  });

  it("agrees with the product's own capacity for the true states and flow", () => {
    const parameters = scenario('demo');
    const system = new System(parameters, 4, 0);
    for (const minute of [1, 3, 10, 30]) {
      system.advance(minute * 60_000);
      for (const { id } of parameters.units) {
        const truth = system.truth(id);
        const measured = capacity(
          parameters.mode,
          truth.return,
          truth.supply,
          { flowM3s: truth.flowM3s, basis: 'actual', plane: 'supply' },
          parameters.pressurePa,
        );
        expect(measured.totalW / truth.totalW).toBeCloseTo(1, 6);
        expect(measured.sensibleW / truth.sensibleW).toBeCloseTo(1, 6);
      }
    }
  });

  it('keeps a closed room without a machine as it is', () => {
    const parameters = scenario('plain');
    const system = new System(
      {
        ...parameters,
        warmUpS: 0,
        units: parameters.units.map((unit) => ({
          ...unit,
          setpointC: 35, // never called
          head: {
            ...unit.head,
            fanSpeeds: unit.head.fanSpeeds.map((speed) => ({ ...speed, powerW: 0 })),
          },
          room: {
            ...unit.room,
            massTemperatureC: unit.room.temperatureC,
            massOutdoorWK: 0,
            glazingWK: 0,
            infiltrationPerH: 0,
            sensibleW: 0,
            moistureKgH: 0,
          },
        })),
      },
      1,
      0,
    );
    const before = system.truth('u1').room;
    system.advance(1800_000);
    const after = system.truth('u1').room;
    expect(after.temperatureC).toBeCloseTo(before.temperatureC, 9);
    expect(after.humidityRatio).toBeCloseTo(before.humidityRatio, 12);
  });
});
