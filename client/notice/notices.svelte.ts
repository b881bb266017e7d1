/**
 * Calls a person who does not look: by sound, vibration, a notification, spoken words and the figure as
 * large as the screen, each as it is chosen on this screen.
 */
import * as z from 'zod/mini';
import type { SettlingSnapshot, State, UnitSnapshot } from '../../server/protocol.ts';
import { remember, remembered } from '../live/remembered.ts';
import { callWords, noticeWords } from '../words/notice.ts';
import type { Scale } from '../words/scales.ts';
import { Awake } from './awake.svelte.ts';
import { allowNotifications, showNotification } from './notification.ts';
import { Sound } from './sound.svelte.ts';
import { canSpeak, speak } from './speech.ts';
import { Turns, type Turn } from './turns.ts';
import { TRIED } from '../words/notice-trouble.ts';

const KEY = 'plateau.notice';
const choiceSchema = z.object({
  sound: z.boolean(),
  vibration: z.boolean(),
  notification: z.boolean(),
  awake: z.boolean(),
  // Later than the others: a choice that was remembered before has none.
  speech: z._default(z.boolean(), false),
  large: z._default(z.boolean(), false),
});
export type NoticeChoice = z.infer<typeof choiceSchema>;
/** A notification is asked for by the browser: nobody is asked before a touch. */
const FIRST: NoticeChoice = {
  ...{ sound: true, vibration: true, notification: false, awake: true },
  ...{ speech: false, large: false },
};

/** How long it vibrates, is still, vibrates, …, ms: short, short, long; or once, long. */
const GOOD_PULSES = [120, 80, 120, 80, 350];
const PULSES: Record<Turn['kind'], number[]> = {
  steady: GOOD_PULSES,
  cycling: GOOD_PULSES,
  lost: [600],
};

/** Browsers let a page vibrate only after a first touch, and complain of one that tries before. */
const wasTouched = (): boolean =>
  !('userActivation' in navigator) || navigator.userActivation.hasBeenActive;

export class Notices {
  #choice = $state.raw<NoticeChoice>(FIRST);
  /** The last notice, for those who listen to the page. */
  said = $state('');
  /** The state that each unit was last called with. */
  #calledStates = $state.raw<Record<string, SettlingSnapshot['state']>>({});
  /** Why a notification cannot be shown, and what to do. */
  trouble = $state<string | null>(null);
  readonly sound = new Sound();
  readonly awake = new Awake();
  readonly #turns = new Turns();

  constructor() {
    // Here and not in the field: zod must have been configured (connection.svelte.ts) before.
    this.#choice = remembered(KEY, choiceSchema, FIRST);
  }

  get choice(): NoticeChoice {
    return this.#choice;
  }

  /** How a person is called, as a sentence. */
  get words(): string {
    const { choice, canVibrate, canSpeak, sound } = this;
    const vibration = choice.vibration && canVibrate;
    const speech = choice.speech && canSpeak;
    return callWords({ ...choice, vibration, speech, isHeard: sound.isReady });
  }

  get canVibrate(): boolean {
    return 'vibrate' in navigator;
  }

  set(change: Partial<NoticeChoice>): void {
    this.#choice = { ...this.#choice, ...change };
    remember(KEY, this.#choice);
  }

  /** To be called by the touch of a switch: the browser may ask the person. */
  async allowNotifications(): Promise<void> {
    this.trouble = null;
    this.trouble = await allowNotifications();
    this.set({ notification: this.trouble === null });
  }

  /** Whether this browser can speak. */
  get canSpeak(): boolean {
    return canSpeak();
  }

  /**
   * Calls for what a state brings. Nothing is live but what has just come.
   * @returns the unit of the last call, null where there was none
   */
  take(state: State, power: Scale): string | null {
    const { units, visit, t } = state;
    let called: string | null = null;
    // One that has left the state it was called with is not in it again without a word.
    const still = Object.entries(this.#calledStates).filter(
      ([id, known]) => units[id]?.settling.state === known,
    );
    if (still.length < Object.keys(this.#calledStates).length) {
      this.#calledStates = Object.fromEntries(still);
    }
    for (const { unit, kind } of this.#turns.take(state, performance.now())) {
      const snapshot = units[unit];
      if (snapshot === undefined || t === null) continue;
      this.#calledStates = { ...this.#calledStates, [unit]: snapshot.settling.state };
      const name = visit.units[unit]?.name ?? unit;
      this.#call(kind, unit, noticeWords(kind, name, snapshot, t, power));
      called = unit;
    }
    return called;
  }

  /** Whether the state that a unit is in is the one it was last called with. */
  isCalled(id: string, { settling }: Pick<UnitSnapshot, 'settling'>): boolean {
    return settling.defrost === null && this.#calledStates[id] === settling.state;
  }

  /** A call as it will be, for a person who wants to know. */
  tryIt(): void {
    this.#call('steady', 'try', TRIED);
  }

  #call(kind: Turn['kind'], tag: string, { title, text }: { title: string; text: string }): void {
    const { sound, vibration, notification, speech } = this.#choice;
    this.said = `${title}. ${text}`;
    if (sound) this.sound.play(kind);
    if (vibration && this.canVibrate && wasTouched()) navigator.vibrate(PULSES[kind]);
    if (notification) {
      void showNotification(title, text, tag).then((trouble) => (this.trouble = trouble));
    }
    if (speech && this.canSpeak) speak(`${title}. ${text}`);
  }
}
