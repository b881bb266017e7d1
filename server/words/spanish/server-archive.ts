/** What a company's archive sends, in Spanish. */
import type { Catalog } from '../language.ts';

export const SERVER_ARCHIVE: Catalog = {
  // server/archive/http/app.ts
  'token: it is not one that lets anybody in. Ask at the office for another.':
    'token: no es uno que deje entrar a nadie. Pida otro en la oficina.',
  // server/archive/http/intake.ts
  'The body is empty: send the next bytes of the visit.':
    'El cuerpo está vacío: envíe los bytes siguientes de la visita.',
  'The visit "{0}" was not taken: {1}.': 'La visita "{0}" no se recibió: {1}.',
  // server/archive/http/office.ts
  'token: there is no "{0}" that lets anybody in': 'token: no hay "{0}" que deje entrar a nadie',
  'visit: there is no "{0}" in this archive': 'visit: no hay "{0}" en este archivo',
  'site: there is no "{0}" that was not erased already':
    'site: no hay "{0}" que no se haya borrado ya',
  // server/archive/http/reading.ts
  '{0}: there is no "{1}" in this archive': '{0}: no hay "{1}" en este archivo',
  // server/archive/http/who.ts
  'This needs a token: ask at the office, and enter it on the first page.':
    'Esto necesita un token: pídalo en la oficina y escríbalo en la primera página.',
  'This token is not for that: ask at the office.':
    'Este token no es para eso: pregunte en la oficina.',
  // server/archive/database.ts
  'The database of the archive does not answer now: nothing was lost. Try again in a minute.':
    'La base de datos del archivo no responde ahora: no se perdió nada. Intente de nuevo en un minuto.',
  // server/archive/tokens.ts
  'van: there is no van "{0}"': 'van: no hay ninguna camioneta "{0}"',
  // server/archive/van/sender.ts
  'it takes no more of a visit': 'no recibe más de una visita',
  'it answers with status {0}': 'responde con el estado {0}',
  'Visits cannot be sent to the archive now: {0}. They are kept here, and sent as soon as it can be reached.':
    'Ahora no se pueden enviar visitas al archivo: {0}. Se guardan aquí y se envían en cuanto se lo pueda alcanzar.',
};
