// The service worker: the page works offline, and changes to a new version only when the reader says so.

// keepOffline registers the worker. It calls ready(true) once every file is in the cache, ready(false) if that cannot be; and
// update(change) when a new version waits: change() changes to it.
async function keepOffline(ready, update) {
  if (!('serviceWorker' in navigator)) return ready(false);
  const worker = navigator.serviceWorker;
  let changing = false;
  worker.addEventListener('message', (e) => {
    if (e.data?.complete !== undefined) ready(e.data.complete);
  });
  worker.addEventListener('controllerchange', () => {
    if (changing) location.reload();
  });
  const ask = () => worker.ready.then((r) => r.active?.postMessage('complete?'));
  try {
    const registration = await worker.register('sw.js', { updateViaCache: 'none' });
    const offer = (waiting) =>
      update(() => {
        changing = true;
        waiting.postMessage('change');
      });
    if (registration.waiting && worker.controller) offer(registration.waiting);
    registration.addEventListener('updatefound', () => {
      const coming = registration.installing;
      coming?.addEventListener('statechange', () => {
        if (coming.state === 'installed' && worker.controller) offer(coming);
        if (coming.state === 'activated') ask();
      });
    });
    ask();
  } catch {
    ready(false);
  }
}

// showOffline keeps the page offline and says so in its header; a new version is offered in the banner.
export function showOffline(words) {
  const at = document.getElementById('offline');
  const banner = document.getElementById('update');
  keepOffline(
    (complete) => {
      at.textContent = words[complete ? 'offline' : 'offline.not'];
      at.dataset.state = complete ? 'yes' : 'no';
    },
    (change) => {
      banner.textContent = words.update;
      banner.hidden = false;
      banner.onclick = change;
    },
  );
}
