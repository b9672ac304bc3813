// Installing and updating behind a host that misbehaves: afterwards the old version or the new one is there as a whole, the status is
// true, nothing typed is lost, and all is well once the host is. node --test site/test/page-install.test.mjs
import assert from 'node:assert/strict';
import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, describe, test } from 'node:test';
import { ready, useBrowser, visit } from './browser.mjs';
import { explained } from './explain.mjs';
import { startHost } from './host.mjs';
import { field, reload, type, verdict } from './reader.mjs';
import { isNext, keptBy, make, next, versionIn } from './versions.mjs';

useBrowser({ desktop: true });

let directory, old, other;
before(() => {
  directory = mkdtempSync(join(tmpdir(), 'ohmwright-install-'));
  old = make(join(directory, 'old'));
  other = join(directory, 'next');
  cpSync(old, other, { recursive: true });
  next(other);
});
after(() => rmSync(directory, { recursive: true, force: true }));

const WINDING = '#/winding';
const LINK = '#/winding?reading=13ohm&at=24degC&specs.0.min=12ohm';

const plays = [];

// play is a test on a host of its own, with a page where start names one.
function play(name, { at = WINDING, workers = true, wait = true, host: options, spoilt, init }, act) {
  plays.push([name, async (t) => {
    const host = await startHost(old, options);
    host.before = other;
    t.after(() => host.stop());
    if (spoilt) host.spoil(...spoilt);
    const listens = () => {
      globalThis.told = [];
      navigator.serviceWorker?.addEventListener('message', (e) => globalThis.told.push(e.data));
    };
    const page = await visit({ base: host.base, workers, at, wait, expects: /./, init: init ?? listens });
    try {
      await act(page, host).catch(async (e) => {
        throw await explained(e, page);
      });
      for (const fault of page.faults) assert.doesNotMatch(fault, /^error: (?!.*(Failed|import|JSON))/, fault);
    } finally {
      await page.context().close();
    }
  }]);
}

const fill = async (page) => {
  for (const [path, text] of Object.entries({ reading: '13', at: '24', 'specs.0.min': '12' })) await type(page, 'winding', path, text);
  assert.equal(await verdict(page), 'within');
  await page.waitForFunction(() => location.hash.includes('specs.0.min=12')); // the address follows half a second after the typing
};

// holds is what this device holds of the site: the version of the page, and by cache the hash of each file.
const holds = (page) =>
  page.evaluate(async () => {
    const sha = async (response) => {
      const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', await response.arrayBuffer()));
      return `sha256-${btoa(String.fromCharCode(...sum))}`;
    };
    const kept = {};
    for (const name of await caches.keys()) {
      kept[name] = {};
      const cache = await caches.open(name);
      for (const request of await cache.keys()) {
        kept[name][request.url.split('/').pop() || 'index.html'] = await sha(await cache.match(request));
      }
      delete kept[name]['ohmwright.wasm']; // unpacked here: it has no hash
      delete kept[name].language; // a note of the worker's: page-language.test.mjs
    }
    const version = new URL(document.querySelector('script[src]').src).search.slice(1);
    return { version, kept };
  });

// whole checks that a page is of one version, which is here as a whole, works, and has what was typed.
async function whole(page, host, site, { typed = true, alone = true } = {}) {
  const { version, kept } = await holds(page);
  assert.equal(version, versionIn(site), 'the version of the page');
  assert.equal(await isNext(page), site === other, 'the version of its style sheet');
  const name = `ohmwright ${host.path} ${version}`;
  assert.deepEqual(kept[name], keptBy(readFileSync(join(site, 'sw.js'), 'utf8')), 'the bytes that are kept');
  if (alone) assert.deepEqual(Object.keys(kept), [name], 'the caches');
  assert.equal(await page.getAttribute('#offline', 'data-state'), 'yes');
  if (!typed) return;
  assert.equal(await page.inputValue(field('winding', 'reading')), '13');
  const state = () => page.evaluate(() => JSON.stringify([history.state, document.getElementById('said').dataset.said, localStorage]));
  assert.equal(await verdict(page), 'within', await state());
}

const isOffline = (page) => page.waitForFunction(() => document.getElementById('offline').dataset.state === 'yes');
const update = (page) => page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).update().then(() => {}, () => {}));
const change = async (page) => {
  await page.waitForSelector('#update:not([hidden])');
  await page.tap('#update');
  await page.waitForFunction(
    () =>
      getComputedStyle(document.documentElement).getPropertyValue('--next').includes('yes') &&
      document.documentElement.dataset.ready === 'yes',
  );
  await isOffline(page);
};
const WAYS = ['cut', '500', 'html', 'shortened', 'redirected', 'old'];
const SHOWN = ['look.js', 'core.js', 'forms.packed', 'style.css', 'ohmwright.packed'];
const EACH = ['index.html', ...SHOWN, 'icon-512.png', 'manifest.webmanifest'];
const pairs = () => WAYS.flatMap((way) => EACH.map((file) => [way, file]));
const differs = (file) => !readFileSync(join(old, file)).equals(readFileSync(join(other, file)));

// failedFor waits until the worker has told that a file did not come, and why.
async function failedFor(page, way, file, act) {
  const before = await page.evaluate(() => globalThis.told.length);
  await act();
  const why = way === 'cut' ? 'cut' : 'wrong';
  await page
    .waitForFunction(
      ([n, file, why]) => globalThis.told.slice(n).some(({ failed }) => failed?.file === file && failed.why === why),
      [before, file, why],
    )
    .catch(async () => {
      const told = await page.evaluate((n) => globalThis.told.slice(n), before);
      assert.fail(`${way} for ${file}: told ${JSON.stringify(told)}`);
    });
  return why;
}

play('first install: each way to answer wrongly, for each kind of file', { spoilt: ['500', 'sw.js'] }, async (page, host) => {
  await page.waitForFunction(() => document.getElementById('offline').dataset.state === 'wrong');
  assert.match(await page.textContent('#offline'), /sw\.js/);
  await fill(page);
  for (const [way, file] of pairs()) {
    if (way === 'old' && !differs(file)) continue; // the same bytes in both
    host.spoil(way, file);
    await page.evaluate(async () => {
      await (await navigator.serviceWorker.getRegistration())?.unregister();
      for (const name of await caches.keys()) await caches.delete(name);
    });
    const why = await failedFor(page, way, file, () => page.evaluate(() => dispatchEvent(new Event('online'))));
    await page.waitForFunction(([why, file]) => {
      const at = document.getElementById('offline');
      return at.dataset.state === why && at.textContent.includes(file);
    }, [why, file]);
  }
  host.mend();
  await page.evaluate(() => dispatchEvent(new Event('online')));
  await isOffline(page);
  await whole(page, host, old);
  await host.stop();
  await reload(page);
  await isOffline(page);
  await whole(page, host, old);
});

play('update: each way to answer wrongly, for each kind of file', {}, async (page, host) => {
  await isOffline(page);
  await fill(page);
  host.directory = other;
  host.before = old;
  for (const [way, file] of pairs()) {
    if (!differs(file)) continue; // it is here already, and not asked for
    host.spoil(way, file);
    await page.evaluate(async (version) => {
      for (const name of await caches.keys()) if (!name.endsWith(version)) await caches.delete(name);
    }, versionIn(old));
    const why = await failedFor(page, way, file, () => update(page));
    await page.waitForFunction(([why, file]) => {
      const at = document.getElementById('stale');
      return at.dataset.state === why && at.textContent.includes(file);
    }, [why, file]);
    assert.equal(await page.isVisible('#update'), false, `${way} for ${file}: there is nothing to change to`);
    if (file === 'style.css') await whole(page, host, old, { alone: false });
  }
  for (const way of ['cut', '500', 'html', 'shortened', 'redirected']) {
    host.spoil(way, 'sw.js');
    await update(page);
    assert.equal(await page.isVisible('#update'), false, `${way} for sw.js: there is nothing to change to`);
  }
  await reload(page);
  await isOffline(page);
  await whole(page, host, old, { alone: false });
  host.mend();
  await update(page);
  await change(page);
  assert.equal(await page.textContent('#stale'), '');
  await whole(page, host, other);
});

// What the page loads itself, before there is a worker.
const loads = [...SHOWN.map((file) => ['html', file]), ...['cut', '500', 'shortened', 'redirected'].map((way) => [way, 'core.js'])];
loads.push(['cut', 'forms.packed'], ['cut', 'ohmwright.packed'], ['old', 'ohmwright.packed']);
loads.push(['shortened', 'index.html'], ['old', 'core.js']);
play('a page that gets a wrong file says so, and is well once the host is', { workers: false, at: LINK }, async (page, host) => {
  for (const [way, file] of loads) {
    const name = `${way} for ${file}`;
    host.spoil(way, file);
    await page.evaluate(() => sessionStorage.clear()); // a second reload within seconds would wait
    await page.goto(`${host.base}?${way}-${file}${LINK}`, { waitUntil: 'commit' });
    if (file === 'ohmwright.packed') await page.waitForFunction(() => document.getElementById('said')?.dataset.said === 'failed');
    else {
      await page.waitForSelector('#broken', { state: 'visible' }).catch(() => assert.fail(`${name}: the page should say so`));
      if (file !== 'look.js') {
        await page
          .waitForFunction((file) => document.querySelector('#broken span').textContent === file, file)
          .catch(() => assert.fail(`${name}: the page should name it`));
      }
    }
    if (file !== 'style.css') assert.equal(await page.getAttribute('html', 'data-ready'), null, `${name}: nothing should run`);
    host.mend();
    if (['ohmwright.packed', 'look.js', 'style.css'].includes(file)) await page.reload(); // somebody can type here
    else await page.evaluate(() => dispatchEvent(new Event('online')));
    await ready(page).catch(() => assert.fail(`${name}: it should heal`));
    assert.equal(await verdict(page), 'within', name);
    assert.equal(await page.isVisible('#broken'), false, name);
  }
});

play('a host that has everything kept for a year: no page is a mixture', { workers: false, at: LINK }, async (page, host) => {
  host.headers = { 'cache-control': 'public, max-age=31536000, immutable' };
  await reload(page);
  host.directory = other;
  await page.goto('about:blank');
  await page.goto(host.base + LINK); // from what the browser keeps, all of it old
  await ready(page);
  assert.equal(await isNext(page), false);
  await reload(page);
  assert.equal(await isNext(page), true);
  assert.equal(await verdict(page), 'within');
});

const year = { headers: { 'cache-control': 'max-age=31536000' } };
play('a host that has everything kept for a year: install and update', { host: year }, async (page, host) => {
  await isOffline(page);
  await fill(page);
  host.directory = other;
  await update(page);
  await change(page);
  await whole(page, host, other);
});

// ---- no room

async function room(page, host, bytes) {
  const session = await page.context().newCDPSession(page);
  await session.send('Storage.overrideQuotaForOrigin', { origin: new URL(host.base).origin, ...(bytes && { quotaSize: bytes }) });
}

play('first install without room, then with', { spoilt: ['500', 'sw.js'] }, async (page, host) => {
  await fill(page);
  await room(page, host, 300_000);
  host.mend();
  await page.evaluate(() => dispatchEvent(new Event('online')));
  await page.waitForFunction(() => document.getElementById('offline').dataset.state === 'room');
  await room(page, host);
  await page.evaluate(() => dispatchEvent(new Event('online')));
  await isOffline(page);
  await whole(page, host, old);
});

play('update without room, then with', {}, async (page, host) => {
  await isOffline(page);
  await fill(page);
  host.directory = other;
  const { usage } = await page.evaluate(() => navigator.storage.estimate());
  await room(page, host, usage + 200_000);
  await update(page);
  await page.waitForFunction(() => document.getElementById('stale').dataset.state === 'room');
  await whole(page, host, old);
  await reload(page);
  await isOffline(page);
  await room(page, host);
  while (await page.isHidden('#update')) {
    await update(page); // a try begun without room may still fail
    await page.waitForTimeout(500);
  }
  await change(page);
  await whole(page, host, other);
});

// ---- what is lost

const lose = (page, file) =>
  page.evaluate(async (file) => {
    for (const name of await caches.keys()) {
      if (file === undefined) await caches.delete(name);
      else if (!(await (await caches.open(name)).delete(file))) throw new Error(`${file} was not there`);
    }
  }, file);

for (const [what, file] of [
  ['an entry', 'core.js'],
  ['what came packed', 'forms.packed'],
  ['the page itself', './'],
  ['the whole cache', undefined],
]) {
  play(`${what} is lost: it is fetched again`, {}, async (page, host) => {
    await isOffline(page);
    await fill(page);
    await lose(page, file);
    await reload(page);
    await isOffline(page);
    await whole(page, host, old);
  });

  play(`${what} is lost while the host has a new version: the new one takes over as a whole`, {}, async (page, host) => {
    await isOffline(page);
    await fill(page);
    await lose(page, file);
    host.directory = other;
    await page.reload();
    await ready(page); // by itself, even where its first script was lost
    const mine = () => page.evaluate(async () => (await caches.keys()).join());
    const changed = async () => (await isNext(page)) && (await mine()) === `ohmwright / ${versionIn(other)}`;
    while (!(await changed().catch(() => false))) { // it may be loading anew
      if (await page.isVisible('#update')) await page.tap('#update').catch(() => {});
      await page.waitForTimeout(200);
      await ready(page);
    }
    await isOffline(page);
    await whole(page, host, other);
  });
}

// Chromium leaves a version waiting if the one before is asked for something in the moment of the change.
const parked = () => {
  const waiting = { postMessage: (text) => sessionStorage.setItem('posted', text) };
  if (navigator.serviceWorker?.controller) navigator.serviceWorker.getRegistration = async () => ({ waiting });
};
play('an entry is lost and the new version stays waiting: it is told again, then the page loads anew', { init: parked }, async (page, host) => {
  await isOffline(page);
  await lose(page, 'core.js');
  host.spoil('500', 'core.js');
  await page.reload();
  const seen = () => page.evaluate(() => [sessionStorage.getItem('posted'), Object.keys(sessionStorage).some((key) => /reloaded/.test(key))]);
  while (!(await seen().catch(() => [])).every(Boolean)) await page.waitForTimeout(200);
  assert.equal((await seen())[0], 'change');
  host.mend();
  await ready(page);
});

// ---- in the middle

play('first install: a reload in the middle', { spoilt: ['never', 'icon-512.png'] }, async (page, host) => {
  await fill(page);
  assert.equal(await page.getAttribute('#offline', 'data-state'), 'wait');
  assert.notEqual(await page.textContent('#offline'), '', 'the status is never blank');
  await reload(page);
  assert.equal(await verdict(page), 'within');
  host.mend();
  await page.waitForFunction(() => ['cut', 'yes'].includes(document.getElementById('offline').dataset.state));
  await page.evaluate(() => dispatchEvent(new Event('online')));
  await isOffline(page);
  await whole(page, host, old);
});

play('update: a reload in the middle', {}, async (page, host) => {
  await isOffline(page);
  await fill(page);
  host.directory = other;
  host.spoil('never', 'icon-512.png');
  await page.evaluate(async () => void (await navigator.serviceWorker.getRegistration()).update());
  await reload(page);
  await isOffline(page);
  await whole(page, host, old, { alone: false });
  host.mend();
  await update(page);
  await change(page);
  await whole(page, host, other);
});

play('update with two windows: the banner of the other works', {}, async (page, host) => {
  await isOffline(page);
  const second = await visit({ context: page.context(), base: host.base, at: WINDING, expects: /./ });
  await isOffline(second);
  await fill(second);
  host.directory = other;
  await update(page);
  await second.waitForSelector('#update:not([hidden])');
  await change(page);
  assert.equal(await isNext(second), false, 'the other is left alone');
  await change(second);
  await whole(second, host, other);
});

play('first install with two windows', {}, async (page, host) => {
  const second = await visit({ context: page.context(), base: host.base, at: WINDING, expects: /./ });
  await fill(second);
  await isOffline(page);
  await isOffline(second);
  assert.equal(await second.isVisible('#update'), false);
  await whole(second, host, old);
});

for (const [what, year, offset] of [
  ['behind', 1999, -20],
  ['ahead', 2051, 20],
]) {
  const headers = { date: `Fri, 01 Jan ${year} 00:00:00 GMT`, expires: `Fri, 01 Jan ${year} 00:01:00 GMT`, age: '1000000' };
  const init = `{ const now = Date.now; Date.now = () => now() + ${offset} * 365 * 86400000; globalThis.told = []; }`;
  play(`clocks ${what}: install and update`, { host: { headers }, init }, async (page, host) => {
    await isOffline(page);
    await fill(page);
    await whole(page, host, old);
    host.directory = other;
    await update(page);
    await change(page);
    await whole(page, host, other);
  });
}

describe('behind a host that misbehaves', { concurrency: 3 }, () => {
  for (const [name, act] of plays) test(name, { timeout: 120_000 }, act);
});
