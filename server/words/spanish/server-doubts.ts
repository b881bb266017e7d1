/** Server doubts, in Spanish. */
import type { Catalog } from '../language.ts';

export const SERVER_DOUBTS: Catalog = {
  // server/session/doubt.ts
  '{0} min': '{0} min',
  '{0} days': '{0} días',
  // server/session/doubts.ts
  'Return and supply probes have not been checked side by side.':
    'Las sondas de retorno y suministro no se han comparado lado a lado.',
  'Each may be off by its own data-sheet accuracy, which is a large part of the interval.':
    'Cada una puede desviarse tanto como permite su hoja de datos, y eso es gran parte del intervalo.',
  'Put them together in the same air for a few minutes and run the check.':
    'Júntelas unos minutos en el mismo aire y haga la comparación.',
  'Measure it: a sweep of the outlet takes two minutes.':
    'Mídalo: un barrido de la salida toma dos minutos.',
  'The airflow is from the fan table, not measured at this unit.':
    'El caudal de aire viene de la tabla del ventilador, no se midió en esta unidad.',
  'A dirty wheel, coil or filter moves less air than the table says: the figure is then too high by the same share.':
    'Una turbina, un serpentín o un filtro sucios mueven menos aire del que dice la tabla: la cifra sale alta en la misma proporción.',
  'The airflow was entered by hand, not measured at this unit.':
    'El caudal de aire se ingresó a mano, no se midió en esta unidad.',
  'The figure is off by the same share as the airflow.':
    'La cifra se desvía en la misma proporción que el caudal de aire.',
  'The air changes faster than the probes can follow.':
    'El aire cambia más rápido de lo que las sondas pueden seguir.',
  'Humidity lags behind temperature, so sensible, latent and total are off for a while.':
    'La humedad responde más lento que la temperatura: por un rato, sensible, latente y total no son correctos.',
  'Wait until it moves less. Captures leave this time out.':
    'Espere a que varíe menos. Las capturas no cuentan este tiempo.',
  'Probes of this unit are in a side-by-side check.':
    'Hay sondas de esta unidad en una comparación lado a lado.',
  'There is no figure until the check ends.': 'No hay cifra hasta que termine la comparación.',
  'Leave the probes where they are until the check has enough readings.':
    'Deje las sondas donde están hasta que la comparación tenga suficientes lecturas.',
  'End the check and hang the probes back in their places.':
    'Termine la comparación y vuelva a colocar las sondas en sus lugares.',
  'The unit has been defrosting for {0}.': 'La unidad lleva {0} en descongelamiento.',
  'It takes heat from the room or rests: this is not what it delivers.':
    'Toma calor del cuarto o está parada: esto no es lo que entrega.',
  'Wait: it ends on its own. Captures leave this time out.':
    'Espere: termina solo. Las capturas no cuentan este tiempo.',
  'The unit has just defrosted. The {0} minutes after that do not count.':
    'La unidad acaba de descongelar. Los {0} minutos siguientes no cuentan.',
  'It is still warming up: the figure is not what it delivers.':
    'Todavía se está calentando: la cifra no es lo que entrega.',
  'Wait until it is steady again.': 'Espere a que vuelva a estar estable.',
  '{0} has sent nothing for {1}.': '{0} no envía nada desde hace {1}.',
  'It is left out. Without another probe at its place there is no figure.':
    'No se toma en cuenta. Sin otra sonda en el mismo lugar no hay cifra.',
  'Check its battery and its distance.': 'Revise la batería y la distancia.',
  'No reading from {0} yet.': 'Todavía no hay lectura de {0}.',
  'Without it there may be no figure.': 'Sin esta sonda puede que no haya cifra.',
  'Turn it on and bring it closer.': 'Enciéndala y acérquela.',
  '{0} sends no temperature.': '{0} no envía temperatura.',
  'It is left out.': 'No se toma en cuenta.',
  'Hang one probe that measures both temperature and humidity.':
    'Coloque una sonda que mida temperatura y humedad.',
  'Together, the probes of one place describe impossible air: more moisture than air at their mean temperature can hold.':
    'Juntas, las sondas de un mismo lugar dan un aire imposible: más humedad de la que cabe en el aire a su temperatura promedio.',
  'The latent part is wrong, and the total with it.':
    'La parte latente está mal, y con ella el total.',
  'Use probes that measure both temperature and humidity, and hang them where the air is well mixed.':
    'Use sondas que midan temperatura y humedad, y colóquelas donde el aire esté bien mezclado.',
  '{0} is late: its last reading is {1} old.':
    '{0} está atrasada: su última lectura es de hace {1}.',
  'The figure lags by that much.': 'La cifra se atrasa lo mismo.',
  'Wait a moment. If it stays late, bring the probe and this computer closer together.':
    'Espere un momento. Si sigue atrasada, acerque la sonda a esta computadora.',
  'No live temperature in the {0} air.': 'No llega la temperatura del aire de {0}.',
  'There is no figure.': 'No hay cifra.',
  'Hang a probe in the {0} and place it.': 'Coloque una sonda en el {0} y asígnele su lugar.',
  'No live humidity or dew point in the {0} air.':
    'No llega humedad ni punto de rocío del aire de {0}.',
  'There is no latent part, and so no total.': 'No hay parte latente, y por eso tampoco total.',
  'Use a probe that measures humidity too.': 'Use una sonda que mida también la humedad.',
  'No live humidity.': 'No llega humedad.',
  'Plateau assumes 6 g/kg (42 gr/lb), which changes a heating figure by less than 1 %.':
    'Plateau supone 6 g/kg (42 gr/lb); en calefacción eso cambia la cifra menos de 1 %.',
  'Nothing to do.': 'No hay que hacer nada.',
  'Supply is warmer than return while cooling.':
    'El suministro está más caliente que el retorno en enfriamiento.',
  'The figure is negative.': 'La cifra es negativa.',
  'Its sensible part is negative.': 'Su parte sensible es negativa.',
  'Check whether the two probes are swapped, and whether the unit cools at all.':
    'Revise si las dos sondas están intercambiadas y si la unidad de verdad enfría.',
  'Supply is colder than return while heating.':
    'El suministro está más frío que el retorno en calefacción.',
  'Check whether the two probes are swapped. If the unit is defrosting, wait.':
    'Revise si las dos sondas están intercambiadas. Si la unidad está descongelando, espere.',
  'The return temperature follows the supply’s within a minute or two.':
    'La temperatura de retorno sigue a la de suministro en uno o dos minutos.',
  'About {0} % of the air at the return probe seems to be supply air. Unless the unit draws it in too, the figure is too low by that much.':
    'Alrededor de {0} % del aire en la sonda de retorno parece ser aire de suministro. Si la unidad no lo aspira también, la cifra sale baja en esa misma proporción.',
  'Hang the return probe right at the intake, out of the outlet’s airstream, or turn the louver.':
    'Coloque la sonda de retorno justo en la toma, fuera del chorro de la salida, o gire la persiana.',
  'The side-by-side check is {0} old.': 'La comparación lado a lado es de hace {0}.',
  'It is worth {0} % of a new one.': 'Vale {0} % de lo que valdría una nueva.',
  'Check the probes again.': 'Compare otra vez las sondas.',
  'No airflow is known for this unit.': 'No se conoce el caudal de aire de esta unidad.',
  'Measure it, or enter it from the fan table.': 'Mídalo, o ingréselo de la tabla del ventilador.',
  'The airflow entered is close to zero: the fan is off.':
    'El caudal de aire ingresado es casi cero: el ventilador está apagado.',
  'The figure means little and is never called steady.':
    'La cifra dice poco y nunca se da por estable.',
  'Start the fan, or enter the airflow it has now.':
    'Encienda el ventilador, o ingrese el caudal de aire que tiene ahora.',
  'The output is too small to measure: the unit is off or close to it.':
    'Entrega muy poco para medirlo: la unidad está apagada o casi.',
  'It is never called steady.': 'Nunca se da por estable.',
  'Set it well below (cooling) or above (heating) room temperature.':
    'Ponga el punto de ajuste muy por debajo (enfriamiento) o muy por encima (calefacción) de la temperatura del cuarto.',
  'The airflow was entered for fan speed "{0}".':
    'El caudal de aire se ingresó para la velocidad del ventilador "{0}".',
  'The figure is off by as much as the two speeds differ, up to half.':
    'La cifra se desvía tanto como difieren las dos velocidades, hasta la mitad.',
  'Enter the airflow at the present fan speed.':
    'Ingrese el caudal de aire de la velocidad actual del ventilador.',
  'The accuracy of {0} is not known.': 'No se sabe qué exactitud tiene {0}.',
  'Without it there is no interval and no automatic capture.':
    'Sin ella no hay intervalo ni captura automática.',
  'Enter the accuracy from its data sheet.': 'Ingrese la exactitud que indica la hoja de datos.',
  'The readings describe impossible air: {0}.': 'Las lecturas dan un aire imposible: {0}.',
  'Check the pressure and the probe that reads this.':
    'Revise la presión y la sonda que da esa lectura.',
  // server/session/evenness.ts
  'One probe stands for the whole {0}.': 'Una sola sonda representa toda la {0}.',
  'Its spot may be off by {0} % of the difference between return and supply (assumed, one standard deviation): about ± {1} % of the figure.':
    'Su punto puede desviarse {0} % de la diferencia entre retorno y suministro (supuesto, una desviación estándar): cerca de ± {1} % de la cifra.',
  'Walk the {0} with a second probe, or hang more probes along it.':
    'Recorra la {0} con una segunda sonda, o coloque más sondas a lo largo.',
  // server/session/figures.ts
  'a return probe': 'una sonda de retorno',
  'a supply probe': 'una sonda de suministro',
  // server/session/moisture.ts
  '{0} reads humidity outside {1} to {2} %, the range that most data sheets cover.':
    '{0} marca una humedad fuera de {1} a {2} %, el rango que cubren casi todas las hojas de datos.',
  'Its ± counts {0} times, which widens the interval by {1} % of the figure.':
    'Su ± cuenta {0} veces, y eso ensancha el intervalo en {1} % de la cifra.',
  'The interval covers that. A side-by-side check in air like this narrows it.':
    'El intervalo ya lo cubre. Una comparación lado a lado en un aire como este lo hace más angosto.',
  'Supply and return differ by {0} of moisture: more than the {1} that their ± explain, and a heating coil cannot cause it.':
    'Suministro y retorno difieren en {0} de humedad: más que los {1} que explican sus ±, y un serpentín en calefacción no puede causarlo.',
  'Humidity does not count as heat here, so the figure hardly changes.':
    'Aquí la humedad no cuenta como calor, así que la cifra casi no cambia.',
  'Nothing to do for this figure. Before you measure cooling, check the probes side by side.':
    'Para esta cifra no hay que hacer nada. Antes de medir en enfriamiento, compare las sondas lado a lado.',
  '{0} has read 100 %, or within its ± of that, for {1}. Room air is hardly ever that humid: the probe is probably wet.':
    '{0} marca 100 %, o casi (dentro de su ±), desde hace {1}. El aire de un cuarto casi nunca es tan húmedo: la sonda probablemente está mojada.',
  'It reads too humid, and too cold while it dries: the figure is off by that much.':
    'Marca demasiada humedad, y demasiado frío mientras se seca: la cifra se desvía lo mismo.',
  'Dry it and hang it where no water drips on it.': 'Séquela y colóquela donde no le gotee agua.',
  '{0} has read 100 %, or within its ± of that, for {1}, and more moisture than goes in while the unit cools: it is probably wet.':
    '{0} marca 100 %, o casi (dentro de su ±), desde hace {1}, y más humedad de la que entra mientras la unidad enfría: probablemente está mojada.',
  'The latent part comes out too small, and the total with it.':
    'La parte latente sale baja, y con ella el total.',
  // server/session/outlet-velocity.ts
  less: 'menor',
  more: 'mayor',
  'The airflow followed the velocity probe in the outlet, which sends nothing now.':
    'El caudal de aire seguía a la sonda de velocidad del aire en la salida, que ya no envía nada.',
  'Plateau uses the airflow that was entered. It still matched when the probe was last heard.':
    'Plateau usa el caudal de aire ingresado. Aún coincidía cuando llegó la última lectura de la sonda.',
  'Plateau uses the airflow that was entered. It was {0} % {1} when the probe was last heard.':
    'Plateau usa el caudal de aire ingresado. El real era {0} % {1} cuando llegó la última lectura de la sonda.',
  'Check the velocity probe: its battery, its distance, and that it hangs in the outlet. Or enter the airflow again.':
    'Revise la sonda de velocidad del aire: la batería, la distancia y que esté en la salida. O ingrese otra vez el caudal de aire.',
  // server/session/place.ts
  '{0} reads 100 % or more and counts as 100 %.': '{0} marca 100 % o más y cuenta como 100 %.',
  'Air can hold no more: it can only be drier, and the interval covers that.':
    'El aire no puede contener más: solo puede estar más seco, y el intervalo lo cubre.',
  'Behind a wet coil, nothing to do. Elsewhere, look for water on the probe.':
    'Después de un serpentín mojado, no hay que hacer nada. En otro punto, busque agua en la sonda.',
  // server/session/placed-zero.ts
  'zero {0} {1}': 'cero {0} {1}',
  // server/session/pressure.ts
  'No barometric pressure entered: Plateau assumes 101.3 kPa (sea level).':
    'No se ingresó la presión barométrica: Plateau supone 101.3 kPa (nivel del mar).',
  'Enter the pressure or the altitude.': 'Ingrese la presión o la altitud.',
  'On higher ground a figure is off by up to 1.2 % for each 100 m.':
    'A mayor altitud, la cifra se desvía hasta 1.2 % por cada 100 m.',
  'On higher ground this figure is too {0} by about {1} % for each {2} m.':
    'A mayor altitud, esta cifra sale demasiado {0}: cerca de {1} % por cada {2} m.',
  high: 'alta',
  low: 'baja',
  // server/session/unit-doubts.ts
  'The airflow was entered as standard air, and the air of this unit is far from standard density.':
    'El caudal de aire se ingresó como aire estándar, y el aire de esta unidad está lejos de la densidad estándar.',
  'If it was read off a fan table, the figure is {0} % too {1}: a fan moves the same volume of thin air as of dense.':
    'Si se leyó de una tabla del ventilador, la cifra sale {0} % demasiado {1}: un ventilador mueve el mismo volumen de aire ligero que de aire denso.',
  'Say where the airflow comes from: the fan table, or measured at this unit as standard air.':
    'Indique de dónde viene el caudal de aire: de la tabla del ventilador, o medido en esta unidad como aire estándar.',
};
