/** Where the bar at the top has room for the units of the page; else they stand at its end. */
export const ROOMY = '(min-width: 70rem)';
