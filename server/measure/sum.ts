/**
 * How sure the sum of several units' capacities is. Errors that units share (the pressure, what the
 * probes of one check have in common, the instrument that their airflows were measured with) move all of
 * them the same way and add up as they are; all others add up by their squares (JCGM 100:2008, 5.1.2
 * and F.1.2.3).
 */
import type { BudgetKind, ErrorSink } from './budget-inputs.ts';
import { halfWidth95, type Uncertain } from './gum.ts';

/** What each unit's error of one kind is the same in, of whichever unit. */
const SHARED: readonly BudgetKind[] = ['common-temperature', 'common-humidity', 'pressure'];

/** Takes the errors of one unit after another, of their totals alone. */
export class SumErrors implements ErrorSink {
  readonly #own: Uncertain[] = [];
  readonly #shared = new Map<string, { w: number; shape: number }>();
  #flow = '';

  /**
   * The errors that follow are of another unit.
   * @param flow names the error of its airflow: units with the same name share it
   */
  unit(flow: string): this {
    this.#flow = flow;
    return this;
  }

  add(kind: BudgetKind, of: string | null, { u, shape }: Uncertain, total: number): void {
    const w = total * u;
    if (kind === 'airflow') this.#share(`airflow ${of ?? this.#flow}`, w, shape);
    else if (SHARED.includes(kind)) this.#share(`${kind} ${of ?? ''}`, w, shape);
    else this.#own.push({ u: Math.abs(w), shape });
  }

  /** Half-width of the 95 % interval of the sum, W. */
  get u95W(): number {
    const shared = [...this.#shared.values()].map(({ w, shape }) => ({ u: Math.abs(w), shape }));
    return halfWidth95([...this.#own, ...shared]);
  }

  #share(name: string, w: number, shape: number): void {
    const known = this.#shared.get(name);
    if (known === undefined) this.#shared.set(name, { w, shape });
    else known.w += w;
  }
}
