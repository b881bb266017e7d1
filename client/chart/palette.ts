/** The colours of look/tokens.css, for drawing on a canvas. */
export interface Palette {
  surface: string;
  ink: string;
  quiet: string;
  line: string;
  ribbon: string;
  steady: string;
  steadyWash: string;
  face: string;
}

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
  };
}
