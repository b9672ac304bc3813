// Where this site is on its host, and with it how what it keeps on the device is named: two sites under two paths of one host keep
// theirs apart. At the root the names are as they have always been. At a path they were the same until the path came into them: what
// lies there under the old names is copied once, and stays where it is, since it may be a neighbour's. A site in one file has the same
// names wherever the file lies: a stick is not at the same place each time.
import { Store } from './state.js';

const OLD = 'ohmwright/';
const ALONE = 'root-alone'; // kept at the root, if nothing was there before: what is there later is no other path's
const MOVED = 'moved-in'; // kept at a path: the old names were looked through

export const scope = location.protocol === 'file:' ? '/one-file/' : new URL('.', location.href).pathname;

// addressOf returns the whole address of a link. It leads to the site, whichever language's page this is; a language that was chosen goes
// with it. A site in one file leads to that file.
export function addressOf(link) {
  const { chosen } = document.documentElement.dataset;
  if (globalThis.ohmwrightInside) return location.href.split('#')[0] + link;
  return `${new URL('.', location.href).href}${link}${chosen && link.includes('?') ? `&language=${chosen}` : ''}`;
}

// nameFor returns how the names of what is kept begin.
export const nameFor = (path) => (path === '/' ? OLD : `ohmwright${path}`);

// databaseFor returns the name of the database for jobs; a channel's name begins with it.
export const databaseFor = (path) => (path === '/' ? 'ohmwright' : nameFor(path));

// keysFor returns how the keys of a storage begin for a site at a path, and copies first what has to be copied. If that fails, as there
// is no room for it twice, the old names stay in use.
export function keysFor(storage, path = scope) {
  const own = nameFor(path);
  try {
    const old = Object.keys(storage).filter((key) => key.startsWith(OLD) && !key.slice(OLD.length).includes('/'));
    if (path === '/') {
      if (old.length === 0) storage.setItem(OLD + ALONE, 'yes');
      return own;
    }
    if (storage.getItem(own + MOVED) !== null) return own;
    const wanted = storage.getItem(OLD + ALONE) === null ? old : [];
    try {
      for (const key of wanted) {
        const name = own + key.slice(OLD.length);
        if (storage.getItem(name) === null) storage.setItem(name, storage.getItem(key));
      }
      storage.setItem(own + MOVED, 'yes');
    } catch {
      for (const key of wanted) storage.removeItem(own + key.slice(OLD.length));
      return wanted.length > 0 ? OLD : own;
    }
  } catch {
    // storage is forbidden: the page says so
  }
  return own;
}

// isShared reports whether what lies under the old names may be this site's.
export function isShared(storage, path = scope) {
  try {
    return path !== '/' && storage().getItem(OLD + ALONE) === null;
  } catch {
    return path !== '/';
  }
}

// storeHere returns this site's storage.
export function storeHere() {
  const storage = () => localStorage;
  try {
    return new Store(storage, keysFor(storage()));
  } catch {
    return new Store(storage, nameFor(scope)); // looking at it is forbidden
  }
}
