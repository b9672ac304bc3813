// The torque question on a phone: the converter, bolts on a plate by touch and by keyboard, one step at a time, paper, bad input.
// node --test site/test/page-torque.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
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
const drawn = (page) => page.$$eval('#torque [data-plate] [data-bolt]', (all) => all.sort((a, b) => a.dataset.bolt - b.dataset.bolt).map((bolt) => bolt.querySelector('text')?.textContent ?? ''));
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
  assert.deepEqual(rows.filter(([line]) => line !== '1'), [['2', 'agree'], ['3', 'disagree']], JSON.stringify(rows));
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

// ---- one step at a time

const pattern = '#/torque?v=1&torque=10N.m&pattern.count=4';
const step = (page) => page.$eval('#torque .p-step', (part) => ({ big: part.querySelector('.big strong').textContent, title: part.querySelector('h2').textContent }));
const alone = (page) => page.evaluate(() => ['#torque form', 'header', 'footer', '#torque .p-order', '#torque .plate-figure'].filter((s) => document.querySelector(s)?.checkVisibility()));
const next = (page) => page.tap('#torque .p-step .go');

scene('one bolt at a time, for oily hands: never losing its place', { at: pattern }, async (page) => {
  await page.tap('#torque .p-order .go');
  assert.deepEqual(await alone(page), [], 'nothing else is shown');
  assert.equal(await page.isVisible('#torque .undo'), true);
  assert.equal(await page.evaluate(() => document.activeElement.classList.contains('p-step')), true, 'the focus is on it');
  const size = await page.evaluate(() => {
    const box = (s) => document.querySelector(`#torque .p-step ${s}`).getBoundingClientRect();
    const root = document.documentElement;
    return { big: box('.big').height, go: box('.go').height, from: box('.go').top, back: box('.bar').bottom, scroll: root.scrollHeight, wide: root.scrollWidth };
  });
  assert.ok(size.big >= 740 * 0.3, `the number takes ${size.big} of 740 px`);
  assert.ok(size.go >= 96 && size.from > 740 / 2 && size.back <= 740, JSON.stringify(size));
  assert.deepEqual([size.scroll, size.wide], [740, 360], 'nothing scrolls');
  const first = await step(page);
  assert.equal(first.big, '1');
  for (const n of ['2', '3', '4']) {
    await next(page);
    assert.equal((await step(page)).big, n);
    assert.equal((await focused(page)).tag, 'BUTTON', 'the focus stays on the button');
  }
  await page.tap('#torque .p-step .bar [data-set]');
  const here = await step(page);
  assert.deepEqual(here, { ...first, big: '3' });
  // A reload in the middle: the same step, still alone.
  await reload(page);
  assert.deepEqual(await step(page), here);
  assert.deepEqual(await alone(page), []);
  await next(page);
  await next(page);
  const second = await step(page);
  assert.equal(second.big, '1');
  assert.notEqual(second.title, first.title, 'the next pass');
  await undo(page);
  assert.equal((await step(page)).big, '4');
  await undo(page);
  assert.deepEqual(await step(page), here);
  assert.deepEqual(await alone(page), []);
  // All is shown again, the place is kept, and the plate takes no taps meanwhile.
  await page.tap('#torque .p-step [data-alone="no"]');
  assert.ok((await alone(page)).includes('#torque form'));
  assert.deepEqual(await step(page), here);
  await bring(page);
  await tap(page, 50, 50);
  assert.equal((await drawn(page)).length, 4);
  assert.deepEqual(await places(page), []);
  await page.focus(bolt(0));
  await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('Delete');
  assert.equal((await drawn(page)).length, 4);
  await page.tap('#torque .p-order [data-alone="yes"]');
  assert.deepEqual(await step(page), here);
  await reload(page);
  assert.deepEqual(await step(page), here);
});

scene('step by step to the end, each bolt once in each pass; and the mode ends with what it shows', { at: `${pattern}&passes.0.kind=snug&passes.1.share=100%25` }, async (page) => {
  await page.tap('#torque .p-order .go');
  const seen = [];
  while ((await page.locator('#torque .p-step .go').count()) > 0) {
    seen.push((await step(page)).big);
    assert.equal(await page.locator('#torque .p-step .small .now text').textContent(), seen.at(-1), 'the drawing shows it too');
    await next(page);
  }
  assert.deepEqual(seen, ['1', '2', '3', '4', '1', '2', '3', '4']);
  assert.equal(await page.evaluate(() => document.activeElement.classList.contains('p-step')), true, 'the focus is not lost with the button');
  assert.equal(await page.evaluate(() => document.documentElement.scrollHeight), 740);
  for (let n = 0; n < 8; n++) await undo(page);
  assert.equal((await step(page)).big, '1');
  await undo(page); // before it was begun
  assert.ok((await alone(page)).includes('#torque form'));
  assert.equal(await page.locator('#torque .p-step').count(), 0);
  await reload(page);
  assert.ok((await alone(page)).includes('#torque form'));
});

scene('by keyboard, and on a wide screen', { at: pattern, size: laptop }, async (page) => {
  await page.focus('#torque .p-order .go');
  await page.keyboard.press('Enter');
  assert.deepEqual(await alone(page), []);
  await tabTo(page, (at) => at.tag === 'BUTTON', 2);
  await page.keyboard.press('Enter');
  assert.equal((await step(page)).big, '2');
  await page.keyboard.press('Space');
  assert.equal((await step(page)).big, '3');
  await tabTo(page, (at) => at.do === 'undo', 6, 'Shift+Tab');
  await page.keyboard.press('Enter');
  assert.equal((await step(page)).big, '2');
  const width = await page.evaluate(() => document.querySelector('#torque .p-step').getBoundingClientRect().width);
  assert.ok(width > 600, `it has the width: ${width}`);
  await page.focus('#torque .p-step [data-alone="no"]');
  await page.keyboard.press('Enter');
  assert.ok((await alone(page)).includes('#torque form'));
  assert.notEqual(await focused(page), null);
});

scene('what the page holds is not seen; what is wrong with it is told all the same', { at: `${pattern}&progress.done=abc` }, async (page) => {
  assert.equal(await page.locator('#torque [data-path^="progress."]:visible, #torque [data-group="progress"]:visible').count(), 0);
  const { notes } = await expected(page, 'torque', { torque: '10 N.m', 'pattern.count': '4', 'progress.done': 'abc' });
  assert.deepEqual(await page.$$eval('#torque .form-notes li', (all) => all.map((li) => li.textContent)), [notes['progress.done'][1]]);
  assert.equal(await answered(page), true);
  assert.equal((await drawn(page)).length, 4);
});

// ---- paper

scene('paper has the numbered drawing and the passes, and no buttons, even in the middle of it', { at: `${pattern}&bolts.0.x=50mm&bolts.0.y=50mm&bolts.0.length=40mm` }, async (page) => {
  const buttons = await page.$$eval('#torque button', (all) => all.filter((b) => !b.closest('.units-list')).map((b) => b.textContent.trim()).filter((t) => t.length > 4));
  const rows = await page.$$eval('#torque .p-order li', (all) => all.map((li) => [...li.children].map((c) => c.textContent)));
  assert.ok(rows.length >= 4 && buttons.length > 5);
  await page.tap('#torque .p-order .go');
  await quiet(page);
  const pdf = await page.pdf({ format: 'A4' });
  const directory = mkdtempSync(join(tmpdir(), 'ohmwright-paper-'));
  let printed, boxes;
  try {
    writeFileSync(join(directory, 'paper.pdf'), pdf);
    printed = execFileSync('pdftotext', ['-layout', join(directory, 'paper.pdf'), '-'], { encoding: 'utf8' });
    boxes = [...execFileSync('pdftotext', ['-bbox', join(directory, 'paper.pdf'), '-'], { encoding: 'utf8' }).matchAll(/<word xMin="([\d.]+)" yMin="([\d.]+)"[^>]*>([^<]*)</g)].map(([, x, y, w]) => [Number(x), Number(y), w]);
  } finally {
    rmSync(directory, { recursive: true });
  }
  const tight = (s) => s.replace(/[\s\u00a0]+/g, '');
  for (const row of rows) for (const cell of row) assert.ok(tight(printed).includes(tight(cell)), `${cell} is not printed`);
  // The five numbers stand where the drawing has them, apart by more than 5 cm: a drawing to be read on the bench.
  const numbers = await page.$$eval('#torque [data-plate] [data-bolt] text', (all) => all.map((t) => t.textContent));
  assert.deepEqual([...numbers].sort(), ['1', '2', '3', '4', '5']);
  const places = numbers.map((n) => boxes.filter(([, , w]) => w === n).map(([x, y]) => [x, y]));
  const wide = Math.max(...places.flat().map(([x]) => x)) - Math.min(...places.flat().map(([x]) => x));
  assert.ok(wide > (50 / 25.4) * 72, `${wide} points wide`);
  for (const b of buttons) assert.ok(!tight(printed).includes(tight(b)), `a button is printed: ${b}`);
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
  await tell('adapter.extension', '300', 'mm', 'conflict', '300');
  assert.equal(await headText(page), head, 'the rest is answered');
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

// ---- axe

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const check = (page) =>
  page.evaluate(async () => {
    const { violations } = await globalThis.axe.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
      rules: { 'color-contrast-enhanced': { enabled: true }, 'target-size': { enabled: true } },
      resultTypes: ['violations'],
    });
    return violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target.join(' ')).slice(0, 5).join(', ')}`);
  });
const look = (page, name) => page.evaluate((name) => document.querySelector(`input[name="look"][value="${name}"]`).click(), name);

for (const [name, size] of [['360x740', phone], ['1280x800', laptop]]) {
  scene(`axe finds nothing, ${name}: filled, a bolt opened, one step alone`, { size }, async (page) => {
    await page.evaluate(axe);
    await page.evaluate(() => (location.hash = '#/torque'));
    await page.waitForSelector('#torque');
    await press(page, 'demo');
    await page.click(`${bolt(3)} .head-of`);
    await page.fill(field('torque', 'table'), 'M6 10 N·m 89 in-lb');
    await quiet(page);
    for (const l of ['light', 'dark', 'sun']) {
      await look(page, l);
      assert.deepEqual(await check(page), [], l);
    }
    await page.click('#torque .p-order .go');
    for (const l of ['light', 'dark', 'sun']) {
      await look(page, l);
      assert.deepEqual(await check(page), [], `alone, ${l}`);
    }
  });
}
