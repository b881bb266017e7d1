/** The commands that see to a record: `export`, `import`, `backup`, `doctor`. */
import { once } from 'node:events';
import { resolve } from 'node:path';
import type { Writable } from 'node:stream';
import { backUp } from '../store/backup.ts';
import { examine } from './doctor.ts';
import { exportVisits } from './export.ts';
import { importAll } from './import.ts';
import type { Command } from './options.ts';

type RecordCommand = Extract<Command, { command: 'export' | 'import' | 'backup' | 'doctor' }>;

/** Runs one. @returns the exit status */
export async function record(
  command: RecordCommand,
  out: Writable,
  tell: (message: string) => void,
): Promise<0 | 1> {
  const dataDir = resolve(command.dataDir);
  const write = async (text: string): Promise<void> => {
    if (!out.write(text)) await once(out, 'drain');
  };
  switch (command.command) {
    case 'export': {
      const { visit, allTo } = command;
      await exportVisits({ dataDir, visit, allTo }, write);
      return 0;
    }
    case 'import':
      return importAll(dataDir, resolve(command.file), (text) => out.write(text), tell);
    case 'backup':
      backUp(dataDir, resolve(command.file));
      await write(`The record in ${dataDir} is copied to ${resolve(command.file)}\n`);
      return 0;
    case 'doctor': {
      let status: 0 | 1 = 0;
      for await (const { state, text } of examine(dataDir)) {
        if (state === 'open') status = 1;
        await write(
          `${state === 'well' ? 'well' : state === 'mended' ? 'mended' : 'OPEN'}: ${text}\n`,
        );
      }
      return status;
    }
  }
}
