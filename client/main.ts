import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import 'uplot/dist/uPlot.min.css';
import './look/tokens.css';
import './look/base.css';
import { speak } from '../server/words/language.ts';
import { chosenLanguage } from './live/language.ts';
import { languageFor, localeFor } from './live/language-for.ts';
import { registerWorker } from './offline/register.ts';

const target = document.getElementById('page');
if (target === null) throw new Error('The page has no element with the id "page".');

const language = languageFor(chosenLanguage(), navigator.languages);
const locale = localeFor(language, navigator.languages);
// A browser has the page itself by then: index.html lets it come along (vite.config.ts).
if (language === 'es') {
  const { SENT, SPANISH } = await import('../server/words/spanish/index.ts');
  speak({ language, locale, catalog: SPANISH, sent: SENT });
} else {
  speak({ language, locale });
}
document.documentElement.lang = language;

// A company's archive is looked at where it is: no worker holds its page for times without a network.
if (target.dataset['archive'] === undefined) {
  const { start } = await import('./start.ts');
  start(target);
  registerWorker();
} else {
  const { start } = await import('./archive/start.ts');
  start(target);
}
