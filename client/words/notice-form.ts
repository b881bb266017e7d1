/** How a person wants to be called, as the form of it says it. */
import { t } from '../../server/words/language.ts';

export const NOTICES = {
  open: t`Notices`,
  mayGoDark: t`The screen may go dark.`,
  title: t`When a unit becomes steady`,
  when: t`Plateau calls you then, and again when it is no longer steady: at most once a minute for each unit.`,
  sound: t`Sound: three tones that rise, two that fall`,
  blocked: t`This browser blocks sound until you touch the page. Touch “Try it”.`,
  vibration: t`Vibration, where the device has it`,
  noVibration: t`This browser does not let a page vibrate the device.`,
  notification: t`Browser notification, over other windows`,
  speech: t`Spoken words: what has happened, and the figure`,
  noSpeech: t`This browser cannot speak.`,
  large: t`The figure as large as this screen`,
  eachScreen: t`Each screen has its own settings: let the laptop in the room call while your phone is in your pocket.`,
  awake: t`Keep the screen awake during the visit`,
  isAwake: t`It stays awake while this page is in front.`,
  tryIt: t`Try it`,
};
