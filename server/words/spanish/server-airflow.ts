/** Server airflow, in Spanish. */
import type { Catalog } from '../language.ts';

export const SERVER_AIRFLOW: Catalog = {
  // server/session/airflow/against-table.ts
  'This is the flow of speed “{0}” in the fan table, not of “{1}”: check which speed is set.':
    'Este es el caudal de la velocidad “{0}” en la tabla del ventilador, no de “{1}”: revise qué velocidad está puesta.',
  'This is {0} less than the fan table says for “{1}”: look for a dirty wheel, coil or filter.':
    'Es {0} menos de lo que dice la tabla del ventilador para “{1}”: busque turbina, serpentín o filtro sucios.',
  'This is {0} more than the fan table says for “{1}”: check the outlet’s size and its free-area factor.':
    'Es {0} más de lo que dice la tabla del ventilador para “{1}”: revise el tamaño de la salida y su factor de área libre.',
  // server/session/airflow/airflows.ts
  'unit: there is no unit "{0}" in this visit': 'unit: no hay ninguna unidad "{0}" en esta visita',
  'phase: no traverse is running at "{0}": start one first':
    'phase: no hay ningún recorrido de medición en "{0}": inicie uno primero',
  'phase: a sweep has no points: start a grid for that':
    'phase: un barrido no tiene puntos: para eso inicie una cuadrícula',
  'row: is missing; rows of a section count from 0':
    'row: falta; las filas de una sección se cuentan desde 0',
  'column: is missing; points of a row count from 0':
    'column: falta; los puntos de una fila se cuentan desde 0',
  'outlet: is missing; give the id of an outlet of the unit':
    'outlet: falta; dé el id de una salida de la unidad',
  'outlet: there is no outlet "{0}" in this visit':
    'outlet: no hay ninguna salida "{0}" en esta visita',
  'outlet: "{0}" is an outlet of "{1}", not of "{2}"':
    'outlet: "{0}" es una salida de "{1}", no de "{2}"',
  'probe: is missing; give the id of the anemometer': 'probe: falta; dé el id del anemómetro',
  'probe: there is no probe "{0}" in this visit':
    'probe: no hay ninguna sonda "{0}" en esta visita',
  'probe: "{0}" is in a check or a walk: end that first':
    'probe: "{0}" está en una comparación o un recorrido: termínelo primero',
  'Cancelled. Nothing was worked out.': 'Cancelado. No se calculó nada.',
  'Nothing was measured: no airflow.': 'No se midió nada: no hay caudal de aire.',
  'The air went the other way: no airflow. Turn the anemometer around and begin again.':
    'El aire iba al revés: no hay caudal de aire. Voltee el anemómetro y empiece de nuevo.',
  'Done.': 'Listo.',
  'Cancelled.': 'Cancelado.',
  'phase: nothing of the kind is running at "{0}": start it first':
    'phase: no hay nada de ese tipo en marcha en "{0}": inícielo primero',
  'massKg: is missing; weigh the water and give kilograms':
    'massKg: falta; pese el agua e indique los kilogramos',
  'Nothing was measured.': 'No se midió nada.',
  'From now on that is taken off.': 'De ahora en adelante se descuenta.',
  // server/session/airflow/drain.ts
  'The coil was not wet yet when the bucket went under it: it keeps water that the bucket lacks, and the airflow comes out too low.':
    'El serpentín todavía no estaba mojado cuando se puso la cubeta: retiene agua que le falta a la cubeta, y el caudal de aire sale bajo.',
  'Weigh the water, enter it, and tap End.': 'Pese el agua, ingrese el peso y toque Terminar.',
  'The air loses too little moisture to tell. Wait until the coil is wet and cooling is steady, then begin again.':
    'El aire pierde muy poca humedad para saberlo. Espere a que el serpentín esté mojado y el enfriamiento estable, y empiece de nuevo.',
  '{0} Cancel, let it cool steadily for 15 min, empty the bucket, and begin again.':
    '{0} Cancele, deje enfriar de forma estable por 15 min, vacíe la cubeta y empiece de nuevo.',
  'Leave the bucket under the drain for {0} min more, with the unit cooling steadily.':
    'Deje la cubeta bajo el drenaje {0} min más, con la unidad enfriando de forma estable.',
  'Enough. Take the bucket away, and tap that it is.':
    'Suficiente. Retire la cubeta y toque “Ya retiré la cubeta”.',
  'Return or supply had no humidity meanwhile: no airflow. Hang probes that measure it.':
    'Mientras tanto faltó la humedad de retorno o de suministro: no hay caudal de aire. Coloque sondas que la midan.',
  'The air lost too little moisture to tell the airflow. Use another method, or a more humid day.':
    'El aire perdió muy poca humedad para calcular el caudal de aire. Use otro método, o espere un día más húmedo.',
  'Only {0} min: over half an hour the water in pan and drain matters less.':
    'Solo {0} min: en media hora importa menos el agua que queda en la bandeja y el drenaje.',
  'The moisture was known for {0} % of the time only.':
    'La humedad se conoció solo {0} % del tiempo.',
  'For part of the time no moisture was taken out: steady cooling is needed.':
    'Parte del tiempo no se quitó humedad: se necesita enfriamiento estable.',
  // server/session/airflow/guide.ts
  'No reading from the anemometer. Bring it closer to the computer.':
    'No hay lectura del anemómetro. Acérquelo a la computadora.',
  'Paused. Nothing counts until you go on.': 'En pausa. Nada cuenta hasta que continúe.',
  'Section {0} of {1}. ': 'Sección {0} de {1}. ',
  'The outlet has {0} sections. Tap End.': 'La salida tiene {0} secciones. Toque Terminar.',
  'Out of the airstream. This time does not count.':
    'Fuera del chorro de aire. Este tiempo no cuenta.',
  'Air goes the other way at some spot. Turn the anemometer around, or go on.':
    'En algún punto el aire va al revés. Voltee el anemómetro, o continúe.',
  '{0}The two halves differ. Keep moving, end to end, at an even pace.':
    '{0}Las dos mitades difieren. Siga moviendo, de extremo a extremo, a ritmo parejo.',
  'Enough. Tap End.': 'Suficiente. Toque Terminar.',
  'Enough here. Go on to section {0}.': 'Aquí ya es suficiente. Pase a la sección {0}.',
  'end to end in {0} lanes side by side,': 'de extremo a extremo en {0} franjas, una junto a otra,',
  'end to end': 'de extremo a extremo',
  ' {0} s to go.': ' Faltan {0} s.',
  '{0}Move {1} at an even pace, about {2} s each way.{3}':
    '{0}Mueva el anemómetro {1} a ritmo parejo, unos {2} s por pasada.{3}',
  'Hold the anemometer at the first point, then tap it.':
    'Sostenga el anemómetro en el primer punto y después tóquelo en la pantalla.',
  'Hold still at {0}.': 'Manténgalo quieto: {0}.',
  'That was the last point. Tap End.': 'Ese fue el último punto. Toque Terminar.',
  'Settled. Go on to {0}.': 'Ya se estabilizó. Siga: {0}.',
  'section {0}, ': 'sección {0}, ',
  '{0}row {1}, point {2}': '{0}fila {1}, punto {2}',
  // server/session/airflow/heater.ts
  'Stay with the heater. Leave it on until the rise has settled.':
    'Quédese junto al calentador. Déjelo encendido hasta que se estabilice el aumento.',
  'Settled. Read the meter, tap End, and switch the heater off.':
    'Ya se estabilizó. Lea el medidor, toque Terminar y apague el calentador.',
  '{0} No airflow.': '{0} No hay caudal de aire.',
  'The power of the heater was not given: no airflow.':
    'No se indicó la potencia del calentador: no hay caudal de aire.',
  'Return or supply was not heard long enough: no airflow. Leave the heater on for 10 min.':
    'Faltaron lecturas de retorno o de suministro: no hay caudal de aire. Deje el calentador encendido 10 min.',
  'The supply did not get warmer against the return. Hang the return probe before the heater, in the room’s air.':
    'El suministro no se calentó respecto al retorno. Coloque la sonda de retorno antes del calentador, en el aire del cuarto.',
  'The rise had not settled: some {0} % of it was still to come.':
    'El aumento no se había estabilizado: faltaba cerca de {0} %.',
  'The coil was wet when the heater came on, and heat that dries it is missed.':
    'El serpentín estaba mojado al encender el calentador, y el calor que lo seca no se cuenta.',
  '{0} Cancel, switch the heater off, and let the fan run alone for {1} min more.':
    '{0} Cancele, apague el calentador y deje el ventilador solo {1} min más.',
  '{0} It is dry now: cancel, let the fan run for 3 min with the heater off, and begin again.':
    '{0} Ahora está seco: cancele, deje el ventilador solo 3 min con el calentador apagado y empiece de nuevo.',
  'The fan did not run alone before the heater came on: cancel, let it run for 3 min with the heater off, and begin again.':
    'El ventilador no trabajó solo antes de encender el calentador: cancele, déjelo 3 min con el calentador apagado y empiece de nuevo.',
  'The compressor ran before the heater came on: cancel, let the fan run alone for 3 min with both off, and begin again.':
    'El compresor trabajó antes de encender el calentador: cancele, deje el ventilador solo 3 min con los dos apagados y empiece de nuevo.',
  // server/session/airflow/measured-airflows.ts
  'airflowT: no airflow of "{0}" was measured until {1}: name one as it was told':
    'airflowT: hasta {1} no se midió ningún caudal de aire de "{0}": nómbrelo tal como se comunicó',
  // server/session/airflow/outlets.ts
  'sections: is missing; give width and length of at least one, in meters':
    'sections: falta; dé el ancho y el largo de al menos una, en metros',
  'id: "{0}" would be one too many: a visit has at most {1} outlets':
    'id: "{0}" sería una de más: una visita tiene como máximo {1} salidas',
  // server/session/airflow/results.ts
  'One sweep does not show how well it repeats: sweep it once more.':
    'Un solo barrido no muestra qué tan bien se repite: haga otro.',
  'The two sweeps differ by {0} %: sweep a third time.':
    'Los dos barridos difieren {0} %: haga un tercero.',
  '{0} of {1} points had not settled.': '{0} de {1} puntos no se habían estabilizado.',
  'Few points say little of the whole opening: hold at more.':
    'Pocos puntos dicen poco de toda la abertura: mida en más puntos.',
  'At some spots the air goes the other way: look whether the outlet draws air in there.':
    'En algunos puntos el aire va al revés: revise si la salida aspira aire ahí.',
  '1 section was not measured and counts as the others.':
    '1 sección no se midió y cuenta como las demás.',
  '{0} sections were not measured and count as the others.':
    '{0} secciones no se midieron y cuentan como las demás.',
  'Section {0}: {1}': 'Sección {0}: {1}',
  'too fast. {0} s where {1} s would tell more.': 'muy rápido. {0} s, cuando {1} s dirían más.',
  'too short. {0} s where {1} s would tell more.': 'muy corto. {0} s, cuando {1} s dirían más.',
  'uneven. Its two halves differ by {0} %.': 'disparejo. Sus dos mitades difieren {0} %.',
  'the vane stood still for {0} s, which does not count.':
    'la hélice estuvo parada {0} s, que no cuentan.',
  'no readings for {0} s, which does not count.': 'sin lecturas por {0} s, que no cuentan.',
  '{0} mm': '{0} mm',
  'The head ({0}) is wider than the opening ({1}): ± 5 % is added for its edges.':
    'El cabezal ({0}) es más ancho que la abertura ({1}): se agrega ± 5 % por los bordes.',
  'The size of the head is not known: enter it, and the ends that it cannot reach are corrected for.':
    'No se conoce el tamaño del cabezal: ingréselo, y se corrigen los extremos a los que no llega.',
  'The accuracy of the anemometer is not known: ± 3 % and 0.1 m/s are assumed.':
    'No se conoce la exactitud del anemómetro: se supone ± 3 % y 0.1 m/s.',
  'The air is slower than 0.5 m/s, where anemometers read poorly: use another plane or method.':
    'El aire va a menos de 0.5 m/s, donde los anemómetros miden mal: use otro plano u otro método.',
  // server/session/airflow/zero-in-place.ts
  'Leave the fan on alone, the compressor off, and the probes where they hang.':
    'Deje solo el ventilador encendido, el compresor apagado y las sondas donde están.',
  '{0} Nothing was found.': '{0} No se encontró nada.',
  'Too short.': 'Muy corto.',
  'No airflow is known: nothing was found. Enter or measure it first.':
    'No se conoce el caudal de aire: no se encontró nada. Ingréselo o mídalo primero.',
  'The watts of the fan were not given: nothing was found.':
    'No se indicaron los watts del ventilador: no se encontró nada.',
  'Supply reads {0} too {1} against return, ± {2}.':
    'El suministro marca {0} {1} frente al retorno, ± {2}.',
  warm: 'de más',
  cold: 'de menos',
  'Return and supply agree within {0} where they hang.':
    'Donde están las sondas, retorno y suministro concuerdan dentro de {0}.',
  'Nothing is taken off: the accuracy of a probe is not known. Enter it first.':
    'No se descuenta nada: no se conoce la exactitud de una sonda. Ingrésela primero.',
  'That is more than the accuracies of the probes explain, so it is not taken off: look for sun, a warm wall or a wet probe, or check the probes side by side.':
    'Es más de lo que explica la exactitud de las sondas, así que no se descuenta: busque sol, una pared caliente o una sonda mojada, o compare las sondas lado a lado.',
  'It is not taken off: the side-by-side check knows better.':
    'No se descuenta: la comparación lado a lado es más confiable.',
  'Return and supply have not been heard long enough.':
    'Todavía faltan lecturas de retorno y suministro.',
  'Return and supply still move apart: the coil is not at rest yet.':
    'Retorno y suministro todavía se separan: el serpentín aún no está en reposo.',
  'The coil is still wet: it dries into the air. Let the fan run until it is dry.':
    'El serpentín sigue mojado: se está secando en el aire. Deje el ventilador encendido hasta que esté seco.',
};
