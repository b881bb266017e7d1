/** Report, in Spanish. */
import type { Catalog } from '../language.ts';

export const REPORT: Catalog = {
  // server/report/air-part.ts
  'Dry bulb': 'Bulbo seco',
  'Relative humidity': 'Humedad relativa',
  'Wet bulb': 'Bulbo húmedo',
  'Dew point': 'Punto de rocío',
  'Humidity ratio': 'Relación de humedad',
  'Outdoors not measured': 'Exterior sin medir',
  'Outdoors {0}': 'Exterior {0}',
  'pressure {0}': 'presión {0}',
  // server/report/airflow-part.ts
  Method: 'Método',
  At: 'Hora',
  Velocity: 'Velocidad del aire',
  Used: 'Usado',
  yes: 'sí',
  no: 'no',
  ', {0} on the mean': ', {0} en promedio',
  '; from point to point it varies by {0}': '; varía {0}',
  'Velocity over the opening at {0} points, {1} to {2}{3}{4}. Darker is faster.':
    'Velocidad del aire en la abertura, en {0} puntos, de {1} a {2}{3}{4}. Más oscuro, más rápido.',
  // server/report/course-part.ts
  'Total capacity in {0} from {1} to {2}, with its 95\u202f% interval. ':
    'Capacidad total en {0} de las {1} a las {2}, con su intervalo del 95\u202f%. ',
  'No captures.': 'No hay capturas.',
  'Captures are marked 1 to {0}.': 'Las capturas están marcadas de 1 a {0}.',
  // server/report/draw/pdf.ts
  'Page {0} of {1}': 'Página {0} de {1}',
  // server/report/record-part.ts
  'Last side-by-side check, ended at {0}: {1}': 'Última comparación lado a lado, a las {0}: {1}',
  'No probe hangs here.': 'Aquí no hay ninguna sonda.',
  Probe: 'Sonda',
  Accuracy: 'Exactitud',
  'Side-by-side check': 'Comparación lado a lado',
  'Serial, calibrated': 'Serie, calibración',
  'not corrected': 'sin corregir',
  'corrected by {0}': 'corregida en {0}',
  Mean: 'Promedio',
  ' Baseline.': ' Línea base.',
  ' Struck out: {0}.': ' Tachada: {0}.',
  ' Struck out.': ' Tachada.',
  'Barometric pressure {0}, {1}.': 'Presión barométrica {0}, {1}.',
  'How much the air differs from spot to spot, of the difference between return and supply: {0}, {1}.':
    'Variación del aire entre puntos, de la diferencia entre retorno y suministro: {0}, {1}.',
  // server/report/report-of.ts
  '{0}, {1}. Visit {2}': '{0}, {1}. Visita {2}',
  Site: 'Sitio',
  Source: 'Origen',
  'a visit log that was taken in': 'una bitácora de visita importada',
  // server/report/unit-part.ts
  'nominal {0}': 'nominal {0}',
  'Total heating capacity': 'Capacidad total de calefacción',
  'Total cooling capacity': 'Capacidad total de enfriamiento',
  'Mean {0}.': 'Promedio {0}.',
  ' Note: {0}': ' Nota: {0}',
  '{0} Expected: {1} at {2}.': '{0} Esperado: {1} a {2}.',
  '{0}, alone {1}': '{0}, por sí solo {1}',
  // server/report/words.ts
  'Commissioning record': 'Registro de puesta en marcha',
  SIMULATED: 'SIMULADO',
  'Simulated readings: no unit was measured. This record shows how one looks, and proves nothing.':
    'Lecturas simuladas: no se midió ninguna unidad. Este registro es una muestra y no prueba nada.',
  'Nothing was captured for this unit. Without a capture of a steady figure there is no result.':
    'No se capturó nada para esta unidad. Sin la captura de una cifra estable no hay resultado.',
  'No airflow was given, so there is no capacity.':
    'No se dio caudal de aire, así que no hay capacidad.',
  'This figure has no ±: the accuracy of a probe or of the airflow was not entered.':
    'Esta cifra no tiene ±: no se ingresó la exactitud de una sonda o del caudal de aire.',
  'None at the time of the capture.': 'Ninguna al momento de la captura.',
  'No verdict: what the unit should deliver was not entered, or the outdoor air is not known.':
    'Sin veredicto: no se ingresó cuánto debería entregar la unidad, o no se conoce el aire exterior.',
  'Capacity over time': 'Capacidad en el tiempo',
  'Air through the unit': 'El aire por la unidad',
  'What the ± is made of': 'De qué se compone el ±',
  'Probes and checks': 'Sondas y comparaciones',
  'How it was worked out': 'Cómo se calculó',
  Warnings: 'Advertencias',
  Cautions: 'Precauciones',
  Signed: 'Firmas',
  'read by a probe': 'leída por una sonda',
  'assumed, as nobody entered one': 'supuesta, porque nadie la ingresó',
  assumed: 'supuesto',
  'found by a walk': 'medido al recorrer',
  outdoors: 'exterior',
  'Air-enthalpy method: airflow times the difference in enthalpy between return and supply. It follows the shape of ANSI/ASHRAE 37; a field measurement is no rating test.':
    'Método de entalpía del aire: caudal por la diferencia de entalpía entre retorno y suministro. En la forma de ANSI/ASHRAE 37; una medición en campo no es una prueba de capacidad nominal.',
  'Each ± is half of a 95\u202f% interval, by the Guide to the expression of uncertainty in measurement (JCGM 100).':
    'Cada ± es la mitad de un intervalo del 95\u202f%, según la Guía para la expresión de la incertidumbre de medida (JCGM 100).',
  'Steady by the field test: the mean holds still within its own scatter.':
    'Estable según la prueba de campo: el promedio no se mueve más que su propia dispersión.',
  'Steady by the strict test: 30 minutes within the limits of ANSI/ASHRAE 37 in shape.':
    'Estable según la prueba estricta: 30 minutos dentro de los límites, según el esquema de ANSI/ASHRAE 37.',
  'This record tells what the air showed while it was measured. It does not certify the installation, its safety, or what the unit will deliver in other weather.':
    'Este registro dice lo que mostró el aire mientras se midió. No certifica la instalación ni su seguridad, ni lo que entregará con otro clima.',
  'Before anyone reaches into the unit, power is off, locked out and proven dead, and the blower wheel stands still. Ladders stand firm, and somebody holds them where the ground is poor.':
    'Antes de meter las manos en la unidad, corte y bloquee la alimentación eléctrica, compruebe que no hay voltaje y espere a que la turbina del ventilador se detenga. Apoye firme la escalera; donde el piso es malo, que alguien la sostenga.',
  'Work on live parts and on the refrigerant circuit is for licensed people. The manufacturer’s instructions and local codes come before anything said here.':
    'El trabajo en partes energizadas y en el circuito de refrigerante es para personal con licencia. Ante todo valen las instrucciones del fabricante y los códigos locales.',
  Date: 'Fecha',
};
