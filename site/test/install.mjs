// Two versions of the site, and a host of its own for each test of installing and updating.
import assert from 'node:assert/strict';
import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, describe, test } from 'node:test';
import { visit } from './browser.mjs';
import { explained } from './explain.mjs';
import { startHost } from './host.mjs';
import { field, type, verdict } from './reader.mjs';
import { isNext, keptBy, make, next, versionIn } from './versions.mjs';

let directory;
export let old, other; // the directories of the two versions
before(() => {
  directory = mkdtempSync(join(tmpdir(), 'ohmwright-install-'));
  old = make(join(directory, 'old'));
  other = join(directory, 'next');
  cpSync(old, other, { recursive: true });
  next(other);
});
after(() => rmSync(directory, { recursive: true, force: true }));

export const WINDING = '#/winding';
export const LINK = '#/winding?reading=13ohm&at=24degC&specs.0.min=12ohm';

const plays = [];

// play is a test on a host of its own, with a page where start names one.
export function play(name, { at = WINDING, workers = true, wait = true, host: options, spoilt, init }, act) {
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

export const fill = async (page) => {
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
export async function whole(page, host, site, { typed = true, alone = true } = {}) {
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

export const isOffline = (page) =>
  page.waitForFunction(() => document.getElementById('offline').dataset.state === 'yes');
export const update = (page) =>
  page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).update().then(() => {}, () => {}));
export const change = async (page) => {
  await page.waitForSelector('#update:not([hidden])');
  await page.tap('#update');
  await page.waitForFunction(
    () =>
      getComputedStyle(document.documentElement).getPropertyValue('--next').includes('yes') &&
      document.documentElement.dataset.ready === 'yes',
  );
  await isOffline(page);
};

// playAll runs the tests that play was told, some at once: a test waits most of its time.
export const playAll = () =>
  describe('behind a host that misbehaves', { concurrency: 3 }, () => {
    for (const [name, act] of plays) test(name, { timeout: 120_000 }, act);
  });
