// Installing and updating behind a host that misbehaves: afterwards the old version or the new one is there as a whole, the status is
// true, nothing typed is lost, and all is well once the host is. node --test site/test/page-install.test.mjs
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ready, useBrowser } from './browser.mjs';
import { LINK, change, fill, isOffline, old, other, play, playAll, update, whole } from './install.mjs';
import { reload, verdict } from './reader.mjs';
import { isNext, versionIn } from './versions.mjs';

useBrowser({ desktop: true });

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
    else await page.evaluate(() => dispatchEvent(new Event('online'))).catch(() => {}); // it may be loading anew by itself
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

playAll();
