/** How the screen lies; the style sheets of the frame say the same. */

/** Room for something beside the figure and its chart. */
export const WIDE = '(min-width: 60rem) and (min-height: 34.0625rem)';
/** A tablet or a laptop: neither a phone upright nor one on its side. */
export const ROOMY = '(min-width: 40rem) and (min-height: 34.0625rem)';
