export const help = (): Promise<string> => Promise.resolve('found by the linter here too');
