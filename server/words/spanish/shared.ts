/** Shared, in Spanish. */
import type { Catalog } from '../language.ts';

export const SHARED: Catalog = {
  // server/words/scales.ts
  '% RH': '% HR',
  // server/words/airflow.ts
  'entered by hand': 'dato ingresado a mano',
  'from the fan table': 'de la tabla del ventilador',
  'from a sweep traverse': 'medido por barrido',
  'from a grid traverse': 'medido por cuadrícula',
  'from weighed condensate': 'por pesaje del condensado',
  'by a metered heater': 'con calentador y medidor',
  'by a hood or in the duct': 'con campana o en el ducto',
  ' (a guess)': ' (suposición)',
  'as standard air': 'como aire estándar',
  'at the {0}': 'en el {0}',
  // server/words/budget.ts
  '{0}: temperature': '{0}: temperatura',
  '{0}: humidity': '{0}: humedad',
  'Uneven air across the intake': 'Aire desigual en la toma',
  'Uneven air across the outlet': 'Aire desigual en la salida',
  'Airflow: {0} reads one spot only': 'Caudal de aire: {0} lee en un solo punto',
  'Barometric pressure': 'Presión barométrica',
  'Temperature error that return and supply share':
    'Error de temperatura común a retorno y suministro',
  'Humidity error that checked probes share': 'Error de humedad común a las sondas comparadas',
  'Scatter of the readings': 'Dispersión de las lecturas',
  'Zero in place: the fan’s watts and the airflow':
    'Cero en sitio: los watts del ventilador y el caudal de aire',
  'under 1\u202f%': 'menos del 1\u202f%',
  'The rest: {0} small parts': 'El resto: {0} partes pequeñas',
  // server/words/captures.ts
  'whole cycles': 'ciclos completos',
  'from {0} over {1}': 'desde {0}, por {1}',
  steady: 'estable',
  'by hand': 'a mano',
  automatic: 'automática',
  'still growing': 'sigue creciendo',
  // server/words/events.ts
  set: 'ajuste',
  'set {0}': 'ajuste {0}',
  fan: 'ventilador',
  airflow: 'caudal de aire',
  'airflow {0}': 'caudal de aire {0}',
  'check ends': 'fin de la comparación',
  'check begins': 'inicio de la comparación',
  'walk along the {0} begins': 'inicio del recorrido por la {0}',
  'walk along the {0}': 'recorrido por la {0}',
  '{0} walked': '{0} recorrida',
  grid: 'cuadrícula',
  sweep: 'barrido',
  traverse: 'recorrido de medición',
  condensate: 'condensado',
  heater: 'calentador',
  'zero in place': 'cero en sitio',
  'defrost ends': 'fin del descongelamiento',
  'defrost begins': 'inicio del descongelamiento',
  note: 'nota',
  '{0} begins': 'inicio de {0}',
  '{0} cancelled': '{0} cancelado',
  '{0} ends': 'fin de {0}',
  'clock set back by {0}': 'reloj atrasado {0}',
  'clock set ahead by {0}': 'reloj adelantado {0}',
  // server/words/names.ts
  return: 'retorno',
  supply: 'suministro',
  room: 'cuarto',
  temperature: 'temperatura',
  humidity: 'humedad',
  quiet: 'silenciosa',
  medium: 'media',
  auto: 'auto',
  '{0} and {1}': '{0} y {1}',
  // server/words/psychrometric.ts
  'The air on a psychrometric chart': 'El aire en la carta psicrométrica',
  'The chart needs temperature and humidity at the return and the supply.':
    'La carta necesita temperatura y humedad en el retorno y en el suministro.',
  'Each outline holds the air there with 95\u202f% confidence.':
    'Cada contorno encierra el aire de ese punto con 95\u202f% de confianza.',
  'Enter the probes’ accuracy, and outlines show how sure each point is.':
    'Ingrese la exactitud de las sondas y los contornos mostrarán qué tan seguro es cada punto.',
  '{0}\u202f%\u202fRH': '{0}\u202f%\u202fHR',
  'Dry bulb, {0}': 'Bulbo seco, {0}',
  'Humidity ratio, {0}': 'Relación de humedad, {0}',
  'Drawn for {0}. Curves: relative humidity. Dotted: wet bulb.':
    'Trazada para {0}. Curvas: humedad relativa. Punteado: bulbo húmedo.',
  '{0} drier': '{0} más seco',
  '{0} moister': '{0} más húmedo',
  'From return {0} to supply {1}: {2}, {3}.': 'Del retorno {0} al suministro {1}: {2}, {3}.',
  'as moist as before': 'con la misma humedad',
  // server/words/times.ts
  '{0}\u202fh {1}\u202fmin': '{0}\u202fh {1}\u202fmin',
  // server/words/verdict.ts
  Meets: 'Cumple',
  'Falls short': 'No llega',
  'Cannot tell': 'No se puede decidir',
  'over 99\u202f%': 'más del 99\u202f%',
  'The unit': 'La unidad',
  '{0} of what it should': '{0} de lo esperado',
  '{0} delivers at least {1}. The chance of that is {2}.':
    '{0} entrega al menos {1}. La probabilidad de que así sea es de {2}.',
  '{0} delivers less than {1}. The chance that it reaches it is {2}.':
    '{0} entrega menos de {1}. La probabilidad de que llegue es de {2}.',
  '{0} gives less than it could alone, but other heads may take the rest.':
    '{0} da menos de lo que podría por sí sola, pero otras unidades interiores pueden llevarse el resto.',
  '{0} may or may not deliver {1}: the chance that it does is {2}.':
    '{0} puede entregar {1} o no: la probabilidad de que llegue es de {2}.',
  'The figures are for another fan speed. Set that speed, and push the setpoint again.':
    'Las cifras publicadas son de otra velocidad del ventilador. Ponga esa velocidad y exija más otra vez con el punto de ajuste.',
  'A variable-speed unit gives what it is asked. Push the setpoint to see whether more comes.':
    'Una unidad de velocidad variable da lo que se le pide. Exija más con el punto de ajuste para ver si da más.',
  ' (entered)': ' (dato ingresado)',
  '{0} wet bulb indoors': '{0} de bulbo húmedo en el interior',
  '{0} indoors': '{0} en el interior',
  '{0} outdoors{1}, {2}': '{0} en el exterior{1}, {2}',
  'No published figure lies at these conditions. An open curve for usual ductless units carries the nearest one here: an estimate, ± 10 % or more.':
    'No hay cifra publicada para estas condiciones. Una curva abierta para unidades mini-split comunes lleva hasta aquí la más cercana: es una estimación, ± 10 % o más.',
  'The outdoor temperature is entered: ± 2 K.':
    'La temperatura exterior es un dato ingresado: ± 2 K.',
  'Thin air takes off {0}: an estimate for the indoor side.':
    'El aire menos denso resta {0}: es una estimación para el lado interior.',
  'Other heads on this outdoor unit run. What is left for this one is not known: it may be less.':
    'Hay otras unidades interiores de esta unidad exterior en marcha. No se sabe cuánto queda para esta: puede ser menos.',
  'It is what the other heads leave of the outdoor unit’s capacity.':
    'Es lo que dejan las otras unidades interiores de la capacidad de la unidad exterior.',
  Boost: 'Turbo',
  'Setpoint {0}': 'Punto de ajuste {0}',
  '{0} at {1}: {2}.': '{0} a las {1}: {2}.',
  '{0} No more came: this is all it gives.': '{0} No dio más: esto es todo lo que da.',
  '{0} More came. Push it once more.': '{0} Dio más. Exija más otra vez.',
  '{0} The difference is not known well enough. Let it settle longer, or check the probes first.':
    '{0} La diferencia no se conoce con suficiente certeza. Deje que se estabilice más tiempo, o compare antes las sondas.',
  'EER now': 'EER actual',
  'COP now': 'COP actual',
  'by a power probe': 'según una sonda de potencia',
  entered: 'dato ingresado',
  // server/words/visits.ts
  'lines {0} one way': 'tubería {0} solo ida',
  '{0} above the head': '{0} por encima de la unidad interior',
  '{0} below the head': '{0} por debajo de la unidad interior',
  'nothing read yet': 'aún sin lecturas',
  '{0} to {1}{2}': '{0} a {1}{2}',
};
