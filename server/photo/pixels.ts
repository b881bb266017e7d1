/** Pixels as red, green, blue and opacity, row by row, a byte each. */
export interface Pixels {
  width: number;
  height: number;
  data: Uint8ClampedArray;
}

/**
 * Smaller by the mean over what each new pixel covers, whole pixels of the old ones; what is see-through
 * lies on white. One that is small enough only loses its opacity.
 * @param longest of its sides, afterwards at most
 */
export function shrunk({ width, height, data }: Pixels, longest: number): Pixels {
  const scale = Math.min(1, longest / Math.max(width, height));
  const to = {
    width: Math.max(1, Math.round(width * scale)),
    height: Math.max(1, Math.round(height * scale)),
  };
  const out = new Uint8ClampedArray(to.width * to.height * 4);
  let at = 0;
  for (let y = 0; y < to.height; y++) {
    const top = Math.floor((y * height) / to.height);
    const bottom = Math.max(top + 1, Math.floor(((y + 1) * height) / to.height));
    for (let x = 0; x < to.width; x++) {
      const left = Math.floor((x * width) / to.width);
      const right = Math.max(left + 1, Math.floor(((x + 1) * width) / to.width));
      let [red, green, blue] = [0, 0, 0];
      for (let row = top; row < bottom; row++) {
        for (let i = (row * width + left) * 4; i < (row * width + right) * 4; i += 4) {
          const opacity = (data[i + 3] ?? 255) / 255;
          const white = 255 * (1 - opacity);
          red += (data[i] ?? 0) * opacity + white;
          green += (data[i + 1] ?? 0) * opacity + white;
          blue += (data[i + 2] ?? 0) * opacity + white;
        }
      }
      const n = (bottom - top) * (right - left);
      out[at++] = red / n;
      out[at++] = green / n;
      out[at++] = blue / n;
      out[at++] = 255;
    }
  }
  return { ...to, data: out };
}
