// The circuit question on the page: a diagnosis by touch and by keyboard, bad input, readings taken over, vehicles, links.
// node --test site/test/page-circuit.test.mjs
import assert from 'node:assert/strict';
import {
  answered, answerText, base, beside, choose, codes, expected, field, focused, headText, held, laptop, note, press, ready, says, scene, serve, stored, tabTo, type, unfold, useBrowser, verdict, visit,
} from './browser.mjs';
import { run } from './program.mjs';

useBrowser();

// An invented fault: of a winding of 5.0 to 5.6 ohm turns are shorted, 2.7 ohm are left; high side, through the case, 13.8 V.
// The rest is as the form says that it is assumed. Ohm's law gives what a meter reads.
const ohms = { source: 0.02, driver: 0.15, harness: 0.15, lead: 0.1, winding: 2.7, ground: 0.05 };
const amperes = 13.8 / Object.values(ohms).reduce((a, b) => a + b); // 4.353
const reads = {
  resistance_winding: '2.7',
  resistance_component: (ohms.lead + ohms.winding).toFixed(1),
  resistance_unit: (ohms.harness + ohms.lead + ohms.winding + ohms.ground).toFixed(1),
  continuity_harness: '0.2',
  insulation_harness: 'OL',
  voltage_harness_open: '0',
  voltage_pin_on: (13.8 - amperes * (ohms.source + ohms.driver)).toFixed(2),
  voltage_pin_off: '0',
  current_on: amperes.toFixed(2),
  voltage_drop_return: (amperes * ohms.ground).toFixed(2),
  voltage_unit_test_load: ((13.8 * 12) / (12 + ohms.source + ohms.driver)).toFixed(2),
};

const filled = '#/circuit?v=1&side=high&return=case&supply=13.8V&spec.min=5.0ohm&spec.max=5.6ohm&winding_temperature=20degC&code_kind=low';
const given = { side: 'high', return: 'case', supply: '13.8 V', 'spec.min': '5.0 ohm', 'spec.max': '5.6 ohm', winding_temperature: '20 degC', code_kind: 'low' };
const withReadings = (list) => list.map(([test, value], i) => `&readings.${i}.test=${test}&readings.${i}.value=${encodeURIComponent(value)}`).join('');
const asRequest = (list) => Object.fromEntries(list.flatMap(([test, value], i) => [[`readings.${i}.test`, test], [`readings.${i}.value`, value]]));

const point = (test) => `#circuit .point[data-value="${test}"]`;
const go = (page, hash) => page.evaluate((h) => (location.hash = h), hash);
const reload = async (page) => {
  await page.reload();
  await ready(page);
};
const tapIn = async (page, path, text) => {
  await page.tap(field('circuit', path));
  await page.keyboard.type(text);
};
const choice = (page, name, value) => page.tap(`#circuit label:has(input[name="circuit-${name}"][value="${value}"])`);

// enter puts a reading into the card that has the focus: by its OL and 0 buttons where they say it, else by keypad.
async function enter(page, text) {
  const id = await page.evaluate(() => document.activeElement.id);
  const path = /^circuit-(readings\.\d+\.value)$/.exec(id)?.[1];
  assert.ok(path, `the card of the point has not the focus: ${id}`);
  if (text === 'OL' || text === '0') await page.tap(`[data-path="${path}"] [data-put="${text}"]`);
  else await page.keyboard.type(text);
  assert.equal(await page.inputValue(`[id="${id}"]`), text);
  return path;
}

// chances are the percentages on the parts and of no fault; "< 1 %" counts as a half.
const chances = (page) =>
  page.evaluate(() => {
    const texts = [...document.querySelectorAll('#circuit .part-chance'), document.querySelector('#circuit .no-fault')].map((e) => e.textContent);
    return texts.map((t) => {
      const [, sign, n] = /([<>]?)\s*(\d+)\s*%/.exec(t);
      return sign === '<' ? n - 0.5 : sign === '>' ? Number(n) + 0.5 : Number(n);
    });
  });
const sum = (list) => list.reduce((a, b) => a + b, 0);

// ---- a diagnosis

scene('from the first screen to a repair by touch, on a phone', {}, async (page) => {
  await page.tap('a[href="#/circuit"]');
  await page.waitForSelector('#circuit:not([hidden])');
  assert.equal(await answered(page), false);
  await choice(page, 'side', 'high');
  await choice(page, 'return', 'case');
  await tapIn(page, 'supply', '13.8');
  await tapIn(page, 'spec.min', '5.0');
  await tapIn(page, 'spec.max', '5.6');
  await tapIn(page, 'winding_temperature', '20');
  await choice(page, 'code_kind', 'low');
  assert.equal(await verdict(page), 'test');
  const before = await chances(page);
  assert.equal(before.length, 6);
  assert.ok(Math.abs(sum(before) - 100) <= 4, `${before} is ${sum(before)} %`);
  // The strip, the card and the marked point name the same test.
  const next = () => page.getAttribute('#circuit .p-next', 'data-test');
  assert.equal(await page.getAttribute('#circuit .point.next', 'data-value'), await next());
  const title = await page.textContent('#circuit .p-next h2');
  assert.ok(title.includes(/^Measure next(.*) · /.exec(await headText(page))[1]), title);
  const empty = await held(page);
  let steps = 0;
  const taken = [];
  const took = async (test) => {
    const path = await enter(page, reads[test]);
    if (reads[test] !== 'OL' && reads[test] !== '0') await page.keyboard.press('Enter');
    steps += 2; // the card, and what was entered
    taken.push([path, test]);
    const shown = await page.textContent(point(test));
    assert.ok(reads[test] === 'OL' ? shown === 'OL' : Number(shown.replace(/\s*(m?[ΩVA])$/, '')) === Number(reads[test]), `the point shows ${shown}`);
    assert.ok(await page.$eval(point(test), (e) => e.classList.contains('taken')));
    const all = await chances(page);
    assert.ok(Math.abs(sum(all) - 100) <= 4, `${all} is ${sum(all)} %`);
  };
  // Two points of the reader's own choice, then what the page asks for.
  for (const test of ['voltage_pin_off', 'current_on']) {
    await page.tap(point(test));
    await took(test);
    assert.equal(await verdict(page), 'test', test);
  }
  for (let n = 0; n < 6 && (await verdict(page)) === 'test'; n++) {
    const test = await next();
    assert.ok(reads[test], test);
    await page.tap('#circuit .p-next [data-pick]');
    await took(test);
  }
  assert.equal(await verdict(page), 'component', 'what was invented is found');
  const head = await headText(page);
  const list = taken.map(([, test]) => [test, `${reads[test]} ${{ r: 'ohm', v: 'V', c: 'A' }[test[0]]}`]);
  assert.equal(head, (await expected(page, 'circuit', { ...given, ...asRequest(list) })).head);
  assert.match(head, /^Replace the component(>\s*99|9\d)\s%\slikely$/);
  assert.ok(await page.isVisible('#circuit .head .g-mend'));
  assert.equal(await page.locator('#circuit .p-next').count(), 0);
  // One more, which fits: the decision stands.
  await page.tap(point('insulation_harness'));
  await took('insulation_harness');
  assert.equal(await verdict(page), 'component');
  for (const [path, test] of taken) assert.equal(await page.inputValue(field('circuit', path)), reads[test]);
  const said = await page.$$eval('#circuit-answer .p-readings li', (all) => all.map((li) => li.dataset.test));
  assert.deepEqual(said, taken.map(([, test]) => test));
  // A reload brings it all back; undo, after that, has nothing to take back, so it comes last.
  assert.equal(JSON.parse(await stored(page, 'circuit')).rows.readings, taken.length);
  const full = await held(page);
  for (let n = 0; n < 2; n++) await press(page, 'undo');
  assert.equal(await page.locator('#circuit .card').count(), taken.length - 1);
  assert.doesNotMatch(await page.textContent(point('insulation_harness')), /OL/);
  for (let n = 2; n < steps; n++) await press(page, 'undo');
  assert.deepEqual(await held(page), empty);
  assert.equal(await verdict(page), 'test');
  assert.deepEqual(await chances(page), before);
  assert.notDeepEqual(full, empty);
});

scene('a reading taken stays over a reload and another place', { at: `${filled}${withReadings([['current_on', '4.35A'], ['resistance_component', '2.8ohm']])}` }, async (page) => {
  const [form, head, answer] = [await held(page), await headText(page), await answerText(page)];
  assert.equal(await verdict(page), 'component');
  await reload(page);
  assert.deepEqual(await held(page), form);
  assert.equal(await headText(page), head);
  assert.equal(await answerText(page), answer);
  await go(page, '#/code');
  await page.waitForSelector('#code:not([hidden])');
  await go(page, '#/circuit');
  await page.waitForSelector('#circuit:not([hidden])');
  assert.equal(await headText(page), head);
});

scene('a card just opened by a tap is no fault yet', { at: filled }, async (page) => {
  await page.tap(point('current_on'));
  assert.equal(await note(page, 'circuit', 'readings.0.value'), '', 'nothing was typed yet');
  assert.equal(await page.locator('#circuit .left-out').count(), 0, 'nothing was left out yet');
  assert.notEqual(await page.getAttribute(field('circuit', 'readings.0.value'), 'aria-invalid'), 'true');
});

scene('a point tapped twice goes to the same card; “read again” makes another', { at: filled }, async (page) => {
  await page.tap(point('current_on'));
  await enter(page, '4.35');
  await page.tap(point('current_on'));
  assert.equal(await page.locator('#circuit .card').count(), 1);
  assert.equal((await focused(page)).id, 'circuit-readings.0.value');
  await page.tap('#circuit .card [data-do="again"]');
  assert.equal(await page.locator('#circuit .card').count(), 2);
  assert.equal((await focused(page)).id, 'circuit-readings.1.value');
});

scene('what is opened by a tap is in view, below the strip', { at: filled }, async (page) => {
  for (const test of ['voltage_pin_off', 'current_on', 'insulation_harness']) {
    await page.tap(point(test));
    const seen = await page.evaluate(() => {
      const head = document.querySelector('#circuit .strip').getBoundingClientRect();
      const input = document.activeElement.getBoundingClientRect();
      return { below: input.top >= head.bottom, above: input.bottom <= innerHeight };
    });
    assert.deepEqual(seen, { below: true, above: true }, test);
    await enter(page, reads[test]);
  }
});

scene('a card has the units of its test, and OL for ohms alone', { at: filled }, async (page) => {
  for (const [i, [test, units, over]] of [['current_on', ['A', 'mA'], false], ['voltage_pin_on', ['V', 'mV'], false], ['resistance_unit', ['ohm', 'kohm', 'Mohm'], true]].entries()) {
    await page.tap(point(test));
    const card = page.locator(`#circuit .card[data-row="${i}"]`);
    assert.deepEqual(await card.locator('.units label:visible input').evaluateAll((all) => all.map((r) => r.value)), units, test);
    assert.equal(await card.locator('[data-put="OL"]').isVisible(), over, test);
    assert.equal(await card.locator('.units input:checked').getAttribute('value'), units[0], test);
    assert.notEqual((await card.locator('.picked-how').textContent()).trim(), '', 'how the reading is taken');
    assert.equal(await card.locator('.picked-expected').textContent(), await page.getAttribute(point(test), 'data-expected'));
    assert.match(await card.locator('.picked-expected').textContent(), /^If all is well: \S/);
  }
});

scene('a card removed leaves the focus somewhere, and the neighbours as they were', { at: filled }, async (page) => {
  for (const test of ['voltage_pin_off', 'current_on', 'resistance_unit']) {
    await page.tap(point(test));
    await enter(page, reads[test]);
  }
  await page.focus('[data-row="1"] .entry > input'); // a row shows its buttons once one is in it
  await page.focus('[data-row="1"] [data-do="remove"]');
  await page.keyboard.press('Enter');
  assert.deepEqual(await page.$$eval('#circuit .card .entry > input', (all) => all.map((i) => i.value)), ['0', '3.0']);
  assert.deepEqual(await page.$$eval('#circuit .card .picked-name', (all) => all.map((i) => i.textContent)), ['Volts at the pin, off', "Ohms at the unit's plug"]);
  assert.notEqual(await focused(page), null, 'after a card was removed the focus is lost');
});

scene('the only card removed', { at: filled }, async (page) => {
  await page.tap(point('current_on'));
  await page.tap('#circuit .card [data-do="remove"]');
  assert.equal(await page.locator('#circuit .card').count(), 0);
  await says(page, 'said', 'removed');
  await press(page, 'undo');
  assert.equal(await page.locator('#circuit .card').count(), 1);
});

scene('on a wide screen drawing and card stand beside each other, in one answer', { at: filled, size: laptop }, async (page) => {
  assert.equal(await page.locator('#circuit-answer figure.circuit').count(), 1);
  assert.equal(await page.locator('#circuit form figure.circuit').count(), 0);
  await page.click(point('current_on'));
  assert.equal((await focused(page)).id, 'circuit-readings.0.value');
  await page.keyboard.type('4.35');
  await page.setViewportSize({ width: 700, height: 800 });
  await page.waitForSelector('#circuit form figure.circuit'); // narrow: in the form
  assert.equal(await page.locator('#circuit figure.circuit').count(), 1);
  assert.equal(await page.inputValue(field('circuit', 'readings.0.value')), '4.35');
});

// ---- keyboard

scene('a diagnosis by keyboard alone', {}, async (page) => {
  await tabTo(page, (at) => at.href === '#/circuit');
  await page.keyboard.press('Enter');
  await page.waitForSelector('#circuit:not([hidden])');
  await tabTo(page, (at) => at.name === 'circuit-side', 8);
  await page.keyboard.press('Space');
  await tabTo(page, (at) => at.name === 'circuit-return', 3);
  await page.keyboard.press('ArrowDown');
  assert.equal(await page.isChecked('input[name="circuit-return"][value="case"]'), true);
  await tabTo(page, (at) => at.id === 'circuit-supply', 3);
  await page.keyboard.type('13.8');
  for (const [id, text] of [['spec.min', '5.0'], ['spec.max', '5.6'], ['spec.at', ''], ['winding_temperature', '20']]) {
    await page.keyboard.press('Enter');
    assert.equal((await focused(page)).id, `circuit-${id}`);
    await page.keyboard.type(text);
  }
  await tabTo(page, (at) => at.name === 'circuit-code_kind', 8);
  await page.keyboard.press('ArrowRight');
  assert.equal(await page.isChecked('input[name="circuit-code_kind"][value="low"]'), true);
  // A point, by Space; its card has the focus.
  await tabTo(page, (at) => at.point === 'current_on');
  await page.keyboard.press('Space');
  assert.equal((await focused(page)).id, 'circuit-readings.0.value');
  await page.keyboard.type(reads.current_on);
  assert.equal(await verdict(page), 'test');
  const test = await page.getAttribute('#circuit .p-next', 'data-test');
  // Back to the next card's button, by Shift+Tab, every stop seen; by Enter.
  await tabTo(page, (at) => at.tag === 'BUTTON' && at.point === test, 30, 'Shift+Tab');
  await page.keyboard.press('Enter');
  assert.equal((await focused(page)).id, 'circuit-readings.1.value');
  await page.keyboard.type(reads[test]);
  assert.equal(await verdict(page), 'component');
  // Forward again, nothing traps; and undo is reached.
  await tabTo(page, (at) => at.do === 'again', 12);
  await tabTo(page, (at) => at.do === 'undo', 80, 'Shift+Tab');
  await page.keyboard.press('Space');
  assert.equal(await page.inputValue(field('circuit', 'readings.1.value')), '');
});

scene('the focus stays with a reading while the answer changes around it, and Enter leaves it somewhere', { at: filled }, async (page) => {
  await page.tap(point('voltage_pin_off'));
  for (const c of '0.05') {
    await page.keyboard.type(c);
    assert.equal((await focused(page)).id, 'circuit-readings.0.value');
  }
  await page.keyboard.press('Enter');
  assert.notEqual(await focused(page), null, 'after Enter in the last reading the focus is lost');
});

// ---- the screen reader's tree

scene('the drawing, the points, the next card as a screen reader has them', { at: `${filled}${withReadings([['voltage_pin_off', '0V']])}` }, async (page) => {
  const client = await page.context().newCDPSession(page);
  await client.send('Accessibility.enable');
  const { nodes } = await client.send('Accessibility.getFullAXTree');
  const seen = nodes.filter((n) => !n.ignored);
  const named = (role) => seen.filter((n) => n.role?.value === role).map((n) => n.name?.value ?? '');
  // The drawing tells every part with its chance, as it is drawn.
  const drawing = named('image').concat(named('img')).find((name) => /driver \D*\d+\s%/.test(name));
  assert.ok(drawing, JSON.stringify(named('image')));
  const drawn = await page.evaluate(() => {
    const texts = (c) => [...document.querySelectorAll(`#circuit .${c}`)].map((e) => e.textContent);
    const chances = texts('part-chance');
    return { parts: texts('part-name').map((name, i) => `${name} ${chances[i]}`), none: document.querySelector('#circuit .no-fault').textContent };
  });
  assert.equal(drawn.parts.length, 5);
  const plain = (s) => s.replace(/\s+/g, ' ');
  for (const part of drawn.parts) assert.ok(plain(drawing).includes(plain(part)), `${drawing} lacks ${part}`);
  assert.ok(plain(drawing).includes(plain(drawn.none)), drawing);
  // Points are buttons with the test's full name and its state; what is seen is told too.
  const points = await page.$$eval('#circuit .points button', (all) => all.map((b) => ({ label: b.getAttribute('aria-label'), test: b.dataset.value, text: b.textContent, card: b.className })));
  assert.equal(points.length, 11, 'the high side through the case has neither feed nor insulation');
  const buttons = named('button');
  for (const { label } of points) assert.ok(buttons.includes(label), label);
  const states = points.map(({ label, test }) => [test, /, not taken, \d+\smin$/.test(label) ? 'open' : /, next, \d+\smin$/.test(label) ? 'next' : /, read$/.test(label) ? 'taken' : label]);
  assert.deepEqual(states.filter(([, s]) => s === 'taken'), [['voltage_pin_off', 'taken']]);
  assert.deepEqual(states.filter(([, s]) => s === 'next').map(([t]) => t), [await page.getAttribute('#circuit .p-next', 'data-test')]);
  assert.equal(states.filter(([, s]) => s === 'open').length, 9);
  for (const { label } of points) assert.match(label, /^[^,]{6,}/);
  const group = seen.find((n) => n.role?.value === 'group' && n.name?.value === 'Test points');
  assert.ok(group, 'the points are a group with a name');
  // What each outcome would mean is a list.
  const outcomes = page.locator('#circuit .p-next ul.outcomes > li');
  assert.ok((await outcomes.count()) >= 2);
  const lists = seen.filter((n) => n.role?.value === 'list').map((n) => n.backendDOMNodeId);
  const { nodes: found } = await client.send('DOM.getDocument', { depth: 0 }).then(({ root }) => client.send('DOM.querySelector', { nodeId: root.nodeId, selector: '#circuit ul.outcomes' }))
    .then(({ nodeId }) => client.send('DOM.describeNode', { nodeId })).then(({ node }) => ({ nodes: [node.backendNodeId] }));
  assert.ok(lists.includes(found[0]), 'the outcomes are a list in the tree');
  // Each outcome says the reading, how likely it is, and the repair.
  for (const text of await outcomes.allTextContents()) assert.match(text, /\(.*\d+\s%\).*\d+\s%/);
  const head = page.locator('#circuit .head');
  assert.deepEqual([await head.getAttribute('role'), await head.getAttribute('aria-live')], ['status', 'polite']);
  assert.ok(await head.getAttribute('aria-label'));
});

scene('a point is a target for a thumb', { at: filled }, async (page) => {
  for (const width of [320, 360, 412]) {
    await page.setViewportSize({ width, height: 740 });
    const small = await page.$$eval('#circuit .points button, #circuit .p-next button', (all) => all.map((b) => [b.dataset.value, b.getBoundingClientRect()]).filter(([, r]) => r.height < 56 || r.width < 44).map(([v, r]) => `${v} ${r.width} × ${r.height}`));
    assert.deepEqual(small, [], `${width} px`);
    const cut = await page.$$eval('#circuit .points button', (all) => all.filter((b) => b.scrollWidth > b.clientWidth + 1).map((b) => b.textContent));
    assert.deepEqual(cut, [], `what stands on a point is cut at ${width} px`);
  }
});

// ---- bad input

scene('volts typed where ohms are read, OL where volts are: told beside the field, the rest answered', { at: `${filled}${withReadings([['current_on', '4.35A']])}` }, async (page) => {
  const [before, counted] = [await verdict(page), await chances(page)];
  await page.tap(point('resistance_unit'));
  await page.keyboard.type('12 V');
  const list = [['current_on', '4.35 A'], ['resistance_unit', '12 V']];
  await beside(page, 'circuit', 'readings.1.value', 'unit', { ...given, ...asRequest(list) });
  assert.match(await note(page, 'circuit', 'readings.1.value'), /resistance/);
  assert.equal(await page.inputValue(field('circuit', 'readings.1.value')), '12 V');
  assert.equal(await answered(page), true);
  assert.equal(await verdict(page), before);
  assert.deepEqual(await chances(page), counted, 'the bad reading does not count');
  await page.tap(point('voltage_pin_on'));
  await page.keyboard.type('OL');
  list.push(['voltage_pin_on', 'OL']);
  await beside(page, 'circuit', 'readings.2.value', 'unit', { ...given, ...asRequest(list) });
  assert.match(await note(page, 'circuit', 'readings.2.value'), /OL.*voltage/);
  assert.equal(await answered(page), true);
  assert.deepEqual(await chances(page), counted);
  // What was left out is named in the answer, as the page names it.
  const left = await page.textContent('#circuit .left-out');
  assert.match(left, /Ohms at the unit's plug|row 2/);
  await reload(page);
  assert.equal(await page.inputValue(field('circuit', 'readings.1.value')), '12 V');
  assert.equal(await page.inputValue(field('circuit', 'readings.2.value')), 'OL');
});

scene('what was left out is named as the card is named: cards have no numbers', { at: `${filled}${withReadings([['current_on', '4.35A'], ['resistance_unit', 'abc']])}` }, async (page) => {
  assert.match(await page.textContent('#circuit .left-out'), /Ohms at the unit's plug/);
});

scene('a test that the circuit does not have is told where it is seen', { at: '#/circuit?v=1&side=high&supply=13.8V&spec.min=5.0ohm&spec.max=5.6ohm' }, async (page) => {
  await page.tap(point('insulation_component'));
  await page.tap('#circuit .card [data-put="OL"]');
  assert.equal(await answered(page), true);
  await page.tap(point('current_on'));
  await page.keyboard.type('2.40');
  await choice(page, 'return', 'case');
  const list = [['insulation_component', 'OL'], ['current_on', '2.40 A']];
  const { notes } = await expected(page, 'circuit', { side: 'high', return: 'case', supply: '13.8 V', 'spec.min': '5.0 ohm', 'spec.max': '5.6 ohm', ...asRequest(list) });
  const [field, [code, text]] = Object.entries(notes).find(([k]) => k.startsWith('readings.0'));
  assert.equal(code, 'conflict', field);
  assert.equal(await answered(page), true, 'the other reading is answered');
  assert.equal(await page.inputValue('[id="circuit-readings.0.value"]'), 'OL', 'nothing is lost');
  const told = page.locator('#circuit .card[data-row="0"]').getByText(text.slice(0, 40));
  assert.ok((await told.count()) > 0 && (await told.first().isVisible()), 'the message is not seen in its card');
  await choice(page, 'return', 'wire');
  assert.equal(await page.locator('#circuit .left-out').count(), 0);
});

scene('low side and case cannot both be', { at: filled }, async (page) => {
  await choice(page, 'side', 'low');
  const { notes } = await expected(page, 'circuit', { ...given, side: 'low' });
  assert.equal(notes.return[0], 'conflict');
  assert.equal(await note(page, 'circuit', 'return'), notes.return[1]);
  assert.ok(await page.isVisible('[id="circuit-return-note"]'));
  assert.equal(await answered(page), false);
  await choice(page, 'return', 'wire');
  assert.equal(await answered(page), true);
});

scene('two readings of one test: both are shown, the later counts', { at: `${filled}${withReadings([['resistance_component', '5.2ohm']])}` }, async (page) => {
  await page.focus('#circuit .card .entry > input');
  await page.tap('#circuit .card [data-do="again"]');
  await page.keyboard.type('2.8');
  const once = await expected(page, 'circuit', { ...given, ...asRequest([['resistance_component', '2.8 ohm']]) });
  assert.equal(await headText(page), once.head);
  const list = await page.$$eval('#circuit-answer .p-readings li', (all) => all.map((li) => [li.classList.contains('superseded'), li.textContent]));
  assert.equal(list.length, 2);
  assert.deepEqual(list.map(([old]) => old), [true, false]);
  assert.match(list[0][1], /5\.2/);
  assert.match(list[1][1], /2\.8/);
  assert.ok((await codes(page)).includes('superseded'));
  assert.match(await page.textContent(point('resistance_component')), /2\.8/);
});

scene('a specification that is missing, a supply of 0, costs below zero', { at: '#/circuit?v=1&side=high&supply=13.8V' }, async (page) => {
  assert.equal(await answered(page), false);
  assert.match(await headText(page), /Specified winding/);
  await type(page, 'circuit', 'spec.min', '5.0');
  assert.match(await headText(page), /Maximum|Specified winding/);
  await type(page, 'circuit', 'spec.max', '4.0');
  await beside(page, 'circuit', 'spec.min', 'conflict', { side: 'high', supply: '13.8 V', 'spec.min': '5.0 ohm', 'spec.max': '4.0 ohm' });
  await type(page, 'circuit', 'spec.max', '5.6');
  assert.equal(await answered(page), true);
  await type(page, 'circuit', 'supply', '0');
  await beside(page, 'circuit', 'supply', 'range', { side: 'high', supply: '0 V', 'spec.min': '5.0 ohm', 'spec.max': '5.6 ohm' });
  assert.equal(await answered(page), false);
  await type(page, 'circuit', 'supply', '13.8');
  const head = await headText(page);
  const good = { side: 'high', supply: '13.8 V', 'spec.min': '5.0 ohm', 'spec.max': '5.6 ohm' };
  await type(page, 'circuit', 'costs.hour', '-5');
  await beside(page, 'circuit', 'costs.hour', 'range', { ...good, 'costs.hour': '-5' });
  await type(page, 'circuit', 'costs.wrong.component', '-1');
  await beside(page, 'circuit', 'costs.wrong.component', 'range', { ...good, 'costs.hour': '-5', 'costs.wrong.component': '-1' });
  assert.equal(await answered(page), true, 'without the costs the rest is answered');
  assert.equal(await headText(page), head);
  assert.match(await page.textContent('#circuit .left-out'), /Costs/);
  for (const [path, text] of [['costs.hour', '-5'], ['costs.wrong.component', '-1'], ['spec.max', '5.6']]) assert.equal(await page.inputValue(field('circuit', path)), text);
});

scene('what is said of a missing specification has no example that is none', { at: '#/circuit' }, async (page) => {
  const { notes } = await expected(page, 'circuit', { side: 'high', supply: '13.8 V' });
  assert.equal(notes.spec[0], 'missing');
  assert.doesNotMatch(notes.spec[1], /example …/);
});

scene('a fresh form tells of no fault', { at: '#/circuit' }, async (page) => {
  const told = await page.$$eval('#circuit .note, #circuit .form-notes li', (all) => all.map((p) => p.textContent).filter(Boolean));
  assert.deepEqual(told, []);
});

scene('a reading that came without its unit has one chosen that is seen', { at: `${filled}&readings.0.test=current_on&readings.0.value=4.35` }, async (page) => {
  const shown = await page.$$eval('#circuit .card .units label:not([hidden]) input', (all) => all.map((r) => [r.value, r.checked]));
  assert.deepEqual(shown, [['A', true], ['mA', false]], `and it says: ${await note(page, 'circuit', 'readings.0.value')}`);
});

const many = (n) => `${filled}${withReadings(Array.from({ length: n }, (_, i) => ['current_on', `4.${10 + (i % 90)}A`]))}`;

scene('200 readings by a link: answered, told, usable', { at: many(200) }, async (page) => {
  assert.equal(await page.locator('#circuit .card').count(), 200);
  assert.equal(await answered(page), true);
  assert.ok((await codes(page)).includes('superseded'));
  await page.fill(field('circuit', 'readings.199.value'), '2.40');
  assert.equal(await headText(page), (await expected(page, 'circuit', { ...given, 'readings.0.test': 'current_on', 'readings.0.value': '2.40 A' })).head);
  await page.tap(point('current_on'));
  assert.equal((await focused(page)).id, 'circuit-readings.199.value');
  await reload(page);
  assert.equal(await page.locator('#circuit .card').count(), 200);
});

scene('readings beyond what a form holds are told, not dropped in silence', { at: many(203) }, async (page) => {
  assert.equal(await page.locator('#circuit .card').count(), 200);
  const told = await page.$$eval('#circuit .form-notes li', (all) => all.map((li) => li.textContent));
  assert.ok(told.some((t) => t.includes('readings.202.value')), JSON.stringify(told.slice(0, 3)));
});

scene('one reading more than a form holds does not cost the others', { at: many(200) }, async (page) => {
  await page.locator('#circuit .card .entry > input').last().focus();
  await page.locator('#circuit .card [data-do="again"]').last().tap();
  await says(page, 'said', 'most');
  await reload(page);
  assert.ok((await page.locator('#circuit .card').count()) >= 200, 'after a reload all readings are gone');
  assert.equal(await page.locator('main > details').count(), 0);
});

// ---- a surprise

scene('readings that no single fault explains: told in the strip, and which to take again', { at: `${filled}${withReadings([['resistance_component', 'OL'], ['current_on', '2.5A']])}` }, async (page) => {
  const { result } = run('circuit', JSON.stringify({ side: 'high', return: 'case', supply: '13.8 V', spec: { min: '5.0 ohm', max: '5.6 ohm' }, winding_temperature: '20 degC', code_kind: 'low', readings: [{ test: 'resistance_component', value: 'OL' }, { test: 'current_on', value: '2.5 A' }] })).response;
  assert.ok(result.surprise >= 7 && result.worst && result.pair.length === 2);
  assert.equal(await verdict(page), 'again');
  const all = await codes(page);
  assert.ok(all.includes('surprise') && all.includes('two_faults'), JSON.stringify(all));
  const name = await page.textContent(`#circuit .card:has(input[value="${result.worst}"]:checked) .picked-name`);
  assert.ok((await headText(page)).includes(name), `${await headText(page)} names ${name}`);
});

// ---- taken over from other tools

const carryFrom = async (page, tool) => {
  await go(page, `#/${tool}`);
  await page.waitForSelector(`#${tool}:not([hidden])`);
  await press(page, 'demo');
  await page.tap(`#${tool} [data-carry="circuit"]`);
  await page.waitForSelector('#circuit:not([hidden])');
};
const texts = async (page) => Object.fromEntries(Object.entries((await held(page)).texts).map(([id, v]) => [id.replace('circuit-', ''), v]));

scene('a winding’s reading goes over to the circuit, with what is known, and one undo takes it back', {}, async (page) => {
  await carryFrom(page, 'winding');
  // 6.90 less leads of 0.30; the first row with both limits; 88 °C; 13.8 V.
  const got = await texts(page);
  assert.deepEqual(Object.fromEntries(Object.entries({ 'spec.at': '20', ...got }).map(([k, v]) => [k, Number(v)])), { 'spec.at': 20, supply: 13.8, 'spec.min': 5, 'spec.max': 5.6, winding_temperature: 88, 'readings.0.value': 6.6 });
  assert.equal(await page.locator('#circuit .card input[value="resistance_winding"]').isChecked(), true);
  assert.equal(await page.textContent('#circuit .card .picked-name'), 'Ohms of the winding, lifted out');
  await says(page, 'said', 'carried');
  assert.equal(await answered(page), false);
  await choice(page, 'side', 'high');
  assert.equal(await answered(page), true);
  // The reading is taken as it was: at its temperature.
  assert.equal(await headText(page), (await expected(page, 'circuit', { side: 'high', supply: '13.8 V', 'spec.min': '5.0 ohm', 'spec.max': '5.6 ohm', winding_temperature: '88 degC', 'readings.0.test': 'resistance_winding', 'readings.0.value': '6.6 ohm' })).head);
  await press(page, 'undo');
  await press(page, 'undo');
  assert.deepEqual(await texts(page), {});
  assert.equal(await page.locator('#circuit .card').count(), 0);
  // The winding is as it was.
  await go(page, '#/winding');
  await page.waitForSelector('#winding:not([hidden])');
  assert.equal(await page.inputValue(field('winding', 'reading')), '6.90');
});

scene('limits go over with the temperature that they hold at, whatever stood there before', { at: `${filled}&spec.at=90degC` }, async (page) => {
  await carryFrom(page, 'winding');
  const at = await page.inputValue(field('circuit', 'spec.at'));
  assert.ok(at === '' || Number(at) === 20, `5.0 to 5.6 Ω hold at 20 °C; the circuit now has them at ${at}`);
});

scene('the same reading taken over twice counts once', { at: filled }, async (page) => {
  await carryFrom(page, 'loop');
  const head = await headText(page);
  await go(page, '#/loop');
  await page.waitForSelector('#loop:not([hidden])');
  await page.tap('#loop [data-carry="circuit"]');
  await page.waitForSelector('#circuit:not([hidden])');
  assert.equal(await headText(page), head);
});

scene('the loaded test’s current goes over, beside the readings that are there', { at: `${filled}${withReadings([['voltage_pin_off', '0V']])}` }, async (page) => {
  const before = await held(page);
  await carryFrom(page, 'loop');
  const got = await texts(page);
  assert.deepEqual([got['readings.0.value'], got['readings.1.value']], ['0', '1.65']);
  assert.equal(Number(got.supply), 13.2);
  assert.equal(Number(got.winding_temperature), 88);
  assert.equal(got['spec.min'], '5.0', 'what was not given stays');
  assert.equal(await page.locator('[data-row="1"] input[value="current_on"]').isChecked(), true);
  assert.deepEqual(await page.locator('[data-row="1"] .units input:checked').evaluateAll((all) => all.map((r) => r.value)), ['A']);
  assert.equal(await answered(page), true);
  await press(page, 'undo');
  assert.deepEqual(await held(page), before);
});

scene('a code’s kind goes over', { at: '#/code' }, async (page) => {
  await carryFrom(page, 'code');
  assert.equal(await page.isChecked('input[name="circuit-code_kind"][value="low"]'), true);
  await press(page, 'undo');
  assert.equal(await page.isChecked('input[name="circuit-code_kind"][value="none"]'), true);
});

scene('OL goes over as OL', {}, async (page) => {
  await go(page, '#/winding?reading=OL&at=24degC&measured_at=component_connector');
  await page.waitForSelector('#winding [data-carry="circuit"]');
  await page.tap('#winding [data-carry="circuit"]');
  await page.waitForSelector('#circuit:not([hidden])');
  assert.equal(await page.inputValue(field('circuit', 'readings.0.value')), 'OL');
  assert.equal(await page.isChecked('#circuit .card input[value="resistance_component"]'), true);
});

// ---- vehicles

scene('what holds for a vehicle is kept, used again, forgotten, brought back', { at: `${filled}${withReadings([['current_on', '4.35A']])}` }, async (page) => {
  await type(page, 'circuit', 'minutes.resistance_component', '55');
  await type(page, 'circuit', 'costs.wrong.component', '700');
  await type(page, 'circuit', 'parameters.harness.to_ground.min', '0.5');
  await choose(page, 'circuit-spec.at-unit', 'degF');
  await type(page, 'circuit', 'spec.at', '68');
  const kept = page.locator('#circuit .vehicles [data-do="use"]');
  await unfold(page, '#circuit-vehicle');
  assert.equal(await kept.count(), 0);
  await page.tap('#circuit-vehicle');
  await page.keyboard.type('Tarn 24');
  await page.tap('#circuit [data-do="keep-vehicle"]');
  assert.equal(await kept.count(), 1);
  assert.match(await kept.textContent(), /Tarn 24/);
  const before = await held(page);
  await press(page, 'clear');
  await type(page, 'circuit', 'minutes.resistance_component', '5');
  await type(page, 'circuit', 'supply', '12.6');
  await reload(page);
  await unfold(page, '.vehicles [data-do="use"]');
  assert.equal(await kept.count(), 1, 'after a reload it is still there');
  await kept.tap();
  const after = await texts(page);
  assert.equal(after['minutes.resistance_component'], '55');
  assert.equal(after['costs.wrong.component'], '700');
  assert.equal(after['parameters.harness.to_ground.min'], '0.5');
  assert.deepEqual([after['spec.min'], after['spec.max'], after['spec.at']], ['5.0', '5.6', '68']);
  assert.equal(await page.isChecked('input[name="circuit-spec.at-unit"][value="degF"]'), true);
  assert.equal(await page.isChecked('input[name="circuit-side"][value="high"]'), true);
  assert.equal(await page.isChecked('input[name="circuit-return"][value="case"]'), true);
  assert.equal(after.supply, '12.6', 'what was measured today is no matter of the vehicle');
  assert.equal(await page.locator('#circuit .card').count(), 0);
  await press(page, 'undo');
  assert.equal(await page.inputValue(field('circuit', 'minutes.resistance_component')), '5');
  // Kept under the same name again, it is one.
  await unfold(page, '#circuit-vehicle');
  await page.fill('#circuit-vehicle', 'Tarn 24');
  await page.tap('#circuit [data-do="keep-vehicle"]');
  assert.equal(await kept.count(), 1);
  await page.tap('#circuit .vehicles [data-do="forget"]');
  assert.equal(await kept.count(), 0);
  assert.deepEqual(JSON.parse(await stored(page, 'vehicles')).rows, []);
  await press(page, 'undo');
  assert.equal(await kept.count(), 1);
  await reload(page);
  assert.equal(await kept.count(), 1);
  assert.ok(before.rows === 1);
});

scene('a vehicle without a name is asked for one', { at: filled }, async (page) => {
  await unfold(page, '#circuit-vehicle');
  await page.tap('#circuit [data-do="keep-vehicle"]');
  assert.equal((await focused(page)).id, 'circuit-vehicle');
  assert.equal(await page.locator('#circuit .vehicles [data-do="use"]').count(), 0);
});

scene('minutes change what is worth measuring next', { at: filled }, async (page) => {
  const first = await page.getAttribute('#circuit .p-next', 'data-test');
  await type(page, 'circuit', `minutes.${first}`, '600');
  assert.notEqual(await page.getAttribute('#circuit .p-next', 'data-test'), first);
  assert.equal(await headText(page), (await expected(page, 'circuit', { ...given, [`minutes.${first}`]: '600' })).head);
});

// ---- links

const shared = async (page) => {
  await page.context().grantPermissions(['clipboard-read', 'clipboard-write'], { origin: new URL(page.url()).origin });
  await press(page, 'share');
  await says(page, 'said', 'copied');
  return page.evaluate(() => navigator.clipboard.readText());
};

// everything is a link with every field of a request that can stand beside the others, each away from its default.
const everything = () => {
  const pairs = [['v', '1']];
  const add = (fields, path) => {
    for (const f of fields) pairs.push([path + f[0], f[1]]);
  };
  const tests = ['resistance_winding', 'resistance_component', 'resistance_unit', 'continuity_harness', 'insulation_harness', 'insulation_component', 'voltage_harness_open', 'voltage_pin_on', 'voltage_pin_off', 'current_on', 'voltage_drop_return', 'voltage_feed', 'voltage_unit_test_load'];
  const faults = ['none', 'winding.open', 'winding.shorted_turns', 'winding.high_resistance', 'winding.to_case', 'inner_lead.open', 'inner_lead.high_resistance', 'inner_lead.to_ground', 'harness.open', 'harness.high_resistance', 'harness.to_ground', 'harness.to_battery', 'return_path.open', 'return_path.high_resistance', 'driver.never_on', 'driver.always_on', 'driver.weak'];
  add([['side', 'high'], ['return', 'case'], ['supply', '13.7V'], ['spec.min', '5.0ohm'], ['spec.max', '5.6ohm'], ['spec.at', '77degF'], ['winding_temperature', '30degC'], ['code_kind', 'range']], '');
  add([['readings.0.test', 'current_on'], ['readings.0.value', '2400mA'], ['readings.1.test', 'resistance_component'], ['readings.1.value', '0.0054kohm'], ['readings.2.test', 'insulation_harness'], ['readings.2.value', 'OL']], '');
  add(tests.map((t, i) => [t, String(21 + i)]), 'minutes.');
  add([['hour', '75'], ...['nothing', 'component', 'harness', 'return_path', 'control_unit'].map((r, i) => [`wrong.${r}`, String(401 + i)])], 'costs.');
  add([['resistance.percent', '0.9'], ['resistance.counts', '3'], ['resistance.resolution', '0.1ohm'], ['voltage.percent', '0.4'], ['voltage.counts', '4'], ['voltage.resolution', '0.1V'], ['current.percent', '1.5'], ['current.counts', '5'], ['current.resolution', '0.1A']], 'meter.');
  add(faults.map((f, i) => [f, String(31 + i)]), 'priors.');
  add([['harness.to_ground.min', '0.5ohm'], ['harness.to_ground.max', '900ohm'], ['winding.shorted_turns.min', '5%'], ['winding.shorted_turns.max', '80%']], 'parameters.');
  add(['driver', 'harness', 'inner_lead', 'return_path', 'source'].map((n, i) => [n, `0.1${i + 1}ohm`]), 'nominal.');
  add([['check_current', '30000ohm']], 'nominal.');
  add([['off', '3.5V'], ['on', '2.9V'], ['over', '5A'], ['open', '50mA'], ['range', '25%']], 'checks.');
  return pairs;
};

scene('every field of a request survives from link to form to link', {}, async (page) => {
  const pairs = everything();
  await go(page, `#/circuit?${pairs.map(([k, v]) => `${k}=${encodeURIComponent(v)}`).join('&')}`);
  await page.waitForFunction(() => document.querySelector('#circuit')?.dataset.answered === 'yes' && !location.hash.includes('?'));
  assert.deepEqual(await page.$$eval('#circuit .form-notes li', (all) => all.map((li) => li.textContent)), []);
  assert.deepEqual(await page.$$eval('#circuit .note', (all) => all.map((p) => p.textContent).filter(Boolean)), []);
  const [form, head, answer] = [await held(page), await headText(page), await answerText(page)];
  const link = await shared(page);
  const read = Object.fromEntries(new URLSearchParams(new URL(link).hash.split('?')[1]));
  const missing = pairs.filter(([k]) => !(k in read)).map(([k]) => k);
  assert.deepEqual(missing, [], 'lost on the way');
  const differ = pairs.filter(([k, v]) => read[k] !== v).map(([k, v]) => `${k}: ${v} became ${read[k]}`);
  assert.deepEqual(differ, []);
  const other = await visit({ at: link.slice(base.length) });
  try {
    assert.deepEqual(await held(other), form);
    assert.equal(await headText(other), head);
    assert.equal(await answerText(other), answer);
    assert.equal(await shared(other), link, 'the link of the link is the link');
    assert.deepEqual(other.faults, []);
  } finally {
    await other.context().close();
  }
});

scene('the test of a reading that is none is told, and the rest answered', { at: `${filled}&readings.0.test=moon&readings.0.value=5ohm&readings.1.test=current_on&readings.1.value=4.35A` }, async (page) => {
  assert.equal(await answered(page), true);
  const all = [...(await page.$$eval('#circuit .form-notes li', (all) => all.map((li) => li.textContent))), await page.textContent('#circuit .cards')].join(' ');
  assert.match(all, /moon/);
  assert.match(await page.textContent(point('current_on')), /4\.35/);
});

scene('the example is answered, and undone', { at: '#/circuit' }, async (page) => {
  await press(page, 'demo');
  assert.equal(await answered(page), true);
  assert.equal(await page.locator('#circuit .card').count(), 2);
  await press(page, 'undo');
  assert.deepEqual((await held(page)).texts, {});
  assert.equal(await page.locator('#circuit .card').count(), 0);
});

// ---- the reader's notation

scene('a reader who writes a decimal comma', { at: '#/circuit', locale: 'de-DE' }, async (page) => {
  await choice(page, 'side', 'high');
  await choice(page, 'return', 'case');
  await tapIn(page, 'supply', '13,8');
  await tapIn(page, 'spec.min', '5,0');
  await tapIn(page, 'spec.max', '5,6');
  await tapIn(page, 'winding_temperature', '20');
  await choice(page, 'code_kind', 'low');
  assert.equal(await verdict(page), 'test');
  assert.match(await page.textContent('#circuit .p-next .expected'), /\d,\d/);
  await page.tap(point('current_on'));
  await page.keyboard.type('4,35');
  await page.tap(point('resistance_component'));
  await page.keyboard.type('2,8');
  assert.equal(await verdict(page), 'component');
  assert.match(await page.textContent(point('current_on')), /^4,35\s*A$/);
  assert.doesNotMatch((await answerText(page)).replace(/\d+\.\d+\.\d+/g, ''), /\d\.\d+\s*(Ω|V|A)\b/);
  const link = await shared(page);
  assert.match(link, /readings\.1\.value=2\.8ohm/, 'a link is in the plain notation');
  assert.equal(await page.getAttribute(field('circuit', 'minutes.resistance_component'), 'placeholder'), '10');
  await type(page, 'circuit', 'minutes.resistance_component', '1,5');
  assert.equal(await note(page, 'circuit', 'minutes.resistance_component'), '');
  await reload(page);
  assert.equal(await page.inputValue(field('circuit', 'readings.1.value')), '2,8');
  assert.equal(await verdict(page), 'component');
});

// ---- without a network

scene('a diagnosis without a network', { wait: false }, async (first, t) => {
  const host = await serve();
  t.after(() => host.stop());
  const page = await visit({ base: host.base, workers: true, at: filled, expects: /ERR_(INTERNET_DISCONNECTED|CONNECTION_REFUSED|FAILED)|Failed to (load|update|fetch)|404/ });
  try {
    await says(page, 'offline', 'offline');
    await page.context().setOffline(true);
    await host.stop();
    await page.reload();
    await ready(page);
    assert.equal(await verdict(page), 'test');
    await page.tap(point('current_on'));
    await enter(page, '4.35');
    await page.tap(point('resistance_component'));
    await enter(page, '2.8');
    assert.equal(await verdict(page), 'component');
    await go(page, '#/exercise?v=1&seed=bench+1');
    await page.waitForSelector('#exercise .point');
    await go(page, '#/code?v=1&code=P0962');
    await page.waitForSelector('#code [data-carry]');
    assert.deepEqual(page.faults, []);
  } finally {
    await page.context().close();
  }
});
