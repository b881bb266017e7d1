/** Server checks, in Spanish. */
import type { Catalog } from '../language.ts';

export const SERVER_CHECKS: Catalog = {
  // server/session/advice.ts
  'Much of the interval comes from {0}: {1}.': 'Gran parte del intervalo la causa {0}: {1}.',
  '{0}’s {1}': 'la {1} de {0}',
  'the probes’ own errors': 'el error propio de las sondas',
  'check the probes side by side': 'compare las sondas lado a lado',
  'air that differs from spot to spot': 'el aire que varía de un punto a otro',
  'hang more probes along the {0}': 'coloque más sondas a lo largo de la {0}',
  'walk the {0}, or hang more probes along it': 'recorra la {0}, o coloque más sondas a lo largo',
  'the airflow': 'el caudal de aire',
  'traverse it again with more points': 'repita el recorrido de medición con más puntos',
  'measure the outlet by a traverse': 'mida la salida con un recorrido de medición',
  'the pressure': 'la presión',
  'enter what a barometer reads': 'ingrese lo que marca un barómetro',
  // server/session/check.ts
  '{0} differs from the others by more than their accuracies explain.':
    '{0} difiere de las demás más de lo que explica su exactitud.',
  'These differ by more than their accuracies explain: {0}.':
    'Estas difieren más de lo que explica su exactitud: {0}.',
  'The two differ by more than their accuracies explain.':
    'Las dos difieren más de lo que explica su exactitud.',
  'The check was too short. Nothing was corrected.':
    'La comparación fue muy corta. No se corrigió nada.',
  'Listening. Leave the probes alone for two minutes.':
    'Recibiendo lecturas. No mueva las sondas por dos minutos.',
  'The air was not still. Nothing was corrected.': 'El aire no estaba quieto. No se corrigió nada.',
  'Wait: the air or a probe is not still yet.':
    'Espere: el aire o una sonda todavía no se estabiliza.',
  'They agree within their accuracies. From now on their offsets are corrected.':
    'Concuerdan dentro de su exactitud. De ahora en adelante se corrigen sus desviaciones.',
  'They agree within their accuracies.': 'Concuerdan dentro de su exactitud.',
  '{0} Their offsets are corrected all the same. Have the odd one calibrated.':
    '{0} Sus desviaciones se corrigen de todos modos. Mande calibrar la que difiere.',
  '{0} Dry them, and make sure all lie in the same air.':
    '{0} Séquelas y asegúrese de que todas estén en el mismo aire.',
  // server/session/walk.ts
  'A walk along the outlet or the intake is running with a probe of this unit.':
    'Hay un recorrido de la salida o de la toma con una sonda de esta unidad.',
  'Until it ends that probe is left out. Without another one at its place there is no figure.':
    'Hasta que termine, esa sonda no se toma en cuenta. Sin otra en el mismo lugar no hay cifra.',
  'End the walk, and hang the probe back in its place.':
    'Termine el recorrido y vuelva a colocar la sonda en su lugar.',
  'It has settled. Tap Go, then move it along the {0} at an even pace, a minute there and back.':
    'Ya se estabilizó. Toque Empezar y muévala a lo largo de la {0} a ritmo parejo, un minuto ida y vuelta.',
  'Hold {0} still at one end of the {1} until it settles.':
    'Mantenga {0} sin mover en un extremo de la {1} hasta que se estabilice.',
  'Keep moving along the {0} at an even pace, and end where you began.':
    'Siga moviendo la sonda a lo largo de la {0} a ritmo parejo, y termine donde empezó.',
  'From now on the probes that stayed put are corrected for their spot.':
    'De ahora en adelante, las sondas que quedaron en su sitio se corrigen según su punto.',
  'A probe that should have stayed put was moved or checked. Nothing was corrected.':
    'Una sonda que debía quedarse en su sitio se movió o entró en una comparación. No se corrigió nada.',
  'No reading from {0} or a probe that stays. {1}':
    'No hay lectura de {0} o de una sonda que se queda en su sitio. {1}',
  'Bring them closer to the computer.': 'Acérquelas a la computadora.',
  'Nothing was corrected.': 'No se corrigió nada.',
  'Return and supply hardly differ. Let the unit run first.':
    'Retorno y suministro casi no difieren. Primero deje trabajar la unidad.',
  'Return and supply hardly differed. Nothing was corrected.':
    'Retorno y suministro casi no diferían. No se corrigió nada.',
  'Move {0} along the {1} at an even pace, a minute or more.':
    'Mueva {0} a lo largo de la {1} a ritmo parejo, un minuto o más.',
  'The walk was too short. Nothing was corrected.':
    'El recorrido fue muy corto. No se corrigió nada.',
  // server/session/walks.ts
  'phase: no walk is running: start one first':
    'phase: no hay ningún recorrido en marcha: inicie uno primero',
  'probe: "{0}" lies in a side-by-side check: end the check first':
    'probe: "{0}" está en una comparación lado a lado: termine la comparación primero',
  'place: no other live probe hangs in the {0} of "{1}": one has to stay there while "{2}" is moved':
    'place: ninguna otra sonda que envíe datos está en el {0} de "{1}": una debe quedarse ahí mientras se mueve "{2}"',
  // server/measure/air-limits.ts
  'temperature {0}': 'temperatura {0}',
  'dew point {0}': 'punto de rocío {0}',
  'wet bulb {0}': 'bulbo húmedo {0}',
  'relative humidity {0}': 'humedad relativa {0}',
  'humidity ratio {0}': 'relación de humedad {0}',
  'vapour pressure {0}': 'presión de vapor {0}',
  'barometric pressure {0}': 'presión barométrica {0}',
  'altitude {0}': 'altitud {0}',
  '{0} is outside {1} to {2}': '{0}, fuera de {1} a {2}',
  // server/measure/expectation/causes-table.ts
  'Switch the unit off and lock the power out before any part comes off: parts inside stay live, the wheel can turn, and fins are sharp. Stand on a firm ladder. Follow the manufacturer’s instructions.':
    'Apague la unidad y bloquee la energía antes de quitar cualquier pieza: dentro quedan partes energizadas, la turbina puede girar y las aletas cortan. Párese en una escalera firme. Siga las instrucciones del fabricante.',
  'Stand on a firm ladder, and keep hands and tools out of the outlet while the fan runs.':
    'Párese en una escalera firme, y no meta las manos ni herramientas en la salida mientras gira el ventilador.',
  'Only licensed persons open the refrigerant circuit or put gauges on it, by the manufacturer’s instructions and local codes. Wear eye and hand protection: refrigerant burns the skin.':
    'Solo personas con licencia deben abrir el circuito de refrigerante o conectarle manómetros, según las instrucciones del fabricante y los códigos locales. Use protección para los ojos y las manos: el refrigerante quema la piel.',
  'Likely it is not asked for all it has': 'Probablemente no se le exige todo lo que puede dar',
  'Push the setpoint well past the room’s temperature, set the fan to high, end quiet and economy modes, and wait until it is steady.':
    'Exija más con el punto de ajuste: llévelo mucho más allá de la temperatura del cuarto. Ponga el ventilador en alta, quite los modos silencioso y económico, y espere a que esté estable.',
  'Nothing has to be opened for this.': 'Para esto no hay que abrir nada.',
  'common practice, no source': 'práctica común, sin fuente',
  'Likely the filter is loaded': 'Probablemente el filtro está cargado',
  'Look at the filter. Wash or replace it, and measure the airflow again.':
    'Revise el filtro. Lávelo o cámbielo, y mida otra vez el caudal de aire.',
  'Switch the unit off before you open the front. Stand on a firm ladder.':
    'Apague la unidad antes de abrir el frente. Párese en una escalera firme.',
  'capacity against airflow: NREL/TP-5500-56354 (2013), single-speed units; the rest common practice':
    'capacidad según el caudal de aire: NREL/TP-5500-56354 (2013), unidades de una velocidad; lo demás, práctica común',
  'Likely the blower wheel is dirty': 'Probablemente la turbina del ventilador está sucia',
  'Make sure that the fan runs at the speed that was entered. Then look through the outlet at the blades of the wheel with a light.':
    'Asegúrese de que el ventilador trabaje a la velocidad ingresada. Luego alumbre por la salida con una linterna y revise las aspas de la turbina.',
  'Likely the indoor coil is dirty': 'Probablemente el serpentín interior está sucio',
  'Take the filter out and look at the fins of the coil with a light. A coil that is clogged lets less air through, and cools less of it.':
    'Saque el filtro y revise con una linterna las aletas del serpentín. Un serpentín tapado deja pasar menos aire y lo enfría menos.',
  'Siegel, Walker and Sherman (2002): fouling mostly costs less than 5 % of capacity; the rest common practice':
    'Siegel, Walker y Sherman (2002): la suciedad suele costar menos de 5 % de la capacidad; lo demás, práctica común',
  'Likely other heads take their share': 'Probablemente otras unidades interiores toman su parte',
  'Switch the other heads on this outdoor unit off, wait until it is steady, and capture again. Note which heads ran.':
    'Apague las otras unidades interiores de esta unidad exterior, espere a que esté estable y capture otra vez. Anote qué unidades interiores trabajaron.',
  'Ask before you switch off what somebody needs.':
    'Pregunte antes de apagar lo que alguien necesita.',
  'Likely the refrigerant charge is low': 'Probablemente la carga de refrigerante está baja',
  'Airflow and demand are as they should be and the coil does little: compare line length and factory charge with the manufacturer’s instructions, look for oil at the flare joints, and have the charge checked.':
    'El caudal de aire y la demanda están como deben y el serpentín rinde poco: compare el largo de la línea y la carga de fábrica con las instrucciones del fabricante, busque aceite en las uniones abocinadas (flare) y haga revisar la carga.',
  'NIST TN 1848 (2014) for capacity and power; with an expansion valve of its own a unit shows little of it (Choi and Kim 2002)':
    'NIST TN 1848 (2014) para capacidad y potencia; con su propia válvula de expansión, la unidad lo muestra poco (Choi y Kim 2002)',
  'Likely the return draws supply air': 'Probablemente el retorno aspira aire de suministro',
  'Turn the louver away from the intake, clear what turns the airstream back, and measure again with the return probe right at the intake.':
    'Gire la persiana lejos de la toma, quite lo que desvía el chorro de vuelta y mida otra vez con la sonda de retorno justo en la toma.',
  'Likely the probe’s spot is not the outlet’s mean':
    'Probablemente el punto de la sonda no es el promedio de la salida',
  'Walk the outlet again, hang more supply probes along it, and capture again. If it stays uneven, look for a coil that is partly blocked, and for a louver that is bent.':
    'Recorra otra vez la salida, coloque más sondas de suministro a lo largo y capture otra vez. Si sigue disparejo, busque un serpentín tapado en parte o una persiana doblada.',
  'Likely the probes are off': 'Probablemente las sondas se desvían',
  'Check the probes side by side, and capture again. Look whether one is wet or dusty, or hangs in sun or against the housing.':
    'Compare las sondas lado a lado y capture otra vez. Vea si una está mojada o con polvo, o si está al sol o pegada a la carcasa.',
  'It delivers {0} of what is expected.': 'Entrega {0} de lo esperado.',
  'It delivers {0} of what it did at the baseline.':
    'Entrega {0} de lo que entregaba en la línea base.',
  'It moves {0} of the air that it should.': 'Mueve {0} del aire que debería.',
  'Return and supply differ by {0} of what a healthy unit shows.':
    'Retorno y suministro difieren {0} de lo que difieren en una unidad en buen estado.',
  'The sensible heat ratio is {0} ± {1} {2} than that of a healthy unit.':
    'El factor de calor sensible es {0} ± {1} {2} que el de una unidad en buen estado.',
  lower: 'menor',
  higher: 'mayor',
  'The coil brings {0} of the air to its own temperature; about {1} % is usual.':
    'El serpentín lleva {0} del aire a su propia temperatura; lo usual es cerca de {1} %.',
  'It draws {0} of the power that goes with full demand.':
    'Consume {0} de la potencia que corresponde a demanda plena.',
  'When the setpoint was pushed, the figure {0} by {1}.':
    'Al exigir más con el punto de ajuste, la cifra {0} {1}.',
  fell: 'bajó',
  rose: 'subió',
  'About {0} of the return air is supply air.':
    'Cerca de {0} del aire de retorno es aire de suministro.',
  'Along the outlet the air differs by {0} of the difference between return and supply.':
    'A lo largo de la salida, el aire varía {0} de la diferencia entre retorno y suministro.',
  'Full demand has been shown.': 'Se demostró demanda plena.',
  'Full demand has not been shown.': 'No se demostró demanda plena.',
  'Other heads on the same outdoor unit run.':
    'Trabajan otras unidades interiores de la misma unidad exterior.',
  'No other head on the same outdoor unit runs.':
    'No trabaja ninguna otra unidad interior de la misma unidad exterior.',
  'It cycles.': 'Está en ciclos.',
  'It does not cycle.': 'No está en ciclos.',
  'The coil is wet.': 'El serpentín está mojado.',
  'The coil is dry.': 'El serpentín está seco.',
  'The filter is clean.': 'El filtro está limpio.',
  'The filter is loaded.': 'El filtro está cargado.',
  'The probes were checked side by side.': 'Las sondas se compararon lado a lado.',
  'Nobody has checked the probes side by side.': 'Nadie ha comparado las sondas lado a lado.',
  // server/measure/whole-cycles.ts
  'one whole cycle': 'un ciclo completo',
  '{0} whole cycles': '{0} ciclos completos',
  'no whole cycle yet': 'todavía ningún ciclo completo',
  '{0} so far': '{0} hasta ahora',
  '{0}, a mean needs more': '{0}, un promedio necesita más',
};
