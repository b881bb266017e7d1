/** What an archive's server refuses, and a van's says of sending, in Spanish. */
import type { Catalog } from '../language.ts';

export const SERVER_ARCHIVE: Catalog = {
  // server/archive/http/
  'token: it is not one that lets anybody in. Ask at the office for another.':
    'token: no es una clave que abra el archivo. Pida otra en la oficina.',
  'The body is empty: send the next bytes of the visit.':
    'El cuerpo está vacío: envíe los siguientes bytes de la visita.',
  'The visit "{0}" was not taken: {1}.': 'La visita "{0}" no se aceptó: {1}.',
  'token: there is no "{0}" that lets anybody in':
    'token: no hay ninguna "{0}" que abra el archivo',
  'visit: there is no "{0}" in this archive': 'visit: no hay ninguna "{0}" en este archivo',
  'site: there is no "{0}" that was not erased already':
    'site: no hay ninguno "{0}" que no esté borrado ya',
  '{0}: there is no "{1}" in this archive': '{0}: no hay "{1}" en este archivo',
  'This needs a token: ask at the office, and enter it on the first page.':
    'Esto requiere una clave: pídala en la oficina e ingrésela en la primera página.',
  'This token is not for that: ask at the office.':
    'Esta clave no es para eso: pregunte en la oficina.',
  // server/archive/database.ts
  'The database of the archive does not answer now: nothing was lost. Try again in a minute.':
    'La base de datos del archivo no responde ahora: no se perdió nada. Intente de nuevo en un minuto.',
  // server/archive/tokens.ts
  'van: there is no van "{0}"': 'van: no hay ninguna camioneta "{0}"',
  // server/archive/van/sender.ts
  'it takes no more of a visit': 'no acepta más de una visita',
  'it answers with status {0}': 'responde con el estado {0}',
  'Visits cannot be sent to the archive now: {0}. They are kept here, and sent as soon as it can be reached.':
    'Ahora no se pueden enviar visitas al archivo: {0}. Se conservan aquí y se envían en cuanto se pueda llegar a él.',
};
