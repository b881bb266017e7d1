/** Airflow, in Spanish. */
import type { Catalog } from '../language.ts';

export const AIRFLOW: Catalog = {
  // client/words/airflow-room.ts
  'Place the probes first. Then the unit appears here and you can measure its airflow.':
    'Coloque primero las sondas. Después la unidad aparece aquí y puede medir su caudal de aire.',
  'To the probes': 'Ir a las sondas',
  '{0} moves': '{0} mueve',
  'No airflow yet. Without it there is no capacity.':
    'Todavía no hay caudal de aire. Sin él no hay capacidad.',
  'Follows the velocity probe. Entered: {0}.':
    'Sigue a la sonda de velocidad del aire. Ingresado: {0}.',
  'Enter the airflow': 'Ingresar el caudal de aire',
  'Enter another': 'Ingresar otro',
  'Zero in place:': 'Cero en sitio:',
  'Measure it': 'Medir el caudal',
  'Say each step aloud': 'Decir cada paso en voz alta',
  'The coil is': 'El serpentín está',
  'as seen': 'según las lecturas',
  dry: 'seco',
  wet: 'mojado',
  'Set the fan speed and the louver as they will be when you capture.':
    'Ponga la velocidad del ventilador y la persiana como van a estar al capturar.',
  'Hold the head 6 to 20 mm (1/4 to 3/4 in) off the louver, square to the air.':
    'Mantenga el cabezal de 6 a 20 mm (1/4 a 3/4 in) de la persiana, perpendicular al aire.',
  'Start. Go end to end and back at an even pace. The page says how long.':
    'Inicie. Vaya de un extremo al otro y de regreso a ritmo parejo. La página le dice cuánto tiempo.',
  'Start the sweep': 'Iniciar el barrido',
  'Start at the first point': 'Iniciar en el primer punto',
  'Let it cool steadily for 15 minutes first, so that coil and pan are full.':
    'Antes, deje que la unidad enfríe de forma estable 15 minutos, para que el serpentín y la bandeja estén llenos.',
  'Empty the bucket, put it under the drain, and start.':
    'Vacíe la cubeta, póngala bajo el drenaje e inicie.',
  'After half an hour, take it away, tap “The bucket is away”, and weigh the water.':
    'A la media hora retírela, toque “Ya retiré la cubeta” y pese el agua.',
  'The bucket is under it': 'Ya puse la cubeta',
  'Fan alone. Hang the return probe in the room’s air, before the heater. Never leave the heater alone, keep it clear of anything that burns, and leave the intake free.':
    'Solo ventilador. Coloque la sonda de retorno en el aire del cuarto, antes del calentador. Nunca deje el calentador sin vigilancia, manténgalo lejos de todo lo que pueda arder y deje libre la toma.',
  'Power of the heater, W': 'Potencia del calentador, W',
  'The power of the heater': 'La potencia del calentador',
  'Let the fan run alone for 3 minutes first.':
    'Antes, deje trabajar solo el ventilador durante 3 minutos.',
  'The heater is on': 'Ya encendí el calentador',
  'Compressor off, fan on, until the coil is dry. Any difference then left between return and supply, beyond the fan’s own heat, comes from the probes and where they hang.':
    'Compresor apagado y ventilador encendido, hasta que el serpentín esté seco. Si entonces queda una diferencia entre retorno y suministro, aparte del calor del propio ventilador, viene de las sondas y de su lugar.',
  'Power of the fan, W': 'Potencia del ventilador, W',
  'The power of the fan': 'La potencia del ventilador',
  Start: 'Iniciar',
  'The coil is dry now: a good moment.': 'El serpentín ya está seco: buen momento.',
  '{0}: enter watts.': '{0}: ingrese watts.',
  Points: 'Puntos',
  'equal areas': 'áreas iguales',
  'log-Tchebycheff': 'log-Tchebycheff',
  'Equal areas for a slot or a grille, log-Tchebycheff (ISO 3966) for a duct.':
    'Áreas iguales para una ranura o una rejilla, log-Tchebycheff (ISO 3966) para un ducto.',
  'First enter the width and length of the opening.':
    'Ingrese primero el ancho y el largo de la abertura.',
  'Enter the outlet': 'Ingresar la salida',
  Opening: 'Abertura',
  'Change the opening': 'Cambiar la abertura',
  'Another opening': 'Otra abertura',
  'No anemometer yet. Turn it on: it shows up here with its first reading.':
    'Todavía no hay anemómetro. Enciéndalo: aparece aquí con su primera lectura.',
  Anemometer: 'Anemómetro',
  'Its head and accuracy': 'Su cabezal y exactitud',
  'I hold it there': 'Ya está en el punto',
  'At the next point': 'En el siguiente punto',
  'Section {0}': 'Sección {0}',
  End: 'Terminar',
  Pause: 'Pausar',
  'Go on': 'Continuar',
  Cancel: 'Cancelar',
  '1 point held. {0} of all.': '1 punto medido. {0} del total.',
  '{0} points held. {1} of all.': '{0} puntos medidos. {1} del total.',
  '{0}\u202fs, mean {1}': '{0}\u202fs, promedio {1}',
  '{0}\u202fmin': '{0}\u202fmin',
  'The bucket is away': 'Ya retiré la cubeta',
  'Water, g or ml': 'Agua, g o ml',
  'The water': 'El agua',
  'The water: weigh it, and enter grams or milliliters.':
    'El agua: pésela e ingrese gramos o mililitros.',
  'Power on the meter, W (left empty: as entered at the start)':
    'Potencia en el medidor, W (vacío: la ingresada al inicio)',
  'The power': 'La potencia',
  'Velocity over the last minute': 'Velocidad del aire en el último minuto',
  'Last minute, 0 to {0}': 'Último minuto, de 0 a {0}',
  'The air loses {0} of moisture.': 'El aire pierde {0} de humedad.',
  'Rise by the heater: {0}.': 'Aumento por el calentador: {0}.',
  'Supply less return: {0}.': 'Suministro menos retorno: {0}.',
  'Opening of one section: {0}': 'Abertura de una sección: {0}',
  'Opening of {0} sections: {1}': 'Abertura de {0} secciones: {1}',
  // client/words/airflow.ts
  'the fan table': 'la tabla del ventilador',
  'measured at this unit': 'medido en esta unidad',
  'a flow hood or a duct traverse': 'una campana de flujo o un recorrido de medición en ducto',
  'known some other way': 'conocido de otra forma',
  'Airflow, {0}': 'Caudal de aire, {0}',
  'The airflow': 'El caudal de aire',
  'Where the figure comes from': 'De dónde viene la cifra',
  'The source': 'El origen',
  'Accuracy, ± %': 'Exactitud, ± %',
  'The accuracy': 'La exactitud',
  'That accuracy is': 'Esa exactitud es',
  'a sure limit': 'un límite firme',
  'a guess': 'una estimación',
  'stated, k = {0}': 'declarada, k = {0}',
  'A guess counts as right two times out of three.':
    'Una estimación cuenta como acertada dos de cada tres veces.',
  'Measured at': 'Medido en',
  'Flow basis': 'Base del caudal',
  'actual air': 'aire real',
  'standard air': 'aire estándar',
  'Standard air is dry air at 1.204 kg/m³: 20 °C, sea level.':
    'El aire estándar es aire seco a 1.204 kg/m³: 20 °C, nivel del mar.',
  'Enter what the table states. The fan moves that volume in any air, so the basis does not change the capacity.':
    'Ingrese lo que indica la tabla. El ventilador mueve ese volumen con cualquier aire, así que la base no cambia la capacidad.',
  Save: 'Guardar',
  'Save without ±': 'Guardar sin ±',
  'The airflow is missing. Enter it in {0}.': 'El caudal de aire falta. Ingréselo en {0}.',
  'The source is missing. Choose where the figure comes from.':
    'El origen falta. Elija de dónde viene la cifra.',
  'The accuracy is missing. Without it the capacity has no ±, and nobody can tell how sure it is. Enter one, a guess if need be, or save without it.':
    'La exactitud falta. Sin ella la capacidad no tiene ±, y nadie puede saber qué tan confiable es. Ingrese una, aunque sea estimada, o guarde sin ella.',
  // client/words/fan-table.ts
  Speed: 'Velocidad',
  Dry: 'Seco',
  Wet: 'Mojado',
  'Fan table': 'Tabla del ventilador',
  'Enter the manufacturer’s table by fan speed, for a dry and a wet coil. The flow then follows the fan speed you enter, and the coil as it gets wet.':
    'Ingrese la tabla del fabricante por velocidad del ventilador, para serpentín seco y mojado. El caudal sigue entonces la velocidad del ventilador que usted ingrese, y cambia conforme se moja el serpentín.',
  'Enter the fan table': 'Ingresar la tabla del ventilador',
  'Change the fan table': 'Cambiar la tabla del ventilador',
  'In {0}. No fan speed entered yet. Set it next to the figure.':
    'En {0}. Todavía no se ha ingresado la velocidad del ventilador. Póngala junto a la cifra.',
  'In {0}. Fan speed entered: {1}.': 'En {0}. Velocidad del ventilador ingresada: {1}.',
  'A line for each speed: its name, the flow through a dry coil, through a wet coil, {0}':
    'Una línea por velocidad: su nombre, el caudal con serpentín seco, con serpentín mojado, {0}',
  'The fan table': 'La tabla del ventilador',
  'High; 480; 450': 'Alta; 480; 450',
  'Paste it from a spreadsheet, or type it. Use the manufacturer’s names for the speeds. One flow is enough where the table has one.':
    'Péguela de una hoja de cálculo o escríbala. Use los nombres de velocidad del fabricante. Basta un caudal si la tabla trae solo uno.',
  'Stated for': 'Indicada para',
  'At the': 'En el',
  'A fan moves the same volume in any air, so this does not change the capacity.':
    'Un ventilador mueve el mismo volumen con cualquier aire, así que esto no cambia la capacidad.',
  'The fan table is empty. Enter a line for each speed.':
    'La tabla del ventilador está vacía. Ingrese una línea por velocidad.',
  'The fan table, line {0}: “{1}” is not a speed with one or two flows, as “Medium 480 450”.':
    'La tabla del ventilador, línea {0}: “{1}” no es una velocidad con uno o dos caudales, como “Media 480 450”.',
  'The fan table, line {0}: a flow cannot be that. Enter it in {1}.':
    'La tabla del ventilador, línea {0}: un caudal no puede ser así. Ingréselo en {1}.',
  'The fan table has a heading only. Enter a line for each speed.':
    'La tabla del ventilador solo tiene encabezado. Ingrese una línea por velocidad.',
  '{0}: more air through a wet coil than a dry one. Are the columns swapped?':
    '{0}: más aire con el serpentín mojado que con el seco. ¿Están invertidas las columnas?',
  '{0} moves less than {1}. Are the two swapped?': '{0} mueve menos que {1}. ¿Están invertidas?',
  '{0} is there twice.': '{0} está dos veces.',
};
