// The address bar holds the link to what is seen. It is written once the typing pauses, in place of the entry that stands there, so that
// going back leads to the place before. An address that the page wrote itself is told from a link by the entry's state: a reload shows what
// is kept, and puts nothing into the form. A browser may lose that state where a page did not come and then did: so the last address is
// also kept for the window.
import { nameFor, scope } from './scope.js';

const PAUSE = 400; // milliseconds without an answer
const LONGEST = 2000; // characters; a longer link would only be cut by those who pass it on

export class Address {
  // job() is the id of the open job, '' if there is none.
  constructor(job) {
    this.job = job;
    this.isReloaded = performance.getEntriesByType('navigation')[0]?.type === 'reload'; // and nobody has gone anywhere since
    window.addEventListener('hashchange', () => {
      clearTimeout(this.timer);
      this.isReloaded = false;
    });
  }

  // read returns what the address names, however it is typed: {path, query, own}; query is undefined without one, own the job that was
  // open when the page wrote it, undefined if it is a link.
  read() {
    this.at = location.hash;
    const text = location.hash.replace(/^#\/*/, '');
    const cut = text.indexOf('?');
    const path = (cut < 0 ? text : text.slice(0, cut)).replace(/\/+$/, '').toLowerCase();
    return { path, query: cut < 0 ? undefined : text.slice(cut + 1), own: this.own };
  }

  get own() {
    return history.state?.own ?? (this.isReloaded ? ownAt(location.hash) : undefined);
  }

  // isLink reports whether the address is a link that is still to be opened.
  get isLink() {
    return location.hash.includes('?') && this.own === undefined;
  }

  // name writes the name of a place, now.
  name(path) {
    this.write(`#/${path}`);
  }

  // seen writes the link to what a form shows, once it stays; not over an address that nobody has gone to yet.
  seen({ tool, seen: link }) {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => {
      const says = link.includes('&') && link.length <= LONGEST;
      if (location.hash === this.at && document.body.dataset.place === tool) this.write(says ? link : `#/${tool}`);
    }, PAUSE);
  }

  // rest stops writing, as the page is left: WebKit loses the entry's state if it is written while a page that was put aside loads anew.
  rest() {
    this.isResting = true;
  }

  write(link) {
    clearTimeout(this.timer);
    if (this.isResting) return;
    const own = this.job();
    if (location.hash !== link || history.state?.own !== own) history.replaceState({ own }, '', link);
    this.at = location.hash;
    keepOwn(this.at, own);
  }
}

const LAST = `${nameFor(scope)}address`;

function keepOwn(hash, own) {
  try {
    sessionStorage.setItem(LAST, JSON.stringify({ hash, own }));
  } catch {
    // then the entry's state has to do
  }
}

// ownAt returns the job that was open when the page wrote the last address, if that is the one; else undefined.
function ownAt(hash) {
  try {
    const last = JSON.parse(sessionStorage.getItem(LAST));
    return last?.hash === hash ? last.own : undefined;
  } catch {
    return undefined;
  }
}
