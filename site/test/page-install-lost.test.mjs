// What the device has lost, and installing that is cut in the middle, behind a host that has another version by then.
// node --test site/test/page-install-lost.test.mjs
import assert from 'node:assert/strict';
import { ready, useBrowser, visit } from './browser.mjs';
import { WINDING, change, fill, isOffline, old, other, play, playAll, update, whole } from './install.mjs';
import { reload, verdict } from './reader.mjs';
import { isNext, versionIn } from './versions.mjs';

useBrowser({ desktop: true });

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
const again = 'an entry is lost and the new version stays waiting: it is told again, and the page loads anew';
play(again, { init: parked }, async (page, host) => {
  await isOffline(page);
  await lose(page, 'core.js');
  host.spoil('500', 'core.js');
  await page.reload();
  const seen = () => page.evaluate(() => Object.keys(sessionStorage).some((key) => key.endsWith('reloaded')));
  while (!(await seen().catch(() => false))) await page.waitForTimeout(200);
  assert.equal(await page.evaluate(() => sessionStorage.getItem('posted')), 'change');
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

playAll();
