/** The openings of a visit at which airflow is measured. */
import type { OutletLine } from '../../../adapters/contract.ts';
import type { OutletState } from '../../protocol.ts';
import { sent } from '../../words/sent.ts';

/** More than any visit has. */
const MOST = 64;

export class Outlets {
  readonly #known = new Map<string, OutletState>();

  get(id: string): OutletState | undefined {
    return this.#known.get(id);
  }

  /** Takes what a line says. @returns why it was refused, naming the field, or null */
  tell(line: OutletLine): string | null {
    const before = this.#known.get(line.id);
    const sections = line.sections ?? before?.sections;
    if (sections === undefined) {
      return sent`sections: is missing; give width and length of at least one, in meters`;
    }
    if (before === undefined && this.#known.size >= MOST) {
      return sent`id: "${line.id}" would be one too many: a visit has at most ${MOST} outlets`;
    }
    const freeAreaLimit = line.freeAreaLimit ?? before?.freeAreaLimit;
    this.#known.set(line.id, {
      unit: line.unit,
      name: line.name ?? before?.name ?? '',
      plane: line.plane ?? before?.plane ?? 'supply',
      sections,
      freeArea: line.freeArea ?? before?.freeArea ?? 1,
      ...(freeAreaLimit === undefined ? {} : { freeAreaLimit }),
      form: line.form ?? before?.form ?? '',
      louverDeg: line.louverDeg === undefined ? (before?.louverDeg ?? null) : line.louverDeg,
    });
    return null;
  }

  toState(): Record<string, OutletState> {
    return Object.fromEntries(this.#known);
  }
}
