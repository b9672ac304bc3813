// The address bar is the link to what is seen. node --test site/test/page-address.test.mjs
import assert from 'node:assert/strict';
import { ready, scene, useBrowser, visit } from './browser.mjs';
import { begin } from './jobs.mjs';
import { field } from './reader.mjs';

useBrowser();

const hash = (page) => page.evaluate(() => location.hash);
const until = (page, pattern) => page.waitForFunction((p) => new RegExp(p).test(location.hash), pattern.source);
const reading = (page) => page.inputValue(field('winding', 'reading'));
const typedInto = async (page, tool, path, text) => {
  await page.fill(field(tool, path), '');
  await page.locator(field(tool, path)).pressSequentially(text);
};
const entries = (page) => page.evaluate(() => history.length);

scene('what is typed is in the address once the typing pauses, and opens elsewhere', { at: '#/winding' }, async (page) => {
  const before = await entries(page);
  await typedInto(page, 'winding', 'reading', '6.9');
  await typedInto(page, 'winding', 'specs.0.min', '5');
  await until(page, /reading=6\.9ohm.*specs\.0\.min=5ohm/);
  assert.equal(await entries(page), before, 'typing should make no entries to go back through');
  const link = await hash(page);
  const other = await visit({ at: link });
  try {
    await other.waitForFunction(() => document.querySelector('#winding')?.dataset.answered === 'yes');
    assert.equal(await reading(other), '6.9');
    const body = (p) => p.textContent('#winding .body');
    assert.equal(await body(other), await body(page), 'the link shows what was seen');
  } finally {
    await other.context().close();
  }
});

scene('a reload shows what is kept, also where the address is older', { at: '#/winding', fresh: true }, async (page) => {
  await typedInto(page, 'winding', 'reading', '6.9');
  await until(page, /reading=6\.9ohm/);
  await typedInto(page, 'winding', 'reading', '7.1'); // kept at each keystroke; the address comes later
  await page.reload();
  await ready(page);
  assert.equal(await reading(page), '7.1', 'the address is no link that puts an older reading back');
  await until(page, /reading=7\.1ohm/);
  assert.equal(await page.isVisible('#said:not(:empty)').catch(() => false), false, 'nobody opened a link');
});

scene('going back shows what is kept, not what the address said then', { at: '#/winding' }, async (page) => {
  await typedInto(page, 'winding', 'reading', '6.9');
  await until(page, /reading=6\.9ohm/);
  await page.evaluate(() => (location.hash = '#/torque'));
  await page.waitForSelector('#torque:not([hidden])');
  await page.evaluate(() => (location.hash = '#/winding'));
  await page.waitForSelector('#winding:not([hidden])');
  await typedInto(page, 'winding', 'reading', '8.2');
  await until(page, /reading=8\.2ohm/);
  await page.goBack();
  await page.waitForSelector('#torque:not([hidden])');
  await page.goBack();
  await page.waitForSelector('#winding:not([hidden])');
  assert.equal(await reading(page), '8.2');
  await until(page, /reading=8\.2ohm/);
});

scene('a job that was open when the address was written leaves nothing in the next one', { fresh: true }, async (page) => {
  await begin(page, 'Tarn 24');
  await page.evaluate(() => (location.hash = '#/winding'));
  await page.waitForSelector('#winding:not([hidden])');
  await typedInto(page, 'winding', 'reading', '6.9');
  await until(page, /reading=6\.9ohm/);
  await begin(page, 'Tarn 25');
  await page.evaluate(() => history.go(-2)); // over the list of jobs and the first screen
  await page.waitForSelector('#winding:not([hidden])');
  assert.equal(await reading(page), '', 'the first vehicle’s reading is not in the second job');
  await until(page, /^#\/winding$/);
});

const forbid = () => {
  for (const name of ['localStorage', 'indexedDB']) {
    const get = () => {
      throw new DOMException('forbidden', 'SecurityError');
    };
    Object.defineProperty(window, name, { get });
  }
};
const forbidden = { at: '#/winding', init: forbid, fresh: true };
scene('where nothing can be kept, a reload brings back what the address holds', forbidden, async (page) => {
  await typedInto(page, 'winding', 'reading', '6.9');
  await until(page, /reading=6\.9ohm/);
  await page.reload();
  await ready(page);
  await page.waitForFunction((f) => document.querySelector(f).value === '6.9', field('winding', 'reading'));
});

scene('a link that would be too long to pass on is not in the address', { at: '#/torque' }, async (page) => {
  const rows = Array.from({ length: 200 }, (_, i) => `M6 bolt ${i}: 10 N·m`).join('\n');
  await page.evaluate((text) => {
    for (const details of document.querySelectorAll('#torque details')) details.open = true;
    const area = document.getElementById('torque-table');
    area.value = text;
    area.dispatchEvent(new InputEvent('input', { bubbles: true }));
  }, rows);
  await page.waitForFunction(() => document.querySelector('#torque')?.dataset.answered === 'yes');
  await page.waitForTimeout(900); // longer than the page waits before it writes the address
  assert.equal(await hash(page), '#/torque');
});
