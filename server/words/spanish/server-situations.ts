/** Server situations, in Spanish. */
import type { Catalog } from '../language.ts';

export const SERVER_SITUATIONS: Catalog = {
  // server/session/situations/coil-drying.ts
  'The air gets colder and moister': 'El aire sale más frío y más húmedo',
  'The air loses {0} sensible and takes up {1} as moisture':
    'El aire pierde {0} de calor sensible y recibe {1} en humedad',
  'The fan runs and the coil dries: the water on it goes back into the air.':
    'El ventilador sigue y el serpentín se seca: el agua que tiene vuelve al aire.',
  '{0}: apart from probe errors the two cancel, and the unit delivers nothing.':
    '{0}: salvo por el error de las sondas, los dos se anulan y la unidad no entrega nada.',
  'For the capacity, set it well below room temperature so that the compressor runs. Before a fan-only test, wait until the coil is dry.':
    'Para medir la capacidad, ponga el punto de ajuste muy por debajo de la temperatura del cuarto, para que trabaje el compresor. Antes de una prueba solo con ventilador, espere a que el serpentín esté seco.',
  // server/session/situations/duct-heat.ts
  'With the fan alone the supply is {0} warmer than the return, at the same moisture: the air picks up heat between the probes, as in a duct through a hot space.':
    'Solo con el ventilador, el suministro está {0} más caliente que el retorno, con la misma humedad: el aire toma calor entre las sondas, como en un ducto que pasa por un espacio caliente.',
  'That is at least {0}, and more when cold air flows. The figure is what reaches the room. In cooling, the unit itself delivers at least that much more.':
    'Son al menos {0}, y más cuando pasa aire frío. La cifra es lo que llega al cuarto. En enfriamiento, la unidad misma entrega por lo menos eso más.',
  'For the capacity of the unit itself, hang the supply probe right at its own outlet and the return probe at its own intake. Switch off and lock out before you open a duct, and mind the heat in an attic.':
    'Para medir la capacidad de la unidad misma, coloque la sonda de suministro justo en la salida de la unidad y la de retorno justo en su toma. Apague y bloquee la energía antes de abrir un ducto, y tenga cuidado con el calor del ático.',
  // server/session/situations/fan-auto.ts
  '{0} to {1} %': '{0} a {1} %',
  'The supply became {0} the return within a minute or two, and the room did not notice: the fan seems to have {1} on its own.':
    'En uno o dos minutos, la temperatura de suministro {0} de retorno y el cuarto no lo notó: parece que el ventilador {1} por su cuenta.',
  'further from': 'se alejó de la',
  'closer to': 'se acercó a la',
  'slowed down': 'bajó de velocidad',
  'sped up': 'subió de velocidad',
  'The airflow would then be about {0} of the one in use, and the true figure the same share of the one shown.':
    'El caudal de aire sería entonces más o menos {0} del que se está usando, y la cifra real, la misma proporción de la que se ve.',
  'Set the fan to a fixed speed and enter its airflow there, or hang a velocity probe in the outlet: the airflow then follows it.':
    'Ponga el ventilador en una velocidad fija e ingrese su caudal de aire, o coloque una sonda de velocidad del aire en la salida: el caudal la seguirá.',
  // server/session/situations/louvre-swings.ts
  'The velocity in the outlet': 'La velocidad del aire en la salida',
  'The supply temperature': 'La temperatura de suministro',
  'The supply probe is too slow to show it': 'La sonda de suministro es muy lenta para mostrarlo',
  'It moves the sensible figure by about ±{0} % as the probe shows it, by more in the air':
    'Mueve la cifra sensible cerca de ±{0} % según la sonda, y más en el aire',
  '{0} swings evenly, about every {1} s: the louver seems to be swinging.':
    '{0} sube y baja con regularidad, cada {1} s más o menos: parece que la persiana está oscilando.',
  '{0}. Whenever the airstream turns away, the probe reads room air and the mean comes out too low.':
    '{0}. Cada vez que el chorro de aire se aparta, la sonda mide aire del cuarto y el promedio sale bajo.',
  'Stop the louver with the remote control, not by hand, and make sure the probe hangs in the airstream.':
    'Detenga la persiana con el control remoto, no con la mano, y asegúrese de que la sonda quede dentro del chorro de aire.',
  // server/session/situations/other-heads.ts
  'The figure fell by {0} % within two minutes with no change entered and the room still far from the setpoint.':
    'La cifra bajó {0} % en dos minutos, sin ningún cambio ingresado y con el cuarto todavía lejos del punto de ajuste.',
  'Another head on the same outdoor unit may have started, or the fan changed speed on its own. The unit may be able to deliver {0} more.':
    'Tal vez arrancó otra unidad interior de la misma unidad exterior, o el ventilador cambió de velocidad por su cuenta. La unidad quizá pueda entregar {0} más.',
  'Check whether other heads run, and whether mode and fan speed are as they were.':
    'Revise si trabajan otras unidades interiores, y si el modo y la velocidad del ventilador siguen como estaban.',
  '{0} took up {1} as this unit fell by {2}: they seem to share an outdoor unit.':
    '{0} subió {1} cuando esta unidad bajó {2}: parece que comparten la unidad exterior.',
  'The figure is what this unit gets while the other runs too.':
    'La cifra es lo que recibe esta unidad mientras la otra también trabaja.',
  'For all that it can deliver, switch {0} off and wait. Note which heads ran.':
    'Para ver todo lo que puede entregar, apague {0} y espere. Anote qué unidades interiores trabajaron.',
  // server/session/situations/outlet-probe.ts
  '{0} is placed at the outlet, the place for velocity, but sends none.':
    '{0} está en la salida, el lugar para la velocidad del aire, pero no la envía.',
  'Its readings are in no figure.': 'Sus lecturas no entran en ninguna cifra.',
  'If it hangs in the air that comes out, place it in the supply. For velocity, hang a velocity probe at the outlet.':
    'Si está en el aire que sale, asígnele el lugar de suministro. Para la velocidad, coloque una sonda de velocidad del aire en la salida.',
  // server/session/situations/probes-differ.ts
  'more moisture than the air at one place can': 'más humedad de la posible en un mismo lugar',
  '{0} and {1} hang in the same {2} air but differ by {3}.':
    '{0} y {1} están en el mismo aire de {2}, pero difieren en {3}.',
  '{0} differs from the other {1} probes by {2}.': '{0} difiere de las otras sondas de {1} en {2}.',
  'Make sure each hangs at its place, in the airstream and away from sun, lamps and pipes. Check them side by side to find the wrong one, and take it away.':
    'Asegúrese de que cada una esté en su lugar, dentro del chorro de aire y lejos del sol, de lámparas y de tuberías. Compárelas lado a lado para encontrar la que está mal, y quítela.',
  'with {0} alone it would be about {1}': 'solo con {0} sería cerca de {1}',
  'The figure takes their mean, which is the air of no place.':
    'La cifra usa su promedio, que no es el aire de ningún lugar.',
  'The figure takes their mean: {0}.': 'La cifra usa su promedio: {0}.',
  // server/session/situations/reheat.ts
  'Sensible is negative, latent positive': 'La parte sensible es negativa y la latente positiva',
  'Sensible is {0}, latent {1}': 'La parte sensible es {0} y la latente {1}',
  'The unit takes water out of the air and warms the air again: it dehumidifies with reheat.':
    'La unidad le quita agua al aire y lo vuelve a calentar: deshumidifica con recalentamiento.',
  '{0}. The total is what the room loses, not what the unit delivers in cooling.':
    '{0}. El total es lo que pierde el cuarto, no lo que entrega la unidad en enfriamiento.',
  'For the cooling capacity, set the unit to cooling. Do not compare this figure with a cooling table.':
    'Para medir la capacidad de enfriamiento, ponga la unidad en enfriamiento. No compare esta cifra con una tabla de enfriamiento.',
  // server/session/situations/scene.ts
  '{0}{1} kW': '{0}{1} kW',
  '{0} g/kg ({1} gr/lb)': '{0} g/kg ({1} gr/lb)',
  // server/session/situations/short-circuit.ts
  'The return is {0} warmer than the room: about {1} % of it is supply air, or warm air lies under the ceiling.':
    'El retorno está {0} más caliente que el cuarto: cerca de {1} % es aire de suministro, o hay aire caliente bajo el techo.',
  'The return is {0} colder than the room: about {1} % of it is supply air.':
    'El retorno está {0} más frío que el cuarto: cerca de {1} % es aire de suministro.',
  'If only the probe gets it, the figure is too low by that much. If the unit draws it in too, the figure is right, but the unit works against itself.':
    'Si solo le llega a la sonda, la cifra sale baja en esa proporción. Si la unidad también lo aspira, la cifra es correcta, pero la unidad trabaja contra sí misma.',
  'Hang the return probe right at the intake, out of the outlet’s airstream. Turn the louver, and clear what turns the airstream back.':
    'Coloque la sonda de retorno justo en la toma, fuera del chorro de la salida. Gire la persiana y quite lo que desvía el chorro de vuelta.',
};
