/** An outlet as a person enters it. */
import type { OutletState } from '../../server/protocol.ts';
import { readEntry, readNumber, startText } from './entry.ts';
import { FACTOR, type Scales } from './scales.ts';
import { codeWord } from '../../server/words/names.ts';
import { t } from '../../server/words/language.ts';

/** What the form says. */
export const OUTLET = {
  title: t`Outlet or intake`,
  plane: t`Which opening`,
  planes: [
    ['supply', codeWord('outlet')],
    ['return', codeWord('intake')],
  ],
  planeHint: t`The intake is larger, and its air is all of one temperature: often the better place.`,
  freeArea: (area: string) => t`Free area ${area}.`,
  /** @param of how many, from 0 */
  section: (i: number, of: number) => (of > 1 ? t`Section ${i + 1}` : t`Section`),
  width: (sign: string) => t`Width, ${sign}`,
  length: (sign: string) => t`Length, ${sign}`,
  supports: (sign: string) => t`Supports, ${sign}`,
  /** How a sentence about a field of one section begins. */
  /** What the fields of a section are called in a sentence. */
  sides: { width: t`The width`, length: t`The length`, supports: t`The supports` },
  called: (what: string, i: number, of: number) => (of > 1 ? t`${what} of section ${i + 1}` : what),
  remove: (i: number) => t`Take section ${i + 1} away`,
  add: t`Add a section`,
  sidesHint: t`Measure the open air path at the plane where you hold the anemometer. Supports: how much of the length they block, all together.`,
  factor: { label: t`Free-area factor`, called: t`The free-area factor` },
  limit: { label: t`Its accuracy, ±`, called: t`Its accuracy` },
  factorHint: t`1 for an open slot. Behind a grille 0.7 to 0.95, by its maker or fitted to a known flow.`,
  louver: { label: t`Louver angle, degrees`, called: t`The louver angle` },
  form: t`How it is built`,
  formExample: t`wall unit, one slot`,
} as const;

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
  const { sides } = OUTLET;
  const refuse = (refusal: string): ReadOutlet => ({ outlet: null, refusal });
  const sections: OutletState['sections'] = [];
  for (const [i, { width, length, blocked }] of texts.sections.entries()) {
    const called = (what: string): string => OUTLET.called(what, i, texts.sections.length);
    const w = readEntry(width, { name: called(sides.width), scale: side, ...SIDE });
    if (w.refusal !== null) return refuse(w.refusal);
    const l = readEntry(length, { name: called(sides.length), scale: side, ...SIDE });
    if (l.refusal !== null) return refuse(l.refusal);
    if (w.si === null)
      return refuse(t`${called(sides.width)} is missing. Enter it in ${side.sign}.`);
    if (l.si === null)
      return refuse(t`${called(sides.length)} is missing. Enter it in ${side.sign}.`);
    const b = readEntry(blocked, {
      name: called(sides.supports),
      scale: side,
      least: 0,
      most: 0.99 * l.si,
    });
    if (b.refusal !== null) return refuse(b.refusal);
    const blockedM2 = (b.si ?? 0) * w.si;
    sections.push({ widthM: w.si, lengthM: l.si, ...(blockedM2 === 0 ? {} : { blockedM2 }) });
  }
  const free = readEntry(texts.freeArea, {
    name: OUTLET.factor.called,
    scale: FACTOR,
    least: 0.1,
    most: 1.5,
  });
  if (free.refusal !== null) return refuse(free.refusal);
  const limit = readEntry(texts.freeAreaLimit, {
    name: OUTLET.limit.called,
    scale: FACTOR,
    least: 0,
    most: 0.5,
  });
  if (limit.refusal !== null) return refuse(limit.refusal);
  const louverDeg = readNumber(texts.louver);
  if (texts.louver.trim() !== '' && louverDeg === null) {
    return refuse(t`The louver angle: “${texts.louver.trim()}” is not a number. Enter degrees.`);
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
