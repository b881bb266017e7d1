/** Notifications of the system, over other windows and on a locked phone. */
import { NO_NOTIFICATION } from '../words/notice-trouble.ts';

/**
 * Asks the person, where the browser has not yet; to be called by a touch.
 * @returns why there will be none and what to do, null: there will be
 */
export async function allowNotifications(): Promise<string | null> {
  if (!('Notification' in globalThis)) return NO_NOTIFICATION.notHere;
  const answer = await Notification.requestPermission();
  return answer === 'granted' ? null : refused();
}

/**
 * Shows one; the next of the same tag takes its place.
 * @returns why it could not be shown, null: it is
 */
export async function showNotification(
  title: string,
  body: string,
  tag: string,
): Promise<string | null> {
  if (!('Notification' in globalThis)) return NO_NOTIFICATION.notHere;
  if (Notification.permission !== 'granted') return refused();
  const options = { body, tag: `plateau-${tag}`, icon: '/icon-192.png' };
  try {
    // Phones show those of a service worker only.
    const worker =
      'serviceWorker' in navigator ? await navigator.serviceWorker.getRegistration() : undefined;
    if (worker !== undefined) await worker.showNotification(title, options);
    else {
      const shown = new Notification(title, options);
      shown.addEventListener('click', () => window.focus());
    }
    return null;
  } catch {
    return NO_NOTIFICATION.notShown;
  }
}

const refused = (): string => (isSecureContext ? NO_NOTIFICATION.blocked : NO_NOTIFICATION.notHere);
