/**
 * What a measurement asks for, said aloud: the eyes are on the outlet. Said when it is another sentence,
 * not with each second of a countdown; a warning is said again while it lasts.
 */
import * as z from 'zod/mini';
import { remember, remembered } from '../live/remembered.ts';
import { canSpeak, speak } from '../notice/speech.ts';
import type { Measuring } from '../../server/protocol.ts';

const KEY = 'plateau.voice';
const AGAIN_MS = 8000;

export class Voice {
  on = $state(remembered(KEY, z.boolean(), true));
  readonly can = canSpeak();
  #said = '';
  #saidT = -Infinity;

  switch(on: boolean): void {
    this.on = on;
    remember(KEY, on);
    if (!on && this.can) speechSynthesis.cancel();
  }

  /** Takes what is told each second. */
  take({ text, warns, t, from, method }: Measuring): void {
    if (!this.on || !this.can) return;
    const sentence = `${from} ${method} ${text.replace(/\d+ s to go\./, '')}`;
    if (sentence === this.#said && !(warns && t - this.#saidT >= AGAIN_MS)) return;
    this.#said = sentence;
    this.#saidT = t;
    speak(text.replace(/ \d+ s to go\./, ''));
  }
}
