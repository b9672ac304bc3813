// What must be there before anything else: the reader's language, the look of the page, the promise of the core, and what to do if a file
// does not come.
{
  const root = document.documentElement;
  const here = new URL('.', location.href).pathname;
  const version = new URL(document.currentScript.src || location.href).search; // it has no address where the site is one file
  const scope = location.protocol === 'file:' ? '/one-file/' : here; // as scope.js has it
  const key = (name) => `ohmwright${scope}${name}`;
  try {
    const before = localStorage.getItem('ohmwright/root-alone') ? null : localStorage.getItem('ohmwright/look');
    root.dataset.look = localStorage.getItem(key('look')) || before || 'auto';
  } catch {
    root.dataset.look = 'auto'; // storage is forbidden here: the page says so
  }

  // Who is on the way to another place is not shown the first screen in between, unless the page's scripts do nothing.
  if (/^#\/./.test(location.hash)) root.dataset.elsewhere = 'yes';
  addEventListener('load', () => setTimeout(() => delete root.dataset.elsewhere, 4000));

  // Where the site has several languages, each has a page. The reader's is that of the link, else the one chosen in this window or on this
  // device, else the first of the browser's that is served; the page of another one goes to it, with the place or link that was asked for.
  const stored = (store, name) => {
    try {
      return store().getItem(key(name));
    } catch {
      return null; // forbidden
    }
  };
  const pages = [...document.querySelectorAll('meta[name="page"]')];
  const pageFor = (tag) =>
    pages.find(({ lang }) => lang.toLowerCase() === tag.toLowerCase()) ??
    pages.find((page) => page.dataset.serves.split(' ').includes(tag.split('-')[0].toLowerCase()));
  const speak = () => {
    const asked = /[?&]language=([\w-]+)/.exec(location.hash)?.[1];
    if (asked && pageFor(asked)) {
      try {
        sessionStorage.setItem(key('language'), asked);
      } catch {
        // then a reload shows the reader's own
      }
    }
    const chosen = stored(() => localStorage, 'language');
    if (chosen && pageFor(chosen)) root.dataset.chosen = chosen;
    const wishes = [asked, stored(() => sessionStorage, 'language'), chosen, ...navigator.languages].filter(Boolean);
    const page = wishes.map(pageFor).find(Boolean);
    if (!page || page.lang === root.lang || new URL(page.content, location.href).pathname === location.pathname) return;
    window.stop(); // nothing more of this one is needed
    location.replace(page.content + location.hash);
  };
  if (pages.length > 0) {
    speak();
    addEventListener('hashchange', speak);
  }

  // Each script and style sheet has its hash in the page: a wrong one fails as one that does not come. The page says so, and loads anew
  // once the host has it right, unless somebody can work with what came.
  let pause = 500;
  let healing = null; // what is tried again
  const name = (address) => new URL(address).pathname.slice(here.length) || 'index.html';
  const inBody = () => document.body?.dataset.place !== undefined;
  const again = () => {
    try {
      const last = Number(sessionStorage.getItem(key('reloaded')) ?? 0);
      sessionStorage.setItem(key('reloaded'), String(Date.now()));
      if (Math.abs(Date.now() - last) > 3000) location.reload();
      else setTimeout(() => location.reload(), 10_000);
    } catch {
      // without it, it could go on for ever: the page says that it is to be loaded again
    }
  };
  // giveWay lets another version of the service worker take over, if one is coming, and reports whether to wait for that. Meanwhile nothing
  // is asked for: Chromium leaves a version waiting for good if the one before is asked in the moment of the change. A reload ends that.
  let waits = 0;
  const giveWay = async () => {
    const { waiting, installing } = (await navigator.serviceWorker?.getRegistration().catch(() => null)) ?? {};
    const next = waiting ?? installing;
    next?.postMessage('change');
    if (next && waits++ < 3) return true;
    waits = 0;
    if (waiting) again();
    return Boolean(waiting);
  };
  // heal asks past all caches for the file and for the page, which may be of another version by now.
  const heal = async (address, integrity) => {
    if (!inBody() && (await giveWay())) return setTimeout(healing, 1000);
    const page = await fetch(location.href.split('#')[0], { cache: 'reload' }).then((r) => (r.ok ? r.text() : ''), () => '');
    const isWhole = page.trimEnd().endsWith('</html>');
    const isOther = isWhole && page.includes('id="broken"') && !page.includes(version);
    const came = () => fetch(address, { cache: 'reload', integrity }).then((r) => r.ok, () => false);
    const isRight = isOther || (address === location.href ? isWhole : await came());
    if (isRight && !inBody()) again();
    else if (!isRight) setTimeout(healing, (pause = Math.min(2 * pause, 60_000)));
  };
  const fail = ({ target }) => {
    if (!target.integrity) return;
    const address = target.src || target.href;
    if (!root.dataset.broken) root.dataset.broken = name(address);
    if (healing) return;
    healing = () => heal(address, target.integrity);
    healing();
  };
  addEventListener('error', fail, true);
  globalThis.ohmwrightLacks = (file, integrity) => fail({ target: { src: new URL(file, location.href).href, integrity } });
  addEventListener('online', () => healing?.());
  addEventListener('DOMContentLoaded', () => {
    const first = document.querySelector('script[integrity]');
    if (!document.getElementById('words')) fail({ target: { integrity: first?.integrity, src: location.href } }); // the page was cut off
    const said = document.getElementById('broken');
    said.addEventListener('click', () => location.reload());
    said.querySelector('span').textContent = root.dataset.broken ?? '';
    new MutationObserver(() => (said.querySelector('span').textContent = root.dataset.broken)).observe(root, {
      attributeFilter: ['data-broken'],
    });
  });
  navigator.serviceWorker?.addEventListener('controllerchange', () => root.dataset.broken && !inBody() && again());
}

// The global promise "ohmwright" is here before any script waits for it, in whatever order the others arrive.
globalThis.ohmwright = new Promise((resolve, reject) => {
  globalThis.ohmwrightReady = resolve;
  globalThis.ohmwrightFailed = reject;
});
globalThis.ohmwright.catch(() => {}); // app.js says so

// So is the one of the tools' style and forms, {style, forms}.
globalThis.ohmwrightForms = new Promise((resolve) => {
  globalThis.ohmwrightShows = resolve;
});
