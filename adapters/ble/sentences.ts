/** What the adapter says of itself: how the computer's Bluetooth is, and what to do about it. */
import type { AdapterStatus } from '../contract.ts';
import type { Said } from './radio-messages.ts';

/** How the radio is. */
export type RadioState =
  | { is: 'starting' | 'on' | 'off' | 'no-adapter' | 'unauthorized' | 'unsupported' }
  /** The process is being started again; `why` it ended. */
  | { is: 'replaced'; why: string }
  | { is: 'absent'; why: Extract<Said, { say: 'absent' }>['why']; text: string };

export interface Status {
  readonly state: AdapterStatus;
  readonly text: string | null;
}

/** More than this at once are not read; the screen cuts them off as well. */
const MOST_TROUBLES = 2;

/**
 * The status in sentences.
 * @param platform the system, as `process.platform` calls it
 * @param troubles what stands against single probes; told only where the radio itself works
 * @returns null while there is nothing to say yet
 */
export function statusOf(
  radio: RadioState,
  platform: string,
  troubles: readonly string[],
): Status | null {
  switch (radio.is) {
    case 'starting':
      return null;
    case 'on':
      return { state: 'running', text: several(troubles) };
    case 'replaced':
      return {
        state: 'retrying',
        text: `The Bluetooth radio was started anew; its probes are linked again. ${radio.why}`,
      };
    case 'off':
      return {
        state: 'unavailable',
        text: 'Bluetooth is switched off: switch it on; probes are then found by themselves.',
      };
    case 'no-adapter':
      return {
        state: 'unavailable',
        text:
          'No Bluetooth adapter was found: plug one in, or choose another with ' +
          '--bluetooth-adapter N. It is used as soon as it is there.',
      };
    case 'unsupported':
      return {
        state: 'unavailable',
        text:
          'This Bluetooth adapter has no Low Energy: use another, and choose it with ' +
          '--bluetooth-adapter N where there are several.',
      };
    case 'unauthorized':
      return { state: 'unavailable', text: permission(platform) };
    case 'absent':
      return { state: 'unavailable', text: absence(radio.why, radio.text) };
  }
}

function several(troubles: readonly string[]): string | null {
  if (troubles.length === 0) return null;
  const more = troubles.length - MOST_TROUBLES;
  const told = troubles.slice(0, MOST_TROUBLES);
  if (more > 0) told.push(`The same or another trouble with ${more} more.`);
  return told.join(' ');
}

function permission(platform: string): string {
  switch (platform) {
    case 'linux':
      return (
        'Plateau may not use Bluetooth. Allow it to Node once: sudo setcap cap_net_raw+eip ' +
        '"$(readlink -f "$(command -v node)")", or give its service AmbientCapabilities=CAP_NET_RAW; ' +
        'then start it again.'
      );
    case 'darwin':
      return (
        'Plateau may not use Bluetooth. Allow it to the program that you start it from: System ' +
        'Settings, Privacy & Security, Bluetooth; then start it again.'
      );
    case 'win32':
      return (
        'Plateau may not use Bluetooth. Allow it: Settings, Privacy & security, Radios, for desktop ' +
        'apps; and see that Bluetooth is on. Then start it again.'
      );
    default:
      return 'Plateau may not use Bluetooth: give its user that right, then start it again.';
  }
}

function absence(why: Extract<Said, { say: 'absent' }>['why'], text: string): string {
  switch (why) {
    case 'not-installed':
      return (
        'The Bluetooth library is not installed: run npm ci where this computer may compile ' +
        '(a compiler, make, Python). Until then send readings to POST /api/readings.'
      );
    case 'not-built':
      return (
        'The Bluetooth library is installed without its compiled part: install a compiler, make and ' +
        'Python, then run npm ci. Until then send readings to POST /api/readings.'
      );
    case 'no-bluetooth':
      return (
        "This computer's system has no Bluetooth: plug an adapter in, or load its driver. " +
        'Until then send readings to POST /api/readings.'
      );
    case 'other':
      return `Bluetooth cannot be used: ${text}. Until then send readings to POST /api/readings.`;
  }
}
