/** Stands in for the radio's process: a beacon that numbers its packets, heard fifty times a second. */
process.on('disconnect', () => process.exit(0));
if (!process.connected) process.exit(0);
const say = (message) => process.connected && process.send(message, () => undefined);

let packet = 0;
function heard() {
  packet = (packet + 1) % 256;
  const bytes = `4000${packet.toString(16).padStart(2, '0')}02ca0903bf13`;
  say({
    ...{ say: 'heard', id: '00aa01020002', address: '00:aa:01:02:00:02', t: Date.now() },
    ...{ name: 'Beacon', signalDbm: -60, connectable: false, services: [] },
    ...{ serviceData: [{ uuid: 'fcd2', bytes }], manufacturerData: null },
  });
}

say({ say: 'loaded' });
say({ say: 'state', state: 'poweredOn' });
setInterval(heard, 20);
