/**
 * The opening through which a unit blows or draws: one or more rectangular sections (a slot parted by
 * its middle support, a cassette's four slots, a grille), and how much of it air can pass.
 */

/** One rectangle of an opening. */
export interface Section {
  widthM: number;
  lengthM: number;
  /** What supports and bars take away of it, m²; 0 where nothing is said. */
  blockedM2?: number | undefined;
}

export interface Outlet {
  plane: 'supply' | 'return';
  sections: readonly Section[];
  /** Free area over gross area, as far as the velocity in front of it tells: 1 for an open slot. */
  freeArea: number;
  /** ± of that factor (half-width of a rectangular distribution); undefined: nobody has said. */
  freeAreaLimit?: number | undefined;
}

/**
 * Names the kind of an opening by how it is built, in whatever case that is written: openings of one kind
 * share sides, louver and free-area factor. Null where nobody has said how it is built.
 */
export function openingKind({
  form,
  plane,
}: Pick<Outlet, 'plane'> & { form: string }): string | null {
  return form.trim() === '' ? null : `${plane} ${form.trim().toLowerCase()}`;
}

/** A rule is read to this, m, half-width of a rectangular distribution (common practice, no source). */
export const RULE_M = 0.001;
/**
 * Where nobody says how far the free-area factor may be off: a tenth of what is closed, and 2 %, as a
 * part of it (an assumption, no source).
 */
const UNSAID_LIMIT = 0.02;

/** The area of a section that is open, m². */
export function areaM2({ widthM, lengthM, blockedM2 = 0 }: Section): number {
  return Math.max(0, widthM * lengthM - blockedM2);
}

/** The gross area of all sections without what supports take, m². */
export function grossAreaM2({ sections }: Outlet): number {
  return sections.reduce((sum, section) => sum + areaM2(section), 0);
}

/** ± of the free-area factor, as a part of it: as stated, or as assumed. */
export function freeAreaLimit({ freeArea, freeAreaLimit: stated }: Outlet): number {
  return (stated ?? UNSAID_LIMIT + 0.1 * Math.abs(1 - freeArea)) / freeArea;
}

/**
 * Standard uncertainty of the area as a part of it, by the rule that the sides are measured with. The
 * same rule measures all sides: each width, and each length, is off by its own reading.
 */
export function areaRelativeU(outlet: Outlet): number {
  const total = grossAreaM2(outlet);
  let square = 0;
  for (const { widthM, lengthM } of outlet.sections) {
    square += (lengthM ** 2 + widthM ** 2) * (RULE_M ** 2 / 3);
  }
  return Math.sqrt(square) / total;
}
