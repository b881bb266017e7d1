/** The colours, the typeface and its size of look/tokens.css, for drawing on a canvas. */
export interface Palette {
  surface: string;
  ink: string;
  quiet: string;
  line: string;
  ribbon: string;
  steady: string;
  steadyWash: string;
  face: string;
  /** Height of the letters, CSS pixels: it follows the page's own type. */
  textPx: number;
}

/** Letters on a chart are so much of the page's root size. */
const TEXT_SHARE = 0.8;

/** Reads the colours that hold for an element now. */
export function readPalette(element: Element): Palette {
  const style = getComputedStyle(element);
  const token = (name: string): string => style.getPropertyValue(name).trim();
  return {
    surface: token('--surface'),
    ink: token('--ink'),
    quiet: token('--quiet'),
    line: token('--line'),
    ribbon: token('--ribbon'),
    steady: token('--steady'),
    steadyWash: token('--steady-wash'),
    face: token('--face'),
    textPx: Math.round(TEXT_SHARE * parseFloat(style.fontSize)),
  };
}
