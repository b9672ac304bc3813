// The circuit question by keyboard, for a screen reader and for a thumb.
// node --test site/test/page-circuit-reach.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { filled, point, reads, withReadings } from './circuit.mjs';
import { field, focused, tabTo, verdict } from './reader.mjs';

useBrowser();

// ---- keyboard

scene('a diagnosis by keyboard alone', {}, async (page) => {
  await tabTo(page, (at) => at.href === '#/circuit');
  await page.keyboard.press('Enter');
  await page.waitForSelector('#circuit:not([hidden])');
  await tabTo(page, (at) => at.name === 'circuit-side', 8);
  await page.keyboard.press('Space');
  await tabTo(page, (at) => at.name === 'circuit-return', 3);
  await page.keyboard.press('ArrowDown');
  assert.equal(
    await page.isChecked('input[name="circuit-return"][value="case"]'),
    true,
    'circuit: input[name="circuit-return"][value="case"]: should be chosen',
  );
  await tabTo(page, (at) => at.id === 'circuit-supply', 3);
  await page.keyboard.type('13.8');
  for (const [id, text] of [
    ['spec.min', '5.0'],
    ['spec.max', '5.6'],
    ['spec.at', ''],
    ['winding_temperature', '20'],
  ]) {
    await page.keyboard.press('Enter');
    assert.equal((await focused(page)).id, `circuit-${id}`, 'circuit: where the focus is');
    await page.keyboard.type(text);
  }
  await tabTo(page, (at) => at.name === 'circuit-code_kind', 8);
  await page.keyboard.press('ArrowRight');
  assert.equal(
    await page.isChecked('input[name="circuit-code_kind"][value="low"]'),
    true,
    'circuit: input[name="circuit-code_kind"][value="low"]: should be chosen',
  );
  // A point, by Space; its card has the focus.
  await tabTo(page, (at) => at.point === 'current_on');
  await page.keyboard.press('Space');
  assert.equal((await focused(page)).id, 'circuit-readings.0.value', 'circuit: where the focus is');
  await page.keyboard.type(reads.current_on);
  assert.equal(await verdict(page), 'test', 'circuit: the verdict');
  // Back to the next card's button, by Shift+Tab, every stop seen; by Enter. A word is said by Space.
  let last = 0;
  for (; last < 8 && (await verdict(page)) === 'test'; ) {
    const test = await page.getAttribute('#circuit .p-next', 'data-test');
    await tabTo(page, (at) => at.tag === 'BUTTON' && at.point === test, 40, 'Shift+Tab');
    await page.keyboard.press('Enter');
    last++;
    const at = await page.evaluate(() => document.activeElement.closest('[data-path]').dataset.path);
    assert.equal(at, `readings.${last}.value`, 'circuit: where the focus is');
    const key = await page.evaluate(() => document.activeElement.dataset.put);
    if (key) assert.equal(key, reads[test], `${test}: its first word is what is read`);
    if (key) await page.keyboard.press('Space');
    else await page.keyboard.type(reads[test]);
  }
  assert.equal(await verdict(page), 'component', 'circuit: the verdict');
  // Forward again, nothing traps; and undo is reached.
  await tabTo(page, (at) => at.do === 'again', 12);
  await tabTo(page, (at) => at.do === 'undo', 80, 'Shift+Tab');
  await page.keyboard.press('Space');
  const path = `readings.${last}.value`;
  assert.equal(await page.inputValue(field('circuit', path)), '', `circuit, field ${path}: what stands in it`);
});

scene('the focus stays with a reading while the answer changes around it, and Enter leaves it somewhere', { at: filled }, async (page) => {
  await page.tap(point('voltage_pin_off'));
  for (const c of '0.05') {
    await page.keyboard.type(c);
    assert.equal((await focused(page)).id, 'circuit-readings.0.value', 'circuit: where the focus is');
  }
  await page.keyboard.press('Enter');
  assert.notEqual(await focused(page), null, 'after Enter in the last reading the focus is lost');
});

// ---- the screen reader's tree

// pointsHold checks the buttons of the points, and their names as the screen reader has them.
async function pointsHold(page, buttons) {
  // Points are buttons with the test's full name and its state; what is seen is told too.
  const points = await page.$$eval('#circuit .point', (all) =>
    all.map((b) => ({ label: b.getAttribute('aria-label'), test: b.dataset.value, text: b.textContent, card: b.className })),
  );
  assert.equal(points.length, 18, 'of 20 tests the high side through the case has neither feed nor insulation');
  for (const { label } of points) assert.ok(buttons.includes(label), label);
  const states = points.map(({ label, test }) => [
    test,
    /, not taken, \d+\smin$/.test(label) ? 'open' : /, next, \d+\smin$/.test(label) ? 'next' : /, read$/.test(label) ? 'taken' : label,
  ]);
  assert.deepEqual(
    states.filter(([, s]) => s === 'taken'),
    [['current_on', 'taken']],
  );
  assert.deepEqual(
    states.filter(([, s]) => s === 'next').map(([t]) => t),
    [await page.getAttribute('#circuit .p-next', 'data-test')],
  );
  assert.equal(states.filter(([, s]) => s === 'open').length, 16);
  for (const { label } of points) assert.match(label, /^(?:[^:]{6,}: )?[^,]{6,}/);
}

scene(
  'the drawing, the points, the next card as a screen reader has them',
  { at: `${filled}${withReadings([['current_on', '4.35A']])}`, fresh: true },
  async (page) => {
    const client = await page.context().newCDPSession(page);
    await client.send('Accessibility.enable');
    const { nodes } = await client.send('Accessibility.getFullAXTree');
    const seen = nodes.filter((n) => !n.ignored);
    const named = (role) => seen.filter((n) => n.role?.value === role).map((n) => n.name?.value ?? '');
    // The drawing tells every part with its chance, as it is drawn.
    const drawing = named('image')
      .concat(named('img'))
      .find((name) => /driver \D*\d+\s%/.test(name));
    assert.ok(drawing, JSON.stringify(named('image')));
    const drawn = await page.evaluate(() => {
      const texts = (c) => [...document.querySelectorAll(`#circuit .${c}`)].map((e) => e.textContent);
      const chances = texts('part-chance');
      return {
        parts: texts('part-name').map((name, i) => `${name} ${chances[i]}`),
        power: texts('power-chance')[0],
        none: document.querySelector('#circuit .no-fault span').textContent,
      };
    });
    assert.equal(drawn.parts.length, 5);
    const plain = (s) => s.replace(/\s+/g, ' ');
    for (const part of drawn.parts) assert.ok(plain(drawing).includes(plain(part)), `${drawing} lacks ${part}`);
    for (const one of [drawn.power, drawn.none]) assert.ok(plain(drawing).includes(plain(one)), `${drawing} lacks ${one}`);
    await pointsHold(page, named('button'));
    const group = seen.find((n) => n.role?.value === 'group' && n.name?.value === 'Test points');
    assert.ok(group, 'the points are a group with a name');
    // What each outcome would mean is a list.
    const outcomes = page.locator('#circuit .p-next ul.outcomes > li[data-repair]');
    assert.ok((await outcomes.count()) >= 2, 'circuit: how many there are');
    const lists = seen.filter((n) => n.role?.value === 'list').map((n) => n.backendDOMNodeId);
    const { nodes: found } = await client
      .send('DOM.getDocument', { depth: 0 })
      .then(({ root }) => client.send('DOM.querySelector', { nodeId: root.nodeId, selector: '#circuit ul.outcomes' }))
      .then(({ nodeId }) => client.send('DOM.describeNode', { nodeId }))
      .then(({ node }) => ({ nodes: [node.backendNodeId] }));
    assert.ok(lists.includes(found[0]), 'the outcomes are a list in the tree');
    // Each outcome says the reading, how likely it is, and the repair.
    for (const text of await outcomes.allTextContents()) assert.match(text, /\(.*\d+\s%\).*\d+\s%/);
    const head = page.locator('#circuit .head');
    assert.deepEqual([await head.getAttribute('role'), await head.getAttribute('aria-live')], ['group', null]); // see page-heard
    assert.ok(await head.getAttribute('aria-label'), 'circuit: the head of the answer should have a name for a screen reader');
  },
);

scene('a point is a target for a thumb', { at: filled }, async (page) => {
  for (const width of [320, 360, 412]) {
    await page.setViewportSize({ width, height: 740 });
    const small = await page.$$eval('#circuit .points button, #circuit .p-next button', (all) =>
      all
        .map((b) => [b.dataset.value, b.getBoundingClientRect()])
        .filter(([, r]) => r.height < 56 || r.width < 44)
        .map(([v, r]) => `${v} ${r.width} × ${r.height}`),
    );
    assert.deepEqual(small, [], `${width} px`);
    const cut = await page.$$eval('#circuit .points button', (all) =>
      all.filter((b) => b.scrollWidth > b.clientWidth + 1).map((b) => b.textContent),
    );
    assert.deepEqual(cut, [], `what stands on a point is cut at ${width} px`);
  }
});

// ---- while typing

const one = (value) => filled + withReadings([['resistance_component', value]]);
scene('what the next reading would mean follows once the typing pauses', { at: one('4.9ohm') }, async (page) => {
  const list = page.locator('#circuit ul.outcomes');
  await list.locator('li').first().waitFor({ state: 'attached' });
  const shown = () =>
    page.evaluate(() => {
      const list = document.querySelector('#circuit ul.outcomes');
      return { text: list.textContent, late: 'late' in list.dataset, test: list.dataset.value };
    });
  const before = await shown();
  assert.equal(before.late, false, 'the outcomes of a link should be whole at once');
  // A keystroke that leaves the next test as it is keeps the list that is shown, marked as late, and then brings its own.
  const typed = await page.evaluate(() => {
    const input = document.getElementById('circuit-readings.0.value');
    input.value = '5.3';
    input.dispatchEvent(new InputEvent('input', { bubbles: true }));
    const list = document.querySelector('#circuit ul.outcomes');
    return { text: list.textContent, late: 'late' in list.dataset, test: list.dataset.value };
  });
  assert.equal(typed.late, true, 'between two keystrokes the outcomes should be marked as late');
  if (typed.test === before.test) assert.equal(typed.text, before.text, 'the list that is shown should stay until the new one comes');
  else assert.equal(typed.text, '', 'the outcomes of another test should not stand there');
  await page.waitForFunction(() => !('late' in document.querySelector('#circuit ul.outcomes').dataset));
  const after = await shown();
  assert.ok(after.text.length > 0, 'the outcomes should follow');
  assert.notEqual(after.text, before.text, 'the outcomes should be those of the new reading');
  // They are those of an answer that nobody hurries.
  await page.reload();
  await list.locator('li').first().waitFor({ state: 'attached' });
  assert.deepEqual(await shown(), after);
});
