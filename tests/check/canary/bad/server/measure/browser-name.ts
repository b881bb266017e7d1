/** Error: the server has no page. */
export const kind: string = typeof document;
