/** Words that the browser says aloud. */
import { spokenWords } from '../words/notice.ts';
import { locale } from '../words/language.ts';

/** Whether this browser can speak. */
export const canSpeak = (): boolean => 'speechSynthesis' in globalThis;

/** Says it aloud; what was still being said gives way to it. */
export function speak(text: string): void {
  speechSynthesis.cancel();
  const said = new SpeechSynthesisUtterance(spokenWords(text));
  said.lang = locale();
  speechSynthesis.speak(said);
}
