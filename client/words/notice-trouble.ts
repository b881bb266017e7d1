/** Why a browser does not do what is asked of it to call a person, and what to do. */
import { t } from '../../server/words/language.ts';

/** Why the screen goes dark. */
export const GOES_DARK = {
  notHere: t`The browser keeps the screen awake only for pages over https, or on the computer that runs the server. Set a longer time until the screen goes dark in the settings of this device.`,
  notKnown: t`This browser cannot keep the screen awake. Set a longer time until the screen goes dark in the settings of this device.`,
  refused: t`The device did not allow it, perhaps to save its battery. Connect it to power and come back to this page, or set a longer time until the screen goes dark in its settings.`,
};

/** Why no notification is shown. */
export const NO_NOTIFICATION = {
  notHere: t`Browsers show notifications only for pages over https, or on the computer that runs the server: open the page there, or let the sound call you. The README says how to make a certificate.`,
  blocked: t`The browser does not show notifications of this page. Allow them in its settings for this site, then switch this on again.`,
  notShown: t`This browser showed no notification. Add the page to the home screen and open it from there, or let the sound or the vibration call you.`,
};

/** What a notice says that is only tried. */
export const TRIED = { title: t`This is how it calls you`, text: t`Nothing has happened.` };
