export function findPostgres(): string | null;
export function findOrInstallPostgres(): string | null;
