/** How a person wants to be called, as the form of it says it. */

export const NOTICES = {
  open: 'Notices',
  mayGoDark: 'The screen may go dark.',
  title: 'When a unit becomes steady',
  when: 'Plateau calls you then, and again when it is no longer steady: at most once a minute for each unit.',
  sound: 'Sound: three tones that rise, two that fall',
  blocked: 'This browser blocks sound until you touch the page. Touch “Try it”.',
  vibration: 'Vibration, where the device has it',
  noVibration: 'This browser does not let a page vibrate the device.',
  notification: 'Browser notification, over other windows',
  speech: 'Spoken words: what has happened, and the figure',
  noSpeech: 'This browser cannot speak.',
  large: 'The figure as large as this screen',
  eachScreen:
    'Each screen has its own settings: let the laptop in the room call while your phone is in your pocket.',
  awake: 'Keep the screen awake during the visit',
  isAwake: 'It stays awake while this page is in front.',
  tryIt: 'Try it',
};
