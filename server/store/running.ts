/** Which process somebody is, so that another one that was given its number later is not taken for it. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

export interface Holder {
  pid: number;
  /** When it began, in the system's own terms; null where that cannot be known. */
  began: string | null;
}

/** This process. */
export function ourselves(): Holder {
  return { pid: process.pid, began: beginningOf(process.pid) };
}

/** Whether it runs, and is the one that it was. Where beginnings are not known the number alone decides. */
export function isRunning({ pid, began }: Holder): boolean {
  if (!answers(pid)) return false;
  const now = began === null ? null : beginningOf(pid);
  return now === null || now === began;
}

/** Signal 0 only asks; a process of somebody else answers with a refusal, and runs. */
function answers(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}

/** Null where the system does not tell. */
function beginningOf(pid: number): string | null {
  try {
    if (process.platform === 'linux') return ticksOf(pid);
    if (process.platform === 'win32') return null;
    const time = execFileSync('ps', ['-o', 'lstart=', '-p', String(pid)], {
      encoding: 'utf8',
      env: { ...process.env, LC_ALL: 'C', TZ: 'UTC' },
      timeout: 2000,
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    return time.trim() || null;
  } catch {
    return null;
  }
}

/** Clock ticks since the boot, field 22 of /proc/PID/stat (man 5 proc_pid_stat), and which boot that was. */
function ticksOf(pid: number): string | null {
  const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
  // Field 2 is the program's name in parentheses, which may hold anything: field 3 follows the last one.
  const ticks = stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19];
  const boot = readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
  return ticks === undefined ? null : `${boot} ${ticks}`;
}
