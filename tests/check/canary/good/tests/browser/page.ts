/** Runs in the page: the browser's names are known here, and only here. */
export const wide = (): number => document.documentElement.scrollWidth;
