/// <reference lib="dom" />
/** Whether all text of a page can be read: measured, on whatever screen and at whatever size of text. */
import type { Page } from 'playwright-core';

/**
 * What of the text in sight cannot be read: cut off by its box, beyond the edge of the screen, or with
 * other text upon it. Empty: all of it can. What is hidden for the eye, or gives way on purpose (ends in
 * …, and is told in full elsewhere), is left out.
 */
export function illegible(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    /** Rounding, and the room above and below letters, CSS pixels. */
    const SLACK = 2;
    const found: string[] = [];
    const pieces: { node: Text; parent: Element; box: DOMRect; layer: Element | null }[] = [];
    const top = [...document.querySelectorAll('dialog[open]')].at(-1) ?? document.body;
    const layerOf = (element: Element): Element | null => {
      for (let at: Element | null = element; at !== null; at = at.parentElement) {
        if (['fixed', 'sticky'].includes(getComputedStyle(at).position)) return at;
      }
      return null;
    };
    const walker = document.createTreeWalker(top, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
      const parent = node.parentElement;
      if (!(node instanceof Text) || parent === null || node.data.trim() === '') continue;
      if (!parent.checkVisibility({ opacityProperty: true, visibilityProperty: true })) continue;
      if (parent.closest('.hidden, option, script, style, svg') !== null) continue;
      // Hidden for the eye: in a box of a pixel.
      let isHidden = false;
      for (let at: Element | null = parent; at !== null && at !== top; at = at.parentElement) {
        if (getComputedStyle(at).clipPath !== 'none') isHidden = true;
      }
      if (isHidden) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      for (const box of range.getClientRects()) {
        if (box.width > 1) pieces.push({ node, parent, box, layer: layerOf(parent) });
      }
    }
    const words = ({ node }: { node: Text }): string => node.data.trim().slice(0, 40);
    for (const piece of pieces) {
      if (piece.box.right > innerWidth + SLACK || piece.box.left < -SLACK) {
        found.push(`beyond the edge: ${words(piece)}`);
        continue;
      }
      for (let at: Element | null = piece.parent; at !== null; at = at.parentElement) {
        const style = getComputedStyle(at);
        const box = at.getBoundingClientRect();
        if (style.textOverflow === 'ellipsis') break;
        const isCutX = ['hidden', 'clip'].includes(style.overflowX);
        const isCutY = ['hidden', 'clip'].includes(style.overflowY);
        if (
          (isCutX && (piece.box.right > box.right + SLACK || piece.box.left < box.left - SLACK)) ||
          (isCutY && (piece.box.bottom > box.bottom + SLACK || piece.box.top < box.top - SLACK))
        ) {
          found.push(`cut: ${words(piece)}`);
          break;
        }
      }
    }
    for (const [i, one] of pieces.entries()) {
      for (const other of pieces.slice(i + 1)) {
        if (one.node === other.node || one.layer !== other.layer) continue;
        const wide =
          Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left);
        const high =
          Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top);
        // A line's box is higher than its letters.
        const least = 0.35 * Math.min(one.box.height, other.box.height);
        if (wide > SLACK && high > least) found.push(`${words(one)} upon ${words(other)}`);
      }
    }
    return [...new Set(found)];
  });
}
