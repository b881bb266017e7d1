/** Puts the service worker in place, where the browser lets a page have one: over https, or at the computer itself. */

/** After the page has come: it has the line for itself until then. */
export function registerWorker(): void {
  // While the page is being developed every file is new.
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return;
  const register = (): void => {
    // Without one the page works as ever; a certificate that is not trusted is a usual reason.
    navigator.serviceWorker.register('/sw.js').catch(() => undefined);
  };
  if (document.readyState === 'complete') register();
  else addEventListener('load', register);
}
