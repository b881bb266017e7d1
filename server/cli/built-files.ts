/** What is built beside the program: the page, and the programs of other processes and threads. */
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const HERE = dirname(fileURLToPath(import.meta.url));
export const CLIENT_DIR = join(HERE, '..', 'client');
/** Of the process that holds the Bluetooth radio. */
export const RADIO_FILE = join(HERE, 'radio.mjs');
/** What puts the virtual controller beneath it. */
export const VIRTUAL_RADIO = new URL('virtual-radio.mjs', import.meta.url);
/** Of the thread that encodes pictures anew. */
export const PHOTO_FILE = join(HERE, 'photo.mjs');
/** Of the thread that makes a report. */
export const REPORT_FILE = join(HERE, 'report.mjs');
