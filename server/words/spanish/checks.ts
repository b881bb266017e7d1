/** Checks, in Spanish. */
import type { Catalog } from '../language.ts';

export const CHECKS: Catalog = {
  // client/words/check.ts
  colder: 'más frío',
  warmer: 'más caliente',
  Listening: 'Tomando lecturas',
  'Not still yet': 'Todavía varían',
  'They agree': 'Concuerdan',
  'They differ': 'Difieren',
  '{0} are off': '{0} se desvían',
  'One is off': 'Una se desvía',
  'Enough readings: you can end it.': 'Lecturas suficientes: ya puede terminar.',
  '{0} of the time needed, since {1}.': '{0} del tiempo necesario, desde las {1}.',
  'Check the probes side by side': 'Comparar las sondas lado a lado',
  'To the side-by-side check': 'Ir a la comparación lado a lado',
  'In the same air, all probes should read the same. The check finds what they differ by and corrects it, and the ± of the capacity gets smaller.':
    'En el mismo aire, todas las sondas deben leer lo mismo. La comparación halla cuánto difieren y lo corrige, y el ± de la capacidad se reduce.',
  'Put the probes of the unit together in still air, a hand’s width from anything warm or cold, away from hands, sun and the outlet.':
    'Junte las sondas de la unidad en aire quieto, a una mano de distancia de todo lo caliente o frío, lejos de las manos, del sol y de la salida.',
  'Start, and leave them for a few minutes, until the check says that they agree.':
    'Inicie y déjelas unos minutos, hasta que la comparación diga que concuerdan.',
  'End, and hang them back in their places.': 'Termine y vuelva a colocarlas en sus lugares.',
  'Simulated probes move together on their own while the check runs.':
    'Las sondas simuladas se juntan solas mientras dura la comparación.',
  'Probes to check together': 'Sondas por comparar',
  'No probe is live.': 'Ninguna sonda envía datos.',
  'It takes at least two probes.': 'Se necesitan al menos dos sondas.',
  'Side-by-side check: {0}.': 'Comparación lado a lado: {0}.',
  'Too early: if you end now, nothing is corrected.':
    'Muy pronto: si termina ahora, no se corrige nada.',
  'Then hang the probes back in their places.':
    'Después vuelva a colocar las sondas en sus lugares.',
  'Ended at {0}.': 'Terminó a las {0}.',
  '({0} vapor pressure)': '({0} de presión de vapor)',
  'Their readings are now corrected by these differences.':
    'Sus lecturas ya se corrigen con estas diferencias.',
  'Check again': 'Comparar de nuevo',
  'Temperature, each with its ±': 'Temperatura, cada una con su ±',
  'Humidity, each with its ±': 'Humedad, cada una con su ±',
  drier: 'más seco',
  damper: 'más húmedo',
  'mean of all': 'promedio de todas',
  'at the mean': 'en el promedio',
  ', beyond its limit': ', fuera de su límite',
  'not checked': 'sin comparar',
  checked: 'comparada',
  'checked just now': 'comparada ahora mismo',
  'checked {0} ago': 'comparada hace {0}',
  'Not corrected.': 'Sin corrección.',
  'Corrected by {0}, taken off its readings.': 'Corregida: se resta {0} de sus lecturas.',
  '{0}{1} at {2}': '{0}{1} a {2}',
  '{0}; worth {1} of a fresh check.': '{0}; vale un {1} de una comparación reciente.',
  // client/words/walk.ts
  intake: 'toma',
  outlet: 'salida',
  'Walk the outlet': 'Recorrer la salida',
  'One spot is not the whole {0}. Move one probe along it while another stays put: that shows how uneven the air is and how far off the fixed probe reads. Plateau corrects it, and the ± gets smaller.':
    'Un punto no es toda la {0}. Mueva una sonda a lo largo mientras otra se queda fija: así se ve qué tan disparejo es el aire y cuánto se desvía la sonda fija. Plateau lo corrige, y el ± se reduce.',
  'Run the unit at the fan speed and louver position that you measure at.':
    'Ponga la unidad en la velocidad del ventilador y la posición de la persiana con las que mide.',
  'Start, and hold the probe still at one end of the {0} until it settles.':
    'Inicie y mantenga la sonda quieta en un extremo de la {0} hasta que se estabilice.',
  'Tap Go. Move it to the other end and back at an even pace, for a minute or more. Tap End.':
    'Toque Empezar. Llévela al otro extremo y de regreso a ritmo parejo, durante un minuto o más. Toque Terminar.',
  'Keep hand, probe and leads out of the {0}: a blower wheel turns behind it, and the fins are sharp. On a ladder, keep three points of contact or have someone else hold the probe.':
    'No meta la mano, la sonda ni los cables en la {0}: detrás gira la turbina del ventilador, y las aletas cortan. En una escalera, mantenga tres puntos de apoyo o pida a otra persona que sostenga la sonda.',
  'A simulated probe walks on its own.': 'Una sonda simulada hace el recorrido sola.',
  'Along which opening': 'A lo largo de qué abertura',
  'the outlet': 'la salida',
  'the intake': 'la toma',
  'Moving probe': 'Sonda que se mueve',
  'Another live probe must stay in the {0}.': 'Otra sonda que envíe datos debe quedarse en la {0}.',
  '{0} stays.': 'Se queda {0}.',
  '{0} stay.': 'Se quedan {0}.',
  'Walk: {0}.': 'Recorrido: {0}.',
  'Enough heard: go back to where you began, and end.':
    'Ya hay suficientes lecturas: regrese a donde empezó y termine.',
  '{0} of the time needed.': '{0} del tiempo necesario.',
  Go: 'Empezar',
  'If you end now, nothing is corrected.': 'Si termina ahora, no se corrige nada.',
  'This holds until one of those probes is moved or checked. Walk again after you move the louver.':
    'Esto vale hasta que se mueva o se compare una de esas sondas. Recorra de nuevo si mueve la persiana.',
  'Walk again': 'Recorrer de nuevo',
  'Enter how even it is': 'Ingresar qué tan parejo es',
  'How even the air is': 'Qué tan parejo es el aire',
  'How much spots differ from each other: one standard deviation, in percent of the difference between return and supply. Leave empty for the usual assumption.':
    'Cuánto difieren los puntos entre sí: una desviación estándar, en porcentaje de la diferencia entre retorno y suministro. Déjelo vacío para usar el valor supuesto.',
  'Outlet, %': 'Salida, %',
  'Intake, %': 'Toma, %',
  'The outlet': 'La salida',
  'The intake': 'La toma',
  'Hold still': 'No la mueva',
  'Ready to go': 'Ya puede empezar',
  Walking: 'En recorrido',
  Enough: 'Suficiente',
  'Spots differ by {0} (one standard deviation).':
    'Los puntos difieren {0} (una desviación estándar).',
  'The first fixed probe': 'La primera sonda fija',
  '{0} reads {1} colder than the whole {2}': '{0} lee {1} más frío que toda la {2}',
  '{0} reads {1} warmer than the whole {2}': '{0} lee {1} más caliente que toda la {2}',
  '{0}: with it alone the total is {1} too low.':
    '{0}: con esa sola, el total queda {1} por debajo.',
  '{0}: with it alone the total is {1} too high.':
    '{0}: con esa sola, el total queda {1} por encima.',
  '{0}\u202f% of the difference between return and supply':
    '{0}\u202f% de la diferencia entre retorno y suministro',
  'Nobody has walked the {0} yet: Plateau assumes that its spots differ by {1}.':
    'Nadie ha recorrido todavía la {0}: Plateau supone que sus puntos difieren un {1}.',
  'Entered: spots of the {0} differ by {1}.': 'Ingresado: los puntos de la {0} difieren un {1}.',
  'Measured by a walk: spots of the {0} differ by {1}, and the probes there are corrected.':
    'Medido con un recorrido: los puntos de la {0} difieren un {1}, y las sondas de ahí se corrigen.',
};
