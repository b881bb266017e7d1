/** The two sounds of a notice, made here: three tones that rise, and two that fall. */
import type { Turn } from './turns.ts';

interface Tone {
  hz: number;
  /** When it begins, and how long it takes to fade, s. */
  atS: number;
  fadeS: number;
}

/** A major chord upwards: it can be written down. Equal temperament, A at 440 Hz. */
const GOOD: Tone[] = [
  { hz: 523.25, atS: 0, fadeS: 0.5 },
  { hz: 659.26, atS: 0.16, fadeS: 0.5 },
  { hz: 783.99, atS: 0.32, fadeS: 1.1 },
];
/** A falling fourth for what was lost. */
const TONES: Record<Turn['kind'], Tone[]> = {
  steady: GOOD,
  cycling: GOOD,
  lost: [
    { hz: 392, atS: 0, fadeS: 0.5 },
    { hz: 293.66, atS: 0.22, fadeS: 0.9 },
  ],
};
/** Loud enough for the next room, with room for two units at once. */
const LOUDNESS = 0.32;
/** The octave above, as a share: a bare sine is hard to hear through a small loudspeaker. */
const OCTAVE = 0.3;
/** A tone comes in over so long, s: at once it would click. */
const ATTACK_S = 0.012;
/** What a fading tone fades to: it cannot reach nought. */
const FAINT = 0.0005;

export class Sound {
  /** Whether the browser lets it be heard: it does not before the page was touched once. */
  isReady = $state(false);
  #context: AudioContext | null = null;

  /** Waits for the first touch, and for those after a pause. @returns what ends it */
  start(): () => void {
    const ended = new AbortController();
    const { signal } = ended;
    const unlock = (): void => void this.#unlock();
    addEventListener('pointerdown', unlock, { signal, capture: true });
    addEventListener('keydown', unlock, { signal, capture: true });
    return () => {
      ended.abort();
      void this.#context?.close();
      this.#context = null;
      this.isReady = false;
    };
  }

  /** Plays a sound; nothing is heard while it is not ready. */
  play(kind: Turn['kind']): void {
    const context = this.#context;
    if (context === null) return;
    void this.#unlock();
    for (const tone of TONES[kind]) {
      playPartial(context, tone, 1, LOUDNESS);
      playPartial(context, tone, 2, LOUDNESS * OCTAVE);
    }
  }

  async #unlock(): Promise<void> {
    try {
      this.#context ??= new AudioContext();
      if (this.#context.state !== 'running') await this.#context.resume();
      this.isReady = this.#context.state === 'running';
    } catch {
      this.isReady = false; // there is no sound here
    }
  }
}

/** One part of a tone: a multiple of its pitch, which comes in softly and fades. */
function playPartial(context: AudioContext, tone: Tone, multiple: number, loudness: number): void {
  const begin = context.currentTime + tone.atS;
  const end = begin + tone.fadeS;
  const oscillator = context.createOscillator();
  const gain = context.createGain();
  oscillator.frequency.value = tone.hz * multiple;
  gain.gain.setValueAtTime(FAINT, begin);
  gain.gain.linearRampToValueAtTime(loudness, begin + ATTACK_S);
  gain.gain.exponentialRampToValueAtTime(FAINT, end);
  oscillator.connect(gain).connect(context.destination);
  oscillator.start(begin);
  oscillator.stop(end);
}
