/** Figure, in Spanish. */
import type { Catalog } from '../language.ts';

export const FIGURE: Catalog = {
  // client/words/air-path.ts
  Return: 'Retorno',
  Supply: 'Suministro',
  '{0} air': 'Aire: {0}',
  '{0} RH': '{0} HR',
  'Wet bulb {0}': 'Bulbo húmedo {0}',
  'Dew point {0}': 'Punto de rocío {0}',
  'Moisture {0}': 'Humedad {0}',
  'Enthalpy {0}': 'Entalpía {0}',
  '{0} colder': '{0} más frío',
  '{0} warmer': '{0} más caliente',
  Airflow: 'Caudal',
  Enter: 'Ingresar',
  Change: 'Cambiar',
  'No airflow entered, so there is no capacity.':
    'No se ha ingresado el caudal de aire, así que no hay capacidad.',
  'Follows the velocity probe. Entered: {0}':
    'Sigue a la sonda de velocidad del aire. Ingresado: {0}',
  // client/words/announcement.ts
  '{0} has sent nothing for a while.': 'Hace rato que {0} no envía nada.',
  '{0} is late.': '{0} está atrasada.',
  '{0} disagrees with another probe at its place.': '{0} no concuerda con otra sonda de su lugar.',
  'Supply air seems to get into the return.':
    'Parece que el aire de suministro entra en el retorno.',
  'The air picks up heat between the probes.': 'El aire toma calor entre las sondas.',
  'The side-by-side check is old.': 'La comparación lado a lado ya es vieja.',
  '{0} is probably wet.': '{0} probablemente está mojada.',
  '{0} reads humidity near an end of its scale.':
    '{0} lee humedad cerca de un extremo de su escala.',
  'Supply and return differ in moisture more than a heating coil can explain.':
    'El suministro y el retorno difieren en humedad más de lo que explica un serpentín en calefacción.',
  'A probe': 'Una sonda',
  '{0}: waiting for readings.': '{0}: en espera de lecturas.',
  // client/words/budget.ts
  'What makes up the ±': 'De qué se compone el ±',
  'Nothing you can do here would make it much smaller.':
    'Nada de lo que puede hacer aquí lo reduciría mucho.',
  'A full bar would be the whole ±. The ± beside each bar is what would be left if that part were the only one. The parts add up as squares.':
    'Una barra llena sería todo el ±. El ± junto a cada barra es lo que quedaría si esa parte fuera la única. Las partes se suman como cuadrados.',
  // client/words/doubts.ts
  'To the ways to measure it': 'Ir a las formas de medirlo',
  'To the airflow': 'Ir al caudal de aire',
  'To the walk along the outlet': 'Ir al recorrido de la salida',
  'To the walk along the intake': 'Ir al recorrido de la toma',
  'To the walk': 'Ir al recorrido',
  'To the visit settings': 'Ir a los ajustes de la visita',
  '1 warning': '1 advertencia',
  '{0} warnings': '{0} advertencias',
  '{0}, and what to do': '{0}, y qué hacer',
  // client/words/figure-room.ts
  All: 'Todas',
  'Delivered capacity': 'Capacidad entregada',
  'Total capacity': 'Capacidad total',
  'All heads': 'Todas las unidades interiores',
  'Why ±\u00a0{0}?': '¿Por qué ±\u00a0{0}?',
  'No data yet.': 'Todavía no hay datos.',
  'Last: {0} at {1}.': 'Última: {0} a las {1}.',
  'The figure is the {0}.': 'La cifra es el {0}.',
  'Strict test': 'Prueba estricta',
  Capture: 'Capturar',
  'What you set on the unit': 'Lo que usted ajusta en la unidad',
  Setpoint: 'Punto de ajuste',
  'Setpoint down': 'Bajar el punto de ajuste',
  'Setpoint up': 'Subir el punto de ajuste',
  Fan: 'Ventilador',
  // client/words/late.ts
  Late: 'Atrasada',
  ' since {0}': ' a partir de {0}',
  '{0}: late, no data{1}.': '{0}: atrasada, sin datos{1}.',
  'The figure is from then and may have changed. Do not write it down. Wait: it goes away if the server stays silent.':
    'La cifra es de ese momento y puede haber cambiado. No la anote. Espere: desaparece si el servidor sigue sin responder.',
  '{0}: connection lost, nothing is live.': '{0}: conexión perdida, nada está en vivo.',
  '{0}: no data{1}.': '{0}: sin datos{1}.',
  'No data from the server.': 'Sin datos del servidor.',
  'No data{0}.': 'Sin datos{0}.',
  'The server does not answer. The page reconnects on its own. If it does not, check that the computer is awake and the network is up.':
    'El servidor no responde. La página se reconecta sola. Si no lo hace, revise que la computadora esté activa y que haya red.',
  // client/words/parts.ts
  'What the capacity is made of': 'De qué se compone la capacidad',
  'Sensible heat ratio': 'Factor de calor sensible',
  Condensate: 'Condensado',
  'Both units together': 'Las dos unidades juntas',
  'All {0} units together': 'Las {0} unidades juntas',
  'One has no figure, or their modes differ.': 'Una no tiene cifra, o sus modos difieren.',
  // client/words/reasons.ts
  'Too little output to measure. Waiting for the unit to start.':
    'Entrega muy poco para medir. En espera de que arranque la unidad.',
  'Probes at one place disagree. Fix that first.':
    'Las sondas de un mismo lugar no concuerdan. Corrija eso primero.',
  'The fan runs and the coil dries: its water goes back into the air.':
    'El ventilador trabaja y el serpentín se seca: su agua regresa al aire.',
  'Not enough readings yet.': 'Todavía no hay suficientes lecturas.',
  'The ± is not known yet.': 'Todavía no se conoce el ±.',
  // client/words/sentence.ts
  'still climbing': 'sigue subiendo',
  'still falling': 'sigue bajando',
  'not steady yet': 'todavía no está estable',
  'its probes are in a side-by-side check': 'sus sondas están en una comparación lado a lado',
  'no figure now; last {0} at {1}': 'sin cifra por ahora; la última fue {0} a las {1}',
  'waiting for readings': 'en espera de lecturas',
  'no capacity figure yet': 'todavía sin cifra de capacidad',
  settling: 'estabilizándose',
  'about {0} to go': 'faltan cerca de {0}',
  'nearly there': 'ya casi',
  'heading for {0}': 'va hacia {0}',
  ' on and off': ' de arranque y paro',
  ', about every {0}': ', cada {0} aproximadamente',
  'cycling{0}, a mean needs whole cycles': 'en ciclos{0}, un promedio necesita ciclos completos',
  'cycling{0}, {1}': 'en ciclos{0}, {1}',
  'cycling{0}, mean {1} over {2}': 'en ciclos{0}, promedio {1} en {2}',
  'defrosting since {0}; nothing counts until five minutes after it ends':
    'en descongelamiento desde las {0}; nada cuenta hasta cinco minutos después de que termine',
  'defrosted from {0} to {1}; counted again from {2}':
    'se descongeló de las {0} a las {1}; vuelve a contar desde las {2}',
  'probes at one place disagree, so do not trust the figure':
    'las sondas de un mismo lugar no concuerdan: no confíe en la cifra',
  'the fan runs and the coil dries': 'el ventilador trabaja y el serpentín se seca',
  'too little capacity to measure': 'capacidad insuficiente para medir',
  'too little {0} to measure': 'no hay suficiente {0} para medir',
  'only the fan runs, and the air picks up heat on its way':
    'solo trabaja el ventilador, y el aire toma calor en el camino',
  heating: 'calefacción',
  cooling: 'enfriamiento',
  '{0} of {1}, though it should be {2}': '{0} de {1}, aunque debería ser {2}',
  ' of {0}': ' de {0}',
  dehumidifying: 'deshumidificación',
  'steady{0} at {1}{2}{3}': 'estable{0} en {1}{2}{3}',
  '{0}{1}, too early to say more': '{0}{1}, muy pronto para decir más',
  // client/words/settling.ts
  Waiting: 'En espera',
  Settling: 'Estabilizándose',
  Steady: 'Estable',
  Cycling: 'En ciclos',
  'Over the last {0} its mean moved less than {1}':
    'Desde hace {0} su promedio se mueve menos de {1}',
  'For {0}. ': 'Desde hace {0}. ',
  '{0}, and it would move less than {1} in the next ten minutes. ':
    '{0}, y se movería menos de {1} en los próximos diez minutos. ',
  ', hovering by ±{0}': ', oscila ±{0}',
  ', hovering by ±{0}\u202f%': ', oscila ±{0}\u202f%',
  '{0}Steady, but:': '{0}Estable, pero:',
  '{0}Steady, but see below.': '{0}Estable, pero vea abajo.',
  '{0}You can write this figure down.': '{0}Ya puede anotar esta cifra.',
  'The unit cycles on its own. A mean needs whole cycles. Keep measuring.':
    'La unidad entra en ciclos por sí sola. Un promedio necesita ciclos completos. Siga midiendo.',
  '{0}. Keep measuring.': '{0}. Siga midiendo.',
  'The mean over {0} is {1}': 'El promedio de {0} es {1}',
  '{0}. Its ± is not known: see below.': '{0}. Su ± no se conoce: vea abajo.',
  '{0}. Write that down.': '{0}. Anote ese valor.',
  'The unit takes heat from the room to melt the ice outdoors. Wait: it ends on its own.':
    'La unidad toma calor del cuarto para derretir el hielo de afuera. Espere: termina solo.',
  'It took {0}. The unit is warming up again.': 'Duró {0}. La unidad se está calentando otra vez.',
  'Too early to tell whether it is steady.': 'Es muy pronto para saber si está estable.',
  'Not steady yet. Wait before you write it down.':
    'Todavía no está estable. Espere antes de anotar la cifra.',
  '{0}. Wait before you write it down.': '{0}. Espere antes de anotar la cifra.',
  'mean of the last 10\u202fs, so {0} behind':
    'promedio de los últimos 10\u202fs, o sea, {0} de retraso',
  // client/words/when.ts
  'Field: for some minutes the figure has moved no more than its noise, and it is not likely to move in the next ten minutes. For commissioning and service.':
    'De campo: durante unos minutos la cifra no se ha movido más que su ruido, y no es probable que se mueva en los próximos diez minutos. Para puesta en marcha y servicio.',
  'Strict: the field test and, over 30\u202fmin, dry bulb of return and supply within {0} and wet bulb of both within {1}, modeled on the tolerances of ANSI/ASHRAE 37. It takes at least half an hour.':
    'Estricta: la prueba de campo y, durante 30\u202fmin, el bulbo seco de retorno y suministro dentro de {0} y el bulbo húmedo de ambos dentro de {1}, con base en las tolerancias de ANSI/ASHRAE 37. Tarda al menos media hora.',
  'off: by hand only': 'no: solo a mano',
  'as soon as it is steady': 'en cuanto esté estable',
  'after {0} of steady': 'tras {0} estable',
};
