import { join } from 'node:path';
import { version } from 'esbuild';

process.stderr.write(`Built ${join('server', 'cli', 'main.ts')} with esbuild ${version}.\n`);
