/** Record, in Spanish. */
import type { Catalog } from '../language.ts';

export const RECORD: Catalog = {
  // client/words/for-record.ts
  wall: 'de pared',
  floor: 'de piso',
  cassette: 'casete',
  ducted: 'de ductos',
  ceiling: 'de techo',
  'For the record: who, where, why': 'Para el registro: quién, dónde, por qué',
  Address: 'Dirección',
  Customer: 'Cliente',
  Technician: 'Técnico',
  'Why this visit': 'Motivo de esta visita',
  'Conditions: weather, doors, filters': 'Condiciones: clima, puertas, filtros',
  'For the record: {0}': 'Para el registro: {0}',
  Type: 'Tipo',
  'wall, cassette …': 'de pared, casete …',
  Model: 'Modelo',
  'Serial number': 'Número de serie',
  'Nominal capacity, {0}': 'Capacidad nominal, {0}',
  'Outdoor unit it is piped to': 'Unidad exterior a la que está conectada',
  'not entered': 'sin ingresar',
  'another one': 'otra',
  'For the record: {0}, outdoors': 'Para el registro: {0}, en el exterior',
  'Outdoor unit': 'Unidad exterior',
  'Outdoor unit {0}': 'Unidad exterior {0}',
  'Name or place': 'Nombre o ubicación',
  'Line length, one way, {0}': 'Longitud de tubería, solo ida, {0}',
  'Height above the heads, {0} (− below)':
    'Altura sobre las unidades interiores, {0} (− por debajo)',
  'The nominal capacity of {0}': 'La capacidad nominal de {0}',
  'The line length': 'La longitud de tubería',
  'The line height': 'La altura de la tubería',
  '{0} of {1}': '{0} de {1}',
  'The last calibration is not a date. Choose one, or clear the field.':
    'La última calibración no es una fecha. Elija una o deje el campo vacío.',
  'The last calibration is in the future. Check the year.':
    'La última calibración tiene una fecha futura. Revise el año.',
  'The last calibration is before 1970. Check the year.':
    'La última calibración es anterior a 1970. Revise el año.',
  // client/words/record.ts
  Record: 'Registro',
  'This is a quick look. Nothing of it is written down, and nothing is left when Plateau ends or another visit begins.':
    'Esta es una vista rápida. No se guarda nada, y no queda nada cuando Plateau se cierra o empieza otra visita.',
  'Keep it: record from its beginning': 'Conservarla: registrar desde el inicio',
  'No customer, address or reason entered yet.': 'Aún no se ingresó cliente, dirección ni motivo.',
  'Visit settings': 'Configuración de la visita',
  'Earlier visits': 'Visitas anteriores',
  'Captures, {0}': 'Capturas, {0}',
  'None yet. Capture the figure when it is steady, and it shows up here with its ±.':
    'Aún no hay. Capture la cifra cuando esté estable y aparecerá aquí con su ±.',
  'Hand it over': 'Entrega',
  'A replay is not recorded: the visit log that plays is its record, and stays as it is.':
    'Una reproducción no se registra: la bitácora que se reproduce es su registro y queda como está.',
  'The computer that runs Plateau saves every reading, entry and capture as it comes. The visit log is one file that you can send, keep and replay.':
    'La computadora que ejecuta Plateau guarda cada lectura, dato ingresado y captura en cuanto llega. La bitácora de la visita es un solo archivo que usted puede enviar, conservar y reproducir.',
  'Download the visit log': 'Descargar la bitácora de la visita',
  'This screen': 'Esta pantalla',
  'Begin a new visit': 'Empezar una visita nueva',
  'Begin a new visit here': 'Empezar aquí una visita nueva',
  'Begin it': 'Empezar',
  'Continue this visit': 'Continuar esta visita',
  'Continue it': 'Continuar',
  'The live visit,': 'La visita en vivo,',
  untitled: 'sin título',
  ', ends. It stays in the record with its captures. A running check or walk stops.':
    ', termina. Queda en el registro con sus capturas. Si hay una comparación o un recorrido en marcha, se detiene.',
  'The new one begins without units, airflow or pressure. Probes keep their names, accuracies and checks. Place each probe again.':
    'La nueva empieza sin unidades, caudal de aire ni presión. Las sondas conservan su nombre, su exactitud y sus comparaciones. Coloque de nuevo cada sonda.',
  'The new one begins with the units, airflows and outdoor units of':
    'La nueva empieza con las unidades, los caudales de aire y las unidades exteriores de',
  '({0}). Check that they still apply, and place each probe again.':
    '({0}). Revise que sigan siendo válidos y coloque de nuevo cada sonda.',
  'From now on readings go into': 'Desde ahora las lecturas van a',
  '({0}), with the units, airflows and places that it had. Check that the probes still hang there: a figure from a wrong place looks like any other.':
    '({0}), con las unidades, los caudales de aire y los lugares que tenía. Revise que las sondas sigan ahí: la cifra de un lugar equivocado se ve igual que cualquier otra.',
  Visits: 'Visitas',
  'Choose the visit to put beside it': 'Elija la visita que quiere poner al lado',
  Search: 'Buscar',
  'title, address, customer, unit …': 'título, dirección, cliente, unidad …',
  From: 'Desde',
  To: 'Hasta',
  'Earlier visits: not live': 'Visitas anteriores: no en vivo',
  'This visit': 'Esta visita',
  'Reading the record. A long visit takes a moment.':
    'Leyendo el registro. Una visita larga tarda un momento.',
  'Try again': 'Reintentar',
  'All visits': 'Todas las visitas',
  Recorded: 'Registrada',
  'It is still recording. This is how it was when you opened it.':
    'Todavía se está registrando. Así estaba cuando usted la abrió.',
  'Put another beside it': 'Poner otra al lado',
  'Download its log': 'Descargar su bitácora',
  'Other visits with “{0}”': 'Otras visitas con “{0}”',
  'Other visits at this site': 'Otras visitas a este sitio',
  'No unit was set up in this visit, so it has no figures.':
    'En esta visita no se configuró ninguna unidad, así que no tiene cifras.',
  'No chart: there was never a figure.': 'Sin gráfica: nunca hubo una cifra.',
  'No captures of this unit.': 'No hay capturas de esta unidad.',
  'Airflow measured': 'Caudal de aire medido',
  'Side-by-side checks': 'Comparaciones lado a lado',
  'Capacity of {0} over time, recorded': 'Capacidad de {0} en el tiempo, registrada',
  'Air of {0} over time, recorded': 'Aire de {0} en el tiempo, registrado',
  Why: 'Motivo',
  Conditions: 'Condiciones',
  'Unit {0}': 'Unidad {0}',
  'serial {0}': 'serie {0}',
  'Nominal capacity': 'Capacidad nominal',
  'Two visits side by side': 'Dos visitas lado a lado',
  'Back to the first': 'Volver a la primera',
  'Swap the two': 'Intercambiar las dos',
  First: 'Primera',
  Second: 'Segunda',
  'Another capture of the first': 'Otra captura de la primera',
  'Another capture of the second': 'Otra captura de la segunda',
  'No unit has the same name in both, so there is nothing to compare. Give the units the same name in the visit settings.':
    'Ninguna unidad tiene el mismo nombre en las dos, así que no hay nada que comparar. Dé a las unidades el mismo nombre en la configuración de la visita.',
  'From the beginning of each': 'Desde el inicio de cada una',
  'Captures of {0}': 'Capturas de {0}',
  'No capture of this unit, so nothing to compare.':
    'No hay captura de esta unidad, así que no hay nada que comparar.',
  'Second minus first': 'Segunda menos primera',
  'sensible\u00a0{0}': 'sensible\u00a0{0}',
  'latent\u00a0{0}': 'latente\u00a0{0}',
  'The server did not answer. Nothing is lost. Try again when the connection is back.':
    'El servidor no respondió. No se perdió nada. Reintente cuando vuelva la conexión.',
  'There is no such visit in this record any more.': 'Esa visita ya no está en este registro.',
  'The server could not read its record (status {0}). Try again. If that does not help, end Plateau and have it check its folder: plateau doctor.':
    'El servidor no pudo leer su registro (estado {0}). Reintente. Si no sirve, cierre Plateau y revise su carpeta con este comando: plateau doctor.',
  // client/words/replay.ts
  'This is a replay: nothing in it can be changed.':
    'Esto es una reproducción: aquí no se puede cambiar nada.',
  'replay, {0}': 'reproducción, {0}',
  replay: 'reproducción',
  '{0}, {1} of {2}': '{0}, {1} de {2}',
  // client/words/report.ts
  'Report (PDF)': 'Informe (PDF)',
  'Making the report…': 'Preparando el informe…',
  'The report is in your downloads.': 'El informe está en sus descargas.',
  'Share the report': 'Compartir el informe',
  'Captures (CSV)': 'Capturas (CSV)',
  'Readings (CSV)': 'Lecturas (CSV)',
  'The server did not answer, so there is no report. Nothing is lost; try again when the line is back.':
    'El servidor no respondió, así que no hay informe. No se perdió nada; reintente cuando vuelva la conexión.',
  'It could not be shared. It is in your downloads.':
    'No se pudo compartir. Está en sus descargas.',
  'The server could not make the report (status {0}). Try again in a moment.':
    'El servidor no pudo hacer el informe (estado {0}). Reintente en un momento.',
  // client/words/visits.ts
  'no captures': 'sin capturas',
  '1 capture': '1 captura',
  '{0} captures': '{0} capturas',
  'Live now': 'En vivo ahora',
  'Replay of a log': 'Reproducción de una bitácora',
  'From a log': 'De una bitácora',
  'The newest {0}. Search to find older ones.':
    'Las {0} más recientes. Busque para encontrar las anteriores.',
  '1 visit': '1 visita',
  '{0} visits': '{0} visitas',
  'Nothing recorded yet.': 'Aún no hay nada registrado.',
  '{0}, newest first.': '{0}, la más reciente primero.',
  'No visit matches. Try fewer words or other dates.':
    'Ninguna visita coincide. Use menos palabras u otras fechas.',
  '{0} found, newest first.': 'Resultado: {0}, la más reciente primero.',
  'The ± treats all errors of the two as independent. With the same probes and the same airflow, their errors are in both and partly cancel: the difference is then surer than this.':
    'El ± toma todos los errores de las dos como independientes. Con las mismas sondas y el mismo caudal de aire, las dos llevan los mismos errores y en parte se cancelan: la diferencia es entonces más segura de lo que dice el ±.',
  'One is cooling, the other heating: their difference means nothing.':
    'Una es de enfriamiento y la otra de calefacción: su diferencia no dice nada.',
  ', latent {0}': ', latente {0}',
  'sensible {0}{1}': 'sensible {0}{1}',
  'One of the two has no ±, so nobody can tell whether this is a real change.':
    'Una de las dos no tiene ±, así que no se puede saber si el cambio es real.',
  'More than its ±: a real change, as measured.': 'Más que su ±: un cambio real, según lo medido.',
};
