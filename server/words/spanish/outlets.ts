/** Outlets, in Spanish. */
import type { Catalog } from '../language.ts';

export const OUTLETS: Catalog = {
  // client/words/free-area.ts
  'Free-area factor': 'Factor de área libre',
  'A flow measured another way at the same fan speed shows how much of the outlet is open: condensate, a metered heater, a flow hood, or a traverse in the duct.':
    'Un caudal medido de otra forma a la misma velocidad del ventilador muestra cuánto de la salida está libre: condensado, calentador con medidor, campana de flujo o recorrido de medición en el ducto.',
  'Fitted to flows that need no anemometer here:':
    'Ajustado a caudales que aquí no necesitan anemómetro:',
  'Known flows against velocity times area, and the fitted line':
    'Caudales conocidos contra velocidad del aire por área, y la recta ajustada',
  'velocity × gross area': 'velocidad del aire × área bruta',
  'known flow': 'caudal conocido',
  'It holds for outlets of this kind, with this anemometer, and counts from the next sweep on. A fan table is never used for it: that would hide the fouling that you look for.':
    'Vale para salidas de este tipo, con este anemómetro, y cuenta desde el próximo barrido. Nunca se usa una tabla del ventilador para esto: ocultaría la suciedad que usted busca.',
  'Use it for this outlet': 'Usarlo para esta salida',
  'Use it for the {0} outlets of this kind': 'Usarlo para las {0} salidas de este tipo',
  'Add a flow from a hood': 'Agregar un caudal de campana',
  'one flow': 'un caudal',
  '{0} flows': '{0} caudales',
  '{0} ± {1}, from {2}': '{0} ± {1}, de {2}',
  'Flow {0}': 'Caudal {0}',
  'The flow at fan {0}': 'El caudal con el ventilador en {0}',
  '{0} does not fit the others: measure it again before you use the factor.':
    '{0} no concuerda con los demás: mídalo de nuevo antes de usar el factor.',
  // client/words/measured.ts
  'Measured in this visit': 'Medido en esta visita',
  'Measured airflows': 'Caudales de aire medidos',
  'What makes the ±': 'De qué se compone el ±',
  'What makes the ±: {0}': 'De qué se compone el ±: {0}',
  'In use.': 'En uso.',
  'Use this one': 'Usar este',
  'Mark as baseline': 'Marcar como línea base',
  'Baseline: later visits are compared with it.':
    'Línea base: las visitas siguientes se comparan con ella.',
  '{0} repeats': '{0} pasadas',
  '{0} points': '{0} puntos',
  'wet coil': 'serpentín mojado',
  'dry coil': 'serpentín seco',
  'the anemometer': 'el anemómetro',
  'air density': 'la densidad del aire',
  'the outlet’s size': 'el tamaño de la salida',
  'the free-area factor': 'el factor de área libre',
  'ends that the head cannot reach': 'los extremos que el cabezal no alcanza',
  'a head wider than the slot': 'un cabezal más ancho que la ranura',
  'how well the sweep repeats': 'la repetibilidad del barrido',
  'air between the points': 'el aire entre los puntos',
  turbulence: 'la turbulencia',
  'the scale': 'la báscula',
  'water left in pan and coil': 'el agua que queda en la bandeja y el serpentín',
  'the humidity probes': 'las sondas de humedad',
  'the power meter': 'el medidor de potencia',
  'heat that escapes': 'el calor que se escapa',
  'the rise in temperature': 'el aumento de temperatura',
  'the hood, or the traverse in the duct': 'la campana, o el recorrido de medición en el ducto',
  'the table': 'la tabla',
  'Mostly {0}.': 'Sobre todo {0}.',
  'Mostly {0}, then {1}.': 'Sobre todo {0}, después {1}.',
  '{0} and {1} agree: they differ by {2}.': '{0} y {1} concuerdan: difieren en {2}.',
  '{0} and {1} do not agree: they differ by {2}. One of them is off by more than its ±. Measure a third way to decide.':
    '{0} y {1} no concuerdan: difieren en {2}. Uno de los dos se desvía más que su ±. Mida de una tercera forma para decidir.',
  ' (baseline)': ' (línea base)',
  'the earlier one by another method ({0})': 'el anterior con otro método ({0})',
  'one at the supply, one at the return': 'uno en el suministro, otro en el retorno',
  'They are not alike: {0}.': 'No se midieron igual: {0}.',
  // client/words/measuring.ts
  Sweep: 'Barrido',
  'Move an anemometer over the opening, twice. About 2 minutes, ± 5 to 8 %.':
    'Pase un anemómetro por la abertura, dos veces. Unos 2 minutos, ± 5 a 8 %.',
  'Point by point': 'Punto por punto',
  'Hold it at each point of a picture. Slower; shows where the air comes out.':
    'Sosténgalo en cada punto de un dibujo. Más lento; muestra por dónde sale el aire.',
  'Weighed condensate': 'Pesaje del condensado',
  'Catch what the drain gives for half an hour of steady cooling. Needs checked probes.':
    'Recoja lo que sale del drenaje durante media hora de enfriamiento estable. Necesita sondas ya comparadas.',
  'Metered heater': 'Calentador con medidor',
  'Warm the intake with a heater of known power, fan alone. The surest, for bench and class.':
    'Caliente el aire de la toma con un calentador de potencia conocida, solo ventilador. Lo más confiable, para taller y clase.',
  'Zero in place': 'Cero en sitio',
  'Fan alone on a dry coil: what the probes are off by where they hang is taken off. Measures no airflow.':
    'Solo ventilador con el serpentín seco: se descuenta lo que las sondas se desvían en su lugar. No mide caudal de aire.',
  '{0} That is taken off.': '{0} Eso se descuenta.',
  '{0} It no longer counts: since then a probe was moved, walked or checked, or another zero begun.':
    '{0} Ya no cuenta: desde entonces se movió, se recorrió o se comparó una sonda, o se inició otro cero.',
  'Hood or duct': 'Campana o ducto',
  'Anemometer {0}': 'Anemómetro {0}',
  Kind: 'Tipo',
  vane: 'de hélice',
  'hot wire': 'de hilo caliente',
  'Diameter of the head, {0}': 'Diámetro del cabezal, {0}',
  'The head': 'El cabezal',
  'With it, the ends of the slot that the head cannot reach are corrected for.':
    'Con él se corrigen los extremos de la ranura que el cabezal no alcanza.',
  'Accuracy, ± % of reading': 'Exactitud, ± % de la lectura',
  'and ± {0}': 'y ± {0}',
  'The fixed part': 'La parte fija',
  'assumed to be a vane': 'se supone de hélice',
  'accuracy not known': 'exactitud desconocida',
  Outlet: 'Salida',
  Intake: 'Toma',
  open: 'abierta',
  'free area {0}': 'área libre {0}',
  '{0}\u202fft²': '{0}\u202fft²',
  'getting wet or drying': 'mojándose o secándose',
  'The coil counts as dry, as entered.': 'El serpentín se considera seco, según lo ingresado.',
  'The coil counts as wet, as entered.': 'El serpentín se considera mojado, según lo ingresado.',
  'The coil counts as {0}: nothing is known of its moisture yet.':
    'El serpentín se considera {0}: todavía no se sabe nada de su humedad.',
  'The coil counts as {0}: it has taken out moisture for {1}.':
    'El serpentín se considera {0}: lleva {1} quitando humedad.',
  'The coil counts as {0}: no moisture taken out for {1}.':
    'El serpentín se considera {0}: lleva {1} sin quitar humedad.',
  // client/words/outlet-kinds.ts
  'Built like one that is known: fill it in': 'Igual a una ya conocida: usar sus datos',
  '{0}{1}. From {2}.': '{0}{1}. De {2}.',
  'An outlet of this kind has {0} ± {1} ({2}). If this one is built the same, use that factor. It counts from the next sweep on.':
    'Una salida de este tipo tiene {0} ± {1} ({2}). Si esta está hecha igual, use ese factor. Cuenta desde el próximo barrido.',
  // client/words/outlet.ts
  'Outlet or intake': 'Salida o toma',
  'Which opening': 'Qué abertura',
  'The intake is larger, and its air is all of one temperature: often the better place.':
    'La toma es más grande, y su aire está todo a una misma temperatura: muchas veces es el mejor lugar.',
  'Free area {0}.': 'Área libre {0}.',
  Section: 'Sección',
  'Width, {0}': 'Ancho, {0}',
  'Length, {0}': 'Largo, {0}',
  'Supports, {0}': 'Soportes, {0}',
  '{0} of section {1}': '{0} de la sección {1}',
  'Take section {0} away': 'Quitar la sección {0}',
  'Add a section': 'Agregar una sección',
  'Measure the open air path at the plane where you hold the anemometer. Supports: how much of the length they block, all together.':
    'Mida el paso libre del aire en el plano donde sostiene el anemómetro. Soportes: cuánto del largo tapan, todos juntos.',
  'The free-area factor': 'El factor de área libre',
  'Its accuracy, ±': 'Su exactitud, ±',
  'Its accuracy': 'Su exactitud',
  '1 for an open slot. Behind a grille 0.7 to 0.95, by its maker or fitted to a known flow.':
    '1 para una ranura libre. Detrás de una rejilla, de 0.7 a 0.95, según el fabricante o ajustado a un caudal conocido.',
  'Louver angle, degrees': 'Ángulo de la persiana, grados',
  'The louver angle': 'El ángulo de la persiana',
  'How it is built': 'Cómo está hecha',
  'wall unit, one slot': 'unidad de pared, una ranura',
  'The width': 'El ancho',
  'The length': 'El largo',
  '{0} is missing. Enter it in {1}.': '{0}: falta. Ingrese el valor en {1}.',
  'The supports': 'Los soportes',
  'The louver angle: “{0}” is not a number. Enter degrees.':
    'El ángulo de la persiana: “{0}” no es un número. Ingrese grados.',
};
