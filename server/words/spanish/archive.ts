/** The page over a company's archive, and what is sent there, in Spanish. */
import type { Catalog } from '../language.ts';

export const ARCHIVE: Catalog = {
  // client/words/archive-sending.ts
  'A visit is on its way to the archive: {0}\u202f%.':
    'Una visita va en camino al archivo: {0}\u202f%.',
  '1 visit waits for the archive.': 'Hay 1 visita en espera de ir al archivo.',
  '{0} visits wait for the archive.': 'Hay {0} visitas en espera de ir al archivo.',
  'All finished visits are in the archive.': 'Todas las visitas terminadas están en el archivo.',
  'All finished visits are in the archive ({0}).':
    'Todas las visitas terminadas están en el archivo ({0}).',
  // client/words/archive-types.ts
  Types: 'Modelos',
  'All types': 'Todos los modelos',
  'Units of one type beside each other: which of them lie outside what their type does.':
    'Unidades de un mismo modelo, lado a lado: cuáles quedan fuera de lo que hace su modelo.',
  'No unit has a type yet. It is entered in the visit settings, for the record.':
    'Ninguna unidad tiene modelo todavía. Se ingresa en la configuración de la visita, para el registro.',
  'Nothing to compare yet: no unit of this type was judged, and no airflow was measured.':
    'Aún no hay nada que comparar: no se evaluó ninguna unidad de este modelo ni se midió su caudal.',
  'Capacity in cooling: measured over expected': 'Capacidad en enfriamiento: medida sobre esperada',
  'Capacity in heating: measured over expected': 'Capacidad en calefacción: medida sobre esperada',
  'Airflow, fan {0}': 'Caudal de aire, ventilador en {0}',
  'Airflow, fan speed not told': 'Caudal de aire, velocidad del ventilador no indicada',
  Outside: 'Fuera',
  'At the edge': 'En el límite',
  'No unit lies outside.': 'Ninguna unidad queda fuera.',
  mean: 'media',
  '95 % lie within': 'el 95 % queda dentro',
  '99.8 % lie within': 'el 99.8 % queda dentro',
  '± of each, % of it': '± de cada una, en % de ella',
  'All of them': 'Todas',
  Unit: 'Unidad',
  Figure: 'Cifra',
  'Where it lies': 'Dónde queda',
  '1 unit, judged': '1 unidad, evaluada',
  '1 unit, not judged yet': '1 unidad, aún sin evaluar',
  '{0} units, {1} of them judged': '{0} unidades, {1} de ellas evaluadas',
  within: 'dentro',
  'at the edge': 'en el límite',
  'outside, too low': 'fuera, demasiado baja',
  'outside, too high': 'fuera, demasiado alta',
  'One unit only: there is nothing to lay it beside.':
    'Una sola unidad: no hay con qué compararla.',
  '{0} units, mean {1}.': '{0} unidades, media {1}.',
  '{0} Those inside differ by no more than their ± explain.':
    '{0} Las que quedan dentro no difieren más de lo que explican sus ±.',
  '{0} Those inside differ among themselves by {1} (standard deviation) beside what their ± explain.':
    '{0} Las que quedan dentro difieren entre sí en {1} (desviación estándar) además de lo que explican sus ±.',
  '{0} They differ by no more than their ± explain.':
    '{0} No difieren más de lo que explican sus ±.',
  '{0} They differ among themselves by {1} (standard deviation) beside what their ± explain.':
    '{0} Difieren entre sí en {1} (desviación estándar) además de lo que explican sus ±.',
  '{0} units, none of them outside.': '{0} unidades, ninguna fuera.',
  '{0} units. Outside: {1}.': '{0} unidades. Fuera: {1}.',
  // client/words/archive-units.ts
  Units: 'Unidades',
  'name, type, serial, address …': 'nombre, modelo, serie, dirección …',
  'Unit without a name': 'Unidad sin nombre',
  'All units': 'Todas las unidades',
  'Captured capacity over the years, with 95 % intervals':
    'Capacidad capturada a lo largo de los años, con intervalos del 95 %',
  'Measured over expected': 'Medida sobre esperada',
  'Measured over expected capacity over the years, with 95 % intervals':
    'Capacidad medida sobre esperada a lo largo de los años, con intervalos del 95 %',
  'Measured airflow over the years, with 95 % intervals':
    'Caudal de aire medido a lo largo de los años, con intervalos del 95 %',
  'as expected': 'como se espera',
  baseline: 'línea base',
  'No capture of this unit yet.': 'Aún no hay capturas de esta unidad.',
  'Nothing was expected of it yet: no visit had the maker’s figures.':
    'Aún no se sabe qué esperar de ella: ninguna visita tenía las cifras del fabricante.',
  'No airflow of this unit was measured yet.': 'Aún no se midió el caudal de esta unidad.',
  'As a table': 'Como tabla',
  Visit: 'Visita',
  'Of expected': 'De lo esperado',
  'All units of type {0}': 'Todas las unidades del modelo {0}',
  'What was personal of this site was erased on {0}. The measurements are as they were.':
    'Los datos personales de este sitio se borraron el {0}. Las mediciones están como estaban.',
  'no visits': 'sin visitas',
  '1 visit, on {0}': '1 visita, el {0}',
  '{0} visits, the last on {1}': '{0} visitas, la última el {1}',
  'No unit matches. Try fewer words.': 'Ninguna unidad coincide. Pruebe con menos palabras.',
  'No van has sent a unit yet.': 'Ninguna camioneta ha enviado una unidad todavía.',
  'The 200 that were visited last. Search to find others.':
    'Las 200 visitadas más recientemente. Busque para encontrar otras.',
  '1 unit.': '1 unidad.',
  '{0} units, the one that was visited last first.':
    '{0} unidades, primero la visitada más recientemente.',
  '{0}, fan {1}': '{0}, ventilador en {1}',
  'One figure, of {0}.': 'Una cifra, del {0}.',
  '{0} figures, from {1} to {2}. The table below says each.':
    '{0} cifras, del {1} al {2}. La tabla de abajo dice cada una.',
  // client/words/archive.ts
  'Company archive': 'Archivo de la empresa',
  'Places of the archive': 'Lugares del archivo',
  'Forget the token here': 'Olvidar la clave aquí',
  'Asking the archive. This takes a moment.': 'Consultando el archivo. Tarda un momento.',
  'The archive did not answer. Nothing is lost. Try again when the connection is back.':
    'El archivo no respondió. No se perdió nada. Inténtelo de nuevo cuando vuelva la conexión.',
  'This token is a van’s: it lets the van’s computer send its visits. Looking takes a reader’s token: ask at the office.':
    'Esta clave es de una camioneta: permite que su computadora envíe sus visitas. Para consultar hace falta una clave de lector: pídala en la oficina.',
  'This place is the owner’s. The token that was entered here is a reader’s.':
    'Este lugar es del propietario. La clave que se ingresó aquí es de lector.',
  Office: 'Oficina',
  'This is what the vans of a company have measured, kept in one place. It opens to whoever has a token.':
    'Esto es lo que han medido las camionetas de una empresa, guardado en un solo lugar. Se abre a quien tenga una clave.',
  'Ask at the office for a token: a reader’s shows everything and changes nothing.':
    'Pida una clave en la oficina: la de lector muestra todo y no cambia nada.',
  Token: 'Clave',
  'Open the archive': 'Abrir el archivo',
  'Opening …': 'Abriendo …',
  'The token is missing. Enter it, all of its letters and digits.':
    'La clave falta. Ingrésela con todas sus letras y cifras.',
  'The token was withdrawn, or is forgotten here. Enter one to go on.':
    'La clave se retiró o se olvidó aquí. Ingrese una para continuar.',
  '{0}, owner': '{0}, propietario',
  '{0}, van': '{0}, camioneta',
  '{0}, reader': '{0}, lector',
  'Measured by {0}.': 'Medida por {0}.',
  'Its units over the years': 'Sus unidades a lo largo de los años',
  // client/words/office.ts
  Tokens: 'Claves',
  'Each person and each van has a token of its own. One that is lost is withdrawn, and opens nothing from that moment.':
    'Cada persona y cada camioneta tiene su propia clave. La que se pierde se retira, y desde ese momento no abre nada.',
  'Make a token': 'Crear una clave',
  'Make it': 'Crearla',
  'For whom': 'Para quién',
  'The name is missing. Enter whose token it is.': 'El nombre falta. Ingrese de quién es la clave.',
  'Which van': 'Qué camioneta',
  'A new van': 'Una camioneta nueva',
  'Another computer of {0}': 'Otra computadora de {0}',
  'The token for {0}': 'La clave para {0}',
  'It is shown this once, and stands nowhere else. Copy it now, and hand it over.':
    'Se muestra solo esta vez y no está en ningún otro lugar. Cópiela ahora y entréguela.',
  'The new token': 'La clave nueva',
  'Copy it': 'Copiarla',
  'It is copied.': 'Está copiada.',
  'This browser does not let the page copy. The token is marked: copy it from there.':
    'Este navegador no deja que la página copie. La clave está marcada: cópiela desde ahí.',
  'I have it': 'Ya la tengo',
  'Withdraw the token of {0}?': '¿Retirar la clave de {0}?',
  'From now on it opens nothing. What was sent with it stays.':
    'Desde ahora no abre nada. Lo que se envió con ella se queda.',
  'Withdraw it': 'Retirarla',
  'No tokens yet.': 'Aún no hay claves.',
  'What was done': 'Lo que se hizo',
  'The database itself writes this down, and nobody can change it.':
    'La propia base de datos lo anota, y nadie puede cambiarlo.',
  'Nothing was done yet.': 'Aún no se hizo nada.',
  'Tokens that were made': 'Claves que se crearon',
  'Somebody who looks': 'Alguien que consulta',
  'A van that sends': 'Una camioneta que envía',
  'An owner': 'Un propietario',
  reader: 'lector',
  van: 'camioneta',
  owner: 'propietario',
  '{0}, made {1}': '{0}, creada el {1}',
  '{0}, made {1}, withdrawn {2}': '{0}, creada el {1}, retirada el {2}',
  'made token {0} for {1}, {2}': 'creó la clave {0} para {1}, {2}',
  'withdrew token {0} of {1}, {2}': 'retiró la clave {0} de {1}, {2}',
  'deleted visit {0}': 'eliminó la visita {0}',
  'erased what is personal of site {0}': 'borró los datos personales del sitio {0}',
  'Delete this visit': 'Eliminar esta visita',
  'Delete this visit?': '¿Eliminar esta visita?',
  'What goes: its readings, captures, airflows, checks and photos, in all versions that were ever sent.':
    'Se va: sus lecturas, capturas, caudales, comparaciones y fotos, en todas las versiones que se hayan enviado.',
  'What stays: the van’s own record, and backups until they run out. If the visit is changed in the van, it is sent again.':
    'Se queda: el registro de la propia camioneta, y las copias de seguridad hasta que caduquen. Si la visita se cambia en la camioneta, se envía de nuevo.',
  'Delete it': 'Eliminarla',
  'Erase what is personal': 'Borrar los datos personales',
  'Erase what is personal of this site?': '¿Borrar los datos personales de este sitio?',
  'What goes, from all visits to this site: title, address, customer, technician, reasons, notes, names of rooms, serial numbers and photos.':
    'Se va, de todas las visitas a este sitio: título, dirección, cliente, técnico, motivos, notas, nombres de cuartos, números de serie y fotos.',
  'What stays: readings, captures, verdicts and airflows, to the digit. The vans’ own records and backups are not reached: erase there as well.':
    'Se queda: lecturas, capturas, veredictos y caudales, cifra por cifra. No alcanza a los registros de las camionetas ni a las copias de seguridad: borre también ahí.',
  'Nobody can undo this. The site is not known again: a later visit there begins a new one.':
    'Nadie puede deshacerlo. El sitio no se reconoce más: una visita posterior ahí empieza uno nuevo.',
  'Erase it': 'Borrarlos',
  // client/words/probe-book.ts
  'Probe book': 'Libro de sondas',
  'All probes': 'Todas las sondas',
  'Each probe over all side-by-side checks, in whichever van. A calibration is due after a year.':
    'Cada sonda a lo largo de todas las comparaciones lado a lado, en cualquier camioneta. La calibración vence al cabo de un año.',
  'No van has sent a probe yet.': 'Ninguna camioneta ha enviado una sonda todavía.',
  'Calibration due': 'Calibración vencida',
  Temperature: 'Temperatura',
  'Temperature offset from the others over the years, with 95 % intervals':
    'Diferencia de temperatura con las otras a lo largo de los años, con intervalos del 95 %',
  'Humidity offset from the others over the years, with 95 % intervals':
    'Diferencia de humedad con las otras a lo largo de los años, con intervalos del 95 %',
  Offset: 'Diferencia',
  Check: 'Comparación',
  Beside: 'Junto a',
  'No check has found an offset yet.': 'Ninguna comparación ha hallado una diferencia todavía.',
  'no offset': 'sin diferencia',
  'Never checked.': 'Nunca comparada.',
  '1 check': '1 comparación',
  '{0} checks': '{0} comparaciones',
  '{0}, the last on {1}.': '{0}, la última el {1}.',
  '{0}, the last on {1}: it agreed.': '{0}, la última el {1}: coincidió.',
  '{0}, the last on {1}: it did not agree.': '{0}, la última el {1}: no coincidió.',
  'Nobody has entered when it was calibrated.': 'Nadie ha ingresado cuándo se calibró.',
  'Calibrated {0}. The next calibration was due {1}.':
    'Calibrada el {0}. La siguiente calibración vencía el {1}.',
  'Calibrated {0}. The next calibration is due {1}.':
    'Calibrada el {0}. La siguiente calibración vence el {1}.',
  'Too few checks over too short a time to tell whether it drifts.':
    'Muy pocas comparaciones en muy poco tiempo para saber si tiene deriva.',
  'It drifts: {0} a year. That is clear.': 'Tiene deriva: {0} al año. Es clara.',
  'No clear drift: {0} a year.': 'Sin deriva clara: {0} al año.',
  'Drawn on to today: {0}.': 'Prolongada hasta hoy: {0}.',
  '1 other': '1 más',
  '{0} others': '{0} más',
  // client/words/visits.ts
  ', by {0}': ', por {0}',
  // client/words/refusals.ts
  'The token': 'La clave',
};
