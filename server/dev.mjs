/**
 * `npm run dev [-- demo|start] [options]`: the page by Vite, changed in the browser as it is edited,
 * and the server beside it, built and started again whenever one of its sources changes. `demo` if
 * neither is named; the options are those of the command.
 */
import { spawn } from 'node:child_process';
import { watch } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { createServer } from 'vite';

const root = fileURLToPath(new URL('..', import.meta.url));
const SOURCES = ['server', 'adapters', 'simulator'];
/** An editor that saves may touch a file several times. */
const CALM_MS = 150;

const given = process.argv.slice(2);
const args = ['demo', 'start'].includes(given[0]) ? given : ['demo', ...given];

let server; // the server's process, while there is one
let vite;
let ending = false;

/** Runs Node in the project and gives its exit status. */
function node(...command) {
  return new Promise((resolve) => {
    spawn(process.execPath, command, { cwd: root, stdio: ['ignore', 'ignore', 'inherit'] }).once(
      'exit',
      resolve,
    );
  });
}

/** Ends the server, and waits until it has. */
function stopServer() {
  const old = server;
  server = undefined;
  if (old === undefined || old.exitCode !== null || old.signalCode !== null) return undefined;
  return new Promise((resolve) => {
    old.once('exit', resolve);
    old.kill('SIGTERM');
  });
}

function startServer() {
  const started = spawn(process.execPath, [join('build', 'server', 'main.mjs'), ...args], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  server = started;
  createInterface(started.stdout).on('line', (line) => {
    process.stdout.write(`${line}\n`);
    const url = /https?:\/\/\S+/.exec(line)?.[0];
    if (url !== undefined && vite === undefined) vite = startPage(url);
  });
  started.once('exit', (status) => {
    if (server !== started) return; // stopped by us
    if (vite === undefined) end(status ?? 1);
    else process.stderr.write('The server ended. It starts again with the next change.\n');
  });
}

/** Serves the page; what it asks of the server is handed on to `url`. */
async function startPage(url) {
  /**
   * The server lets in only pages of its own. Ours is one in development, and only ours: what comes
   * from any other origin is handed on as it is, and refused.
   */
  const present = (proxied, request) => {
    const own = page.resolvedUrls?.local.map((each) => new URL(each).origin) ?? [];
    if (own.includes(request.headers.origin)) proxied.setHeader('origin', new URL(url).origin);
  };
  const page = await createServer({
    configFile: join(root, 'client/vite.config.ts'),
    server: {
      host: '127.0.0.1',
      proxy: {
        '/api': {
          target: url,
          changeOrigin: true,
          ws: true,
          configure: (proxy) => proxy.on('proxyReq', present).on('proxyReqWs', present),
        },
      },
    },
  });
  await page.listen();
  process.stdout.write(`The page in development is at ${page.resolvedUrls.local[0]}\n`);
  return page;
}

let busy = Promise.resolve();
/** Builds, and only if that went well puts the new server in the place of the old. One at a time. */
function restart() {
  busy = busy.then(async () => {
    if (ending || (await node('server/launch.mjs', '--version')) !== 0) return;
    await stopServer();
    if (!ending) startServer();
  });
  return busy;
}

async function end(status) {
  if (ending) return;
  ending = true;
  process.exitCode = status; // Vite ends the process on SIGTERM as well, and keeps this
  await stopServer();
  await (await vite)?.close();
  process.exit(status);
}

process.on('SIGINT', () => end(0));
process.on('SIGTERM', () => end(0));

await restart();
if (server === undefined) await end(1);
let timer;
for (const folder of SOURCES) {
  watch(join(root, folder), { recursive: true }, () => {
    clearTimeout(timer);
    timer = setTimeout(restart, CALM_MS);
  });
}
