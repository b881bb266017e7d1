import manifest from '../../package.json' with { type: 'json' };

/** The program's version, as package.json has it. */
export const version: string = manifest.version;
