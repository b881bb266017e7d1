/** Error: a page has no such name. */
export const wide = (): number => document.scrollWidth;
