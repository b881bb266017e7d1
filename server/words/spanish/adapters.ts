/** Adapters, in Spanish. */
import type { Catalog } from '../language.ts';

export const ADAPTERS: Catalog = {
  // adapters/ble/bluetooth.ts
  '{0} Bluetooth probes are known, and there is no room for the others that are heard: forget some that are not here, and those appear by themselves.':
    '',
  '{0} left out: a probe that did not answer held the radio up.': '',
  '{0} has sent values that are none ({1} so far): not known to it, or beyond what can be; they are left out.':
    '',
  // adapters/ble/bthome.ts
  'A key has {0} bytes, not {1}.': '',
  'frame {0} after frame {1}': '',
  'has sent the same packet again; it is counted once': '',
  'sends encrypted readings: enter its key, 32 hexadecimal digits': '',
  'cannot be decrypted with the key that was entered: compare it with the key of the probe': '',
  'cannot be decrypted, since this system hides the address that goes with its key: let the probe send its address along, or switch its encryption off':
    '',
  "has sent {0}: it may be a recording of somebody else's and is passed over": '',
  'has a key, but this frame is plain and may be of another sender; it is passed over: take the key away if the encryption of the probe was switched off':
    '',
  'sends a frame that is cut short; it is passed over': '',
  'sends BTHome in {0}, and only version 2 is read: set the probe to version 2': '',
  // adapters/ble/error-text.ts
  'there is no such file': '',
  'it is a folder': '',
  'its permissions do not allow it': '',
  // adapters/ble/keys.ts
  'The keys of probes cannot be read ({0}): mend or remove {1}.': '',
  '{0} does not hold keys as {"00aa01010001": "32 hexadecimal digits"}: mend or remove it.': '',
  'The key could not be written ({0}): see to the data folder.': '',
  'The key of {0} is not 32 hexadecimal digits.': '',
  // adapters/ble/linked-probe.ts
  'it has nothing that can be read': '',
  'it answers too slowly': '',
  // adapters/ble/links.ts
  '{0} changes its address from time to time, and is then a new probe without a place: switch that (its privacy) off in the probe, or place it again.':
    '',
  'it is heard only every {0} s: have it advertise every second': '',
  'move it nearer, or see to its battery': '',
  '{0} answers only to a computer that it is paired with, and Plateau does not pair: switch that off in the probe, or use one that is open.':
    '',
  '{0} is heard but cannot be linked ({1}): {2}.': '',
  // adapters/ble/once.ts
  'the link was lost before {0} ended': '',
  '{0} did not end within {1} s': '',
  // adapters/ble/radio-central.ts
  'there is no link to it': '',
  'it has not been heard': '',
  'the radio was held up': '',
  // adapters/ble/radio-host.ts
  'the radio is being started': '',
  'It could not be started: {0}': '',
  'It ended by itself ({0}).': '',
  'It did not answer.': '',
  'the radio did not answer for {0} s': '',
  'It said what cannot be understood.': '',
  'Nothing was heard of it for {0} s.': '',
  'the radio was started anew': '',
  // adapters/ble/radio-link.ts
  'reading a descriptor': '',
  'reading a value': '',
  'it refused to be read': '',
  'asking for the signal': '',
  'it has no characteristic {0}': '',
  // adapters/ble/scan-ability.ts
  'asking the adapter': '',
  // adapters/ble/sentences.ts
  'The Bluetooth radio was started anew; its probes are linked again. {0}': '',
  'Bluetooth is switched off: switch it on; probes are then found by themselves.': '',
  'No Bluetooth adapter was found: plug one in, or choose another with --bluetooth-adapter N. It is used as soon as it is there.':
    '',
  'This Bluetooth adapter has no Low Energy: use another, and choose it with --bluetooth-adapter N where there are several.':
    '',
  'The same or another trouble with {0} more.': '',
  'Plateau may not use Bluetooth. Allow it to Node once: sudo setcap cap_net_raw+eip "$(readlink -f "$(command -v node)")", or give its service AmbientCapabilities=CAP_NET_RAW; then start it again.':
    '',
  'Plateau may not use Bluetooth. Allow it to the program that you start it from: System Settings, Privacy & Security, Bluetooth; then start it again.':
    '',
  'Plateau may not use Bluetooth. Allow it: Settings, Privacy & security, Radios, for desktop apps; and see that Bluetooth is on. Then start it again.':
    '',
  'Plateau may not use Bluetooth: give its user that right, then start it again.': '',
  'The Bluetooth library is not installed: run npm ci where this computer may compile (a compiler, make, Python). Until then send readings to POST /api/readings.':
    '',
  'The Bluetooth library is installed without its compiled part: install a compiler, make and Python, then run npm ci. Until then send readings to POST /api/readings.':
    '',
  "This computer's system has no Bluetooth: plug an adapter in, or load its driver. Until then send readings to POST /api/readings.":
    '',
  'Bluetooth cannot be used: {0}. Until then send readings to POST /api/readings.': '',
  // adapters/push/index.ts
  'Pushed readings are not taken at the moment; send it again later.': '',
  'Readings of {0} are refused: the clock of their sender is ahead.': '',
  "t: the reading is {0} ahead of this computer's clock (it says {1}, here it is {2}): set the sender's clock.":
    '',
  // adapters/replay/index.ts
  'A replay runs at {0} to {1} times the recorded pace, or Infinity; not {2}.': '',
  'speed: {0} is not one of {1} to {2}': '',
  'The replay is not running.': '',
  'The visit log is still being read. Try again in a moment.': '',
  'toT: {0} is outside the visit log, which runs from {1} to {2}': '',
  'The visit log cannot be read any further: {0}': '',
  'The replay has ended.': '',
  'The replay is paused.': '',
  'as fast as it can': '',
  'at {0} times the recorded pace': '',
  // adapters/simulated/airflow-play.ts
  'The bucket holds {0} g.': '',
};
