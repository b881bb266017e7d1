/** Captures, in Spanish. */
import type { Catalog } from '../language.ts';

export const CAPTURES: Catalog = {
  // client/words/capture-list.ts
  'The note or name': 'La nota o el nombre',
  'Within its ±: it may be no change at all.':
    'Queda dentro de su ±: puede que no haya cambiado nada.',
  Captures: 'Capturas',
  '(simulated)': '(simulada)',
  'sensible {0}': 'sensible {0}',
  'latent {0}': 'latente {0}',
  Note: 'Nota',
  'Strike out': 'Tachar',
  Restore: 'Restaurar',
  before: 'antes',
  after: 'después',
  'Note on {0}': 'Nota sobre {0}',
  '{0}. The note stays with it in the record; it changes no figure.':
    '{0}. La nota queda con la captura en el registro; no cambia ninguna cifra.',
  'Note (empty takes it away)': 'Nota (déjela vacía para quitarla)',
  'filter washed, louver down': 'filtro lavado, persiana abajo',
  'Strike out {0}': 'Tachar {0}',
  '{0}. It stays in the record and in the list, struck through, and counts for nothing. You can undo this.':
    '{0}. Queda en el registro y en la lista, tachada, y no cuenta para nada. Esto se puede deshacer.',
  'Why (optional)': 'Por qué (opcional)',
  'the door was open': 'la puerta estaba abierta',
  Photo: 'Foto',
  Sending: 'Enviando',
  'Sending the photo': 'Enviando la foto',
  '{0} photos': '{0} fotos',
  'Photos of {0}': 'Fotos de {0}',
  'Open photo {0} of {1}': 'Abrir foto {0} de {1}',
  'Photo {0}': 'Foto {0}',
  'Photo {0} of {1}, {2}': 'Foto {0} de {1}, {2}',
  'This photo cannot be read: pieces of it are missing in the record, or the line is down. Figures and notes are not affected.':
    'Esta foto no se puede leer: faltan partes en el registro, o se cayó la conexión. Las cifras y las notas quedan igual.',
  'This browser cannot read that file as a picture. Take a photo, or choose a JPEG.':
    'Este navegador no puede leer ese archivo como imagen. Tome una foto o elija un JPEG.',
  'Taken off the capture, it stays in the record.':
    'Si la quita de la captura, queda en el registro.',
  'Take it off': 'Quitarla',
  // client/words/captures.ts
  'The figure is late. Wait for new readings.': 'La cifra está atrasada. Espere lecturas nuevas.',
  'Connection lost. Wait until it is back.': 'Se perdió la conexión. Espere a que vuelva.',
  'There is no figure to capture.': 'No hay cifra que capturar.',
  'Defrost: nothing counts until five minutes after it ends.':
    'Descongelamiento: nada cuenta hasta cinco minutos después de que termine.',
  'Too early: not enough readings yet.': 'Es muy pronto: todavía no hay suficientes lecturas.',
  'Not steady yet, but nearly there.': 'Todavía no está estable, pero falta poco.',
  'Not steady yet.': 'Todavía no está estable.',
  'Not steady yet: about {0} to go.': 'Todavía no está estable: faltan cerca de {0}.',
  'Records the figure with its ±.': 'Registra la cifra con su ±.',
  'Captured. It is in the list below.': 'Captura hecha. Está en la lista de abajo.',
  'Records the figure without a ±: {0}.': 'Registra la cifra sin ±: {0}.',
  'Captured without a ±: {0}.': 'Captura hecha sin ±: {0}.',
  'Cycling: wait for whole cycles.': 'En ciclos: espere ciclos completos.',
  'Cycling: {0}.': 'En ciclos: {0}.',
  'Struck out at {0}{1}{2}': 'Tachada a las {0}{1}{2}',
  'fan change': 'cambio del ventilador',
  'fan {0}': 'ventilador en {0}',
  'setpoint change': 'cambio del punto de ajuste',
  'setpoint {0}': 'punto de ajuste {0}',
  '{0} at {1}': '{0} a las {1}',
  'after {0}: {1}': 'tras {0}: {1}',
  // client/words/change.ts
  'Since the baseline': 'Desde la línea base',
  'Mark this capture as baseline': 'Marcar esta captura como línea base',
  'No baseline any more': 'Quitar como línea base',
  'This capture is a baseline: later visits are compared with it.':
    'Esta captura es una línea base: las visitas posteriores se comparan con ella.',
  'No earlier visit to this site has a capture of this unit. Mark this one as the baseline, and later visits are compared with it.':
    'Ninguna visita anterior a este sitio tiene una captura de esta unidad. Marque esta como línea base, y las visitas posteriores se compararán con ella.',
  'Capture a steady figure. Later visits are compared with it.':
    'Capture una cifra estable. Las visitas posteriores se comparan con ella.',
  'Capacity at like conditions over the years, against the baseline':
    'Capacidad en condiciones similares a lo largo de los años, contra la línea base',
  'Looking for earlier visits.': 'Buscando visitas anteriores.',
  'one in cooling, one in heating': 'una en enfriamiento y otra en calefacción',
  'another fan speed': 'otra velocidad del ventilador',
  'one with a wet coil, one with a dry one':
    'una con el serpentín mojado y otra con el serpentín seco',
  'other conditions, and no outdoor temperature to correct by':
    'otras condiciones, y sin temperatura exterior para corregir',
  'Since {0}: {1}. Likely real.': 'Desde el {0}: {1}. Probablemente es real.',
  'Since {0}: {1}. May be noise.': 'Desde el {0}: {1}. Puede ser solo ruido.',
  'the published figures': 'las cifras publicadas',
  'the open curve': 'la curva abierta',
  'The earlier figure is carried to today’s conditions by {0}: times {1}.':
    'La cifra anterior se lleva a las condiciones de hoy con {0}: se multiplica por {1}.',
  'They do not compare well: {0}.': 'No se comparan bien: {0}.',
  'Both rest on the same airflow figure. Lost airflow does not show here: measure it again.':
    'Las dos se basan en la misma cifra de caudal de aire. Si se perdió caudal, aquí no se ve: mídalo de nuevo.',
  // client/words/chart.ts
  latent: 'latente',
  cycles: 'ciclos',
  'defrost, not counted': 'descongelamiento, no cuenta',
  defrost: 'descongelamiento',
  'Capacity of {0} over time': 'Capacidad de {0} en el tiempo',
  'Air of {0} over time': 'Aire de {0} en el tiempo',
  'Capacity of all heads over time': 'Capacidad de todas las unidades interiores en el tiempo',
  Heads: 'Unidades interiores',
  'All together': 'Todas juntas',
  'at {0}': 'a las {0}',
  'Shaded: 95\u202f% interval of the total.': 'Sombreado: intervalo del 95\u202f% del total.',
  'Drag to look back, Ctrl and wheel to look closer.':
    'Arrastre para ver lo anterior; use Ctrl y la rueda para acercar.',
  'Time shown': 'Tiempo mostrado',
  'All of it': 'Todo',
  '30 min': '30 min',
  '10 min': '10 min',
  'How close': 'Acercamiento',
  'Show more time': 'Mostrar más tiempo',
  'Look closer': 'Acercar',
  'Whole visit': 'Toda la visita',
  'Back to live': 'Ver en vivo',
  '{0} to {1}': '{0} a {1}',
  'Left and right move it, up and down stretch it, Escape shows all of it.':
    'Las flechas izquierda y derecha mueven el tiempo mostrado, arriba y abajo lo estiran, Escape lo muestra todo.',
  'total {0}{1}': 'total {0}{1}',
  'return {0}': 'retorno {0}',
  'supply {0}': 'suministro {0}',
  'The last minutes as a table': 'Los últimos minutos en una tabla',
  'The last minutes, table': 'Los últimos minutos, tabla',
  Time: 'Hora',
  Total: 'Total',
  Sensible: 'Sensible',
  Latent: 'Latente',
  'No whole minute yet.': 'Todavía no hay un minuto completo.',
  'One event, in words': 'Un evento, en palabras',
  '{0} events, in words': '{0} eventos, en palabras',
  Events: 'Eventos',
  'Events on the chart': 'Eventos en la gráfica',
  'Arrow keys change its time by 5 s, with Shift by a minute. Enter names it.':
    'Las flechas cambian su hora en 5 s; con Mayús, en un minuto. Enter le pone nombre.',
  'Moved to {0}': 'Movido a las {0}',
  Rename: 'Cambiar nombre',
  'Rename {0}': 'Cambiar nombre: {0}',
  'Change time': 'Cambiar hora',
  'Change time: {0}': 'Cambiar hora: {0}',
  'No events yet.': 'Todavía no hay eventos.',
  Name: 'Nombre',
  'The time': 'La hora',
  'The time cannot be read. Enter hours, minutes and seconds.':
    'La hora no se puede leer. Ingrese horas, minutos y segundos.',
  'Settling starts over at each change: enter when you made it.':
    'La estabilización empieza de nuevo con cada cambio: ingrese cuándo lo hizo.',
  'At {0}. This time is fixed.': 'A las {0}. Esta hora no se puede cambiar.',
  // client/words/entry.ts
  '{0}: “{1}” is not a number. Enter it in {2}.':
    '{0}: “{1}” no es un número. Ingrese el valor en {2}.',
  '{0} cannot be {1}\u202f{2}. Enter {3} to {4}\u202f{5}, and check the unit.':
    '{0} no puede ser {1}\u202f{2}. Ingrese de {3} a {4}\u202f{5} y revise la unidad.',
  // client/words/note.ts
  'Note what was done': 'Anote lo que se hizo',
  'The simulated unit follows setpoint and fan. Each change and each note is an event on the chart.':
    'La unidad simulada sigue el punto de ajuste y el ventilador. Cada cambio y cada nota es un evento en la gráfica.',
  'Set the unit itself too: Plateau does not control it. Setpoint, fan and notes are events on the chart.':
    'Ajuste también la unidad: Plateau no la controla. El punto de ajuste, el ventilador y las notas son eventos en la gráfica.',
};
