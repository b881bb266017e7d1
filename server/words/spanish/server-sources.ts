/** Server sources, in Spanish. */
import type { Catalog } from '../language.ts';

export const SERVER_SOURCES: Catalog = {
  // server/sources/error-text.ts
  'The error cannot be put into words.': 'El error no se puede expresar en palabras.',
  // server/sources/run.ts
  'It could not start: {0}': 'No pudo iniciar: {0}',
  'It failed: {0}': 'Falló: {0}',
  'Its stop had not ended after {0} s.': 'Después de {0} s todavía no se había detenido.',
  'Its stop failed: {0}': 'Falló al detenerse: {0}',
  'A link needs a probe and one of connecting, connected, lost.':
    'Un enlace necesita una sonda y uno de connecting, connected, lost.',
  'It sent lines in an endless loop, far more than {0}.':
    'Envió líneas en un ciclo sin fin, muchas más de {0}.',
  'The adapter has been stopped.': 'El adaptador se detuvo.',
  'It sends more than {0}: this line was dropped.': 'Envía más de {0}: esta línea se descartó.',
  '{0} lines a second': '{0} líneas por segundo',
  'Plateau could not take in a line: {0}': 'Plateau no pudo recibir una línea: {0}',
  '1 line was refused, because: {0}': 'Se rechazó 1 línea, porque: {0}',
  '{0} lines were refused, the last one because: {1}':
    'Se rechazaron {0} líneas, la última porque: {1}',
  'It gave a status that is none of running, unavailable, retrying.':
    'Dio un estado que no es running, unavailable ni retrying.',
  'It gives no reason.': 'No da ningún motivo.',
  'It kept sending more than {0}.': 'Siguió enviando más de {0}.',
  'It had not started after {0} s.': 'Después de {0} s todavía no había iniciado.',
  '{0} lines over {1} a second were dropped':
    'se descartaron {0} líneas que pasaban de {1} por segundo',
  'It sends too much: {0}.': 'Envía demasiado: {0}.',
  // server/sources/scope.ts
  'It called {0}, which would end the whole server':
    'Llamó a {0}, lo que detendría todo el servidor',
  // server/sources/state-text.ts
  'No readings since {0}.': 'No hay lecturas desde {0}.',
  // server/sources/supervised.ts
  'It is started again after a pause of {0} s.':
    'Se inicia otra vez después de una pausa de {0} s.',
  'Something that it left behind failed: {0}': 'Falló algo que dejó pendiente: {0}',
  // server/sources/supervisor.ts
  'There are two adapters of the name "{0}"; rename one of them.':
    'Hay dos adaptadores con el nombre "{0}"; cámbiele el nombre a uno.',
  'The adapter {0} cannot be used: there is an adapter "{1}" already; give it another name.':
    'El adaptador {0} no se puede usar: ya hay un adaptador "{1}"; póngale otro nombre.',
  // server/store/visit-record.ts
  '{0} is gone': '{0} ya no existe',
  'No more fits into memory: readings are refused':
    'No cabe más en la memoria: se rechazan lecturas',
  'What comes is kept in memory': 'Lo que llega se guarda en la memoria',
  'The visit is not being recorded: {0}. {1}. Free some space, see to the folder {2}, or choose another with --data.':
    'La visita no se está registrando: {0}. {1}. Libere espacio, revise la carpeta {2} o elija otra con --data.',
};
