/** The program's entry: reads the command line and runs what it says. */
import { HELP, readCommand, UsageError } from './options.ts';
import { version } from './version.ts';

async function main(): Promise<number | null> {
  const command = readCommand(process.argv.slice(2));
  switch (command.command) {
    case 'help':
      process.stdout.write(HELP);
      return 0;
    case 'version':
      process.stdout.write(`${version}\n`);
      return 0;
    case 'analyse': {
      const { analyse } = await import('./analyse.ts');
      return analyse(command, process.stdout, (message) => process.stderr.write(`${message}\n`));
    }
    case 'export':
    case 'import':
    case 'backup':
    case 'doctor': {
      const { record } = await import('./record-commands.ts');
      return record(command, process.stdout, (message) => process.stderr.write(`${message}\n`));
    }
    case 'report': {
      const { report } = await import('./report.ts');
      return report(command, process.stdout, (message) => process.stderr.write(`${message}\n`));
    }
    case 'archive': {
      const { serveArchive } = await import('./archive.ts');
      await serveArchive(command);
      return null;
    }
    case 'archive-token': {
      const { printToken } = await import('./archive.ts');
      await printToken(command);
      return 0;
    }
    default: {
      const { serve } = await import('./serve.ts');
      await serve(command);
      return null;
    }
  }
}

/** What an error says, in one line, whatever it quotes. */
function oneLine(error: unknown): string {
  const message = error instanceof Error ? error.message : String(error);
  return message.replaceAll(/\s*[\r\n]+\s*/g, ' ');
}

try {
  const status = await main();
  // The exit code and not exit(): output may still be on its way.
  if (status !== null) process.exitCode = status;
} catch (error) {
  const usage = error instanceof UsageError;
  process.stderr.write(`plateau: ${oneLine(error)}\n`);
  process.exit(usage ? 2 : 1);
}
