/** The path of a Chromium that runs, or null. */
export function findChromium(): string | null;
/** The path of a Chromium, installed if need be. */
export function findOrInstallChromium(): string;
