/** Server sources, in Spanish. */
import type { Catalog } from '../language.ts';

export const SERVER_SOURCES: Catalog = {
  // server/sources/error-text.ts
  'The error cannot be put into words.': '',
  // server/sources/run.ts
  'It could not start': '',
  'It failed': '',
  'It failed: {0}': '',
  'Its stop had not ended after {0} s.': '',
  'Its stop failed: {0}': '',
  'A link needs a probe and one of connecting, connected, lost.': '',
  'It sent lines in an endless loop, far more than {0}.': '',
  'The adapter has been stopped.': '',
  'It sends more than {0}: this line was dropped.': '',
  '{0} lines a second': '',
  'Plateau could not take in a line: {0}': '',
  '1 line was': '',
  '{0} lines were': '',
  '{0} refused, the last one because: {1}': '',
  'It gave a status that is none of running, unavailable, retrying.': '',
  'It gives no reason.': '',
  'It kept sending more than {0}.': '',
  'It had not started after {0} s.': '',
  '{0} lines over {1} a second were dropped': '',
  'It sends too much: {0}.': '',
  // server/sources/scope.ts
  'It called {0}, which would end the whole server': '',
  // server/sources/state-text.ts
  'No readings since {0}.': '',
  // server/sources/supervised.ts
  'It is started again after a pause of {0} s.': '',
  'Something that it left behind failed: {0}': '',
  // server/sources/supervisor.ts
  'There are two adapters of the name "{0}"; rename one of them.': '',
  'The adapter {0} cannot be used: there is an adapter "{1}" already; give it another name.': '',
  // server/store/visit-record.ts
  '{0} is gone': '',
  'No more fits into memory: readings are refused': '',
  'What comes is kept in memory': '',
  'The visit is not being recorded: {0}. {1}. Free some space, see to the folder {2}, or choose another with --data.':
    '',
};
