/**
 * Finds the browser for the browser tests: the environment variable CHROMIUM_PATH, then the usual
 * places; on Debian and its kin, where this may install, it is installed. Nothing else is downloaded.
 */
import { spawnSync } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';
import { installDebian } from './debian.mjs';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome-stable', 'google-chrome'];
const MAC_PLACES = [
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];
const WINDOWS_PLACES = [
  'Chromium\\Application\\chrome.exe',
  'Google\\Chrome\\Application\\chrome.exe',
  'Microsoft\\Edge\\Application\\msedge.exe',
];

/** @returns {string[]} where a Chromium may be on this machine, best first */
function places() {
  const { env, platform } = process;
  if (platform === 'win32') {
    const roots = [env.PROGRAMFILES, env['PROGRAMFILES(X86)'], env.LOCALAPPDATA];
    return roots.flatMap((root) => (root ? WINDOWS_PLACES.map((place) => join(root, place)) : []));
  }
  const folders = ['/usr/bin', ...(env.PATH ?? '').split(delimiter).filter(Boolean)];
  const onPath = folders.flatMap((folder) => NAMES.map((name) => join(folder, name)));
  return platform === 'darwin' ? [...MAC_PLACES, ...onPath] : onPath;
}

/** Whether the file can be run. Some systems put a stub there that only says how to install it. */
function runs(path) {
  try {
    accessSync(path, constants.X_OK);
  } catch {
    return false;
  }
  if (process.platform === 'win32') return true; // there, asking for its version opens a window
  return spawnSync(path, ['--version'], { stdio: 'ignore', timeout: 30_000 }).status === 0;
}

/**
 * The path of a Chromium that runs, or null.
 * @throws Error when CHROMIUM_PATH is set and is none: it is not passed over in silence
 */
export function findChromium() {
  const given = process.env.CHROMIUM_PATH;
  if (given) {
    if (runs(given)) return given;
    throw new Error(
      `CHROMIUM_PATH is "${given}", which is no program that runs here: correct it or unset it.`,
    );
  }
  return places().find(runs) ?? null;
}

/**
 * A Chromium, installed if need be and if that can be done.
 * @throws Error with one line that says what to install
 */
export function findOrInstallChromium() {
  const found = findChromium();
  if (found !== null) return found;
  if (installDebian('chromium', 'No Chromium here')) {
    const installed = findChromium();
    if (installed !== null) return installed;
  }
  throw new Error(
    'The browser tests need Chromium: install it (on Debian: apt-get install chromium), or set ' +
      'CHROMIUM_PATH to the program file of a Chromium or Chrome that is there.',
  );
}
