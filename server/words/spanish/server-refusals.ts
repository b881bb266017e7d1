/** Server refusals, in Spanish. */
import type { Catalog } from '../language.ts';

export const SERVER_REFUSALS: Catalog = {
  // server/session/capture-pair.ts
  'photo: "{0}" is not on this capture': 'photo: "{0}" no está en esta captura',
  'photo: this photo is on this capture already: nothing was added':
    'photo: esta foto ya está en esta captura: no se agregó nada',
  'photo: it would be one too many: a capture has at most {0} photos; take one off first':
    'photo: sería una de más: una captura tiene como máximo {0} fotos; quite una primero',
  'from: no capture of "{0}" by {1} begins at {2}: name one as it was told (the newest {3} of a unit can be struck or remarked on)':
    'from: ninguna captura de "{0}" por {1} empieza en {2}: nómbrela tal como se comunicó (se pueden tachar o comentar las {3} más recientes de una unidad)',
  'from: no capture of "{0}" by {1} begins at {2} and ends at {3}: name one as it was told (the newest {4} of a unit can be struck or remarked on)':
    'from: ninguna captura de "{0}" por {1} empieza en {2} y termina en {3}: nómbrela tal como se comunicó (se pueden tachar o comentar las {4} más recientes de una unidad)',
  // server/session/photos.ts
  'id: the photo "{0}" is there already': 'id: la foto "{0}" ya está',
  'part: {0} of {1} does not follow: the pieces of a photo come one after another, from 0 on':
    'part: {0} de {1} no sigue: las partes de una foto llegan una tras otra, desde 0',
  'photo: it would be one too many: a visit has at most {0} photos, those included that were taken off a capture; begin another visit for more':
    'photo: sería una de más: una visita tiene como máximo {0} fotos, incluidas las que se quitaron de una captura; empiece otra visita para agregar más',
  // server/session/probe.ts
  't: {0}: the probe "{1}" has sent a reading of that time already':
    't: {0}: la sonda "{1}" ya envió una lectura de esa hora',
  // server/session/room.ts
  'unit: "{0}" would be one too many: a visit has at most {1} units; begin another visit for more':
    'unit: "{0}" sería una de más: una visita tiene como máximo {1} unidades; empiece otra visita para agregar más',
  'probe: "{0}" would be one too many: {1} probes are told of that have sent nothing yet; forget some of them, or begin another visit':
    'probe: "{0}" sería una de más: hay {1} sondas anunciadas que todavía no han enviado nada; olvide algunas o empiece otra visita',
  'probe: "{0}" would be one too many: a visit has at most {1} probes; forget some of them, or begin another visit':
    'probe: "{0}" sería una de más: una visita tiene como máximo {1} sondas; olvide algunas o empiece otra visita',
  // server/session/told-events.ts
  'event: there is no event "{0}" in this visit (its newest {1} can be amended)':
    'event: no hay ningún evento "{0}" en esta visita (se pueden corregir los {1} más recientes)',
  'text: is missing, and so is toT; give the new name, the new time or both':
    'text: falta, y también toT; dé el nuevo nombre, la nueva hora o ambos',
  'toT: an event of the kind {0} is not dated anew, it happened when it was told; it may be named':
    'toT: un evento del tipo {0} no cambia de hora, ocurrió cuando se comunicó; se le puede cambiar el nombre',
  'toT: {0} lies in the future of this visit; the latest is {1}':
    'toT: {0} está en el futuro de esta visita; el límite es {1}',
  'toT: {0} is more than an hour from {1}, where the event is; move it by less':
    'toT: {0} está a más de una hora de {1}, donde está el evento; muévalo menos',
  // server/session/unit.ts
  'unit: "{0}" cycles, {1}': 'unit: "{0}" está en ciclos, {1}',
  'unit: "{0}" is not steady: there is no mean yet that could be written down; wait until it is called steady, or cycling':
    'unit: "{0}" no está estable: todavía no hay un promedio que anotar; espere a que se indique estable o en ciclos',
  // server/session.ts
  'probe: "{0}" is a live probe of the source "{1}"; give yours another id':
    'probe: "{0}" es una sonda activa de la fuente "{1}"; dé otro id a la suya',
  'id: "{0}" would be one too many: a visit has at most {1} outdoor units':
    'id: "{0}" sería una de más: una visita tiene como máximo {1} unidades exteriores',
  'probe: "{0}" lies in a side-by-side check: end the check, then forget it':
    'probe: "{0}" está en una comparación lado a lado: termine la comparación y luego olvídela',
  'probe: "{0}" is being walked along a place: end the walk, then forget it':
    'probe: "{0}" está en un recorrido: termine el recorrido y luego olvídela',
  'probe: "{0}" traverses an outlet: end the traverse, then forget it':
    'probe: "{0}" mide una salida: termine el recorrido de medición y luego olvídela',
  'text: is missing, and so is photo: give the note, the id of a photo, or both':
    'text: falta, y también photo: dé la nota, el id de una foto, o ambos',
  'photo: "{0}" is not in this visit, or pieces of it are missing: send it again':
    'photo: "{0}" no está en esta visita, o le faltan partes: envíela otra vez',
  'from: is missing: name a capture by from and by, or an airflow by airflowT':
    'from: falta: nombre una captura con from y by, o un caudal de aire con airflowT',
  // server/photo/photos.ts
  'This picture takes too long to be read: take another one, or make it smaller. Nothing was added.':
    'Leer esta imagen toma demasiado tiempo: tome otra o hágala más pequeña. No se agregó nada.',
  'This picture could not be read: take another one, or make it smaller. Nothing was added.':
    'No se pudo leer esta imagen: tome otra o hágala más pequeña. No se agregó nada.',
  // server/photo/reencode.ts
  'This is no picture that can be read: send a JPEG or a PNG that is whole. Nothing was added.':
    'Esta no es una imagen que se pueda leer: envíe un JPEG o un PNG completo. No se agregó nada.',
  'This picture has {0} × {1} pixels, too many to be taken: make it smaller than {2} million. Nothing was added.':
    'Esta imagen tiene {0} × {1} píxeles, demasiados para aceptarla: hágala de menos de {2} millones. No se agregó nada.',
  // server/http/access/book.ts
  'The visit has ended. Ask at the computer for a new code.':
    'La visita terminó. Pida un código nuevo en la computadora.',
  'The class has ended.': 'La clase terminó.',
  'The instructor has taken you out of the class.': 'El instructor lo sacó de la clase.',
  // server/http/access/routes.ts
  'code: it is not one that can be used; each works once, for ten minutes. Ask for another at the computer.':
    'code: no es uno que se pueda usar; cada uno sirve una vez, por diez minutos. Pida otro en la computadora.',
  'There is no room for one more phone: withdraw one at the computer first.':
    'No cabe otro teléfono: primero retire uno en la computadora.',
  'You were signed off at the computer. Ask there for a new code.':
    'En la computadora se cerró su sesión. Pida ahí un código nuevo.',
  'You have signed off.': 'Cerró su sesión.',
  'Start Plateau with --lan to let phones in: no code was made.':
    'Inicie Plateau con --lan para dejar entrar teléfonos: no se creó ningún código.',
  'Too many wrong codes: wait {0} seconds, then try again.':
    'Demasiados códigos incorrectos: espere {0} segundos e intente otra vez.',
  'phone: there is no "{0}" that is let in': 'phone: no hay ningún "{0}" con acceso',
  // server/http/access/who.ts
  'Only the computer that runs Plateau may use it. Start it there with --lan to let phones in.':
    'Solo puede usarlo la computadora que ejecuta Plateau. Inícielo ahí con --lan para dejar entrar teléfonos.',
  'This needs a code: ask at the computer that runs Plateau, and enter it on the first page.':
    'Esto necesita un código: pídalo en la computadora que ejecuta Plateau e ingréselo en la primera página.',
  'You are let in to look, not to change anything: ask for an operator code at the computer.':
    'Usted puede ver, pero no cambiar nada: pida un código de operador en la computadora.',
  'In a class this is the instructor’s: nothing was changed.':
    'En una clase esto le toca al instructor: no se cambió nada.',
  'This can only be done at the computer that runs Plateau.':
    'Esto solo se puede hacer en la computadora que ejecuta Plateau.',
  // server/http/answers.ts
  'Too many calls in a minute: wait {0} seconds, then go on.':
    'Demasiadas solicitudes en un minuto: espere {0} segundos y continúe.',
  // server/http/app.ts
  'The class has ended, and your visit with it.': 'La clase terminó, y con ella su visita.',
  // server/http/class.ts
  'id: "{0}" is a lesson that is built in: choose another id':
    'id: "{0}" es una lección incluida en Plateau: elija otro id',
  'trainee: there is no "{0}" in this class': 'trainee: no hay ningún "{0}" en esta clase',
  'lesson: there is no "{0}"': 'lesson: no hay ninguna "{0}"',
  'probe: in a class the probes are those of the lesson; nothing of this was taken':
    'probe: en una clase las sondas son las de la lección; no se aceptó nada de esto',
  'You are in no class: join one with its code.':
    'Usted no está en ninguna clase: entre a una con su código.',
  'The lesson has ended: what you found stands, and nothing of this was taken.':
    'La lección terminó: lo que usted encontró queda como está, y no se aceptó nada de esto.',
  // server/http/errors.ts
  'The body is too large: at most {0} MiB of readings, {1} MiB of a picture (64 KiB elsewhere) are taken at once. Send less.':
    'El contenido es demasiado grande: se aceptan como máximo {0} MiB de lecturas, {1} MiB de una imagen (64 KiB en lo demás) a la vez. Envíe menos.',
  'This content type is not taken: send application/x-ndjson (readings, one a line) or application/json; of a picture image/jpeg or image/png.':
    'Este tipo de contenido no se acepta: envíe application/x-ndjson (lecturas, una por línea) o application/json; para una imagen, image/jpeg o image/png.',
  'The body is empty: send a JSON object.': 'El contenido está vacío: envíe un objeto JSON.',
  'The body is not JSON: check for a missing quote or bracket.':
    'El contenido no es JSON: revise si falta una comilla o un corchete.',
  'is not accepted': 'no se acepta',
  'The server failed at this call; its own output says more. Try again.':
    'El servidor falló en esta solicitud; sus propios mensajes dicen más. Intente otra vez.',
  'There is nothing at {0} {1}: /api/docs lists the calls.':
    'No hay nada en {0} {1}: /api/docs muestra la lista de solicitudes.',
  // server/http/keys.ts
  'a key has {0} hexadecimal digits (0 to 9, a to f)':
    'una clave tiene {0} dígitos hexadecimales (0 a 9, a a f)',
  'key: is not a text: {0}': 'key: no es un texto: {0}',
  'key: holds other characters than digits: {0}': 'key: tiene caracteres que no son dígitos: {0}',
  'key: has {0} digits: {1}': 'key: tiene {0} dígitos: {1}',
  // server/http/photos.ts
  'photo: nothing is recorded here that could hold it':
    'photo: aquí no se registra nada que pueda guardarla',
  'Too many pictures are waiting to be taken: nothing of this was. Send it again soon.':
    'Hay demasiadas imágenes en espera: no se aceptó nada de esto. Envíelo otra vez en un momento.',
  'The body is empty: send a picture, a JPEG or a PNG.':
    'El contenido está vacío: envíe una imagen, JPEG o PNG.',
  'photo: there is no "{0}" in this record': 'photo: no hay ninguna "{0}" en este registro',
  'photo: pieces of "{0}" are missing or were changed; a backup may hold it':
    'photo: faltan partes de "{0}" o se cambiaron; tal vez esté en una copia de respaldo',
  // server/http/replay.ts
  'Nothing is being replayed here: start Plateau with --replay FILE to play a visit log.':
    'Aquí no se reproduce nada: inicie Plateau con --replay ARCHIVO para reproducir una bitácora de visita.',
  'This is a replay of a visit log: it cannot be altered, and nothing of this was taken. To measure, start Plateau without --replay.':
    'Esto es la reproducción de una bitácora de visita: no se puede cambiar, y no se aceptó nada de esto. Para medir, inicie Plateau sin --replay.',
  'The body says nothing: give speed, paused or toT':
    'El contenido no dice nada: dé speed, paused o toT',
  // server/http/reports.ts
  'Too many reports are waiting to be made. Ask again soon.':
    'Hay demasiados informes en espera. Pídalo otra vez en un momento.',
  'visit: there is no visit "{0}" in this record; a quick look is recorded once it is kept':
    'visit: no hay ninguna visita "{0}" en este registro; una vista rápida se registra cuando se guarda',
  // server/http/setup.ts
  't: {0} lies in the future of this visit; leave it out for now':
    't: {0} está en el futuro de esta visita; por ahora no lo incluya',
  '{0}: there is no {1} "{2}" in this visit': '{0}: no existe {1} "{2}" en esta visita',
  // server/http/simulation.ts
  'Nothing is simulated here: take the probe in your own hand.':
    'Aquí no se simula nada: tome la sonda en su mano.',
  'probe: there is no simulated probe "{0}" in this demo':
    'probe: no hay ninguna sonda simulada "{0}" en esta demostración',
  // server/http/visits.ts
  'Earlier visits can be seen at the computer that runs Plateau: phones are let into this visit only.':
    'Las visitas anteriores se ven en la computadora que ejecuta Plateau: los teléfonos solo tienen acceso a esta visita.',
  'visit: nothing is recorded here, so there is no other visit':
    'visit: aquí no se registra nada, así que no hay otra visita',
  'visit: there is no visit "{0}" in this record':
    'visit: no hay ninguna visita "{0}" en este registro',
  // server/visit.ts
  'Another visit is being opened: send it again in a moment.':
    'Se está abriendo otra visita: envíelo otra vez en un momento.',
  // server/class/classroom.ts
  'A class is open: close it before you begin another lesson.':
    'Hay una clase abierta: ciérrela antes de empezar otra lección.',
  'size: {0} is outside {1} to {2}': 'size: {0} está fuera de {1} a {2}',
  'kind: "{0}" is there from the start of a lesson or not at all':
    'kind: "{0}" está desde el inicio de la lección, o no está',
  'kind: "{0}" does not occur in {1}': 'kind: "{0}" no ocurre en {1}',
  'There is no class: open one first.': 'No hay ninguna clase: abra una primero.',
  'The lesson has ended: close the class, and begin another.':
    'La lección terminó: cierre la clase y empiece otra.',
};
