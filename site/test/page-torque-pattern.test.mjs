// A pattern of bolts that is generated, and pens that put something onto bolts by tapping them.
// node --test site/test/page-torque-pattern.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { focused, quiet, stored } from './reader.mjs';
import { bolt, bring, cards, drawn, middleOf, places, tap, text, undo } from './torque.mjs';

useBrowser();

// ---- a generated pattern

const circle = '#/torque?v=1&torque=10N.m&pattern.kind=circle&pattern.count=8&pattern.width=80mm';

scene(
  'a tap makes single bolts of a pattern, in the reader’s notation, as one step of undo',
  { at: circle, locale: 'de-DE' },
  async (page) => {
    assert.equal((await drawn(page)).length, 8, 'torque: the bolts that are drawn');
    assert.deepEqual(await places(page), [], 'torque: the places of the bolts');
    await bring(page);
    await tap(page, 50, 50);
    const all = await places(page);
    assert.equal(all.length, 9);
    assert.equal(all[8], '50 50');
    // A circle of 80 about the middle of the plate, (50, 50): 40 cos 45° = 28.284.
    assert.ok(all.includes('78,284 78,284'), JSON.stringify(all));
    for (const place of all.slice(0, 8)) {
      const [x, y] = place.split(' ').map((n) => Number(n.replace(',', '.')));
      assert.ok(Math.abs(Math.hypot(x - 50, y - 50) - 40) < 0.002, place);
    }
    assert.equal(await text(page, 'pattern.count'), '', 'torque, field pattern.count: what stands in it');
    assert.deepEqual(
      await page.$$eval('#torque .note', (all) => all.map((n) => n.textContent).filter(Boolean)),
      [],
      'torque: #torque .note: what is read there',
    );
    await undo(page);
    assert.deepEqual(await places(page), [], 'torque: the places of the bolts');
    assert.equal(await text(page, 'pattern.count'), '8', 'torque, field pattern.count: what stands in it');
    // A tap on one of them opens it; a key takes one away.
    await bring(page);
    await page.touchscreen.tap(...(await middleOf(page, 3)));
    assert.equal((await places(page)).length, 8, 'torque: the places of the bolts');
    assert.deepEqual(await cards(page), [3], 'torque: the rows that are open');
    await undo(page);
    assert.deepEqual(await places(page), [], 'torque: the places of the bolts');
    await page.focus(bolt(5));
    await page.keyboard.press('Delete');
    assert.equal((await places(page)).length, 7, 'torque: the places of the bolts');
    await undo(page);
    assert.equal(await text(page, 'pattern.count'), '8', 'as one step of undo');
    assert.deepEqual(await places(page), [], 'torque: the places of the bolts');
  },
);

scene(
  'all bolts are taken away at once, and come back',
  { at: '#/torque?v=1&torque=10N.m&bolts.0.x=20&bolts.0.y=20&bolts.1.x=80mm&bolts.1.y=20mm&bolts.1.length=30mm' },
  async (page) => {
    assert.deepEqual(await places(page), ['20 20', '80 20'], 'torque: the places of the bolts');
    await page.tap('#torque .plate-figure button[data-set]');
    assert.deepEqual(await places(page), [], 'torque: the places of the bolts');
    assert.equal(JSON.parse(await stored(page, 'torque')).rows.bolts, 0, 'torque: what the device keeps');
    await undo(page);
    assert.deepEqual(await places(page), ['20 20', '80 20'], 'torque: the places of the bolts');
    assert.equal(await text(page, 'bolts.1.length'), '30', 'torque, field bolts.1.length: what stands in it');
  },
);

// ---- pens: what is put onto bolts by tapping them

const pen = (keys) => `#torque [data-pen='${JSON.stringify(keys)}']`;
const pressed = (page) => page.$$eval('#torque [data-pen][aria-pressed="true"]', (all) => all.map((b) => b.dataset.pen));
const lengths = (page) =>
  page.$$eval('#torque [data-list="bolts"] [data-path$=".length"] input[type="text"]', (all) => all.map((i) => i.value));
const keptRows = (page) =>
  page.$$eval('#torque [data-list="bolts"] [data-path$=".kept"] input[value="yes"]:checked', (all) =>
    all.map((i) => Number(/\.(\d+)\./.exec(i.name)[1])),
  );

scene(
  'with a pen in the hand taps write lengths, each one step of undo',
  {
    at: [
      '#/torque?v=1&torque=10N.m&bolts.0.x=20mm&bolts.0.y=20mm&bolts.0.length=35mm',
      'bolts.1.x=80mm&bolts.1.y=20mm&bolts.2.x=80mm&bolts.2.y=80mm',
    ].join('&'),
  },
  async (page) => {
    await quiet(page);
    await bring(page);
    await page.tap(pen({ length: '35mm' }));
    assert.deepEqual(await pressed(page), ['{"length":"35mm"}'], 'torque: the pen in the hand');
    await bring(page);
    await tap(page, 80, 20);
    await tap(page, 80, 80);
    assert.deepEqual(await lengths(page), ['35', '35', '35'], 'torque: the lengths of the bolts');
    assert.deepEqual(await cards(page), [], 'nothing was opened');
    assert.deepEqual(await pressed(page), ['{"length":"35mm"}'], 'the pen stays in the hand');
    assert.deepEqual(
      await page.$$eval('#torque [data-plate] .len', (all) => all.map((t) => t.textContent)),
      ['35', '35', '35'],
      'torque: #torque [data-plate] .len: what is read there',
    );
    await tap(page, 80, 20);
    assert.deepEqual(await lengths(page), ['35', '', '35'], 'a tap on one that has it takes it off');
    await tap(page, 20, 80);
    assert.deepEqual(await places(page), ['20 20', '80 20', '80 80', '20 80'], 'torque: the places of the bolts');
    assert.deepEqual(await lengths(page), ['35', '', '35', '35'], 'a new bolt has it');
    for (const want of [
      ['35', '', '35'],
      ['35', '35', '35'],
      ['35', '35', ''],
      ['35', '', ''],
    ]) {
      await undo(page);
      assert.deepEqual(await lengths(page), want, 'torque: the lengths of the bolts');
    }
    // By keyboard: Enter on a bolt does the same, and what it is now is said.
    await page.focus(bolt(1));
    await page.keyboard.press('Enter');
    assert.deepEqual(await lengths(page), ['35', '35', ''], 'torque: the lengths of the bolts');
    assert.equal((await focused(page)).point, '1', 'the focus stays');
    assert.equal(await page.textContent('#said'), await page.getAttribute(bolt(1), 'aria-label'), 'torque: #said: what is read there');
    await page.tap(pen({ length: '35mm' }));
    assert.deepEqual(await pressed(page), [], 'torque: the pen in the hand');
    await bring(page);
    await tap(page, 80, 20);
    assert.deepEqual(await cards(page), [1], 'put down, a tap opens');
    assert.equal(JSON.parse(await stored(page, 'torque')).open.length, 0, 'a pen is not kept');
  },
);

scene('a pen on a generated pattern makes rows of it first, and undo brings the pattern back', { at: circle }, async (page) => {
  await quiet(page);
  await page.tap(pen({ kept: 'yes' }));
  await bring(page);
  await page.touchscreen.tap(...(await middleOf(page, 3)));
  assert.equal((await places(page)).length, 8, 'torque: the places of the bolts');
  assert.deepEqual(await keptRows(page), [3], 'torque: the bolts that are not to be undone');
  assert.equal((await drawn(page)).filter((n) => n !== '').length, 7, 'torque: the bolts that are drawn');
  await page.touchscreen.tap(...(await middleOf(page, 3)));
  assert.deepEqual(await keptRows(page), [], 'torque: the bolts that are not to be undone');
  await undo(page);
  await undo(page);
  assert.deepEqual(await places(page), [], 'torque: the places of the bolts');
  assert.equal(await text(page, 'pattern.count'), '8', 'torque, field pattern.count: what stands in it');
});
