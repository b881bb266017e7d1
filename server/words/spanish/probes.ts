/** Probes, in Spanish. */
import type { Catalog } from '../language.ts';

export const PROBES: Catalog = {
  // client/words/empty.ts
  'No figure in this replay.': 'Sin cifra en esta reproducción.',
  'The replay has just begun.': 'La reproducción acaba de empezar.',
  'A figure appears once the replay brings readings of a probe that is placed at a unit.':
    'La cifra aparece cuando la reproducción trae lecturas de una sonda colocada en una unidad.',
  'Turn on your probes.': 'Encienda sus sondas.',
  'Each one appears here on its own. No pairing needed.':
    'Cada una aparece aquí sola. No hay que emparejarlas.',
  'No probe at hand?': '¿No tiene una sonda a la mano?',
  'runs the page with simulated ones. Programs send readings with':
    'abre la página con sondas simuladas. Los programas envían lecturas con',
  'these calls': 'estas llamadas',
  'Which one hangs in the {0}?': '¿Cuál sonda va aquí: {0}?',
  'This visit is being recorded. For a quick look that leaves nothing behind:':
    'Esta visita se está registrando. Para una vista rápida que no deja rastro:',
  'Do not record': 'No registrar',
  'This is a quick look: nothing of it is left unless you keep it.':
    'Esta es una vista rápida: no queda nada de ella si usted no la guarda.',
  'Other places, several units, find a probe by warming it':
    'Otros lugares, varias unidades, hallar una sonda calentándola',
  // client/words/find.ts
  'It is {0}.': 'Es {0}.',
  'Only this one got warmer. Let go, and it must cool down again.':
    'Solo esta se calentó. Suéltela: debe volver a enfriarse.',
  'Connection lost.': 'Se perdió la conexión.',
  'The readings come back with the connection.': 'Las lecturas vuelven con la conexión.',
  'No probe sends a temperature.': 'Ninguna sonda envía temperatura.',
  'Turn the probes on and bring them closer.': 'Encienda las sondas y acérquelas.',
  '{0} rise at once.': '{0} suben al mismo tiempo.',
  'Put down all but one and wait until they are cool.':
    'Suelte todas menos una y espere a que se enfríen.',
  'No single probe got warmer.': 'Ninguna sonda se calentó más que las demás.',
  'A probe as warm as your hand does not show. Cool it first, away from warm air. Then look again.':
    'Una sonda tan caliente como su mano no se distingue. Enfríela primero, lejos del aire caliente. Luego revise de nuevo.',
  'Hold one in your warm hand now.': 'Ahora tome una con la mano tibia.',
  'Close your hand around its tip, out of the airstream. Leave the others alone.':
    'Cierre la mano sobre la punta, fuera de la corriente de aire. No toque las demás.',
  'Look again': 'Revisar de nuevo',
  's left': 's restantes',
  'Back to all probes': 'Volver a todas las sondas',
  'Warm one that is simulated': 'Calentar una simulada',
  'Now: {0}.': 'Ahora: {0}.',
  'The name': 'El nombre',
  'Name it': 'Ponerle nombre',
  'Named.': 'Nombre guardado.',
  'Look for another': 'Buscar otra',
  // client/words/placing.ts
  'Where the probes hang': 'Dónde van las sondas',
  'Where does {0} hang?': '¿Dónde va {0}?',
  'Which probes hang here: {0}?': '¿Qué sondas van aquí: {0}?',
  'Choose a probe and its place, in either order.':
    'Elija una sonda y su lugar, en cualquier orden.',
  '{0} of a new unit': '{0} de una unidad nueva',
  'Take away': 'Quitar',
  Done: 'Listo',
  Places: 'Lugares',
  ', new': ', nueva',
  'Another indoor unit': 'Otra unidad interior',
  'no probe': 'sin sonda',
  '{0} hangs nowhere now.': '{0} quedó sin lugar.',
  '{0} is placed: {1}.': '{0} quedó colocada: {1}.',
  Room: 'Cuarto',
  Outdoors: 'Exterior',
  // client/words/probe-form.ts
  'Probe {0}': 'Sonda {0}',
  Place: 'Lugar',
  'a new one': 'una nueva',
  'Its name': 'Su nombre',
  'Temperature accuracy on its data sheet,\u00a0±\u00a0{0}':
    'Exactitud de temperatura según su hoja de datos,\u00a0±\u00a0{0}',
  'Humidity accuracy on its data sheet,\u00a0±\u00a0%\u00a0RH':
    'Exactitud de humedad según su hoja de datos,\u00a0±\u00a0%\u00a0HR',
  'For the record': 'Para el registro',
  'Last calibration': 'Última calibración',
  'The temperature accuracy': 'La exactitud de temperatura',
  'The humidity accuracy': 'La exactitud de humedad',
  'The last calibration': 'La última calibración',
  'return: air going in': 'retorno: aire que entra',
  'supply: air coming out': 'suministro: aire que sale',
  'outlet: velocity': 'salida: velocidad del aire',
  'room: air away from the unit': 'cuarto: aire lejos de la unidad',
  outdoor: 'exterior',
  // client/words/probe-list.ts
  'Place it': 'Asignar lugar',
  Probes: 'Sondas',
  'No probe yet.': 'Todavía no hay sondas.',
  'Turn a probe on and bring it closer: it appears here on its own. If it does not, look at its source below.':
    'Encienda una sonda y acérquela: aparece aquí sola. Si no aparece, revise su fuente, más abajo.',
  'Find one: warm it in your hand': 'Hallar una: caliéntela en la mano',
  simulated: 'simulada',
  'battery {0}': 'batería {0}',
  'from {0}': 'de {0}',
  'It hangs there': 'Ya va ahí',
  'Hang here': 'Colocar aquí',
  Move: 'Cambiar de lugar',
  'Name, limits': 'Nombre, límites',
  Forget: 'Olvidar',
  'Key of {0}': 'Clave de {0}',
  'Key, {0} digits of 0–9 and a–f': 'Clave, {0} dígitos de 0–9 y a–f',
  'The key': 'La clave',
  'Save key': 'Guardar clave',
  'Remove key': 'Quitar clave',
  'Key saved. The next reading shows whether it fits.':
    'Clave guardada. La próxima lectura muestra si es la correcta.',
  'Key removed.': 'Clave quitada.',
  'Forget {0}?': '¿Olvidar {0}?',
  'Forget it': 'Olvidarla',
  'You lose its name, its data-sheet accuracy, its side-by-side corrections{0}.':
    'Se pierden su nombre, la exactitud de su hoja de datos y las correcciones de su comparación lado a lado{0}.',
  ', and its place ({0})': ', y también su lugar ({0})',
  'Settling starts over without it, and there may be no figure.':
    'La estabilización empieza de nuevo sin ella, y puede que no haya cifra.',
  'You keep its readings in the record, and all captures.':
    'Se conservan sus lecturas en el registro y todas las capturas.',
  'It is on: its next reading brings it back, unplaced. To get rid of it, turn it off first.':
    'Está encendida: su próxima lectura la trae de vuelta, sin lugar. Para eliminarla, apáguela primero.',
  'When it turns up again, it comes back unplaced.': 'Cuando vuelva a aparecer, llega sin lugar.',
  // client/words/probes.ts
  connecting: 'conectando',
  live: 'en vivo',
  late: 'atrasada',
  lost: 'sin señal',
  'not placed': 'sin lugar',
  'no reading yet': 'todavía sin lectura',
  'not live': 'sin datos en vivo',
  'heard now': 'leída ahora',
  'heard {0} ago': 'leída hace {0}',
  '{0}, last heard {1} ago': '{0}, última lectura hace {1}',
  '{0} a second': '{0} por segundo',
  'every {0}': 'cada {0}',
  strong: 'fuerte',
  good: 'buena',
  fair: 'regular',
  'very weak': 'muy débil',
  weak: 'débil',
  '{0}\u202fdBm, {1}': '{0}\u202fdBm, {1}',
  'The key of {0} is missing or does not fit.': 'Falta la clave de {0} o no es la correcta.',
  'Enter the key that came with it, or remove the key if the probe no longer encrypts.':
    'Ingrese la clave que venía con la sonda, o quítela si la sonda ya no cifra sus datos.',
  'Wait a moment. If it takes long, bring the probe closer.':
    'Espere un momento. Si tarda, acerque la sonda.',
  '{0} is connecting.': '{0} se está conectando.',
  'Check its battery and its distance. Forget it if it is gone.':
    'Revise la batería y la distancia. Olvídela si ya no está.',
  '{0} is lost.': '{0} está sin señal.',
  '{0} has no place yet.': '{0} todavía no tiene lugar.',
  'Place it.': 'Colóquela.',
  'The battery of {0} is at {1}.': 'La batería de {0} está al {1}.',
  'Replace or charge it before the next visit.': 'Cámbiela o cárguela antes de la próxima visita.',
  '{0} to place': '{0} por colocar',
  '{0} not read': '{0} sin lectura',
  '{0} that disagree': '{0} en desacuerdo',
  '{0} in order': '{0} en orden',
  '1 probe': '1 sonda',
  '{0} probes': '{0} sondas',
  // client/words/units.ts
  'Indoor unit': 'Unidad interior',
};
