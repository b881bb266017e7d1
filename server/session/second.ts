/** One second of a unit as captures take it, and the last ones, kept. */
import type { Airflow, Mode } from '../../adapters/contract.ts';
import { contributions } from '../measure/difference.ts';
import type { ErrorList } from '../measure/error-list.ts';
import type { CapacitySnapshot } from '../protocol.ts';

export interface Second {
  t: number;
  figures: Pick<
    CapacitySnapshot,
    'totalW' | 'sensibleW' | 'latentW' | 'totalU95W' | 'sensibleU95W' | 'latentU95W'
  >;
  mode: Mode | null;
  simulated: boolean;
  /** The errors of the figures; null in seconds of which they are not kept. */
  errors: ErrorList | null;
}

/** What errors do changes as slowly as the air: it is kept of one second in ten, ms. */
const ERRORS_EVERY_MS = 10_000;

/** Whether the errors of the second that ends at `t` are kept, whatever comes of it. */
export const keepsErrors = (t: number): boolean => t % ERRORS_EVERY_MS === 0;

/**
 * The errors of the second that ends at `t`, by `flow`; null in seconds of which they are not kept.
 * @param standsS for so many seconds up to it
 * @param first of its kind: a mean may be over this second alone
 */
export function errorsOf(
  t: number,
  standsS: number,
  budget: ErrorList,
  flow: string,
  first: boolean,
): Second['errors'] {
  const kept = t % ERRORS_EVERY_MS < 1000 * standsS;
  return first || kept ? contributions(budget, flow) : null;
}

/** Names the error of an airflow among several units: see `Airflow.instrument`. */
export function flowErrorName(unit: string, { source, instrument }: Airflow): string {
  return instrument ?? (source === 'fan-table' ? `${source} ${unit}` : 'measured');
}

/** A span may begin before it was called steady: by the strict test 30 min before. */
const KEPT = 2400;
/** Numbers of a second in the store below. */
const COLUMNS = 8;
const MODES: readonly Second['mode'][] = [null, 'cooling', 'heating'];

/**
 * The last seconds, in a ring of plain numbers: objects that live for half an hour would cost the
 * whole pipeline a tenth of its speed.
 */
export class RecentSeconds {
  #numbers = new Float64Array(128 * COLUMNS);
  /** How many were added. */
  #n = 0;
  /** Where the numbers are, the errors of the same second. */
  readonly #errors: Second['errors'][] = [];

  add({ t, figures: f, mode, simulated, errors }: Second): void {
    this.#makeRoom();
    const a = this.#numbers;
    const row = this.#n % KEPT;
    const i = row * COLUMNS;
    this.#n++;
    this.#errors[row] = errors;
    a[i] = t;
    a[i + 1] = f.totalW ?? NaN;
    a[i + 2] = f.sensibleW ?? NaN;
    a[i + 3] = f.latentW ?? NaN;
    a[i + 4] = f.totalU95W ?? NaN;
    a[i + 5] = f.sensibleU95W ?? NaN;
    a[i + 6] = f.latentU95W ?? NaN;
    a[i + 7] = 2 * MODES.indexOf(mode) + (simulated ? 1 : 0);
  }

  /** Those from `from` to `to`, oldest first; looks at no others than these and later ones. */
  between(from: number, to: number): Second[] {
    const found: Second[] = [];
    for (let k = this.#n - 1; k >= 0 && k >= this.#n - KEPT; k--) {
      const row = k % KEPT;
      const t = this.#numbers[row * COLUMNS] ?? NaN;
      if (t < from) break;
      if (t <= to) found.push(this.#read(row, t));
    }
    return found.reverse();
  }

  #read(row: number, t: number): Second {
    const i = row * COLUMNS;
    const number = (column: number): number | null => {
      const x = this.#numbers[i + column] ?? NaN;
      return Number.isNaN(x) ? null : x;
    };
    const flags = number(7) ?? 0;
    return {
      t,
      figures: {
        totalW: number(1),
        sensibleW: number(2),
        latentW: number(3),
        totalU95W: number(4),
        sensibleU95W: number(5),
        latentU95W: number(6),
      },
      mode: MODES[flags >> 1] ?? null,
      simulated: (flags & 1) === 1,
      errors: this.#errors[row] ?? null,
    };
  }

  #makeRoom(): void {
    const rows = this.#numbers.length / COLUMNS;
    if (this.#n < rows || rows >= KEPT) return;
    const larger = new Float64Array(Math.min(2 * rows, KEPT) * COLUMNS);
    larger.set(this.#numbers);
    this.#numbers = larger;
  }
}
