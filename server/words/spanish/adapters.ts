/** Adapters, in Spanish. */
import type { Catalog } from '../language.ts';

export const ADAPTERS: Catalog = {
  // adapters/ble/bluetooth.ts
  '{0} Bluetooth probes are known, and there is no room for the others that are heard: forget some that are not here, and those appear by themselves.':
    'Se conocen {0} sondas Bluetooth y no hay espacio para las otras que se reciben: olvide algunas que no estén aquí, y las otras aparecen solas.',
  '{0} left out: a probe that did not answer held the radio up.':
    'No se tomaron en cuenta ({0}): una sonda que no respondió detuvo el radio.',
  '{0} has sent values that are none ({1} so far): not known to it, or beyond what can be; they are left out.':
    '{0} ha enviado valores no válidos ({1} hasta ahora): ni la sonda los conoce, o son imposibles; no se toman en cuenta.',
  '1 value was': '1 valor',
  '{0} values were': '{0} valores',
  // adapters/ble/bthome.ts
  'version {0}': 'la versión {0}',
  'The probe {0} {1}.': 'La sonda {0} {1}.',
  'A key has {0} bytes, not {1}.': 'Una clave tiene {0} bytes, no {1}.',
  'frame {0} after frame {1}': 'la trama {0} después de la trama {1}',
  'has sent the same packet again; it is counted once':
    'envió otra vez el mismo paquete; se cuenta una vez',
  'sends encrypted readings: enter its key, 32 hexadecimal digits':
    'envía lecturas cifradas: ingrese su clave, 32 dígitos hexadecimales',
  'cannot be decrypted with the key that was entered: compare it with the key of the probe':
    'no se puede descifrar con la clave ingresada: compárela con la clave de la sonda',
  'cannot be decrypted, since this system hides the address that goes with its key: let the probe send its address along, or switch its encryption off':
    'no se puede descifrar, porque este sistema oculta la dirección que va con su clave: haga que la sonda envíe también su dirección, o desactive su cifrado',
  "has sent {0}: it may be a recording of somebody else's and is passed over":
    'envió {0}: puede ser una grabación de otra persona y se ignora',
  'has a key, but this frame is plain and may be of another sender; it is passed over: take the key away if the encryption of the probe was switched off':
    'tiene una clave, pero esta trama viene sin cifrar y puede ser de otro emisor; se ignora: quite la clave si se desactivó el cifrado de la sonda',
  'sends a frame that is cut short; it is passed over': 'envía una trama incompleta; se ignora',
  'sends BTHome in {0}, and only version 2 is read: set the probe to version 2':
    'envía BTHome en {0}, y solo se lee la versión 2: ponga la sonda en la versión 2',
  // adapters/ble/error-text.ts
  'there is no such file': 'no existe ese archivo',
  'it is a folder': 'es una carpeta',
  'its permissions do not allow it': 'sus permisos no lo permiten',
  // adapters/ble/keys.ts
  'The keys of probes cannot be read ({0}): mend or remove {1}.':
    'No se pueden leer las claves de las sondas ({0}): repare o quite {1}.',
  '{0} does not hold keys as {"00aa01010001": "32 hexadecimal digits"}: mend or remove it.':
    '{0} no contiene claves como {"00aa01010001": "32 dígitos hexadecimales"}: repárelo o quítelo.',
  'The key could not be written ({0}): see to the data folder.':
    'No se pudo escribir la clave ({0}): revise la carpeta de datos.',
  'The key of {0} is not 32 hexadecimal digits.':
    'La clave de {0} no tiene 32 dígitos hexadecimales.',
  'In {0}: {1}': 'En {0}: {1}',
  // adapters/ble/linked-probe.ts
  'it has nothing that can be read': 'no tiene nada que se pueda leer',
  'it answers too slowly': 'responde muy lento',
  // adapters/ble/links.ts
  '{0} changes its address from time to time, and is then a new probe without a place: switch that (its privacy) off in the probe, or place it again.':
    '{0} cambia de dirección de vez en cuando, y entonces es una sonda nueva sin lugar: desactive eso (su privacidad) en la sonda, o asígnele otra vez su lugar.',
  'it is heard only every {0} s: have it advertise every second':
    'se recibe solo cada {0} s: haga que se anuncie cada segundo',
  'move it nearer, or see to its battery': 'acérquela, o revise su batería',
  '{0} answers only to a computer that it is paired with, and Plateau does not pair: switch that off in the probe, or use one that is open.':
    '{0} solo responde a una computadora con la que está emparejada, y Plateau no empareja: desactive eso en la sonda, o use una abierta.',
  '{0} is heard but cannot be linked ({1}): {2}.':
    '{0} se recibe, pero no se puede enlazar ({1}): {2}.',
  // adapters/ble/once.ts
  'the link was lost before {0} ended': 'se perdió el enlace antes de que terminara {0}',
  '{0} did not end within {1} s': '{0} no terminó en {1} s',
  // adapters/ble/radio-central.ts
  'there is no link to it': 'no hay enlace con la sonda',
  'it has not been heard': 'no se ha recibido',
  'the radio was held up': 'el radio estuvo detenido',
  // adapters/ble/radio-host.ts
  'the radio is being started': 'el radio está iniciando',
  'It could not be started: {0}': 'No se pudo iniciar: {0}',
  'It ended by itself ({0}).': 'Terminó solo ({0}).',
  'It did not answer.': 'No respondió.',
  'status {0}': 'estado {0}',
  'the radio did not answer for {0} s': 'el radio no respondió por {0} s',
  'It said what cannot be understood.': 'Envió algo que no se entiende.',
  'Nothing was heard of it for {0} s.': 'No se recibió nada por {0} s.',
  'the radio was started anew': 'el radio se inició de nuevo',
  // adapters/ble/radio-link.ts
  'listing descriptors': 'la lista de descriptores',
  'listing services': 'la lista de servicios',
  'listing characteristics': 'la lista de características',
  'reading a descriptor': 'la lectura de un descriptor',
  'reading a value': 'la lectura de un valor',
  'it refused to be read': 'no permitió la lectura',
  'asking for the signal': 'la consulta de la señal',
  'it has no characteristic {0}': 'no tiene la característica {0}',
  // adapters/ble/scan-ability.ts
  'asking the adapter': 'la consulta al adaptador',
  // adapters/ble/sentences.ts
  'The Bluetooth radio was started anew; its probes are linked again. {0}':
    'El radio Bluetooth se inició de nuevo; sus sondas se enlazan otra vez. {0}',
  'Bluetooth is switched off: switch it on; probes are then found by themselves.':
    'Bluetooth está apagado: enciéndalo; las sondas se encuentran solas.',
  'No Bluetooth adapter was found: plug one in, or choose another with --bluetooth-adapter N. It is used as soon as it is there.':
    'No se encontró ningún adaptador Bluetooth: conecte uno, o elija otro con --bluetooth-adapter N. Se usa en cuanto esté conectado.',
  'This Bluetooth adapter has no Low Energy: use another, and choose it with --bluetooth-adapter N where there are several.':
    'Este adaptador Bluetooth no tiene Low Energy: use otro, y elíjalo con --bluetooth-adapter N si hay varios.',
  'The same or another trouble with {0} more.': 'El mismo u otro problema con {0} más.',
  'Plateau may not use Bluetooth. Allow it to Node once: sudo setcap cap_net_raw+eip "$(readlink -f "$(command -v node)")", or give its service AmbientCapabilities=CAP_NET_RAW; then start it again.':
    'Plateau no tiene permiso para usar Bluetooth. Déselo a Node una sola vez: sudo setcap cap_net_raw+eip "$(readlink -f "$(command -v node)")", o dé a su servicio AmbientCapabilities=CAP_NET_RAW; después inícielo otra vez.',
  'Plateau may not use Bluetooth. Allow it to the program that you start it from: System Settings, Privacy & Security, Bluetooth; then start it again.':
    'Plateau no tiene permiso para usar Bluetooth. Déselo al programa desde el que lo inicia: Configuración del Sistema, Privacidad y seguridad, Bluetooth; después inícielo otra vez.',
  'Plateau may not use Bluetooth. Allow it: Settings, Privacy & security, Radios, for desktop apps; and see that Bluetooth is on. Then start it again.':
    'Plateau no tiene permiso para usar Bluetooth. Déselo: Configuración, Privacidad y seguridad, Radios, para aplicaciones de escritorio; y vea que Bluetooth esté encendido. Después inícielo otra vez.',
  'Plateau may not use Bluetooth: give its user that right, then start it again.':
    'Plateau no tiene permiso para usar Bluetooth: dé ese permiso a su usuario y después inícielo otra vez.',
  'The Bluetooth library is not installed: run npm ci where this computer may compile (a compiler, make, Python). Until then send readings to POST /api/readings.':
    'La biblioteca de Bluetooth no está instalada: ejecute npm ci donde esta computadora pueda compilar (un compilador, make, Python). Mientras tanto, envíe lecturas a POST /api/readings.',
  'The Bluetooth library is installed without its compiled part: install a compiler, make and Python, then run npm ci. Until then send readings to POST /api/readings.':
    'La biblioteca de Bluetooth está instalada sin su parte compilada: instale un compilador, make y Python, y ejecute npm ci. Mientras tanto, envíe lecturas a POST /api/readings.',
  "This computer's system has no Bluetooth: plug an adapter in, or load its driver. Until then send readings to POST /api/readings.":
    'El sistema de esta computadora no tiene Bluetooth: conecte un adaptador, o cargue su controlador. Mientras tanto, envíe lecturas a POST /api/readings.',
  'Bluetooth cannot be used: {0}. Until then send readings to POST /api/readings.':
    'No se puede usar Bluetooth: {0}. Mientras tanto, envíe lecturas a POST /api/readings.',
  // adapters/push/index.ts
  '{0} ms': '{0} ms',
  'Pushed readings are not taken at the moment; send it again later.':
    'Por ahora no se aceptan lecturas enviadas; envíelas otra vez más tarde.',
  'Readings of {0} are refused: the clock of their sender is ahead.':
    'Se rechazan lecturas de {0}: el reloj de quien las envía está adelantado.',
  "t: the reading is {0} ahead of this computer's clock (it says {1}, here it is {2}): set the sender's clock.":
    't: la lectura está {0} adelantada respecto al reloj de esta computadora (dice {1}, aquí es {2}): ponga a la hora el reloj de quien la envía.',
  // adapters/replay/index.ts
  'A replay runs at {0} to {1} times the recorded pace, or Infinity; not {2}.':
    'Una reproducción va de {0} a {1} veces el ritmo registrado, o Infinity; no {2}.',
  'speed: {0} is not one of {1} to {2}': 'speed: {0} no está entre {1} y {2}',
  'The replay is not running.': 'La reproducción no está en marcha.',
  'The visit log is still being read. Try again in a moment.':
    'Todavía se está leyendo la bitácora de la visita. Intente otra vez en un momento.',
  'toT: {0} is outside the visit log, which runs from {1} to {2}':
    'toT: {0} está fuera de la bitácora de la visita, que va de {1} a {2}',
  'The visit log cannot be read any further: {0}':
    'No se puede seguir leyendo la bitácora de la visita: {0}',
  'It runs {0}.': 'Va {0}.',
  'The replay has ended.': 'La reproducción terminó.',
  'The replay is paused.': 'La reproducción está en pausa.',
  'as fast as it can': 'lo más rápido que puede',
  'at {0} times the recorded pace': 'a {0} veces el ritmo registrado',
  // adapters/simulated/airflow-play.ts
  'The bucket holds {0} g.': 'La cubeta tiene {0} g.',
};
