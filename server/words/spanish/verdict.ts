/** Verdict, in Spanish. */
import type { Catalog } from '../language.ts';

export const VERDICT: Catalog = {
  // client/words/around.ts
  'Outdoors and power': 'Exterior y potencia',
  'Outdoor temperature, {0}': 'Temperatura exterior, {0}',
  'Read it in the shade at the inlet of the outdoor coil. A probe that is placed outdoors is better.':
    'Mídala a la sombra, en la entrada de aire del serpentín exterior. Es mejor una sonda colocada en el exterior.',
  'Power of the outdoor unit with all its heads, W':
    'Potencia de la unidad exterior con todas sus unidades interiores, W',
  'From the meter. Only licensed persons open a panel or clamp a conductor.':
    'Según el medidor. Solo personal con licencia abre un tablero o pone la pinza en un conductor.',
  'Accuracy of the power, ± %': 'Exactitud de la potencia, ± %',
  'Heads on this outdoor unit': 'Unidades interiores en esta unidad exterior',
  'How many heads it has': 'Cuántas unidades interiores tiene',
  'The number of heads': 'El número de unidades interiores',
  'Those without probes': 'Las que no tienen sondas',
  'may run': 'pueden estar encendidas',
  'are off': 'están apagadas',
  run: 'están encendidas',
  'What it gives all heads together, cooling, {0}':
    'Lo que da a todas las unidades interiores juntas, en enfriamiento, {0}',
  'Heating, {0}': 'En calefacción, {0}',
  'The maker’s figure for all heads at rating conditions. Then a head can be judged by what the others leave.':
    'La cifra del fabricante para todas las unidades interiores en condiciones nominales. Así se puede juzgar una unidad interior por lo que dejan las demás.',
  heads: 'unidades interiores',
  'The outdoor temperature': 'La temperatura exterior',
  'The cooling capacity': 'La capacidad de enfriamiento',
  'The heating capacity': 'La capacidad de calefacción',
  // client/words/causes.ts
  'What to look at': 'Qué revisar',
  'Nothing stands out: a healthy unit would show figures like these.':
    'Nada llama la atención: una unidad en buen estado daría cifras como estas.',
  'In the order of what fits the figures. Likely, never certain: look before you act.':
    'Primero lo que mejor concuerda con las cifras. Es probable, nunca seguro: revise antes de actuar.',
  Evidence: 'Indicios',
  'For it': 'A favor',
  'Against it': 'En contra',
  'Nothing.': 'Nada.',
  'How it shows: {0}.': 'Cómo se nota: {0}.',
  'The filter': 'El filtro',
  'not looked at': 'sin revisar',
  clean: 'limpio',
  loaded: 'sucio',
  // client/words/published.ts
  minimum: 'mínima',
  rated: 'nominal',
  maximum: 'máxima',
  'The figures': 'Las cifras',
  'The figures: nothing is entered.': 'Las cifras: no se ingresó nada.',
  'The figures: there is no capacity among them.':
    'Las cifras: no hay ninguna capacidad entre ellas.',
  'The figures: all are minimum outputs. Enter rated or maximum ones: those count.':
    'Las cifras: todas son capacidades mínimas. Ingrese nominales o máximas: esas cuentan.',
  'The figures, {0}: a capacity cannot be {1}. Enter it in {2}.':
    'Las cifras, {0}: una capacidad no puede ser {1}. Ingrese el valor en {2}.',
  'The figures, line {0}, column {1}: “{2}” is not an outdoor temperature.':
    'Las cifras, renglón {0}, columna {1}: “{2}” no es una temperatura exterior.',
  'The figures, line {0}, column 1: “{1}” is not an indoor temperature, as “67” or “80/67”.':
    'Las cifras, renglón {0}, columna 1: “{1}” no es una temperatura interior, como “67” u “80/67”.',
  'The figures, line {0}: there are {1} capacities for {2} outdoor temperatures.':
    'Las cifras, renglón {0}: hay {1} capacidades para {2} temperaturas exteriores.',
  'The figures, line {0}, column {1}: “{2}” is not a capacity.':
    'Las cifras, renglón {0}, columna {1}: “{2}” no es una capacidad.',
  'line {0}, column {1}': 'renglón {0}, columna {1}',
  'The figures, line {0}: “{1}” is not an outdoor temperature, an indoor one and a capacity, as “{2} {3}”.':
    'Las cifras, renglón {0}: “{1}” no es una temperatura exterior, una interior y una capacidad, como “{2} {3}”.',
  'line {0}': 'renglón {0}',
  'maximum: all it gives': 'máxima: todo lo que da',
  'Wet bulb indoors': 'Bulbo húmedo interior',
  Indoors: 'Interior',
  'What it has to reach': 'Lo que tiene que alcanzar',
  'The factor for the lines': 'El factor de las líneas',
  'What the maker publishes': 'Lo que publica el fabricante',
  For: 'Para',
  'The figures, as they are printed': 'Las cifras, tal como están impresas',
  'Paste a table with outdoor temperatures in its first row and the indoor condition at the left, or enter a line for each figure: outdoors, indoors, capacity, and the power in W where it is printed. {0}, {1}; 80/67 is dry bulb and wet bulb. In cooling the wet bulb counts.':
    'Pegue una tabla con las temperaturas exteriores en el primer renglón y la condición interior a la izquierda, o ingrese un renglón por cada cifra: exterior, interior, capacidad, y la potencia en W si está impresa. {0}, {1}; 80/67 es bulbo seco y bulbo húmedo. En enfriamiento cuenta el bulbo húmedo.',
  'Start with the usual points': 'Empezar con los puntos usuales',
  'Figures without a word are': 'Una cifra sin palabra es',
  'Read as': 'Así se leyó',
  Capacity: 'Capacidad',
  'Read as thousands of Btu/h.': 'Se leyó como miles de Btu/h.',
  'The fan’s heat': 'El calor del ventilador',
  'is taken into account (net)': 'se toma en cuenta (capacidad neta)',
  'is not (gross)': 'no se toma en cuenta (capacidad bruta)',
  'The power of the fan is missing. Gross figures need it.':
    'La potencia del ventilador falta. Las cifras brutas la necesitan.',
  'Accuracy of the figures, ± %': 'Exactitud de las cifras, ± %',
  'Limit, fan speed, lines': 'Límite, velocidad del ventilador, líneas',
  'Part of it that the unit has to reach, %': 'Parte que la unidad tiene que alcanzar, %',
  'Fan speed that the figures are for': 'Velocidad del ventilador para la que valen las cifras',
  'not stated': 'no se indica',
  'Factor for the length and height of the lines':
    'Factor por longitud y altura de las líneas de refrigerante',
  'The maker prints it in the same manual. Without it the lines count as short.':
    'El fabricante lo da en el mismo manual. Si no se ingresa, las líneas se toman como cortas.',
  // client/words/push.ts
  'Push test': 'Prueba de exigencia',
  'Start the push test': 'Iniciar la prueba de exigencia',
  'Boost is on': 'El turbo está encendido',
  'It is set to {0}': 'Está ajustada a {0}',
  'The setpoint is as far as it goes. Press boost on the remote, then touch here.':
    'El punto de ajuste ya está en su límite. Presione turbo en el control remoto y luego toque aquí.',
  'Set the unit to {0} on its remote, or press boost. Then touch here.':
    'Ajuste la unidad a {0} en su control remoto, o presione turbo. Luego toque aquí.',
  'First capture a steady figure: the push is compared with it.':
    'Primero capture una cifra estable: la prueba se compara con ella.',
  'To the capacity': 'Ir a la capacidad',
  'Push it once more': 'Exigir una vez más',
  'Shown at {0}, setpoint {1}.': 'Demanda plena demostrada a las {0}, punto de ajuste {1}.',
  'No figure': 'Sin cifra',
  '{0}. It is captured by itself when it is steady.':
    '{0}. Se captura automáticamente cuando esté estable.',
  // client/words/verdict-word.ts
  meets: 'cumple',
  'falls short': 'no llega',
  'cannot tell': 'no se puede decidir',
  'not asked': 'sin exigir',
  // client/words/verdict.ts
  Verdict: 'Veredicto',
  'No verdict yet. Capture a steady figure: it is the measured side.':
    'Todavía no hay veredicto. Capture una cifra estable: es la parte medida.',
  'No verdict yet: what the unit should deliver is not known.':
    'Todavía no hay veredicto: no se sabe cuánto debería entregar la unidad.',
  'What would tell': 'Qué ayudaría a decidir',
  'What it should give now': 'Lo que debería dar ahora',
  at: 'a',
  'Enter what the maker publishes': 'Ingresar lo que publica el fabricante',
  'Other heads': 'Otras unidades interiores',
  'The report': 'El informe',
  Measured: 'Medido',
  Expected: 'Esperado',
  '{0} of it': '{0} de lo esperado',
  'captured {0} to {1}': 'capturado de las {0} a las {1}',
  'Nobody has entered what this unit should deliver.':
    'Nadie ha ingresado cuánto debería entregar esta unidad.',
  'What this unit should deliver is entered for {0} only.':
    'Lo que esta unidad debería entregar solo está ingresado para {0}.',
  'The unit neither heats nor cools yet.': 'La unidad todavía no calienta ni enfría.',
  'The outdoor temperature is not known. Hang a probe at the outdoor coil’s inlet, in the shade, or enter it.':
    'No se conoce la temperatura exterior. Coloque una sonda en la entrada de aire del serpentín exterior, a la sombra, o ingrese el valor.',
  'No probe reads the return air.': 'Ninguna sonda lee el aire de retorno.',
  'Cooling capacity goes with the wet bulb. The return probe needs humidity.':
    'La capacidad de enfriamiento depende del bulbo húmedo. La sonda de retorno tiene que medir humedad.',
  'These conditions lie outside the published figures, and outside where the open curve holds.':
    'Estas condiciones quedan fuera de las cifras publicadas y fuera de donde vale la curva abierta.',
  'Walk the outlet and the intake': 'Recorra la salida y la toma',
  'Measure the airflow by a traverse': 'Mida el caudal de aire con un recorrido de medición',
  'Hang a probe at the outdoor coil’s inlet':
    'Coloque una sonda en la entrada de aire del serpentín exterior',
  'Enter the maker’s table for these conditions':
    'Ingrese la tabla del fabricante para estas condiciones',
  'Capture a longer steady span': 'Capture un tramo estable más largo',
  '. If the figure stays, that says: {0}': '. Si la cifra se mantiene, el veredicto es: {0}',
  '± {0} becomes about ± {1}{2}.': '± {0} baja a cerca de ± {1}{2}.',
};
