/** An outlet as a person enters it. */
import type { OutletState } from '../../server/protocol.ts';
import { readEntry, readNumber, startText } from './entry.ts';
import { FACTOR, type Scales } from './scales.ts';

/** The texts of the form. */
export interface OutletTexts {
  plane: OutletState['plane'];
  sections: { width: string; length: string; blocked: string }[];
  freeArea: string;
  freeAreaLimit: string;
  form: string;
  louver: string;
}

const EMPTY = { width: '', length: '', blocked: '' };

export function outletTexts(outlet: OutletState | null, { side }: Scales): OutletTexts {
  if (outlet === null) {
    return {
      plane: 'supply',
      sections: [{ ...EMPTY }],
      ...{ freeArea: '1', freeAreaLimit: '', form: '', louver: '' },
    };
  }
  return {
    plane: outlet.plane,
    sections: outlet.sections.map(({ widthM, lengthM, blockedM2 = 0 }) => ({
      width: startText(widthM, side),
      length: startText(lengthM, side),
      // Supports stand across: what they block is entered as their width along the slot.
      blocked: blockedM2 === 0 ? '' : startText(blockedM2 / widthM, side),
    })),
    freeArea: String(outlet.freeArea),
    freeAreaLimit: startText(outlet.freeAreaLimit, FACTOR),
    form: outlet.form,
    louver: outlet.louverDeg === null ? '' : String(outlet.louverDeg),
  };
}

export type ReadOutlet =
  { outlet: Omit<OutletState, 'unit' | 'name'>; refusal: null } | { outlet: null; refusal: string };

/** Sides that can be right, m. */
const SIDE = { least: 0.005, most: 5 };

export function readOutlet(texts: OutletTexts, scales: Scales): ReadOutlet {
  const { side } = scales;
  const refuse = (refusal: string): ReadOutlet => ({ outlet: null, refusal });
  const sections: OutletState['sections'] = [];
  for (const [i, { width, length, blocked }] of texts.sections.entries()) {
    const of = texts.sections.length > 1 ? ` of section ${i + 1}` : '';
    const w = readEntry(width, { name: `The width${of}`, scale: side, ...SIDE });
    if (w.refusal !== null) return refuse(w.refusal);
    const l = readEntry(length, { name: `The length${of}`, scale: side, ...SIDE });
    if (l.refusal !== null) return refuse(l.refusal);
    if (w.si === null) return refuse(`The width${of} is missing. Enter it in ${side.sign}.`);
    if (l.si === null) return refuse(`The length${of} is missing. Enter it in ${side.sign}.`);
    const b = readEntry(blocked, {
      name: `The supports${of}`,
      scale: side,
      least: 0,
      most: 0.99 * l.si,
    });
    if (b.refusal !== null) return refuse(b.refusal);
    const blockedM2 = (b.si ?? 0) * w.si;
    sections.push({ widthM: w.si, lengthM: l.si, ...(blockedM2 === 0 ? {} : { blockedM2 }) });
  }
  const free = readEntry(texts.freeArea, {
    name: 'The free-area factor',
    scale: FACTOR,
    least: 0.1,
    most: 1.5,
  });
  if (free.refusal !== null) return refuse(free.refusal);
  const limit = readEntry(texts.freeAreaLimit, {
    name: 'Its accuracy',
    scale: FACTOR,
    least: 0,
    most: 0.5,
  });
  if (limit.refusal !== null) return refuse(limit.refusal);
  const louverDeg = readNumber(texts.louver);
  if (texts.louver.trim() !== '' && louverDeg === null) {
    return refuse(`The louver angle: “${texts.louver.trim()}” is not a number. Enter degrees.`);
  }
  return {
    outlet: {
      plane: texts.plane,
      sections,
      freeArea: free.si ?? 1,
      ...(limit.si === null ? {} : { freeAreaLimit: limit.si }),
      form: texts.form.trim(),
      louverDeg,
    },
    refusal: null,
  };
}
