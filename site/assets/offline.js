// The service worker: the page works offline, and changes to a new version only when the reader says so. What hinders it is said in
// the header; it is tried again while the page is open.

const root = new URL('.', location.href).href;
const version = new URL(document.querySelector('script[src]')?.src ?? location.href).search.slice(1); // of this page, if it is not one file
const SOON = 20_000; // ms until a first try again
const LATE = 3_600_000;

class Offline {
  constructor(words) {
    this.words = words;
    this.status = document.getElementById('offline');
    this.stale = document.getElementById('stale');
    this.banner = document.getElementById('update');
    this.worker = navigator.serviceWorker;
    this.registration = null;
    this.changing = false;
    this.pause = SOON;
  }

  // show says in the header where this stands: key is that of the words behind "offline", file what they name.
  show(key, file = '') {
    this.status.textContent = this.words[`offline${key && '.'}${key}`].replace('{0}', file);
    this.status.dataset.state = key || 'yes';
  }

  begin() {
    if (!globalThis.isSecureContext) return this.show('insecure');
    if (!this.worker) return this.show('none');
    this.worker.addEventListener('message', (e) => e.data?.site === root && this.heard(e.data));
    this.worker.addEventListener('controllerchange', () => (this.changing ? location.reload() : this.ask()));
    this.worker.startMessages();
    addEventListener('online', () => this.again());
    this.register();
  }

  // register asks the browser for the worker. It answers only when no version is being installed: so what is here is looked at first.
  async register() {
    const there = (await this.worker.getRegistrations().catch(() => [])).find(({ scope }) => scope === root);
    if (there) this.look(there);
    try {
      const registration = await this.worker.register('sw.js', { updateViaCache: 'none' });
      if (!registration) return this.show('none'); // as a browser answers that lets none be registered
      if (!there) this.look(registration);
      if (registration.active) registration.update().catch(() => {}); // without a network it is not looked for
    } catch {
      this.failed(await whyNot());
    }
  }

  look(registration) {
    this.registration = registration;
    const { waiting, installing, active } = registration;
    registration.onupdatefound = () => this.follow(registration.installing);
    if (waiting && active) this.offer(waiting);
    if (installing) this.follow(installing);
    if (active) this.ask();
  }

  // follow waits for what becomes of a worker that is being installed.
  follow(coming) {
    coming?.addEventListener('statechange', () => {
      const { active } = this.registration;
      if (coming.state === 'installed' && active) this.offer(coming);
      if (coming.state === 'activated') this.ask();
      // It has told why it gave up, unless something ended it.
      if (coming.state === 'redundant' && !active && this.status.dataset.state === 'wait') this.failed({ why: 'cut', file: 'sw.js' });
    });
  }

  ask() {
    this.registration?.active?.postMessage('complete?');
  }

  // heard takes what a worker tells: whether its version is here as a whole, or why it does not come.
  heard({ complete, failed, version: theirs }) {
    if (complete) {
      this.show('');
      this.pause = SOON;
      // It has changed in another window: this page is still of the version before.
      if (theirs !== version && !this.registration?.waiting && this.worker.controller) this.offer(null);
    } else if (failed) this.failed(failed, complete === undefined);
    else this.show('wait');
  }

  // failed says why a version did not come, and tries again later. isNew: it is one to be installed.
  failed({ why, file }, isNew = true) {
    if (isNew && this.registration?.active) {
      this.stale.textContent = this.words[`update.${why}`].replace('{0}', file);
      this.stale.dataset.state = why;
    } else this.show(why, file);
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.again(), this.pause);
    this.pause = Math.min(2 * this.pause, LATE);
  }

  again() {
    clearTimeout(this.timer);
    if (this.status.dataset.state !== 'yes' || this.stale.textContent) this.register();
  }

  // offer shows that a new version waits, and changes to it on a tap; or, if it has been changed to elsewhere, shows it.
  offer(waiting) {
    this.stale.textContent = '';
    this.banner.textContent = this.words.update;
    this.banner.hidden = false;
    this.banner.onclick = () => {
      if (waiting?.state !== 'installed') return location.reload();
      this.changing = true;
      waiting.postMessage('change');
      setTimeout(() => location.reload(), 5000); // where the browser leaves it waiting all the same: see giveWay in look.js
    };
  }
}

// whyNot finds out why the worker could not be registered.
async function whyNot() {
  try {
    const response = await fetch('sw.js', { cache: 'no-store' });
    const isScript = /javascript/.test(response.headers.get('content-type') ?? '');
    return { why: response.ok && isScript ? 'none' : 'wrong', file: 'sw.js' };
  } catch {
    return { why: 'cut', file: 'sw.js' };
  }
}

// showOffline keeps the page offline and says so in its header; a new version is offered in the banner. A site that is one file has all
// it needs: it says where entries are kept, if they are.
export function showOffline(words, isKept) {
  const offline = new Offline(words);
  if (globalThis.ohmwrightInside) offline.show(isKept ? 'inside' : 'inside.unkept');
  else offline.begin();
}
