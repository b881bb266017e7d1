/** The whole program: an archive, a van that finds it by itself, and both of them killed in between. */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { getDocumentProxy } from 'unpdf';
import * as z from 'zod';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { readCommand } from '../../server/cli/options.ts';
import { sendingSchema } from '../../server/protocol/archive.ts';
import { type VisitItem, visitListSchema } from '../../server/protocol.ts';
import { type Cluster, POSTGRES, startCluster } from '../archive/postgres.ts';
import { record, T0, visitLines } from '../archive/visits.ts';
import { makeCertificate } from '../certificate.ts';
import { runs } from '../long.ts';
import { textOf } from '../report/pdf-text.ts';
import { built, plateau, ROOT, startServer, tempFolder } from '../program.ts';

const SOON_MS = 60_000;

describe('the command line', () => {
  test.each([
    [['archive', '--database', 'mysql://x'], /begins with postgres:/],
    [['archive', '--cert', 'a'], /--cert and --key go together/],
    [['archive', 'now'], /"now" is one too many/],
    [['archive-token', '--name', 'a'], /--role is missing: reader or van or owner/],
    [
      ['archive-token', '--role', 'boss', '--name', 'a'],
      /--role is reader or van or owner, not "boss"/,
    ],
    [['archive-token', '--role', 'reader'], /--name is missing/],
    [
      ['archive-token', '--role', 'reader', '--name', 'a', '--van', 'b'],
      /--van goes with --role van/,
    ],
    [['start', '--archive', 'example.org'], /is no address, as/],
    [['start', '--archive-token', 'f'], /--archive-token goes with --archive/],
  ])('%j is refused in words', (args, why) => {
    expect(() => readCommand(args)).toThrow(why);
  });

  test('an archive that is not there is said in one line', async () => {
    const { status, err } = await plateau(['archive', '--database', 'postgres://a@127.0.0.1:1/b']);
    expect(status).toBe(1);
    expect(err).toMatch(/^plateau: the database of the archive cannot be used: .*\n$/);
  });
});

test('the container file copies what is there, and starts what is built', async () => {
  await built();
  const lines = readFileSync(join(ROOT, 'server/archive/Containerfile'), 'utf8').split('\n');
  const copied = lines.flatMap(
    (line) => /^COPY (?!--from)(.*) \S+$/.exec(line)?.[1]?.split(' ') ?? [],
  );
  expect(copied).toEqual(expect.arrayContaining(['package-lock.json', 'server', 'client']));
  for (const file of copied) expect(existsSync(join(ROOT, file)), file).toBe(true);
  const [program] = /build\/server\/\w+\.mjs/.exec(lines.join('\n')) ?? [];
  const given = /^CMD (\[.*\])$/m.exec(lines.join('\n'))?.[1] ?? '';
  expect(existsSync(join(ROOT, program ?? ''))).toBe(true);
  const command = readCommand(z.array(z.string()).parse(JSON.parse(given)));
  expect(command).toMatchObject({ command: 'archive', host: '0.0.0.0', behindProxy: true });
});

describe.skipIf(POSTGRES === null)('an archive and a van', () => {
  const temp = tempFolder();
  let cluster: Cluster;
  let database = '';
  const running = new Set<ChildProcess>();
  beforeAll(async () => {
    await built();
    cluster = await startCluster();
    database = await cluster.newDatabase();
  });
  afterAll(async () => {
    for (const child of running) child.kill('SIGKILL');
    await cluster.end();
    temp.remove();
  });

  const token = async (...args: string[]): Promise<string> => {
    const { status, out, err } = await plateau(['archive-token', '--database', database, ...args]);
    expect(status, err).toBe(0);
    expect(err).toContain('is shown this once');
    return out.trim();
  };
  async function archive(
    port = 0,
    ...more: string[]
  ): Promise<{ child: ChildProcess; url: string }> {
    const args = ['server/launch.mjs', 'archive', '--database', database, '--port', String(port)];
    args.push(...more);
    const child = spawn(process.execPath, args, {
      cwd: ROOT,
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    running.add(child);
    const url = await new Promise<string>((resolve, reject) => {
      child.stdout.on('data', (text: Buffer) => {
        const found = /https?:\S+/.exec(text.toString())?.[0];
        if (found !== undefined) resolve(found);
      });
      child.on('close', () => reject(new Error('the archive has not started')));
    });
    return { child, url };
  }
  const listed = async (url: string, shown: string): Promise<VisitItem[]> => {
    const answer = await fetch(`${url}/api/visits`, {
      headers: { authorization: `Bearer ${shown}` },
    });
    return visitListSchema.parse(await answer.json()).visits;
  };
  const titlesOf = async (url: string, shown: string): Promise<string[]> =>
    (await listed(url, shown)).map(({ title }) => title);
  const sendingOf = async (url: string) =>
    sendingSchema.parse(await (await fetch(`${url}/api/sending`)).json());

  test('a visit that has ended goes there by itself, and the page of the van says so', async () => {
    const { url } = await archive();
    const reader = await token('--role', 'reader', '--name', 'Desk');
    const file = join(temp.path, 'token');
    writeFileSync(file, `${await token('--role', 'van', '--name', 'Van 1')}\n`, { mode: 0o600 });
    const data = join(temp.path, 'one');
    record(data, 'visit-1', visitLines({ title: 'Sent by itself' }));
    const van = await startServer('start', [
      ...['--port', '0', '--data', data, '--new-visit', '--archive', url, '--archive-token', file],
    ]);
    onTestFinished(() => void van.end());
    await expect
      .poll(() => titlesOf(url, reader), { timeout: SOON_MS })
      .toEqual(['Sent by itself']);
    await expect
      .poll(() => sendingOf(van.url), { timeout: SOON_MS })
      .toMatchObject({ archive: url, waiting: 0, trouble: null });
    expect((await sendingOf(van.url)).confirmedT).not.toBe(null);

    // What is handed over of it is at the archive what it is at the van.
    const [item] = await listed(url, reader);
    const handed = async (at: string, id: string, what: string): Promise<Uint8Array> => {
      const headers = { authorization: `Bearer ${reader}` };
      const answer = await fetch(`${at}/api/visits/${id}/${what}`, { headers });
      expect(answer.status, `${at} ${what}`).toBe(200);
      return new Uint8Array(await answer.arrayBuffer());
    };
    for (const what of ['captures.csv', 'readings.csv', 'log']) {
      const here = Buffer.from(await handed(url, item?.id ?? '', what)).toString();
      expect(here).toBe(Buffer.from(await handed(van.url, 'visit-1', what)).toString());
      expect(here.length).toBeGreaterThan(200);
    }
    const pagesOf = async (at: string, id: string): Promise<string[]> =>
      textOf(await getDocumentProxy(await handed(at, id, 'report.pdf?units=ip&language=es')));
    const pages = await pagesOf(url, item?.id ?? '');
    expect(pages.join(' ')).toContain('Sent by itself');
    expect(pages).toEqual(await pagesOf(van.url, 'visit-1'));
    const none = await fetch(`${url}/api/visits/999/report.pdf`, {
      headers: { authorization: `Bearer ${reader}` },
    });
    expect(none.status).toBe(404);
    expect(await none.json()).toEqual({ error: 'visit: there is no "999" in this archive' });
    const health: unknown = await (await fetch(`${url}/api/health`)).json();
    expect(z.looseObject({ ok: z.literal(true) }).safeParse(health).success).toBe(true);
  });

  test('over https by the README’s certificate: to who knows its authority, and to nobody else', async () => {
    const { cert, key, authority } = makeCertificate(temp.path);
    const { url } = await archive(0, '--cert', cert, '--key', key);
    expect(url).toMatch(/^https:/);
    const data = join(temp.path, 'tls');
    record(data, 'visit-1', visitLines({ title: 'Over https', t: T0 + 1e9 }));
    const shown = { PLATEAU_ARCHIVE_TOKEN: await token('--role', 'van', '--name', 'Van 3') };
    const args = ['--port', '0', '--data', data, '--archive', url];
    const stranger = await startServer('start', args, shown);
    const trouble = async (at: string) => (await sendingOf(at)).trouble;
    await expect.poll(() => trouble(stranger.url), { timeout: SOON_MS }).toMatch(/cannot be sent/);
    expect((await sendingOf(stranger.url)).waiting).toBe(1);
    await stranger.end();
    const van = await startServer('start', args, { ...shown, NODE_EXTRA_CA_CERTS: authority });
    onTestFinished(() => void van.end());
    await expect
      .poll(() => sendingOf(van.url), { timeout: SOON_MS })
      .toMatchObject({ waiting: 0, trouble: null });
    const plain = await archive();
    const reader = await token('--role', 'reader', '--name', 'Desk 3');
    expect(await titlesOf(plain.url, reader)).toContain('Over https');
  });

  test('both are killed again and again: the visits are there once, and the van has its own', async () => {
    const reader = await token('--role', 'reader', '--name', 'Desk 2');
    const env = { PLATEAU_ARCHIVE_TOKEN: await token('--role', 'van', '--name', 'Van 2') };
    const data = join(temp.path, 'two');
    const titles = Array.from({ length: 6 }, (_, i) => `Killed ${i}`);
    for (const [i, title] of titles.entries()) {
      record(
        data,
        `visit-${i}`,
        visitLines({ title, t: T0 + i * 1e7, stretch: 0.3, photo: true }, i),
      );
    }
    const first = await archive();
    const port = Number(new URL(first.url).port);
    let { child } = first;
    const { url } = first;
    const args = ['--port', '0', '--data', data, '--archive', url];
    for (let kill = 0; kill < runs(10); kill++) {
      const van = await startServer('start', args, env);
      await pause(20 + 60 * kill);
      if (kill % 2 === 0) {
        const gone = once(child, 'exit');
        child.kill('SIGKILL');
        await gone;
        ({ child } = await archive(port));
      }
      await van.end('SIGKILL');
    }
    const van = await startServer('start', args, env);
    onTestFinished(() => void van.end());
    const ours = async (): Promise<string[]> =>
      (await titlesOf(url, reader)).filter((title) => title.startsWith('Killed')).sort();
    await expect.poll(ours, { timeout: SOON_MS }).toEqual(titles);
    expect((await listed(van.url, '')).length).toBeGreaterThanOrEqual(titles.length);
  });

  test('without a token it does not start, and says what is missing', async () => {
    const data = join(temp.path, 'three');
    const { status, err } = await plateau([
      'start',
      '--data',
      data,
      '--archive',
      'http://127.0.0.1:1',
    ]);
    expect(status).toBe(2);
    expect(err).toContain("--archive needs this van's token");
  });
});
