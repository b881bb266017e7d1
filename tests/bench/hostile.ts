/** Bodies that cost as much as they can for their bytes, for the test and the benchmark of the doors. */

const MIB = 1024 * 1024;
/** A little less than the largest body that is taken. */
const LARGEST = 4 * MIB - 64;

const repeated = (text: string, bytes = LARGEST): string =>
  text.repeat(Math.floor(bytes / text.length));

/** Readings of two probes, `everyMs` apart, from `fromT` on, in so many bytes. */
function seldom(fromT: number, everyMs: number, bytes: number): string {
  const lines: string[] = [];
  let size = 0;
  for (let t = fromT; size < bytes; t += everyMs) {
    for (const probe of ['ra', 'sa']) {
      const line = `{"type":"reading","t":${t},"probe":"${probe}","temperatureC":21}\n`;
      lines.push(line);
      size += line.length;
    }
  }
  return lines.join('');
}

export interface Hostile {
  name: string;
  type: 'application/x-ndjson' | 'application/json';
  body: string;
}

/** @param now readings end before it, ms since the epoch */
export function hostileBodies(now: number): Hostile[] {
  const lines = (name: string, body: string): Hostile => ({
    name,
    type: 'application/x-ndjson',
    body,
  });
  const array = (name: string, body: string): Hostile => ({ name, type: 'application/json', body });
  const objects = '{"t":1,"probe":"p","powerW":"x"}\n';
  const halfHours = 1_800_000;
  return [
    lines('newlines', repeated('\n')),
    lines('1, a line each', repeated('1\n')),
    lines('an open brace, a line each', repeated('{\n')),
    lines('objects that are no readings', repeated(objects)),
    lines('one line', repeated('x')),
    lines('readings without end, all of one time', repeated('{"t":5,"probe":"p","powerW":1}\n')),
    array('a list in a list in a list', '['.repeat(LARGEST)),
    array('empty objects in a list', `[${repeated('{},')}{}]`),
    array('numbers in a list', `[${repeated('1,')}1]`),
    lines('every half hour', seldom(now - 26_000 * halfHours, halfHours, 2.9 * MIB)),
  ];
}
