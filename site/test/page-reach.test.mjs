// Who can use the page, and with what: keyboard, screen reader, large text.
// node --test site/test/page-reach.test.mjs
import assert from 'node:assert/strict';
import { laptop, phone, scene, useBrowser } from './browser.mjs';
import { field, fill, focused, tabTo, verdict } from './reader.mjs';
import { states } from './states.mjs';
import { plain } from './winding.mjs';

useBrowser();

// ---- keyboard

for (const [name, size] of [
  ['phone', phone],
  ['laptop', laptop],
]) {
  scene(`from the first load to a verdict by keyboard alone, on a ${name}`, { size }, async (page) => {
    await tabTo(page, (at) => at.href === '#/winding');
    await page.keyboard.press('Enter');
    await page.waitForSelector(field('winding', 'reading'));
    await tabTo(page, (at) => at.id === 'winding-reading', 8);
    await page.keyboard.type('13');
    await page.keyboard.press('Enter');
    assert.equal((await focused(page)).id, 'winding-at', 'the tool shown: where the focus is');
    await page.keyboard.type('75.2');
    await tabTo(page, (at) => at.name === 'winding-at-unit');
    await page.keyboard.press('ArrowRight');
    assert.equal(
      await page.isChecked('input[name="winding-at-unit"][value="degF"]'),
      true,
      'the tool shown: input[name="winding-at-unit"][value="degF"]: should be chosen',
    );
    await tabTo(page, (at) => at.id === 'winding-specs.0.min');
    await page.keyboard.type('12');
    await page.keyboard.press('Enter');
    assert.equal((await focused(page)).id, 'winding-specs.0.max', 'the tool shown: where the focus is');
    await page.keyboard.type('14.5');
    assert.equal(await verdict(page), 'within', 'the tool shown: the verdict');
    await tabTo(page, (at) => at.tag === 'SUMMARY');
    await page.keyboard.press('Space');
    await tabTo(page, (at) => at.id === 'winding-specs.0.nominal', 3);
    await tabTo(page, (at) => at.do === 'undo', 60, 'Shift+Tab');
    await page.keyboard.press('Space');
    assert.equal(await page.inputValue(field('winding', 'specs.0.max')), '', 'winding, field specs.0.max: what stands in it');
  });
}

scene('the skip link leads to the answer', { at: '#/winding' }, async (page) => {
  await tabTo(page, (at) => at.href === '#winding-answer');
  assert.equal(await page.isVisible('[data-skip]'), true, 'the tool shown: [data-skip]: should be seen');
  await page.keyboard.press('Enter');
  assert.equal((await focused(page)).id, 'winding-answer', 'the tool shown: where the focus is');
  assert.match(page.url(), /#\/winding$/, 'the place stays');
});

scene('Enter goes through all fields and stays in the form', { at: '#/winding' }, async (page) => {
  await page.focus(field('winding', 'reading'));
  const order = ['winding-reading'];
  for (let n = 0; n < 6; n++) {
    await page.keyboard.press('Enter');
    order.push((await focused(page))?.id);
  }
  assert.deepEqual(order.slice(0, 7), [
    'winding-reading',
    'winding-at',
    'winding-leads',
    'winding-specs.0.name',
    'winding-specs.0.min',
    'winding-specs.0.max',
    'winding-specs.0.at',
  ]);
  await page.keyboard.press('Enter');
  assert.match(page.url(), /#\/winding$/);
});

scene('a row added, removed or used leaves the focus somewhere', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', plain);
  await page.focus('#winding [data-do="add"]');
  await page.keyboard.press('Enter');
  assert.equal((await focused(page)).id, 'winding-specs.1.name', 'the tool shown: where the focus is');
  await page.focus('[data-row="1"] [data-do="remove"]');
  await page.keyboard.press('Enter');
  assert.notEqual(await focused(page), null, 'after a row was removed the focus is lost');
});

// ---- the screen reader's tree

scene('the head has a name and is not live, fields needed say so, drawings have words', { at: '#/winding' }, async (page) => {
  const head = page.locator('#winding .head').first();
  assert.equal(await head.getAttribute('role'), 'group', 'winding: the head, which changes at each key');
  assert.ok(await head.getAttribute('aria-label'), 'winding: the head of the answer should have a name for a screen reader');
  assert.equal(await page.getAttribute(field('winding', 'reading'), 'aria-required'), 'true', 'winding, field reading: its aria-required');
  await fill(page, 'winding', plain);
  const drawings = await page.$$eval('#winding-answer svg', (all) =>
    all.map((s) => [s.getAttribute('role'), s.getAttribute('aria-label'), s.getAttribute('aria-hidden')]),
  );
  assert.ok(drawings.length >= 3, `winding: the answer should have three drawings or more, not ${drawings.length}`);
  for (const [role, label, hidden] of drawings) assert.ok(hidden === 'true' || (role === 'img' && label), `${role} ${label}`);
  assert.ok(
    drawings.some(([, label]) => label && label.includes('13')),
    'the drawing tells the reading',
  );
  // The rows say their verdict in words.
  assert.ok(
    await page.$$eval('#winding-answer li[data-verdict]', (all) => all.every((li) => /\p{L}{3}/u.test(li.textContent))),
    'the tool shown: #winding-answer li[data-verdict]: what is read there',
  );
});

scene('a tool that opens takes the reader to it', {}, async (page) => {
  await page.click('.tiles a[href="#/winding"]');
  await page.waitForSelector(field('winding', 'reading'));
  assert.ok(
    await page.evaluate(
      () => document.activeElement !== document.body && document.querySelector('#winding').contains(document.activeElement),
    ),
    'the focus stays behind on a hidden link',
  );
});

// ---- what stays in view

scene('with text doubled the answer leaves room to type', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', plain);
  await page.evaluate(() => (document.documentElement.style.fontSize = '36px'));
  await page.focus(field('winding', 'specs.0.max'));
  const strip = await page.evaluate(() => document.querySelector('#winding .head').parentElement.getBoundingClientRect().height);
  assert.ok(strip < 740 / 2, `the strip takes ${strip} of 740 px`);
});

scene('the answer stays in view while typing', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', plain);
  for (const path of ['reading', 'at', 'specs.0.max', 'specs.0.at']) {
    await page.focus(field('winding', path));
    const seen = await page.evaluate((id) => {
      const head = document.querySelector('#winding .head').getBoundingClientRect();
      const input = document.getElementById(id).getBoundingClientRect();
      return { head: head.top >= 0 && head.bottom <= innerHeight, input: input.top >= head.bottom && input.bottom <= innerHeight };
    }, `winding-${path}`);
    assert.deepEqual(seen, { head: true, input: true }, path);
  }
});

// ---- the order of stops, and what covers them

// stopsOf presses Tab through the page and returns each stop: where it is on the page, and whether it is seen whole. Radios of one choice
// are one stop.
async function stopsOf(page, most) {
  const stops = [];
  await page.evaluate(() => (document.querySelector('.home').focus(), scrollTo(0, 0)));
  for (let n = 0; n < most; n++) {
    await page.keyboard.press('Tab');
    const stop = await page.evaluate(() => {
      const e = document.activeElement;
      if (!e || e === document.body || e.closest('footer')) return null;
      const r = e.getBoundingClientRect();
      const strip = document.querySelector('main > section:not([hidden]) > .strip');
      const sticky = strip && !strip.contains(e) && getComputedStyle(strip).position === 'sticky';
      return {
        name: `${e.tagName.toLowerCase()}.${e.getAttribute('class') ?? ''} ${e.id || (e.ariaLabel ?? e.textContent).trim().slice(0, 30)}`,
        top: r.top + scrollY,
        bottom: r.bottom + scrollY,
        column: e.closest('.points > *, .looks') !== null || e.closest('svg') !== null, // read by its columns, or round a plate
        hidden:
          sticky && r.bottom <= strip.getBoundingClientRect().bottom + 1
            ? 'the strip covers it'
            : r.top >= innerHeight || r.bottom <= 0
              ? 'it is out of view'
              : '',
      };
    });
    if (!stop && stops.length > 0) break;
    if (stop) stops.push(stop);
  }
  return stops;
}

for (const [name, most] of [
  ['winding, filled', 60],
  ['circuit, half way', 70],
  ['torque, filled', 70],
  ['start', 30],
]) {
  scene(`Tab goes down the page and no stop is covered: ${name}`, { fresh: true }, async (page) => {
    await states[name](page);
    const stops = await stopsOf(page, most);
    assert.ok(stops.length >= 3, `${stops.length} stops`);
    const covered = stops.filter((stop) => stop.hidden).map((stop) => `${stop.name}: ${stop.hidden}`);
    assert.deepEqual(covered, [], 'WCAG 2.2, 2.4.11');
    const back = stops.flatMap((stop, i) => {
      const last = stops[i - 1];
      return last && !last.column && !stop.column && stop.bottom < last.top + 2 ? [`${last.name} and then ${stop.name}, above it`] : [];
    });
    assert.deepEqual(back, [], 'the order of stops is that of the page');
  });
}
