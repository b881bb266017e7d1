/**
 * What a thousand readings over Bluetooth cost: 40 probes that notify four times a second, through the
 * simulated air and its controller, the real radio library and the radio process, and the adapter in
 * the server's process. The share of the air, which no real radio costs, is measured by itself.
 */
import { Agenda } from '../../simulator/bluetooth/agenda.ts';
import { Air } from '../../simulator/bluetooth/air.ts';
import { addressBytes, joined, u16, whole } from '../../simulator/bluetooth/bytes.ts';
import { Controller } from '../../simulator/bluetooth/controller.ts';
import { count, load, loadPlan } from '../simulator/bluetooth/load-stage.ts';
import { spreadOf, table } from './harness.ts';

const PROBES = 40;
const READINGS = 400;
const EVERY_MS = 250;
/** The handle by which a client subscribes to the temperature. */
const SUBSCRIPTION = 26;

/** CPU time of the air and its controller for all readings, ms. */
function airAlone(): number {
  const plans = Array.from({ length: PROBES }, (_, i) => loadPlan(i));
  const agenda = new Agenda(0);
  const air = new Air(plans, agenda, 1);
  let told = 0;
  const controller = new Controller(air, agenda, (packet) => {
    if (packet[0] === 2 && packet[9] === 0x1b) told += 1;
  });
  plans.forEach(({ address }, i) => {
    const parameters = [...u16(0), ...u16(12), ...u16(0), ...u16(400), ...whole(0, 4)];
    const given = joined(whole(0, 5), 1, addressBytes(address), 0, parameters);
    controller.receive(joined(1, u16(0x200d), given.length, given));
    agenda.advance(agenda.now + 500);
    const write = joined(u16(5), u16(4), 0x12, u16(SUBSCRIPTION), u16(1));
    controller.receive(joined(2, u16(0x40 + i), u16(write.length), write));
    agenda.advance(agenda.now + 100);
  });
  told = 0;
  const before = process.cpuUsage();
  for (let k = 0; k < READINGS; k++) {
    for (let i = 0; i < PROBES; i++) {
      air.take({ t: agenda.now, probe: `p${i}`, temperatureC: 20 + k / 100 });
    }
    agenda.advance(agenda.now + EVERY_MS);
  }
  const used = process.cpuUsage(before);
  if (told !== PROBES * READINGS) throw new Error(`${told} of ${PROBES * READINGS} were told`);
  return (used.user + used.system) / 1000;
}

/** Measures and prints. */
export async function print(rounds = 3): Promise<void> {
  const figures = { air: [] as number[], radio: [] as number[], server: [] as number[] };
  for (let round = 0; round < rounds; round++) {
    const { arrived, radioCpuMs, serverCpuMs } = await load(PROBES, READINGS, 20);
    const thousands = count(arrived) / 1000;
    figures.radio.push(radioCpuMs / thousands);
    figures.server.push(serverCpuMs / thousands);
    figures.air.push(airAlone() / ((PROBES * READINGS) / 1000));
  }
  const title = `Bluetooth, ${PROBES} probes × 4 Hz, 20 × as fast`;
  const names = {
    radio: 'radio process: air, library, messages',
    air: 'of it the simulated air, by itself',
    server: 'server process: adapter (and feeding the air)',
  };
  console.log(
    table(
      { title, unit: 'ms of CPU per 1000 readings', contestants: [] },
      {
        ratios: [],
        figures: (['radio', 'air', 'server'] as const).map((part) => ({
          name: names[part],
          spread: spreadOf(figures[part]),
        })),
      },
    ),
  );
}
