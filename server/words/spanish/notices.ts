/** Notices, in Spanish. */
import type { Catalog } from '../language.ts';

export const NOTICES: Catalog = {
  // client/words/cautions.ts
  'Before you climb up: cautions': '',
  'Set the ladder on firm ground. Do not lean out to reach a probe: move the ladder. Climb with both hands free; the phone stays in your pocket, and a screen in the room calls you.':
    '',
  'The blower wheel turns behind the louver and starts without warning. Keep fingers, probes and leads out of it. Louvers move when power comes back. Coil fins are sharp: wear gloves.':
    '',
  'Covers hide live parts. Leave them closed, or lock the unit out and verify that the power is off first. A clamp meter in an open panel is for qualified people only.':
    '',
  'An attic in summer is hot enough to harm you. Keep it short, drink water, and tell someone that you are up there.':
    '',
  'Refrigerant is under pressure and may burn. Plateau needs no work on its circuit; that work takes a license.':
    '',
  'The manufacturer’s instructions, local codes and licensed practice come before anything on this page.':
    '',
  'The wheel turns while you measure: nothing past the louver, no lanyard, no loose sleeve. Louvers move when power returns, and fins are sharp. Power off before any part comes off. No phone in the hand while you climb.':
    '',
  // client/words/language-choice.ts
  Language: '',
  'For this screen and its reports. The page loads anew: save what you have entered first.': '',
  // client/words/not-recorded.ts
  'What the server says': '',
  'Recording again.': '',
  'the disk is full': '',
  'Free some space on this computer’s disk.': '',
  'its folder is gone or cannot be opened': '',
  'Put the folder back, or plug its drive in again.': '',
  'its folder is read-only': '',
  'Allow this program to write there: check the folder’s permissions.': '',
  'the disk reports a fault': '',
  'Check the drive. If the fault stays, start Plateau with another folder (--data).': '',
  'the server cannot write to its folder': '',
  'Check the folder. The server says below what is wrong.': '',
  'Not recording: {0}.': '',
  'Memory is full too: Plateau refuses new readings, they are lost, and the figures stop. What is in memory is lost if Plateau or this computer stops.':
    '',
  'The figures go on. New readings stay in memory for about an hour and are lost if Plateau or this computer stops.':
    '',
  '{0} Then Plateau writes all of it.': '',
  // client/words/notice-form.ts
  Notices: '',
  'The screen may go dark.': '',
  'When a unit becomes steady': '',
  'Plateau calls you then, and again when it is no longer steady: at most once a minute for each unit.':
    '',
  'Sound: three tones that rise, two that fall': '',
  'This browser blocks sound until you touch the page. Touch “Try it”.': '',
  'Vibration, where the device has it': '',
  'This browser does not let a page vibrate the device.': '',
  'Browser notification, over other windows': '',
  'Spoken words: what has happened, and the figure': '',
  'This browser cannot speak.': '',
  'The figure as large as this screen': '',
  'Each screen has its own settings: let the laptop in the room call while your phone is in your pocket.':
    '',
  'Keep the screen awake during the visit': '',
  'It stays awake while this page is in front.': '',
  'Try it': '',
  // client/words/notice-trouble.ts
  'The browser keeps the screen awake only for pages over https, or on the computer that runs the server. Set a longer time until the screen goes dark in the settings of this device.':
    '',
  'This browser cannot keep the screen awake. Set a longer time until the screen goes dark in the settings of this device.':
    '',
  'The device did not allow it, perhaps to save its battery. Connect it to power and come back to this page, or set a longer time until the screen goes dark in its settings.':
    '',
  'Browsers show notifications only for pages over https, or on the computer that runs the server: open the page there, or let the sound call you.':
    '',
  'The browser does not show notifications of this page. Allow them in its settings for this site, then switch this on again.':
    '',
  'This browser shows no notifications of an open page. Let the sound or the vibration call you.':
    '',
  'This is how it calls you': '',
  'Nothing has happened.': '',
  // client/words/notice.ts
  '{0} is steady': '',
  '{0} is cycling: capture its mean': '',
  '{0} over {1} {2}.': '',
  '{0} is no longer steady': '',
  '{0} {1}, now {2}.': '',
  sound: '',
  'sound (touch the page once first)': '',
  vibration: '',
  notification: '',
  'spoken words': '',
  'large figure': '',
  'Does not call you when steady.': '',
  'Calls you when steady: {0}.': '',
  ' plus or minus ': '',
  ' kilowatts': '',
  ' B T U per hour': '',
  'minus ': '',
};
