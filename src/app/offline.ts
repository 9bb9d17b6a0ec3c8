/** Keeps the app for when there is no network, once it stands: the first picture does not wait for it. */
const QUIET = 4_000;

export function keepForOffline(): void {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return;
  setTimeout(() => {
    navigator.serviceWorker.register('./offline.js').catch((error: unknown) => {
      // The app works as before, with a network.
      console.info('The app is not kept for offline use:', error);
    });
  }, QUIET);
}
