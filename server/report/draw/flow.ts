/** Pages that fill from top to bottom, and the structure by which a screen reader finds its way. */
import { type Doc, Pen } from './pen.ts';

export type Paper = 'letter' | 'a4';

/** Points, 1/72 in. */
const MARGIN = { x: 46, top: 36, foot: 42 };

type Element = PDFKit.PDFStructureElement;

export class Flow {
  readonly pen: Pen;
  readonly doc: Doc;
  /** Where the next block begins: left end, width, top. */
  x = MARGIN.x;
  width = 0;
  y = 0;
  #parent: Element;
  readonly #background: () => void;

  /** @param background drawn first on every page */
  constructor(doc: Doc, background: (flow: Flow) => void) {
    this.doc = doc;
    this.pen = new Pen(doc);
    this.#background = () => background(this);
    this.#parent = doc.struct('Document');
    doc.addStructure(this.#parent);
    this.newPage();
  }

  get bottom(): number {
    return this.doc.page.height - MARGIN.foot;
  }
  get right(): number {
    return this.x + this.width;
  }
  /** The height of a page's text. */
  get pageHeight(): number {
    return this.bottom - MARGIN.top;
  }
  get isTop(): boolean {
    return this.y <= MARGIN.top;
  }

  newPage(): void {
    this.doc.addPage();
    const { left, right } = this.doc.page.margins;
    this.width = this.doc.page.width - left - right;
    this.x = left;
    this.y = MARGIN.top;
    this.artifact(this.#background);
  }

  /** Begins another page where so much has no room on this one. */
  room(height: number): void {
    if (this.y + height > this.bottom && !this.isTop) this.newPage();
  }

  /** Draws what is part of the text, as an element of the structure. Nothing in it may begin a page. */
  tagged(
    type: string,
    draw: () => void,
    options: PDFKit.Mixins.StructureElementOptions & { scope?: 'Row' | 'Column' } = {},
  ): void {
    this.#parent.add(this.doc.struct(type, options, [draw]));
  }

  /** An element that holds those that are drawn in `fill`. */
  within(type: string, fill: () => void): void {
    const outer = this.#parent;
    const inner = this.doc.struct(type);
    outer.add(inner);
    this.#parent = inner;
    fill();
    inner.end();
    this.#parent = outer;
  }

  /** Draws what a screen reader leaves out. */
  artifact(draw: () => void): void {
    this.doc.markContent('Artifact');
    draw();
    this.doc.endMarkedContent();
  }

  end(): void {
    this.#parent.end();
    this.doc.end();
  }
}

export const PAGE_MARGINS = { left: MARGIN.x, right: MARGIN.x, top: MARGIN.top, bottom: 0 };
