// The torque question on a phone: the converter, bolts on a plate by touch and by keyboard, one step at a time, paper, bad input.
// node --test site/test/page-torque.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { answered, beside, expected, field, finger, focused, frame, headText, held, laptop, phone, press, ready, says, scene, stored, tabTo, type, unfold, useBrowser, word } from './browser.mjs';

useBrowser();

const undo = (page) => page.tap('#torque .undo');
const text = (page, path) => page.inputValue(field('torque', path));
const reload = async (page) => {
  await page.reload();
  await ready(page);
};
const quiet = (page) => page.evaluate(() => document.getElementById('said').click());

// ---- the plate

// bring scrolls the plate to where all of it is seen.
const bring = async (page) => {
  await page.evaluate(() => {
    const r = document.querySelector('#torque [data-plate]').getBoundingClientRect();
    scrollBy(0, r.bottom - innerHeight + 20);
  });
  await frame(page);
};

// on is where a place on the plate is on the screen: its window is what data-window says, with y upwards.
const on = (page, x, y) =>
  page.evaluate(([x, y]) => {
    const plate = document.querySelector('#torque [data-plate]');
    const numbers = (name) => plate.dataset[name].split(' ').map(Number);
    const [wx0, wy0, wx1, wy1] = numbers('window');
    const [ix0, iy0, ix1, iy1] = numbers('inner');
    const [top, bottom] = [Math.min(iy0, iy1), Math.max(iy0, iy1)];
    const p = new DOMPoint(ix0 + ((x - wx0) / (wx1 - wx0)) * (ix1 - ix0), bottom - ((y - wy0) / (wy1 - wy0)) * (bottom - top)).matrixTransform(plate.getScreenCTM());
    return [p.x, p.y];
  }, [x, y]);

const tap = async (page, x, y) => page.touchscreen.tap(...(await on(page, x, y)));

// places are the rows that the form holds, x and y as texts; cards the rows that are seen.
const places = (page) =>
  page.$$eval('#torque [data-list="bolts"] .card', (all) => all.map((card) => ['x', 'y'].map((axis) => card.querySelector(`[data-path$=".${axis}"] input`).value).join(' ')));
const cards = (page) => page.$$eval('#torque [data-list="bolts"] .card', (all) => all.filter((card) => card.checkVisibility()).map((card) => Number(card.dataset.row)));

// drawn are the bolts drawn, by their rows: their numbers.
const drawn = (page) => page.$$eval('#torque [data-plate] [data-bolt]', (all) => all.sort((a, b) => a.dataset.bolt - b.dataset.bolt).map((bolt) => bolt.querySelector('text:not(.len)')?.textContent ?? ''));
const bolt = (row) => `#torque [data-plate] [data-bolt="${row}"]`;

// middleOf is where a bolt is drawn on the screen.
const middleOf = async (page, row) => {
  const r = await page.locator(`${bolt(row)} .head-of`).boundingBox();
  return [r.x + r.width / 2, r.y + r.height / 2];
};

// ---- the converter

// Exact, from the definitions: 1 lbf = 4.448 221 615 260 5 N, 1 in = 0.0254 m, 1 kgf = 9.806 65 N (NIST SP 811).
const inch = 0.0254;
const pound = 4.4482216152605;
const newtonMetres = { 'N.m': 1, 'cN.m': 0.01, 'lbf.in': pound * inch, 'lbf.ft': pound * 12 * inch, 'ozf.in': (pound * inch) / 16, 'kgf.cm': 0.0980665, 'kgf.m': 9.80665 };
const shown = (page) =>
  page.$$eval('#torque .units-list li', (all) =>
    all.map((li) => {
      const r = li.getBoundingClientRect();
      return { unit: li.dataset.unit, value: Number(li.querySelector('strong').textContent.replace(',', '.')), size: parseFloat(getComputedStyle(li.querySelector('strong')).fontSize), top: r.top, bottom: r.bottom, height: li.querySelector('button').getBoundingClientRect().height };
    }));

const converts = async (page, value, unit) => {
  const all = await shown(page);
  assert.deepEqual(all.map((u) => u.unit).sort(), Object.keys(newtonMetres).sort());
  for (const u of all) {
    const want = (value * newtonMetres[unit]) / newtonMetres[u.unit];
    assert.ok(Math.abs(u.value / want - 1) <= 0.5001e-3, `${u.unit}: ${u.value}, not ${want}`); // four figures
  }
  return all;
};

scene('one figure typed is there in every unit at once, without a network', { at: '#/torque', workers: true, expects: /ERR_INTERNET_DISCONNECTED|Failed to/ }, async (page) => {
  await says(page, 'offline', 'offline');
  await page.context().setOffline(true);
  await reload(page);
  await page.tap(field('torque', 'torque'));
  await page.keyboard.type('90');
  await converts(page, 90, 'N.m');
  await page.tap('#torque [data-path="torque"] label:has(input[value="lbf.in"])');
  await converts(page, 90, 'lbf.in');
  assert.match(await headText(page), /10\.17\sN·m/);
  // All of them are in view together with the field.
  await page.evaluate(() => document.querySelector('[data-path="torque"]').scrollIntoView());
  const [top, all] = [await page.evaluate(() => document.querySelector('label[for="torque-torque"]').getBoundingClientRect().top), await shown(page)];
  assert.ok(top >= (await page.evaluate(() => document.querySelector('#torque .strip').getBoundingClientRect().bottom)), 'the field is in view');
  for (const u of all) assert.ok(u.top >= 0 && u.bottom <= 740 && u.height >= 56, `${u.unit} ${JSON.stringify(u)}`);
  // What the wrench shows is largest, and first; a tap says so, another takes it back.
  await page.tap('#torque .units-list [data-unit="lbf.ft"] button');
  const own = await shown(page);
  const large = own.find((u) => u.unit === 'lbf.ft');
  assert.ok(large.size >= 36, `${large.size} px`);
  for (const u of own) if (u !== large) assert.ok(u.size < large.size / 1.5 && u.top > large.top && u.bottom <= 740, JSON.stringify(u));
  assert.equal(await page.getAttribute('#torque .units-list [data-unit="lbf.ft"] button', 'aria-pressed'), 'true');
  assert.equal((await focused(page)).tag, 'BUTTON', 'the focus stays');
  await reload(page);
  assert.equal(await page.locator('#torque .units-list .own').getAttribute('data-unit'), 'lbf.ft');
  await page.tap('#torque .units-list [data-unit="lbf.ft"] button');
  assert.equal(await page.locator('#torque .units-list .own').count(), 0);
  await undo(page);
  assert.equal(await page.locator('#torque .units-list .own').count(), 1);
});

scene('a table of several lines is kept as it was pasted, and read line by line', { at: '#/torque' }, async (page) => {
  const table = '\tN·m\tin-lb\nM6\t10\t89\nM8\t21\t155';
  await page.fill(field('torque', 'table'), table);
  const rows = await page.$$eval('#torque [data-slot="table"] li[data-line]', (all) => all.map((li) => [li.dataset.line, li.dataset.verdict]));
  assert.deepEqual(rows.filter(([line]) => line !== '1').sort(), [['2', 'agree'], ['3', 'disagree']], JSON.stringify(rows));
  await reload(page);
  assert.equal(await text(page, 'table'), table);
  // Enter makes a line there, and goes on to no other field.
  await page.focus(field('torque', 'table'));
  await page.keyboard.press('Control+End');
  await page.keyboard.press('Enter');
  await page.keyboard.type('M10 9 N.m');
  assert.equal((await text(page, 'table')).split('\n').length, 4);
  await undo(page);
  assert.equal(await text(page, 'table'), table);
  // A long one is read to its end.
  await page.fill(field('torque', 'table'), Array.from({ length: 60 }, () => 'M6 x 1.0 valve body to case\t10 N·m\t89 in-lb').join('\n'));
  assert.equal(await page.locator('#torque [data-slot="table"] li[data-line="60"]').getAttribute('data-verdict'), 'agree');
});

// ---- a pattern by touch

scene('taps on the plate place bolts, a tap on a bolt opens it; each is one step of undo', { at: '#/torque' }, async (page) => {
  await bring(page);
  const at = [[20, 85], [80, 85], [80, 20], [20, 20]];
  const top = () => page.locator('#torque [data-plate]').boundingBox().then((r) => r.y);
  const still = await top();
  for (const [i, [x, y]] of at.entries()) {
    await tap(page, x + 1, y - 1.5); // a finger is not exact: it counts for the nearest step
    assert.equal((await places(page)).length, i + 1);
    assert.ok(Math.abs((await top()) - still) < 2, 'the plate does not move under the finger');
  }
  const all = ['20 85', '80 85', '80 20', '20 20'];
  assert.deepEqual(await places(page), all);
  assert.deepEqual((await drawn(page)).sort(), ['1', '2', '3', '4']);
  assert.deepEqual(await cards(page), [], 'nothing was opened');
  assert.equal(await answered(page), true);
  // In line with another that stands off the steps.
  await page.evaluate(() => document.querySelector('[data-list="bolts"] .card').classList.add('open'));
  await page.fill(field('torque', 'bolts.0.x'), '23');
  await bring(page);
  await tap(page, 24, 50);
  assert.equal((await places(page))[4], '23 50');
  await undo(page);
  await undo(page);
  assert.deepEqual(await places(page), all);
  // A bolt has room for a thumb, and a tap beside its drawing is still for it.
  await bring(page);
  const [x, y] = await middleOf(page, 2);
  const r = await page.locator(bolt(2)).boundingBox();
  assert.ok(r.width >= 44 && r.height >= 44, `${r.width} × ${r.height}`);
  await page.touchscreen.tap(x - 18, y + 9);
  assert.deepEqual(await places(page), all);
  assert.deepEqual(await cards(page), [2]);
  assert.equal(await page.evaluate(() => document.activeElement.dataset.row), '2');
  assert.equal(await page.getAttribute(bolt(2), 'aria-current'), 'true');
  const name = await page.textContent('#torque .card.open .placed-name');
  assert.equal(name, await page.getAttribute(bolt(2), 'aria-label'));
  const seen = await page.locator('#torque .card.open').boundingBox();
  assert.ok(seen.y >= 70 && seen.y < 740 - 56, `the card is in view: ${seen.y}`);
  // Its length, and that it is not to be undone; then away with it.
  await page.tap(field('torque', 'bolts.2.length'));
  await page.keyboard.type('30');
  await page.tap('#torque label:has(input[name="torque-bolts.2.kept"][value="yes"])');
  assert.equal((await drawn(page)).filter((n) => n !== '').length, 3, 'three are to be tightened');
  assert.ok(await page.$eval(bolt(2), (b) => b.classList.contains('kept')));
  await page.tap('#torque .card.open [data-do="remove"]');
  assert.deepEqual(await places(page), ['20 85', '80 85', '20 20']);
  await says(page, 'said', 'away');
  assert.equal(await page.evaluate(() => document.activeElement.dataset.plate), 'bolts', 'the focus is on the plate');
  await undo(page);
  assert.deepEqual(await places(page), all);
  assert.equal(await text(page, 'bolts.2.length'), '30');
  for (let n = 0; n < 6; n++) await undo(page);
  assert.deepEqual(await places(page), []);
  assert.equal(await page.locator(`${bolt(0)}`).count(), 0);
});

scene('a scroll, a drag and a second finger place nothing', { at: '#/torque' }, async (page) => {
  await bring(page);
  const [x, y] = await on(page, 50, 50);
  const before = await page.evaluate(() => scrollY);
  const scroll = await finger(page, [x, y], [x, y - 20], [x, y - 60], [x, y - 100]);
  await scroll.up();
  assert.ok((await page.evaluate(() => scrollY)) > before + 50, 'scrolled');
  await bring(page);
  const [left, level] = await on(page, 30, 50);
  const drag = await finger(page, [left, level], [left + 12, level], [left + 40, level]);
  await drag.up();
  // Two fingers, that come and go.
  const session = await page.context().newCDPSession(page);
  const touch = (type, ...points) => session.send('Input.dispatchTouchEvent', { type, touchPoints: points.map(([x, y], id) => ({ x, y, id })) });
  const [a, b] = [await on(page, 30, 30), await on(page, 70, 70)];
  await touch('touchStart', a);
  await touch('touchStart', a, b);
  await touch('touchEnd', b);
  await touch('touchEnd');
  await session.detach();
  await frame(page);
  assert.deepEqual(await places(page), []);
  // One finger after that places one.
  await bring(page);
  await tap(page, 50, 50);
  assert.deepEqual(await places(page), ['50 50']);
});

scene('a mouse places bolts beside a wide form, its drag does not', { at: '#/torque', size: laptop }, async (page) => {
  const plate = page.locator('#torque-answer [data-plate]');
  await plate.scrollIntoViewIfNeeded();
  const click = async (x, y) => page.mouse.click(...(await on(page, x, y)));
  await click(20, 80);
  await click(80, 80);
  const [x, y] = await on(page, 50, 50);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 60, y, { steps: 3 });
  await page.mouse.up();
  assert.deepEqual(await places(page), ['20 80', '80 80']);
  await click(20, 80);
  assert.deepEqual(await cards(page), [0]);
  const card = await page.locator('#torque form .card.open').boundingBox();
  assert.ok(card.y >= 0 && card.y + card.height <= 800, `the card is in view beside the plate: ${JSON.stringify(card)}`);
  assert.ok(await plate.isVisible());
});

// ---- a pattern by keyboard

scene('a pattern by keyboard alone', { at: '#/torque' }, async (page) => {
  const keys = async (...list) => {
    for (const key of list) await page.keyboard.press(key);
  };
  const times = (n, key) => Array(n).fill(key);
  const said = () => page.textContent('#said');
  await page.focus('#torque [data-list="bolts"] ~ details summary, #torque summary'); // somewhere before
  await tabTo(page, (at) => at.tag === 'svg');
  assert.equal(await page.locator('#torque .reticle').count(), 1, 'the cross is shown');
  await keys(...times(6, 'ArrowLeft'), ...times(6, 'ArrowUp')); // from the middle, 5 mm each
  const across = (key, x, y) => word(page, key).then((w) => w.replace('{0}', x).replace('{1}', y));
  assert.equal(await said(), await across('cross', '20', '80'));
  assert.equal(await page.getAttribute('#torque .reticle', 'data-cross'), '20 80');
  await keys('Enter');
  assert.equal(await said(), await across('placed', '20', '80'));
  await keys(...times(12, 'ArrowRight'), 'Space', ...times(12, 'ArrowDown'), 'Enter');
  assert.deepEqual(await places(page), ['20 80', '80 80', '80 20']);
  assert.equal((await focused(page)).tag, 'svg', 'the focus stays on the plate');
  // A bolt that is come upon says its name; Enter opens it.
  await keys(...times(12, 'ArrowUp'));
  assert.equal(await said(), await page.getAttribute(bolt(1), 'aria-label'));
  await keys('Enter');
  assert.deepEqual(await cards(page), [1]);
  assert.equal(await page.evaluate(() => document.activeElement.dataset.row), '1');
  assert.equal((await places(page)).length, 3);
  // Back on the plate: a bolt with the focus moves by steps; a run is one step of undo.
  await page.focus('#torque [data-plate]');
  await tabTo(page, (at) => at.point === '2', 4);
  await keys('ArrowLeft', 'ArrowLeft', 'ArrowUp');
  assert.deepEqual(await places(page), ['20 80', '80 80', '70 25']);
  assert.equal(await said(), await across('cross', '70', '25'));
  assert.equal((await focused(page)).point, '2', 'the bolt keeps the focus');
  await undo(page);
  assert.deepEqual(await places(page), ['20 80', '80 80', '80 20']);
  await page.focus(bolt(0));
  await keys('Delete');
  assert.deepEqual(await places(page), ['80 80', '80 20']);
  assert.equal((await focused(page)).tag, 'svg');
  await page.focus(bolt(1));
  await keys('Enter');
  assert.deepEqual(await cards(page), [1]);
  await undo(page);
  assert.deepEqual(await places(page), ['20 80', '80 80', '80 20']);
  // What a screen reader presses is pressed without a pointer: a bolt in the middle, whose place can then be typed.
  await page.evaluate(() => document.activeElement.blur());
  await page.$eval('#torque [data-plate]', (plate) => plate.dispatchEvent(new MouseEvent('click', { bubbles: true })));
  assert.deepEqual(await places(page), ['20 80', '80 80', '80 20', '50 50']);
  await page.$eval(bolt(3), (b) => b.dispatchEvent(new MouseEvent('click', { bubbles: true })));
  assert.deepEqual(await cards(page), [3]);
  // Off the window there is nothing.
  await page.focus('#torque [data-plate]');
  await keys(...times(30, 'ArrowLeft'));
  assert.equal((await page.getAttribute('#torque .reticle', 'data-cross')).split(' ')[0], '0');
});

// ---- a generated pattern

const circle = '#/torque?v=1&torque=10N.m&pattern.kind=circle&pattern.count=8&pattern.width=80mm';

scene('a tap makes single bolts of a pattern, in the reader’s notation, as one step of undo', { at: circle, locale: 'de-DE' }, async (page) => {
  assert.equal((await drawn(page)).length, 8);
  assert.deepEqual(await places(page), []);
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
  assert.equal(await text(page, 'pattern.count'), '');
  assert.deepEqual(await page.$$eval('#torque .note', (all) => all.map((n) => n.textContent).filter(Boolean)), []);
  await undo(page);
  assert.deepEqual(await places(page), []);
  assert.equal(await text(page, 'pattern.count'), '8');
  // A tap on one of them opens it; a key takes one away.
  await bring(page);
  await page.touchscreen.tap(...(await middleOf(page, 3)));
  assert.equal((await places(page)).length, 8);
  assert.deepEqual(await cards(page), [3]);
  await undo(page);
  assert.deepEqual(await places(page), []);
  await page.focus(bolt(5));
  await page.keyboard.press('Delete');
  assert.equal((await places(page)).length, 7);
  await undo(page);
  assert.equal(await text(page, 'pattern.count'), '8', 'as one step of undo');
  assert.deepEqual(await places(page), []);
});

scene('all bolts are taken away at once, and come back', { at: '#/torque?v=1&torque=10N.m&bolts.0.x=20&bolts.0.y=20&bolts.1.x=80mm&bolts.1.y=20mm&bolts.1.length=30mm' }, async (page) => {
  assert.deepEqual(await places(page), ['20 20', '80 20']);
  await page.tap('#torque .plate-figure button[data-set]');
  assert.deepEqual(await places(page), []);
  assert.equal(JSON.parse(await stored(page, 'torque')).rows.bolts, 0);
  await undo(page);
  assert.deepEqual(await places(page), ['20 20', '80 20']);
  assert.equal(await text(page, 'bolts.1.length'), '30');
});

// ---- pens: what is put onto bolts by tapping them

const pen = (keys) => `#torque [data-pen='${JSON.stringify(keys)}']`;
const pressed = (page) => page.$$eval('#torque [data-pen][aria-pressed="true"]', (all) => all.map((b) => b.dataset.pen));
const lengths = (page) => page.$$eval('#torque [data-list="bolts"] [data-path$=".length"] input[type="text"]', (all) => all.map((i) => i.value));
const keptRows = (page) => page.$$eval('#torque [data-list="bolts"] [data-path$=".kept"] input[value="yes"]:checked', (all) => all.map((i) => Number(/\.(\d+)\./.exec(i.name)[1])));

scene('with a pen in the hand taps write lengths, each one step of undo', { at: '#/torque?v=1&torque=10N.m&bolts.0.x=20mm&bolts.0.y=20mm&bolts.0.length=35mm&bolts.1.x=80mm&bolts.1.y=20mm&bolts.2.x=80mm&bolts.2.y=80mm' }, async (page) => {
  await quiet(page);
  await bring(page);
  await page.tap(pen({ length: '35mm' }));
  assert.deepEqual(await pressed(page), ['{"length":"35mm"}']);
  await bring(page);
  await tap(page, 80, 20);
  await tap(page, 80, 80);
  assert.deepEqual(await lengths(page), ['35', '35', '35']);
  assert.deepEqual(await cards(page), [], 'nothing was opened');
  assert.deepEqual(await pressed(page), ['{"length":"35mm"}'], 'the pen stays in the hand');
  assert.deepEqual(await page.$$eval('#torque [data-plate] .len', (all) => all.map((t) => t.textContent)), ['35', '35', '35']);
  await tap(page, 80, 20);
  assert.deepEqual(await lengths(page), ['35', '', '35'], 'a tap on one that has it takes it off');
  await tap(page, 20, 80);
  assert.deepEqual(await places(page), ['20 20', '80 20', '80 80', '20 80']);
  assert.deepEqual(await lengths(page), ['35', '', '35', '35'], 'a new bolt has it');
  for (const want of [['35', '', '35'], ['35', '35', '35'], ['35', '35', ''], ['35', '', '']]) {
    await undo(page);
    assert.deepEqual(await lengths(page), want);
  }
  // By keyboard: Enter on a bolt does the same, and what it is now is said.
  await page.focus(bolt(1));
  await page.keyboard.press('Enter');
  assert.deepEqual(await lengths(page), ['35', '35', '']);
  assert.equal((await focused(page)).point, '1', 'the focus stays');
  assert.equal(await page.textContent('#said'), await page.getAttribute(bolt(1), 'aria-label'));
  await page.tap(pen({ length: '35mm' }));
  assert.deepEqual(await pressed(page), []);
  await bring(page);
  await tap(page, 80, 20);
  assert.deepEqual(await cards(page), [1], 'put down, a tap opens');
  assert.equal(JSON.parse(await stored(page, 'torque')).open.length, 0, 'a pen is not kept');
});

scene('a pen on a generated pattern makes rows of it first, and undo brings the pattern back', { at: circle }, async (page) => {
  await quiet(page);
  await page.tap(pen({ kept: 'yes' }));
  await bring(page);
  await page.touchscreen.tap(...(await middleOf(page, 3)));
  assert.equal((await places(page)).length, 8);
  assert.deepEqual(await keptRows(page), [3]);
  assert.equal((await drawn(page)).filter((n) => n !== '').length, 7);
  await page.touchscreen.tap(...(await middleOf(page, 3)));
  assert.deepEqual(await keptRows(page), []);
  await undo(page);
  await undo(page);
  assert.deepEqual(await places(page), []);
  assert.equal(await text(page, 'pattern.count'), '8');
});

// ---- one step at a time

const pattern = '#/torque?v=1&torque=10N.m&pattern.count=4';
const at = (page) => page.getAttribute('#torque .p-step', 'data-at');
const number = (page) => page.textContent('#torque .p-step .big strong');
const alone = (page) => page.evaluate(() => ['#torque form', 'header', 'footer', '#torque .p-order', '#torque .plate-figure'].filter((s) => document.querySelector(s)?.checkVisibility()));
// rest lets the time pass in which a tap counts for the one before it: where hurried is in the page, by a clock that is put on.
const rest = (page) => page.evaluate(() => ('later' in globalThis ? (later += 720) : new Promise((resolve) => setTimeout(resolve, 720))));
const hurried = `
  globalThis.later = 0;
  const { get } = Object.getOwnPropertyDescriptor(Event.prototype, 'timeStamp');
  Object.defineProperty(Event.prototype, 'timeStamp', { get() { return get.call(this) + later; } });`;
const go = async (page, what) => {
  await page.tap(`#torque ${what}`);
  await rest(page);
};
const begin = (page) => go(page, '.p-order .go');
const wrenchSet = (page) => go(page, '.p-step .ready');
const next = (page) => go(page, '.p-step .go');
const box = (page, s) => page.evaluate((s) => {
  const r = document.querySelector(`#torque .p-step ${s}`)?.getBoundingClientRect();
  return r && { x: r.left, y: r.top, right: r.right, bottom: r.bottom, width: r.width, height: r.height };
}, s);

scene('each pass begins with setting the wrench; then one bolt at a time, never losing its place', { at: pattern, init: hurried }, async (page) => {
  await begin(page);
  assert.deepEqual(await alone(page), [], 'nothing else is shown');
  assert.equal(await page.isVisible('#torque .undo'), true);
  assert.equal(await page.evaluate(() => document.activeElement.classList.contains('p-step')), true, 'the focus is on it');
  assert.equal(await at(page), 'set');
  assert.equal(await page.locator('#torque .p-step .go').count(), 0);
  const first = await page.textContent('#torque .p-step h2');
  const set = await box(page, '.ready');
  await wrenchSet(page);
  assert.equal(await at(page), 'bolt');
  assert.equal(await number(page), '1');
  const done = await box(page, '.go');
  assert.ok(done.y > set.bottom, 'what ends a bolt is not where the wrench was set');
  for (const n of ['2', '3', '4']) {
    await next(page);
    assert.equal(await number(page), n);
    assert.equal((await focused(page)).tag, 'BUTTON', 'the focus stays on the button');
  }
  await go(page, '.p-step .bar [data-set]');
  assert.equal(await number(page), '3');
  // A reload in the middle: the same step, still alone.
  await reload(page);
  assert.equal(await number(page), '3');
  assert.deepEqual(await alone(page), []);
  await next(page);
  await next(page);
  assert.equal(await at(page), 'set', 'the next pass does not begin by itself');
  assert.notEqual(await page.textContent('#torque .p-step h2'), first);
  assert.equal(await page.evaluate(() => document.activeElement.classList.contains('p-step')), true, 'the focus is not lost with the button');
  await wrenchSet(page);
  assert.equal(await number(page), '1');
  await undo(page);
  assert.equal(await at(page), 'set');
  await undo(page);
  assert.equal(await number(page), '4');
  await undo(page);
  assert.equal(await number(page), '3');
  // All is shown again, the place is kept, and the plate takes no taps meanwhile.
  await go(page, '.p-step [data-alone="no"]');
  assert.ok((await alone(page)).includes('#torque form'));
  assert.equal(await number(page), '3');
  await bring(page);
  await tap(page, 50, 50);
  assert.equal((await drawn(page)).length, 4);
  assert.deepEqual(await places(page), []);
  await page.focus(bolt(0));
  await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('Delete');
  assert.equal((await drawn(page)).length, 4);
  await go(page, '.p-order [data-alone="yes"]');
  await reload(page);
  assert.equal(await number(page), '3');
  assert.deepEqual(await alone(page), []);
});

scene('a tap too many skips no bolt and no change of torque', { at: pattern, init: hurried }, async (page) => {
  await page.tap('#torque .p-order .go');
  await page.touchscreen.tap(180, 450); // where the wrench would be said to be set: the same tap again
  assert.equal(await at(page), 'set');
  await rest(page);
  await wrenchSet(page);
  const { x, y, width, height } = await box(page, '.go');
  const again = async (...gaps) => {
    await page.touchscreen.tap(x + width / 2, y + height / 2);
    for (const gap of gaps) {
      await page.waitForTimeout(gap);
      await page.touchscreen.tap(x + width / 2, y + height / 2);
    }
    await rest(page);
  };
  await again(60);
  assert.equal(await number(page), '2');
  await again(150);
  assert.equal(await number(page), '3');
  await again(300, 60, 60);
  assert.equal(await number(page), '4');
  await again(60, 150); // the end of the pass: what comes in its place is not tapped either
  assert.equal(await at(page), 'set');
  assert.deepEqual(await alone(page), []);
  await wrenchSet(page);
  assert.equal(await number(page), '1');
  // A key held down is one press.
  await page.focus('#torque .p-step .go');
  for (let n = 0; n < 4; n++) {
    await page.keyboard.down('Enter');
    await page.waitForTimeout(250);
  }
  await page.keyboard.up('Enter');
  assert.equal(await number(page), '2');
  // What undoes is never held back.
  await rest(page);
  await page.tap('#torque .p-step .go');
  await undo(page);
  assert.equal(await number(page), '2');
});

const stopped = `${pattern}&printed_as=150lbf.in&adapter.wrench=12in&adapter.extension=3in&bolts.0.x=50mm&bolts.0.y=50mm&bolts.0.length=35mm`;
scene('what to set and which bolt are large, what ends a bolt is always in view, on any screen', { at: stopped, init: hurried }, async (page) => {
  const sizes = [[360, 740], [360, 600], [320, 568], [740, 360]];
  const measured = () => page.evaluate(() => {
    const part = document.querySelector('#torque .p-step');
    const one = (e) => {
      const r = e.getBoundingClientRect();
      return { what: e.className.baseVal ?? (e.className || e.tagName), x: r.left, y: r.top, right: r.right, bottom: r.bottom, width: r.width, height: r.height };
    };
    const undo = one(document.querySelector('#torque .undo'));
    const font = (s) => parseFloat(getComputedStyle(part.querySelector(s) ?? part).fontSize);
    return {
      all: [...part.children, document.querySelector('#torque .undo')].map(one).filter((r) => r.height > 0), undo,
      go: one(part.querySelector('.go, .ready')), drawing: part.querySelector('svg') && one(part.querySelector('svg')),
      stop: part.querySelector('.stop').getBoundingClientRect().height / (1.25 * font('.stop')),
      big: font('.big strong'), torque: font('.numbers strong, .set strong'), bolts: part.querySelector('svg .now text')?.getBoundingClientRect().height,
      over: [part.scrollHeight - part.clientHeight, part.scrollWidth - part.clientWidth, document.documentElement.scrollHeight - innerHeight, document.documentElement.scrollWidth - innerWidth],
    };
  });
  const fits = async (kind) => {
    for (const [width, height] of sizes) {
      const name = `${kind}, ${width} × ${height}`;
      await page.setViewportSize({ width, height });
      await page.evaluate(() => (document.documentElement.style.fontSize = ''));
      await frame(page);
      const m = await measured();
      assert.deepEqual(m.over, [0, 0, 0, 0], `${name}: nothing is cut or scrolls`);
      for (const r of m.all) assert.ok(r.x >= 0 && r.y >= 0 && r.right <= width && r.bottom <= height, `${name}: ${JSON.stringify(r)}`);
      for (const [i, a] of m.all.entries()) for (const b of m.all.slice(i + 1)) assert.ok(a.what === 'bar' || Math.min(a.right, b.right) - Math.max(a.x, b.x) <= 1 || Math.min(a.bottom, b.bottom) - Math.max(a.y, b.y) <= 1, `${name}: ${a.what} and ${b.what} meet`);
      assert.ok(m.stop < 3.9, `${name}: the warning takes ${m.stop} lines`); // with its padding
      if (kind === 'bolt') {
        assert.ok(height - m.go.bottom < 20 && m.go.height >= (height >= 600 ? 96 : 72), `${name}: ${JSON.stringify(m.go)}`);
        assert.ok(m.big >= 63 && m.torque >= 38, `${name}: ${m.big}, ${m.torque}`);
        assert.ok(m.drawing.height > (height < 400 ? 300 : 190) && m.drawing.width > (width > height ? 330 : 280), `${name}: ${JSON.stringify(m.drawing)}`);
        assert.ok(m.bolts >= 20, `${name}: the number drawn is ${m.bolts} px high`);
      } else {
        assert.ok(m.torque >= 54 && m.go.bottom < height - 72, `${name}: ${m.torque}, ${JSON.stringify(m.go)}`);
      }
      // With text doubled the rest may scroll below it.
      await page.evaluate(() => (document.documentElement.style.fontSize = '36px'));
      await frame(page);
      const large = await measured();
      assert.ok(large.go.y >= 0 && large.go.bottom <= height && large.go.height >= 72 && large.go.x >= 0 && large.go.right <= width, `${name}, doubled: ${JSON.stringify(large.go)}`);
      assert.deepEqual(large.over.slice(1), [0, 0, 0], `${name}, doubled`);
      assert.ok(kind === 'bolt' || large.go.bottom < height - 72, `${name}, doubled: not where a bolt is ended`);
    }
    await page.evaluate(() => (document.documentElement.style.fontSize = ''));
  };
  await begin(page);
  await wrenchSet(page);
  for (let n = 0; n < 5; n++) await next(page);
  await fits('set');
  await wrenchSet(page);
  await next(page);
  await fits('bolt');
});

scene('step by step to the end, each bolt once in each pass; and the mode ends with what it shows', { at: `${pattern}&passes.0.kind=snug&passes.1.share=100%25`, init: hurried }, async (page) => {
  await begin(page);
  const seen = [];
  while ((await at(page)) !== 'end') {
    if ((await at(page)) === 'set') {
      seen.push('set');
      await wrenchSet(page);
      continue;
    }
    seen.push(await number(page));
    assert.equal(await page.locator('#torque .p-step .small .now text:not(.len)').textContent(), seen.at(-1), 'the drawing shows it too');
    await next(page);
  }
  assert.deepEqual(seen, ['set', '1', '2', '3', '4', 'set', '1', '2', '3', '4']);
  assert.equal(await page.evaluate(() => document.activeElement.classList.contains('p-step')), true, 'the focus is not lost with the button');
  assert.equal(await page.evaluate(() => document.documentElement.scrollHeight), 740);
  for (let n = 0; n < 10; n++) await undo(page);
  assert.equal(await at(page), 'set');
  await undo(page); // before it was begun
  assert.ok((await alone(page)).includes('#torque form'));
  assert.equal(await page.locator('#torque .p-step').count(), 0);
  await reload(page);
  assert.ok((await alone(page)).includes('#torque form'));
});

// locks notes what is asked of the screen; refused: nothing is granted.
const locks = (refused) => `
  globalThis.asked = []; globalThis.held = 0;
  Object.defineProperty(navigator, 'wakeLock', { value: { request: async (kind) => {
    asked.push(kind);
    if (${refused}) throw new DOMException('no', 'NotAllowedError');
    const lock = new EventTarget();
    held++;
    globalThis.loseIt = () => { held--; lock.dispatchEvent(new Event('release')); };
    lock.release = async () => loseIt();
    return lock;
  } } });`;
const awake = (page) => page.evaluate(() => [asked.join(' '), held]);

scene('by keyboard, and on a wide screen, that cannot be kept on', { at: pattern, size: laptop, init: hurried + locks(true) }, async (page) => {
  await page.focus('#torque .p-order .go');
  await page.keyboard.press('Enter');
  await rest(page);
  assert.deepEqual(await alone(page), []);
  await tabTo(page, (at) => at.tag === 'BUTTON', 2);
  await page.keyboard.press('Enter');
  await rest(page);
  assert.equal(await number(page), '1');
  await tabTo(page, (at) => at.tag === 'BUTTON', 2);
  await page.keyboard.press('Space');
  await rest(page);
  assert.equal(await number(page), '2');
  await page.keyboard.press('Enter');
  await rest(page);
  assert.equal(await number(page), '3');
  await tabTo(page, (at) => at.do === 'undo', 6, 'Shift+Tab');
  await page.keyboard.press('Enter');
  assert.equal(await number(page), '2');
  const width = await page.evaluate(() => document.querySelector('#torque .p-step').getBoundingClientRect().width);
  assert.ok(width > 600, `it has the width: ${width}`);
  assert.deepEqual(await awake(page), ['screen', 0], 'refused, and nothing is said of it');
  await page.focus('#torque .p-step [data-alone="no"]');
  await page.keyboard.press('Enter');
  assert.ok((await alone(page)).includes('#torque form'));
  assert.notEqual(await focused(page), null);
});

scene('the screen stays on while a step is shown alone', { at: pattern, init: hurried + locks(false) }, async (page) => {
  assert.deepEqual(await awake(page), ['', 0]);
  await begin(page);
  assert.deepEqual(await awake(page), ['screen', 1]);
  await wrenchSet(page);
  assert.deepEqual(await awake(page), ['screen', 1], 'once');
  // Another page was looked at meanwhile.
  await page.evaluate(() => {
    loseIt();
    document.dispatchEvent(new Event('visibilitychange'));
  });
  assert.deepEqual(await awake(page), ['screen screen', 1]);
  await page.evaluate(() => (location.hash = '#/'));
  await page.waitForFunction(() => document.body.dataset.place === 'start' && held === 0);
  await page.evaluate(() => (location.hash = '#/torque'));
  await page.waitForFunction(() => document.body.dataset.place === 'torque' && held === 1);
  await go(page, '.p-step [data-alone="no"]');
  assert.deepEqual(await awake(page), ['screen screen screen', 0]);
});

// ---- a wide page

scene('the plate stays in view beside its rows, however long the answer is', { at: `#/torque?v=1&torque=10N.m&printed_as=89lbf.in&adapter.wrench=12in&adapter.extension=3in&wrench.max=150lbf.in&fastener.thread=M6&fastener.class=8.8&fastener.into=aluminium&fastener.engagement=12mm&pattern.count=12`, size: laptop }, async (page) => {
  for (const [place, scroll] of [['its rows', 0], ['its rows', 5000]]) {
    await page.evaluate((top) => {
      document.querySelector('#torque [data-list="bolts"]').scrollIntoView();
      document.querySelector('#torque .body').scrollTop = top;
    }, scroll);
    await frame(page);
    await frame(page);
    const seen = await page.evaluate(() => {
      const r = document.querySelector('#torque [data-plate]').getBoundingClientRect();
      const strip = document.querySelector('#torque .strip').getBoundingClientRect();
      const on = (y) => document.elementFromPoint(r.left + r.width / 2, y)?.closest('[data-plate]') !== null;
      return { top: r.top, bottom: r.bottom, height: r.height, strip: strip.bottom, on: [on(r.top + 5), on(r.bottom - 5)] };
    });
    assert.ok(seen.height > 300 && seen.top >= seen.strip && seen.bottom <= 800 && seen.on.every(Boolean), `${place}, ${scroll}: ${JSON.stringify(seen)}`);
  }
});

scene('what the page holds is not seen; what is wrong with it is told all the same', { at: `${pattern}&progress.done=abc` }, async (page) => {
  assert.equal(await page.locator('#torque [data-path^="progress."]:visible, #torque [data-group="progress"]:visible').count(), 0);
  const { notes } = await expected(page, 'torque', { torque: '10 N.m', 'pattern.count': '4', 'progress.done': 'abc' });
  assert.deepEqual(await page.$$eval('#torque .form-notes li', (all) => all.map((li) => li.textContent)), [notes['progress.done'][1]]);
  assert.equal(await answered(page), true);
  assert.equal((await drawn(page)).length, 4);
});

// ---- paper

// printed is what stands on paper: its pages, its text, the words' places in points, and how dark a place is (0 to 255), in points.
async function printed(page) {
  const directory = mkdtempSync(join(tmpdir(), 'ohmwright-paper-'));
  const file = join(directory, 'paper.pdf');
  const run = (program, ...args) => execFileSync(program, args, { maxBuffer: 1 << 26 });
  try {
    writeFileSync(file, await page.pdf({ format: 'A4' }));
    const pages = Number(/Pages:\s+(\d+)/.exec(run('pdfinfo', file))[1]);
    const words = [...`${run('pdftotext', '-bbox', '-l', '1', file, '-')}`.matchAll(/<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)"[^>]*>([^<]*)</g)].map(([, x0, y0, x1, y1, word]) => ({ word, x: (Number(x0) + Number(x1)) / 2, y: (Number(y0) + Number(y1)) / 2 }));
    const raster = run('pdftoppm', '-gray', '-r', '72', '-l', '1', '-singlefile', file);
    const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(raster.subarray(0, 40).toString('latin1'));
    const width = Number(head[1]);
    const texts = `${run('pdftotext', '-layout', file, '-')}`.split('\f').map((text) => text.replace(/[\s\u00a0]+/g, ''));
    return { pages, words, texts, text: texts.join(''), grey: (x, y) => raster[head[0].length + Math.round(y) * width + Math.round(x)] };
  } finally {
    rmSync(directory, { recursive: true });
  }
}

const plate = [[10, 90, 35], [50, 95, 35], [90, 90, 35], [90, 50, 60], [90, 10, 60], [50, 5, 35], [10, 10, 35], [10, 50, 60], [50, 50, 35]];
const sheet = `#/torque?v=1&${plate.map(([x, y, length], i) => `bolts.${i}.x=${x}mm&bolts.${i}.y=${y}mm&bolts.${i}.length=${length}mm${i === 3 || i === 8 ? `&bolts.${i}.kept=yes` : ''}`).join('&')}`;

scene('one sheet to hang beside the bench: the numbered drawing with what is not to be undone, passes to tick, lines to fill in', { at: sheet }, async (page) => {
  const rows = await page.$$eval('#torque .p-order li', (all) => all.map((li) => [...li.children].map((c) => c.textContent)));
  const lines = await page.$$eval('#torque .paper li', (all) => all.map((li) => li.textContent));
  assert.ok(rows.length >= 4 && lines.length === 3);
  assert.equal(await page.isVisible('#torque .paper'), false, 'on paper alone');
  const paper = await printed(page);
  assert.equal(paper.pages, 1);
  for (const cell of [...rows.flat(), ...lines]) assert.ok(paper.text.includes(cell.replace(/[\s\u00a0]+/g, '')), `${cell} is not printed`);
  // Where the drawing is on paper follows from two of its numbers; all nine bolts are there, black on white.
  const marks = await page.$$eval('#torque [data-plate] [data-bolt]', (all) => all.sort((a, b) => a.dataset.bolt - b.dataset.bolt).map((b) => b.querySelector('text:not(.len)')?.textContent));
  const named = (row) => paper.words.filter((w) => w.word === marks[row]);
  const pairs = named(6).flatMap((a) => named(2).map((b) => [a, b])); // 10, 10 and 90, 90
  const [a, b] = pairs.find(([a, b]) => Math.abs((b.x - a.x) / (a.y - b.y) - 1) < 0.03) ?? assert.fail(`no drawing: ${JSON.stringify(pairs)}`);
  const across = (b.x - a.x) / 80;
  const up = (a.y - b.y) / 80;
  assert.ok(across * 100 > (80 / 25.4) * 72, `${across} points a mm`);
  const dark = (x, y) => {
    let n = 0;
    for (let dx = -7; dx <= 7; dx++) for (let dy = -7; dy <= 7; dy++) if (paper.grey(a.x + (x - 10) * across + dx, a.y - (y - 10) * up + dy) < 100) n++;
    return n;
  };
  for (const [x, y] of plate) assert.ok(dark(x, y) > 15, `the bolt at ${x}, ${y}: ${dark(x, y)}`);
  for (const [x, y] of [[30, 30], [70, 70], [50, 25]]) assert.ok(dark(x, y) <= 3, `nothing at ${x}, ${y}: ${dark(x, y)}`);
});

scene('paper in the middle of it: the torque in all units, no step, no buttons, two pages at most', { at: sheet.replace('v=1&', 'v=1&torque=10N.m&'), size: laptop, init: hurried }, async (page) => {
  await page.click('#torque .p-order .go');
  await rest(page);
  await page.click('#torque .p-step .ready');
  await rest(page);
  await page.click('#torque .p-step .go');
  await quiet(page);
  await page.focus('#torque .p-step .go');
  const step = await page.$eval('#torque .p-step', (part) => [...part.querySelectorAll('button, .big span')].map((e) => e.textContent));
  const buttons = await page.$$eval('#torque button', (all) => all.filter((b) => !b.closest('.units-list')).map((b) => b.textContent).filter((t) => t.length > 4));
  const head = await headText(page);
  const rows = await page.$$eval('#torque .p-order li', (all) => all.map((li) => [...li.children].map((c) => c.textContent)));
  const paper = await printed(page);
  assert.ok(paper.pages <= 2, `${paper.pages} pages`);
  for (const cell of [...rows.flat(), '88.51']) assert.ok(paper.text.includes(cell.replace(/[\s\u00a0]+/g, '')), `${cell} is not printed`);
  for (const b of [...buttons, ...step, head]) assert.ok(!paper.text.includes(b.replace(/[\s\u00a0]+/g, '')), `printed: ${b}`);
  // What hangs beside the bench is one sheet.
  const ends = await page.evaluate(() => ['[data-list="bolts"] > legend', '.paper li:last-child'].map((s) => document.querySelector(`#torque ${s}`).textContent.replace(/\s+/g, '')));
  assert.ok(paper.texts.some((text) => ends.every((end) => text.includes(end))), 'drawing and passes are on one page');
  assert.ok(paper.text.indexOf('88.51') < paper.text.indexOf(ends[0]), 'the torque stands before the bolts');
  assert.deepEqual(await alone(page), [], 'on the screen it goes on alone');
  assert.equal(await page.evaluate(() => document.activeElement.classList.contains('go')), true, 'with the focus where it was');
  // A long one is printed to its end.
  await page.evaluate(() => (location.hash = '#/torque?v=1&torque=10N.m&printed_as=89lbf.in&adapter.wrench=12in&adapter.extension=3in&wrench.max=150lbf.in&fastener.thread=M6&fastener.class=8.8&fastener.into=aluminium&fastener.engagement=12mm&pattern.count=12'));
  await page.waitForFunction(() => !location.hash.includes('?') && document.querySelector('#torque .units-list .set'));
  const long = await printed(page);
  const steps = await page.$$eval('#torque .working li .what', (all) => all.map((e) => e.textContent.replace(/\s+/g, '')));
  assert.ok(steps.length > 8 && long.pages > 2);
  for (const s of steps) assert.ok(long.text.includes(s), `not printed: ${s}`);
});

// ---- bad input

scene('what cannot be is told beside its field, in plain words, and nothing is lost', { at: '#/torque' }, async (page) => {
  const given = {};
  // tell enters what is wrong, looks at what is told, and puts what is right in its place.
  const tell = async (path, wrong, unit, code, right) => {
    const before = await held(page);
    await type(page, 'torque', path, wrong);
    const asked = { ...given, [path]: `${wrong} ${unit}`.trim() };
    await beside(page, 'torque', path, code, asked);
    assert.deepEqual({ ...(await held(page)).texts }, { ...before.texts, [`torque-${path}`]: wrong });
    await page.fill(field('torque', path), right);
    given[path] = `${right} ${unit}`.trim();
    if (right === '') delete given[path];
  };
  await tell('torque', '-10', 'N.m', 'range', '10');
  await tell('torque', '0', 'N.m', 'range', '10');
  assert.equal(await answered(page), true);
  const head = await headText(page);
  await unfold(page, field('torque', 'adapter.wrench'));
  await page.fill(field('torque', 'adapter.wrench'), '300');
  given['adapter.wrench'] = '300 mm';
  await page.fill(field('torque', 'adapter.angle'), '180');
  given['adapter.angle'] = '180 deg';
  await page.fill(field('torque', 'adapter.extension'), '300');
  assert.notEqual(await headText(page), head, 'no torque as if there were no adapter');
  assert.equal(await answered(page), false);
  await tell('adapter.extension', '400', 'mm', 'conflict', '50');
  await tell('adapter.angle', '200', 'deg', 'range', '90');
  assert.match(await headText(page), /10\sN·m/);
  await unfold(page, field('torque', 'fastener.thread'));
  await page.check('input[name="torque-fastener.class"][value="8.8"]');
  given['fastener.class'] = '8.8';
  await page.fill(field('torque', 'fastener.thread'), 'M6.5');
  const { notes } = await expected(page, 'torque', { ...given, 'fastener.thread': 'M6.5' });
  const [code] = notes['fastener.thread'];
  await tell('fastener.thread', 'M6.5', '', code, 'M6');
  await tell('fastener.friction', '0', '', 'range', '0.12');
  await tell('fastener.friction', '2', '', 'range', '0.12');
  await page.check('input[name="torque-fastener.into"][value="aluminium"]');
  given['fastener.into'] = 'aluminium';
  await tell('fastener.engagement', '0', 'mm', 'range', '9');
  await tell('pattern.count', '500', '', 'range', '4');
  assert.deepEqual(await page.$$eval('#torque .note', (all) => all.map((n) => n.textContent).filter(Boolean)), []);
  assert.equal(await page.locator('#torque .left-out').count(), 0);
  const form = await held(page);
  await reload(page);
  assert.deepEqual(await held(page), form);
});

scene('a bolt whose place is no number is shown with what is wrong', { at: '#/torque?v=1&torque=10N.m&bolts.0.x=20&bolts.0.y=20&bolts.1.x=abc&bolts.1.y=20' }, async (page) => {
  assert.deepEqual(await cards(page), [1], 'its row is open, though nobody opened it');
  await beside(page, 'torque', 'bolts.1.x', 'syntax', { torque: '10 N.m', 'bolts.0.x': '20', 'bolts.0.y': '20', 'bolts.1.x': 'abc', 'bolts.1.y': '20' });
  assert.deepEqual(await drawn(page), ['1'], 'the other is drawn');
  await page.fill(field('torque', 'bolts.1.x'), '80');
  assert.equal((await drawn(page)).length, 2);
});

scene('a class “8,8” and 500 bolts by link are told, and nothing is dropped in silence', {}, async (page) => {
  const go = async (query) => {
    await page.evaluate((q) => (location.hash = `#/torque?v=1&${q}`), query);
    await page.waitForFunction(() => document.querySelector('#torque .head')?.firstChild && !location.hash.includes('?'));
  };
  const loose = () => page.$$eval('#torque .form-notes li', (all) => all.map((li) => li.textContent));
  await go('torque=10N.m&fastener.thread=M6&fastener.class=8,8');
  assert.match((await loose()).join(' '), /8,8.*8\.8/);
  assert.equal(await text(page, 'fastener.thread'), 'M6');
  const line = Array.from({ length: 500 }, (_, i) => `bolts.${i}.x=${(i % 20) * 5}&bolts.${i}.y=${Math.floor(i / 20) * 4}`).join('&');
  await go(`torque=10N.m&${line}`);
  assert.equal(await answered(page), true, 'the torque is answered');
  const told = await page.textContent('#torque [data-note="bolts"]');
  assert.match(told, /100/);
  const [where] = await loose();
  assert.ok(where.includes('bolts.499.x = 95') && where.includes('bolts.200.y = 40'), 'what had no room is told');
  assert.ok((await page.locator('#torque .form-notes').boundingBox()).height < 300, 'in little room');
  assert.equal((await places(page)).length, 200);
  await press(page, 'undo');
  assert.equal(await text(page, 'fastener.thread'), 'M6');
});

scene('beyond the most that a plate may have, a tap says so', { at: `#/torque?v=1&torque=10N.m&pattern.kind=circle&pattern.count=100&pattern.width=90` }, async (page) => {
  assert.equal((await drawn(page)).length, 100);
  await bring(page);
  await tap(page, 50, 50);
  await says(page, 'said', 'most');
  assert.equal(await text(page, 'pattern.count'), '100', 'and changes nothing');
  assert.deepEqual(await places(page), []);
});
