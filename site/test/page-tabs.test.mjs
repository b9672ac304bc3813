// Two windows of one reader on one form, and addresses that must not take away what is saved.
// node --test site/test/page-tabs.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser, visit } from './browser.mjs';
import { field, fill, go, held, press, reload, says, stored, type, word } from './reader.mjs';

useBrowser();

const kept = async (page, tool = 'winding') => JSON.parse(await stored(page, tool)).given;
const has = (page, path, text, tool = 'winding') =>
  page.waitForFunction(([f, want]) => document.querySelector(f)?.value === want, [field(tool, path), text]);
const notes = (page) => page.locator('main > section:not([hidden]) .form-notes li').allTextContents();
const saysSo = (page, key) => page.waitForFunction((k) => document.getElementById('said').dataset.said === k, key);
const keys = (page, path, text) => page.locator(field('winding', path)).pressSequentially(text);

// inTwo is a scene with two windows of one profile on the winding.
const inTwo = (name, act, options = {}) =>
  scene(name, { at: '#/winding', fresh: true, ...options }, async (page, t) => {
    const other = await visit({ at: '#/winding', context: page.context() });
    await act(page, other, t);
    assert.deepEqual(other.faults, []);
  });

// ---- two windows

inTwo('what is typed in one window shows in the other, and both are kept', async (page, other) => {
  await keys(page, 'reading', '6.9');
  await keys(other, 'at', '88');
  await keys(page, 'leads', '0.3');
  for (const one of [page, other]) {
    for (const [path, text] of Object.entries({ reading: '6.9', at: '88', leads: '0.3' })) await has(one, path, text);
    assert.equal(await one.evaluate(() => document.getElementById('said').textContent), '', 'nothing gave way, so nothing is said');
  }
  assert.deepEqual(await kept(page), { reading: '6.9', at: '88', leads: '0.3' });
  await page.close();
  await reload(other);
  assert.deepEqual(await kept(other), { reading: '6.9', at: '88', leads: '0.3' });
});

// What a window tells comes late: as on a machine that is busy.
const late = () => {
  const listen = BroadcastChannel.prototype.addEventListener;
  BroadcastChannel.prototype.addEventListener = function (kind, act) {
    listen.call(this, kind, (e) => setTimeout(act, 1000, e));
  };
};

for (const [how, options] of [['at once', {}], ['at once, and each hears of it late', { init: late }]]) {
  inTwo(
    `typed in both ${how}: nothing is lost`,
    async (page, other) => {
      const all = { reading: '6.900', at: '88.50', 'specs.0.min': '5.0', 'specs.0.name': 'mine' };
      const here = async () => (await keys(page, 'reading', '6.900'), await keys(page, 'specs.0.name', 'mine'));
      const there = async () => (await keys(other, 'at', '88.50'), await keys(other, 'specs.0.min', '5.0'));
      await Promise.all([here(), there()]);
      for (const one of [page, other]) {
        for (const [path, text] of Object.entries(all)) await has(one, path, text);
      }
      await reload(page);
      assert.deepEqual(await kept(page), all);
    },
    options,
  );
}

inTwo('a text that is changed in the other window gives way with a word; undo brings it back, after a reload too', async (page, other) => {
  await keys(page, 'reading', '6.9');
  await has(other, 'reading', '6.9');
  await type(other, 'winding', 'reading', '7.4');
  await has(page, 'reading', '7.4');
  await says(page, 'said', 'tabs.gone');
  await other.close();
  await reload(page);
  await has(page, 'reading', '7.4');
  await press(page, 'undo');
  await has(page, 'reading', '6.9');
});

// A window that did not hear of the other: as one that was frozen meanwhile.
const deaf = () => {
  addEventListener('storage', (e) => window.deaf && e.stopImmediatePropagation(), true);
  const listen = BroadcastChannel.prototype.addEventListener;
  BroadcastChannel.prototype.addEventListener = function (kind, act) {
    listen.call(this, kind, (e) => window.deaf || act(e));
  };
};

inTwo(
  'typed in the same place without having heard of each other: each shows its own and says what the other has',
  async (page, other) => {
    await page.evaluate(() => (window.deaf = true));
    await keys(other, 'reading', '7.4');
    await keys(other, 'at', '20');
    await keys(page, 'reading', '6.9');
    await has(page, 'reading', '6.9');
    await has(page, 'at', '20');
    await saysSo(page, 'tabs.both');
    assert.match(await page.evaluate(() => document.getElementById('said').textContent), /7\.4/);
    assert.equal((await kept(page)).at, '20', 'what the other typed elsewhere is still kept');
    await saysSo(other, 'tabs.both');
    await has(other, 'reading', '7.4');
    assert.match(await other.evaluate(() => document.getElementById('said').textContent), /6\.9/);
    await page.evaluate(() => (window.deaf = false));
    await keys(other, 'leads', '0.2');
    await has(page, 'leads', '0.2');
    await has(page, 'reading', '6.9');
    await has(other, 'reading', '7.4');
  },
  { init: deaf },
);

inTwo('rows kept for later in two windows are both there', async (page, other) => {
  for (const [one, name, min] of [[page, 'first', '4'], [other, 'second', '5']]) {
    await fill(one, 'winding', { 'specs.0.name': name, 'specs.0.min': min });
    await one.evaluate(() => document.querySelector('#winding [data-do="keep"]').click());
  }
  await page.waitForFunction(() => JSON.parse(localStorage.getItem('ohmwright/rows')).rows.length === 2);
  for (const one of [page, other]) {
    await one.waitForFunction(() => document.querySelectorAll('#winding .kept li').length === 2);
  }
});

inTwo('a form of a newer version that the other window keeps is set aside, never overwritten', async (page, other) => {
  const newer = '{"v":9,"later":{"reading":"6.9"}}';
  await page.evaluate(() => (window.deaf = true));
  await other.evaluate((text) => localStorage.setItem('ohmwright/winding', text), newer);
  await keys(page, 'reading', '7');
  const aside = await page.evaluate(() => Object.entries(localStorage).filter(([key]) => key.startsWith('ohmwright/winding.aside.')));
  assert.deepEqual(aside.map(([, text]) => text), [newer]);
  assert.deepEqual(await kept(page), { reading: '7' });
}, { init: deaf });

// ---- addresses and links

for (const odd of ['#/winding/', '#/winding?', '#/WINDING', '#/winding?v=1', '#/Winding/?v=1&', '#//winding', '#/winding?v=1&foo=1',
  '#/winding?v=1&specs.100000000000000000000.min=5ohm', '#/winding?v=99&reading=5ohm']) {
  scene(`${odd} leaves what is saved, and makes no empty cards`, { at: '#/winding' }, async (page) => {
    await fill(page, 'winding', { reading: '6.9', at: '88' });
    const before = await stored(page, 'winding');
    await go(page, '#/torque');
    await page.waitForSelector('#torque:not([hidden])');
    await go(page, odd);
    await page.waitForFunction(() => document.getElementById('torque').hidden);
    await page.waitForTimeout(500);
    assert.equal(await stored(page, 'winding'), before);
    if (!odd.includes('99')) {
      assert.equal(await page.evaluate(() => document.body.dataset.place), 'winding');
      assert.equal(await page.locator('#winding .list[data-list="specs"] .cards > *').count(), 1);
      const said = await notes(page);
      assert.equal(said.length, /foo|specs/.test(odd) ? 1 : 0, said.join());
      if (said.length) assert.match(said[0], /foo|specs\.10000000/);
    }
    await page.goto(new URL(odd, page.url()).href);
    await reload(page);
    assert.equal(await stored(page, 'winding'), before, 'also where the page starts with it');
  });
}

scene('a link takes the place of what is saved with a word, and undo brings it back after a reload', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', { reading: '6.9', at: '88', 'specs.0.min': '5', 'specs.0.name': 'mine' });
  const mine = await held(page);
  await go(page, '#/winding?v=1&reading=7ohm&specs.0.name=why?');
  await has(page, 'reading', '7');
  await has(page, 'specs.0.name', 'why?');
  await says(page, 'said', 'opened');
  assert.deepEqual(await notes(page), [await word(page, 'opened')], 'the word stays above the form');
  await type(page, 'winding', 'leads', '0.2');
  await reload(page);
  await press(page, 'undo');
  await press(page, 'undo');
  assert.deepEqual(await held(page), mine);
});

scene('a recording that a link replaces is brought back after a reload', { at: '#/trace' }, async (page) => {
  const text = 'ms,A\n' + Array.from({ length: 20_000 }, (_, i) => `${i / 100},${(1 - Math.exp(-i / 2000)).toFixed(5)}`).join('\n');
  assert.ok(text.length > 250_000);
  await page.locator('#trace input[type="file"]').setInputFiles({ name: 'run.csv', mimeType: 'text/csv', buffer: Buffer.from(text) });
  await page.waitForFunction(() => localStorage.getItem('ohmwright/trace.file.recording') !== null);
  await go(page, '#/trace?v=1&supply=12V&recording=ms,A%0A0,0%0A1,1');
  await page.waitForFunction(() => localStorage.getItem('ohmwright/trace.file.recording').length < 100);
  await fill(page, 'trace', { supply: '13' });
  await reload(page);
  await press(page, 'undo');
  await press(page, 'undo');
  assert.equal(await page.evaluate(() => localStorage.getItem('ohmwright/trace.file.recording')), text);
});

scene('a link of 30,000 unknown keys opens, with one note', { at: '#/winding', timeout: 60_000 }, async (page, t) => {
  await go(page, '#/torque');
  await page.waitForSelector('#torque:not([hidden])');
  const took = await page.evaluate(async () => {
    const keys = Array.from({ length: 30_000 }, (_, i) => `key${i}=1`).join('&');
    const began = performance.now();
    location.hash = `#/winding?v=1&reading=6.9ohm&at=88degC&${keys}`;
    while (document.getElementById('winding').hidden || document.getElementById('winding-reading').value !== '6.9') {
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    return performance.now() - began;
  });
  t.diagnostic(`${took.toFixed(0)} ms`);
  const said = await notes(page);
  assert.equal(said.length, 1, said.join());
  assert.match(said[0], /30,?000/);
});

// ---- set aside, and large

scene('what was set aside is seen after every reload, until it is deleted; and that can be undone', { fresh: true }, async (page) => {
  await page.evaluate(() => localStorage.setItem('ohmwright/winding', '{"v":1,"given":'));
  await page.goto(new URL('#/winding', page.url()).href);
  await reload(page);
  const shown = () => page.locator('.aside[data-aside="damaged"] pre').allTextContents();
  for (let n = 0; n < 3; n++) {
    assert.deepEqual(await shown(), ['{"v":1,"given":']);
    await reload(page);
  }
  await page.click('.aside summary');
  const button = page.locator('.aside button');
  assert.equal(await button.textContent(), await word(page, 'aside.delete'));
  await button.click();
  assert.equal(await button.textContent(), await word(page, 'aside.back'));
  await button.click();
  await reload(page);
  assert.deepEqual(await shown(), ['{"v":1,"given":']);
  await page.click('.aside summary');
  await page.click('.aside button');
  await reload(page);
  assert.deepEqual(await shown(), []);
});

scene('a state of thousands of keys that is saved is read again', { at: '#/handover', timeout: 60_000 }, async (page) => {
  const rows = (list, fields, n) => Array.from({ length: n }, (_, i) => fields.map((name) => [`${list}.${i}.${name}`, `x${i}`])).flat();
  const fields = ['what', 'value', 'at', 'supply', 'when', 'who', 'meter', 'place', 'note', 'row', 'tool'];
  const given = Object.fromEntries(rows('readings', fields, 200));
  assert.ok(Object.keys(given).length > 2000);
  const text = JSON.stringify({ v: 1, given, units: {}, names: {}, rows: { readings: 200 }, open: [] });
  await page.evaluate((state) => localStorage.setItem('ohmwright/handover', state), text);
  await reload(page);
  assert.equal(await page.locator('.aside').count(), 0);
});
