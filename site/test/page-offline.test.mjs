// Without a network, and from one version of the page to the next: node --test site/test/page-offline.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before } from 'node:test';
import { elsewhere, ready, serve, serveFiles, useBrowser, visit } from './browser.mjs';
import { field, press, reload, says, type, verdict, word } from './reader.mjs';
import { isNext, keptBy, make, next } from './versions.mjs';

useBrowser({ desktop: true });

let directory;
before(() => (directory = mkdtempSync(join(tmpdir(), 'ohmwright-page-'))));
after(() => rmSync(directory, { recursive: true, force: true }));

const made = (name) => make(join(directory, name));
const cached = (page) =>
  page.evaluate(async () => {
    const out = {};
    for (const name of await caches.keys()) out[name] = (await (await caches.open(name)).keys()).map((r) => r.url);
    return out;
  });

const fillIn = async (page) => {
  for (const [path, text] of [
    ['reading', '13'],
    ['at', '24'],
    ['specs.0.min', '12'],
  ])
    await type(page, 'winding', path, text);
};
const winding = { at: '#/winding' };

elsewhere(
  'once it says so, the page works without a network',
  () => serve(),
  winding,
  async (page, host) => {
    await says(page, 'offline', 'offline');
    const files = Object.keys(keptBy(await page.evaluate(async () => (await fetch('sw.js')).text())));
    assert.ok(files.includes('ohmwright.packed') && files.includes('index.html'), `sw.js should list module and page, not only ${files}`);
    const all = await cached(page);
    assert.deepEqual(Object.keys(all).length, 1);
    const [name] = Object.keys(all);
    assert.match(name, /^ohmwright \/ [0-9a-f]{16}$/);
    // The page itself stands there under its address, and the module as it is unpacked too.
    const named = (list) => [...new Set(list)].filter((f) => !['index.html', 'ohmwright.wasm', 'language'].includes(f)).sort();
    assert.deepEqual(named(all[name].map((url) => url.slice(host.base.length))), named(['', ...files]));
    await fillIn(page);
    await page.context().setOffline(true);
    await host.stop();
    await reload(page);
    assert.equal(await verdict(page), 'within', 'the tool shown: the verdict');
    await type(page, 'winding', 'reading', '9');
    assert.equal(await verdict(page), 'below', 'the tool shown: the verdict');
    await says(page, 'offline', 'offline');
    // A page never opened before, and a link, open too.
    await page.goto(`${host.base}?from=home#/winding?reading=19ohm&at=24degC&specs.0.max=14ohm`);
    await ready(page);
    assert.equal(await page.inputValue(field('winding', 'reading')), '19', 'winding, field reading: what stands in it');
    assert.equal(await verdict(page), 'above', 'the tool shown: the verdict');
  },
);

elsewhere(
  'a file that was lost is found out, and fetched again',
  () => serve(),
  winding,
  async (page) => {
    await says(page, 'offline', 'offline');
    const lose = (file) =>
      page.evaluate(async (file) => {
        const cache = await caches.open((await caches.keys())[0]);
        if (!(await cache.delete(file))) throw new Error(`${file} was not there`);
      }, file);
    const has = (file) => page.evaluate(async (file) => Boolean(await caches.match(new URL(file, location.href).href)), file);
    for (const file of ['icon-512.png', 'ohmwright.packed', './']) {
      await lose(file);
      await reload(page);
      await says(page, 'offline', 'offline');
      assert.ok(await has(file), `${file} should be there again`);
    }
  },
);

elsewhere(
  'it does not say so where a file could not be fetched',
  () => {
    const files = made('short');
    rmSync(join(files, 'icon-512.png'));
    return serveFiles(files);
  },
  winding,
  async (page) => {
    // The worker gives up installing, and is gone.
    await page.waitForFunction(async () => {
      const r = await navigator.serviceWorker.getRegistration();
      return !r || (!r.installing && !r.waiting && !r.active);
    });
    assert.notEqual(await page.textContent('#offline'), await word(page, 'offline'), 'the tool shown: #offline: what is read there');
    await fillIn(page);
    assert.equal(await verdict(page), 'within', 'the tool shown: the verdict');
  },
);

elsewhere(
  'a browser without workers computes, and does not say that it works offline',
  () => serve(),
  winding,
  async (page, host) => {
    const plain = await visit({ base: host.base, at: '#/winding', init: () => delete Object.getPrototypeOf(navigator).serviceWorker });
    try {
      await says(plain, 'offline', 'offline.none');
      await fillIn(plain);
      assert.equal(await verdict(plain), 'within', 'the tool shown: the verdict');
      assert.deepEqual(plain.faults, []);
    } finally {
      await plain.context().close();
    }
  },
);

let files;
elsewhere(
  'a new version waits until the reader takes it, and takes the entries along',
  () => serveFiles((files = made('versions'))),
  winding,
  async (page) => {
    await says(page, 'offline', 'offline');
    await reload(page); // now the worker serves it
    await fillIn(page);
    assert.equal(await page.isVisible('#update'), false, 'the tool shown: #update: should not be seen');
    const [old] = Object.keys(await cached(page));
    next(files);
    await reload(page);
    await page.waitForSelector('#update:not([hidden])');
    assert.equal(await page.textContent('#update'), await word(page, 'update'), 'the tool shown: #update: what is read there');
    assert.equal(await isNext(page), false, 'the old one stays');
    // However often it is opened.
    await reload(page);
    assert.equal(await isNext(page), false, 'the page should still be of the old version');
    await page.waitForSelector('#update:not([hidden])');
    assert.equal(Object.keys(await cached(page)).length, 2);
    assert.equal(await verdict(page), 'within', 'the tool shown: the verdict');
    await page.tap('#update');
    await page.waitForFunction(
      () =>
        getComputedStyle(document.documentElement).getPropertyValue('--next').includes('yes') &&
        document.documentElement.dataset.ready === 'yes',
    );
    assert.equal(await page.inputValue(field('winding', 'reading')), '13', 'winding, field reading: what stands in it');
    assert.equal(await verdict(page), 'within', 'the tool shown: the verdict');
    assert.equal(await page.isVisible('#update'), false, 'the tool shown: #update: should not be seen');
    await says(page, 'offline', 'offline');
    const left = Object.keys(await cached(page));
    assert.equal(left.length, 1, 'the old cache is gone');
    assert.notEqual(left[0], old);
  },
);

elsewhere(
  'a new version that cannot be fetched whole leaves the old one alone',
  () => serveFiles((files = made('broken'))),
  winding,
  async (page, host) => {
    await says(page, 'offline', 'offline');
    await reload(page);
    await fillIn(page);
    next(files);
    rmSync(join(files, 'core.js')); // it is another in each version
    await reload(page);
    await page.waitForFunction(async () => {
      const r = await navigator.serviceWorker.getRegistration();
      await r.update().catch(() => {});
      return r.active && !r.installing && !r.waiting;
    });
    assert.equal(await page.isVisible('#update'), false, 'the tool shown: #update: should not be seen');
    await host.stop();
    await reload(page);
    assert.equal(await verdict(page), 'within', 'the tool shown: the verdict');
    assert.equal(await isNext(page), false, 'the page should still be of the old version');
    await says(page, 'offline', 'offline');
  },
);

elsewhere(
  'with two windows open, the one that was not asked keeps its entries and still computes',
  () => serveFiles((files = made('two'))),
  winding,
  async (page, host) => {
    await says(page, 'offline', 'offline');
    await reload(page);
    const second = await visit({ context: page.context(), base: host.base, at: '#/winding' });
    await fillIn(second);
    next(files);
    await reload(page);
    await page.waitForSelector('#update:not([hidden])');
    await page.tap('#update');
    await page.waitForFunction(() => getComputedStyle(document.documentElement).getPropertyValue('--next').includes('yes'));
    await type(second, 'winding', 'reading', '9');
    assert.equal(await verdict(second), 'below', 'the tool shown: the verdict');
    await press(second, 'demo');
    assert.deepEqual(second.faults, []);
  },
);
