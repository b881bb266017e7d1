/** An archive over a PostgreSQL of its own, with vans that send to it through a line that can be cut. */
import { connect, createServer, type Server, type Socket } from 'node:net';
import { once } from 'node:events';
import type { FastifyInstance } from 'fastify';
import { ArchiveDatabase } from '../../server/archive/database.ts';
import { buildArchive } from '../../server/archive/http/app.ts';
import type { MakeReport } from '../../server/archive/reports.ts';
import { archivedLog, visitKey } from '../../server/archive/visits.ts';
import { Sender } from '../../server/archive/van/sender.ts';
import { newVan, READER } from './people.ts';
import { type Cluster, startCluster } from './postgres.ts';
import { T0 } from './visits.ts';

export interface ArchiveStage {
  cluster: Cluster;
  db: ArchiveDatabase;
  app: FastifyInstance;
  url: string;
  /** The database's URL, as its own login. */
  databaseUrl: string;
  end: () => Promise<void>;
}

export interface StageOptions {
  /** Of the built page, where one is looked at. */
  clientDir?: string;
  makeReport?: MakeReport;
  /** Of `postgresql.conf`. */
  settings?: readonly string[];
}

export async function archiveStage({
  clientDir = '/nowhere',
  makeReport = () => Promise.reject(new Error('no thread is built here')),
  settings = [],
}: StageOptions = {}): Promise<ArchiveStage> {
  const cluster = await startCluster(settings);
  const databaseUrl = await cluster.newDatabase();
  const db = await ArchiveDatabase.open(databaseUrl);
  const app = await buildArchive({
    ...{ db, now: () => T0, version: '0', clientDir, secure: false, makeReport },
    allowed: new Set(['127.0.0.1', 'localhost']),
  });
  await app.listen({ host: '127.0.0.1', port: 0 });
  const address = app.server.address();
  const port = typeof address === 'object' ? (address?.port ?? 0) : 0;
  return {
    ...{ cluster, db, app, databaseUrl, url: `http://127.0.0.1:${port}` },
    async end() {
      await app.close();
      await db.close();
      await cluster.end();
    },
  };
}

/** The log of a van's visit as the archive has it; empty: it is not there. */
export const logOf = (db: ArchiveDatabase, van: string, visit: string): Promise<string> =>
  db.as(READER, async (ask) => {
    const key = await visitKey(ask, van, visit);
    return [...((key !== null && (await archivedLog(ask, key))) || [])].join('');
  });

export interface CutLine {
  url: string;
  /** After so many more bytes towards the archive the line breaks, without a word. Infinity: never. */
  cutAfter: (bytes: number) => void;
  /** Or so many towards the van: what it sent has arrived, and it never hears of it. */
  cutAnswersAfter: (bytes: number) => void;
  end: () => void;
}

/** A line to a server that breaks where it is told. */
export async function cutLine(target: string): Promise<CutLine> {
  const { port } = new URL(target);
  const open = new Set<Socket>();
  const left = { up: Infinity, down: Infinity };
  const carry = (from: Socket, to: Socket, way: keyof typeof left, end: () => void): void => {
    from.on('data', (data) => {
      if (data.length <= left[way]) {
        left[way] -= data.length;
        to.write(data);
        return;
      }
      to.write(data.subarray(0, left[way]));
      left[way] = 0;
      setTimeout(end, 2); // what was let through arrives
    });
  };
  const server: Server = createServer((van) => {
    const archive = connect(Number(port), '127.0.0.1');
    open.add(van).add(archive);
    const end = (): void => {
      van.destroy();
      archive.destroy();
    };
    carry(van, archive, 'up', end);
    carry(archive, van, 'down', end);
    for (const each of [van, archive]) {
      each.on('error', end);
      each.on('close', end);
    }
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  const own = typeof address === 'object' ? (address?.port ?? 0) : 0;
  return {
    url: `http://127.0.0.1:${own}`,
    cutAfter: (bytes) => (left.up = bytes),
    cutAnswersAfter: (bytes) => (left.down = bytes),
    end: () => {
      for (const each of open) each.destroy();
      server.close();
    },
  };
}

export interface SendingVan {
  dataDir: string;
  name?: string;
  url?: string;
  /** Bytes of the first piece that it sends. */
  firstPiece?: number;
}

/** A van of that name, with its record in a folder: sends when it is told to. */
export async function sendingVan(
  stage: ArchiveStage,
  { name = 'Van 1', dataDir, url = stage.url, firstPiece }: SendingVan,
) {
  const van = await newVan(stage.db, name);
  const sender = (to = url): Sender =>
    new Sender({
      ...{ dataDir, url: to, token: van.token, live: () => '', now: () => T0 },
      after: () => () => undefined,
      ...(firstPiece === undefined ? {} : { firstPiece }),
    });
  return { van, sender };
}
