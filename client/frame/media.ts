/** How the screen lies; the style sheets of the frame say the same. */

/** A phone on its side: low, and wider than high. */
export const LYING = '(max-height: 34rem) and (min-width: 40rem)';
/** Room for something beside the figure and its chart. */
export const WIDE = '(min-width: 60rem) and (min-height: 34.0625rem)';
