// Bolts on a plate, by touch, by mouse and by keyboard.
// node --test site/test/page-torque-plate.test.mjs
import assert from 'node:assert/strict';
import { laptop, scene, useBrowser } from './browser.mjs';
import { answered, field, finger, focused, frame, says, tabTo, word } from './reader.mjs';
import { bolt, bring, cards, drawn, middleOf, on, places, tap, text, undo } from './torque.mjs';

useBrowser();

// ---- a pattern by touch

// opensAndGoes opens the third of the bolts by a tap, changes it, takes it away and brings it back: five steps, of which one is undone.
async function opensAndGoes(page, all) {
  // A bolt has room for a thumb, and a tap beside its drawing is still for it.
  await bring(page);
  const [x, y] = await middleOf(page, 2);
  const r = await page.locator(bolt(2)).boundingBox();
  assert.ok(r.width >= 44 && r.height >= 44, `${r.width} × ${r.height}`);
  await page.touchscreen.tap(x - 18, y + 9);
  assert.deepEqual(await places(page), all, 'torque: the places of the bolts');
  assert.deepEqual(await cards(page), [2], 'torque: the rows that are open');
  assert.equal(await page.evaluate(() => document.activeElement.dataset.row), '2', 'torque: where the focus is');
  assert.equal(await page.getAttribute(bolt(2), 'aria-current'), 'true', 'torque: the bolt 2: its aria-current');
  const name = await page.textContent('#torque .card.open .placed-name');
  assert.equal(name, await page.getAttribute(bolt(2), 'aria-label'));
  const seen = await page.locator('#torque .card.open').boundingBox();
  assert.ok(seen.y >= 70 && seen.y < 740 - 56, `the card is in view: ${seen.y}`);
  // Its length, and that it is not to be undone; then away with it.
  await page.tap(field('torque', 'bolts.2.length'));
  await page.keyboard.type('30');
  await page.tap('#torque label:has(input[name="torque-bolts.2.kept"][value="yes"])');
  assert.equal((await drawn(page)).filter((n) => n !== '').length, 3, 'three are to be tightened');
  assert.ok(await page.$eval(bolt(2), (b) => b.classList.contains('kept')), 'torque: the bolt 2: what is read there');
  await page.tap('#torque .card.open [data-do="remove"]');
  assert.deepEqual(await places(page), ['20 85', '80 85', '20 20'], 'torque: the places of the bolts');
  await says(page, 'said', 'away');
  assert.equal(await page.evaluate(() => document.activeElement.dataset.plate), 'bolts', 'the focus is on the plate');
  await undo(page);
  assert.deepEqual(await places(page), all, 'torque: the places of the bolts');
  assert.equal(await text(page, 'bolts.2.length'), '30', 'torque, field bolts.2.length: what stands in it');
}

scene('taps on the plate place bolts, a tap on a bolt opens it; each is one step of undo', { at: '#/torque' }, async (page) => {
  await bring(page);
  const at = [
    [20, 85],
    [80, 85],
    [80, 20],
    [20, 20],
  ];
  const top = () =>
    page
      .locator('#torque [data-plate]')
      .boundingBox()
      .then((r) => r.y);
  const still = await top();
  for (const [i, [x, y]] of at.entries()) {
    await tap(page, x + 1, y - 1.5); // a finger is not exact: it counts for the nearest step
    assert.equal((await places(page)).length, i + 1, 'torque: the places of the bolts');
    assert.ok(Math.abs((await top()) - still) < 2, 'the plate does not move under the finger');
  }
  const all = ['20 85', '80 85', '80 20', '20 20'];
  assert.deepEqual(await places(page), all, 'torque: the places of the bolts');
  assert.deepEqual((await drawn(page)).sort(), ['1', '2', '3', '4'], 'torque: the bolts that are drawn');
  assert.deepEqual(await cards(page), [], 'nothing was opened');
  assert.equal(await answered(page), true, 'torque: the form should be answered');
  // In line with another that stands off the steps.
  await page.evaluate(() => document.querySelector('[data-list="bolts"] .card').classList.add('open'));
  await page.fill(field('torque', 'bolts.0.x'), '23');
  await bring(page);
  await tap(page, 24, 50);
  assert.equal((await places(page))[4], '23 50', 'torque: the places of the bolts');
  await undo(page);
  await undo(page);
  assert.deepEqual(await places(page), all, 'torque: the places of the bolts');
  await opensAndGoes(page, all);
  for (let n = 0; n < 6; n++) await undo(page);
  assert.deepEqual(await places(page), [], 'torque: the places of the bolts');
  assert.equal(await page.locator(`${bolt(0)}`).count(), 0, `torque: ${bolt(0)}: how many there are`);
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
  const touch = (type, ...points) =>
    session.send('Input.dispatchTouchEvent', { type, touchPoints: points.map(([x, y], id) => ({ x, y, id })) });
  const [a, b] = [await on(page, 30, 30), await on(page, 70, 70)];
  await touch('touchStart', a);
  await touch('touchStart', a, b);
  await touch('touchEnd', b);
  await touch('touchEnd');
  await session.detach();
  await frame(page);
  assert.deepEqual(await places(page), [], 'torque: the places of the bolts');
  // One finger after that places one.
  await bring(page);
  await tap(page, 50, 50);
  assert.deepEqual(await places(page), ['50 50'], 'torque: the places of the bolts');
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
  assert.deepEqual(await places(page), ['20 80', '80 80'], 'torque: the places of the bolts');
  await click(20, 80);
  assert.deepEqual(await cards(page), [0], 'torque: the rows that are open');
  const card = await page.locator('#torque form .card.open').boundingBox();
  assert.ok(card.y >= 0 && card.y + card.height <= 800, `the card is in view beside the plate: ${JSON.stringify(card)}`);
  assert.ok(await plate.isVisible(), 'torque: what is looked for: should be seen');
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
  assert.equal(await page.getAttribute('#torque .reticle', 'data-cross'), '20 80', 'torque: #torque .reticle: its data-cross');
  await keys('Enter');
  assert.equal(await said(), await across('placed', '20', '80'));
  await keys(...times(12, 'ArrowRight'), 'Space', ...times(12, 'ArrowDown'), 'Enter');
  assert.deepEqual(await places(page), ['20 80', '80 80', '80 20'], 'torque: the places of the bolts');
  assert.equal((await focused(page)).tag, 'svg', 'the focus stays on the plate');
  // A bolt that is come upon says its name; Enter opens it.
  await keys(...times(12, 'ArrowUp'));
  assert.equal(await said(), await page.getAttribute(bolt(1), 'aria-label'));
  await keys('Enter');
  assert.deepEqual(await cards(page), [1], 'torque: the rows that are open');
  assert.equal(await page.evaluate(() => document.activeElement.dataset.row), '1', 'torque: where the focus is');
  assert.equal((await places(page)).length, 3, 'torque: the places of the bolts');
  // Back on the plate: a bolt with the focus moves by steps; a run is one step of undo.
  await page.focus('#torque [data-plate]');
  await tabTo(page, (at) => at.point === '2', 4);
  await keys('ArrowLeft', 'ArrowLeft', 'ArrowUp');
  assert.deepEqual(await places(page), ['20 80', '80 80', '70 25'], 'torque: the places of the bolts');
  assert.equal(await said(), await across('cross', '70', '25'));
  assert.equal((await focused(page)).point, '2', 'the bolt keeps the focus');
  await undo(page);
  assert.deepEqual(await places(page), ['20 80', '80 80', '80 20'], 'torque: the places of the bolts');
  await page.focus(bolt(0));
  await keys('Delete');
  assert.deepEqual(await places(page), ['80 80', '80 20'], 'torque: the places of the bolts');
  assert.equal((await focused(page)).tag, 'svg', 'torque: where the focus is');
  await page.focus(bolt(1));
  await keys('Enter');
  assert.deepEqual(await cards(page), [1], 'torque: the rows that are open');
  await undo(page);
  assert.deepEqual(await places(page), ['20 80', '80 80', '80 20'], 'torque: the places of the bolts');
  // What a screen reader presses is pressed without a pointer: a bolt in the middle, whose place can then be typed.
  await page.evaluate(() => document.activeElement.blur());
  await page.$eval('#torque [data-plate]', (plate) => plate.dispatchEvent(new MouseEvent('click', { bubbles: true })));
  assert.deepEqual(await places(page), ['20 80', '80 80', '80 20', '50 50'], 'torque: the places of the bolts');
  await page.$eval(bolt(3), (b) => b.dispatchEvent(new MouseEvent('click', { bubbles: true })));
  assert.deepEqual(await cards(page), [3], 'torque: the rows that are open');
  // Off the window there is nothing.
  await page.focus('#torque [data-plate]');
  await keys(...times(30, 'ArrowLeft'));
  assert.equal((await page.getAttribute('#torque .reticle', 'data-cross')).split(' ')[0], '0', 'torque: #torque .reticle: its data-cross');
});
