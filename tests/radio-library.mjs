/** The Bluetooth library is optional: `npm ci` leaves it out where it cannot be compiled. */
import { createRequire } from 'node:module';

function isThere() {
  try {
    createRequire(import.meta.url).resolve('@abandonware/noble/with-custom-binding');
    return true;
  } catch {
    return false;
  }
}

/** Whether it is installed. Tests over the radio process need it, and are skipped without it. */
export const hasRadioLibrary = isThere();
