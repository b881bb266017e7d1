/** A probe that is placed at the outlet, for velocity, and tells none. */
import type { Doubt } from '../../protocol.ts';
import { doubt, of } from '../doubt.ts';
import { Held } from './held.ts';
import type { Scene } from './scene.ts';
import { sent } from '../../words/sent.ts';

/** A probe that tells its quantities in turn has told each by then, s. */
const ON_S = 10;

export class OutletProbe {
  readonly #held = new Held(ON_S, 1);

  second({ t, placed: { outlet } }: Scene, out: Doubt[]): void {
    let blind = false;
    for (const p of outlet) blind ||= p.velocityMs === null && p.isLive(t);
    if (!this.#held.second(blind)) return;
    for (const probe of outlet) {
      if (probe.velocityMs !== null) continue;
      out.push(
        of(
          probe,
          doubt(
            'outlet-no-velocity',
            sent`${probe.name} is placed at the outlet, the place for velocity, but sends none.`,
            sent`Its readings are in no figure.`,
            sent`If it hangs in the air that comes out, place it in the supply. For velocity, hang a velocity probe at the outlet.`,
          ),
        ),
      );
    }
  }
}
