/** Keeps the app for when there is no network, once it stands: the first picture does not wait for it. */
const QUIET = 4_000;

export function keepForOffline(): void {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return;
  window.addEventListener('load', () => {
    setTimeout(() => {
      // Without it the app works as before, with a network.
      navigator.serviceWorker.register('./offline.js').catch(() => {});
    }, QUIET);
  });
}
