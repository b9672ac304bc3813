// The circuit question on the page: a diagnosis by touch, its example, another notation, no network.
// node --test site/test/page-circuit.test.mjs
import assert from 'node:assert/strict';
import { elsewhere, laptop, scene, serve, useBrowser } from './browser.mjs';
import { asRequest, chances, choice, enter, filled, given, looked, point, reads, sum, unitOf, withReadings } from './circuit.mjs';
import {
  answerText, answered, expected, field, focused, go, headText, held, note, openCard, press, reload, says, shared, stored,
  tapIn, type, verdict,
} from './reader.mjs';

useBrowser();

// ---- a diagnosis

// took puts in the reading of a test whose card is open, and checks the point and the chances.
async function took(page, taken, test) {
  const path = await enter(page, reads[test]);
  if (!Number.isNaN(Number(reads[test])) && reads[test] !== '0') await page.keyboard.press('Enter');
  taken.push([path, test]);
  const shown = await page.textContent(point(test));
  const read = Number(shown.replace(/\s*(m?[ΩVA]|°C)$/, ''));
  assert.ok(
    Number.isNaN(Number(reads[test])) ? shown === reads[test] : read === Number(reads[test]),
    `the point of ${test} shows ${shown}, not ${reads[test]}`,
  );
  assert.ok(await page.$eval(point(test), (e) => e.classList.contains('taken')), `the point of ${test} should be marked as taken`);
  const all = await chances(page);
  assert.ok(Math.abs(sum(all) - 100) <= 5, `after ${test} the chances ${all} are ${sum(all)} % in all`);
}

// undone takes all readings back, two steps each: the card, and what was entered.
async function undone(page, taken, empty) {
  assert.equal(JSON.parse(await stored(page, 'circuit')).rows.readings, taken.length, 'circuit: every reading should be stored');
  const full = await held(page);
  for (let n = 0; n < 2; n++) await press(page, 'undo');
  assert.equal(await page.locator('#circuit .card').count(), taken.length - 1, 'circuit: two steps of undo should take one card away');
  assert.doesNotMatch(await page.textContent(point('insulation_harness')), /OL/);
  for (let n = 2; n < 2 * taken.length; n++) await press(page, 'undo');
  assert.deepEqual(await held(page), empty, 'circuit: undo should lead back to the form without readings');
  assert.equal(await verdict(page), 'test', 'circuit: without readings the verdict should be a test');
  assert.notDeepEqual(full, empty);
}

scene('from the first screen to a repair by touch, on a phone', {}, async (page) => {
  await page.tap('summary.door');
  await page.tap('a[href="#/circuit"]');
  await page.waitForSelector('#circuit:not([hidden])');
  assert.equal(await answered(page), false, 'circuit: the form should not be answered');
  await choice(page, 'side', 'high');
  await choice(page, 'return', 'case');
  await tapIn(page, 'circuit', 'supply', '13.8');
  await tapIn(page, 'circuit', 'spec.min', '5.0');
  await tapIn(page, 'circuit', 'spec.max', '5.6');
  await tapIn(page, 'circuit', 'winding_temperature', '20');
  await choice(page, 'code_kind', 'low');
  assert.equal(await verdict(page), 'test', 'circuit: the verdict');
  const before = await chances(page);
  assert.equal(before.length, 8);
  assert.ok(Math.abs(sum(before) - 100) <= 5, `${before} is ${sum(before)} %`);
  // The strip, the card and the marked point name the same test.
  const next = () => page.getAttribute('#circuit .p-next', 'data-test');
  assert.equal(
    await page.getAttribute('#circuit .point.next', 'data-value'),
    await next(),
    'circuit: #circuit .point.next: its data-value',
  );
  const title = await page.textContent('#circuit .p-next h2');
  assert.ok(title.includes(/^(?:Measure next|Look at this first)(.*) · /.exec(await headText(page))[1]), title);
  const empty = await held(page);
  const taken = [];
  // Two points of the reader's own choice, then what the page asks for.
  for (const test of ['voltage_pin_off', 'current_on']) {
    await page.tap(point(test));
    await took(page, taken, test);
    assert.equal(await verdict(page), 'test', test);
  }
  for (let n = 0; n < 10 && (await verdict(page)) === 'test'; n++) {
    const test = await next();
    assert.ok(reads[test], test);
    await page.tap('#circuit .p-next [data-pick]');
    await took(page, taken, test);
  }
  assert.equal(await verdict(page), 'component', 'what was invented is found');
  const head = await headText(page);
  const list = taken.map(([, test]) => [test, `${reads[test]} ${unitOf(test)}`.trim()]);
  assert.equal(head, (await expected(page, 'circuit', { ...given, ...asRequest(list) })).head);
  assert.match(head, /^Replace the component(>\s*99|9\d)\s%\slikely( · |$)/);
  assert.ok(await page.isVisible('#circuit .head .g-mend'), 'circuit: #circuit .head .g-mend: should be seen');
  assert.equal(await page.locator('#circuit .p-next').count(), 0, 'circuit: #circuit .p-next: how many there are');
  // One more, which fits: the decision stands.
  await page.tap(point('insulation_harness'));
  await took(page, taken, 'insulation_harness');
  assert.equal(await verdict(page), 'component', 'circuit: the verdict');
  for (const [path, test] of taken)
    assert.equal(await page.inputValue(field('circuit', path)), reads[test], `circuit, field ${path}: what stands in it`);
  const said = await page.$$eval('#circuit-answer .p-readings li', (all) => all.map((li) => li.dataset.test));
  assert.deepEqual(
    said,
    taken.map(([, test]) => test),
  );
  await undone(page, taken, empty);
  assert.deepEqual(await chances(page), before, 'the chances before the first reading');
});

scene(
  'a reading taken stays over a reload and another place',
  {
    at: `${filled}${withReadings([
      ['current_on', '4.35A'],
      ['resistance_component', '2.8ohm'],
      ...looked,
    ])}`,
  },
  async (page) => {
    const [form, head, answer] = [await held(page), await headText(page), await answerText(page)];
    assert.equal(await verdict(page), 'component', 'circuit: the verdict');
    await reload(page);
    assert.deepEqual(await held(page), form, 'circuit: what the form holds');
    assert.equal(await headText(page), head, 'circuit: the head of the answer');
    assert.equal(await answerText(page), answer, 'circuit: the answer');
    await go(page, '#/code');
    await page.waitForSelector('#code:not([hidden])');
    await go(page, '#/circuit');
    await page.waitForSelector('#circuit:not([hidden])');
    assert.equal(await headText(page), head, 'circuit: the head of the answer');
  },
);

scene('a card just opened by a tap is no fault yet', { at: filled }, async (page) => {
  await page.tap(point('current_on'));
  assert.equal(await note(page, 'circuit', 'readings.0.value'), '', 'nothing was typed yet');
  assert.equal(await page.locator('#circuit .left-out').count(), 0, 'nothing was left out yet');
  assert.notEqual(
    await page.getAttribute(field('circuit', 'readings.0.value'), 'aria-invalid'),
    'true',
    'circuit, field readings.0.value: its aria-invalid',
  );
});

scene('a point tapped twice goes to the same card; “read again” makes another', { at: filled }, async (page) => {
  await page.tap(point('current_on'));
  await enter(page, '4.35');
  await page.tap(point('current_on'));
  assert.equal(await page.locator('#circuit .card').count(), 1, 'circuit: #circuit .card: how many there are');
  assert.equal((await focused(page)).id, 'circuit-readings.0.value', 'circuit: where the focus is');
  await page.tap('#circuit .card [data-do="again"]');
  assert.equal(await page.locator('#circuit .card').count(), 2, 'circuit: #circuit .card: how many there are');
  assert.equal((await focused(page)).id, 'circuit-readings.1.value', 'circuit: where the focus is');
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
  for (const [i, [test, units, over]] of [
    ['current_on', ['A', 'mA'], false],
    ['voltage_pin_on', ['V', 'mV'], false],
    ['resistance_unit', ['ohm', 'kohm', 'Mohm'], true],
  ].entries()) {
    await page.tap(point(test));
    const card = page.locator(`#circuit .card[data-row="${i}"]`);
    const offered = card.locator('.f-reading .units label:visible input');
    assert.deepEqual(await offered.evaluateAll((all) => all.map((r) => r.value)), units, test);
    assert.equal(await card.locator('[data-put="OL"]').isVisible(), over, test);
    assert.equal(await card.locator('.f-reading .units input:checked').getAttribute('value'), units[0], test);
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
  await openCard(page, page.locator('#circuit [data-row="1"]'));
  await page.focus('[data-row="1"] [data-do="remove"]');
  await page.keyboard.press('Enter');
  assert.deepEqual(
    await page.$$eval('#circuit .card .f-reading .entry > input', (all) => all.map((i) => i.value)),
    ['0', '3.0'],
    'circuit: #circuit .card .f-reading .entry > input: what is read there',
  );
  assert.deepEqual(
    await page.$$eval('#circuit .card .picked-name', (all) => all.map((i) => i.textContent)),
    ['Volts at the pin, driver off', "Ohms at the unit's plug"],
    'circuit: #circuit .card .picked-name: what is read there',
  );
  assert.notEqual(await focused(page), null, 'after a card was removed the focus is lost');
});

scene('the only card removed', { at: filled }, async (page) => {
  await page.tap(point('current_on'));
  await page.tap('#circuit .card [data-do="remove"]');
  assert.equal(await page.locator('#circuit .card').count(), 0, 'circuit: #circuit .card: how many there are');
  await says(page, 'said', 'removed');
  await press(page, 'undo');
  assert.equal(await page.locator('#circuit .card').count(), 1, 'circuit: #circuit .card: how many there are');
});

scene('on a wide screen drawing and card stand beside each other, in one answer', { at: filled, size: laptop }, async (page) => {
  assert.equal(
    await page.locator('#circuit-answer figure.circuit').count(),
    1,
    'circuit: #circuit-answer figure.circuit: how many there are',
  );
  assert.equal(await page.locator('#circuit form figure.circuit').count(), 0, 'circuit: #circuit form figure.circuit: how many there are');
  await page.click(point('current_on'));
  assert.equal((await focused(page)).id, 'circuit-readings.0.value', 'circuit: where the focus is');
  await page.keyboard.type('4.35');
  await page.setViewportSize({ width: 700, height: 800 });
  await page.waitForSelector('#circuit form figure.circuit'); // narrow: in the form
  assert.equal(await page.locator('#circuit figure.circuit').count(), 1, 'circuit: #circuit figure.circuit: how many there are');
  assert.equal(await page.inputValue(field('circuit', 'readings.0.value')), '4.35', 'circuit, field readings.0.value: what stands in it');
});

scene('the example is answered, and undone', { at: '#/circuit' }, async (page) => {
  await press(page, 'demo');
  assert.equal(await answered(page), true, 'circuit: the form should be answered');
  assert.equal(await page.locator('#circuit .card').count(), 4, 'circuit: #circuit .card: how many there are');
  await press(page, 'undo');
  assert.deepEqual((await held(page)).texts, {}, 'circuit: what the form holds');
  assert.equal(await page.locator('#circuit .card').count(), 0, 'circuit: #circuit .card: how many there are');
});

// ---- the reader's notation

scene('a reader who writes a decimal comma', { at: '#/circuit', locale: 'de-DE' }, async (page) => {
  await choice(page, 'side', 'high');
  await choice(page, 'return', 'case');
  await tapIn(page, 'circuit', 'supply', '13,8');
  await tapIn(page, 'circuit', 'spec.min', '5,0');
  await tapIn(page, 'circuit', 'spec.max', '5,6');
  await tapIn(page, 'circuit', 'winding_temperature', '20');
  await choice(page, 'code_kind', 'low');
  assert.equal(await verdict(page), 'test', 'circuit: the verdict');
  assert.match(await page.textContent('#circuit .p-next .expected'), /\d,\d/);
  await page.tap(point('current_on'));
  await page.keyboard.type('4,35');
  await page.tap(point('resistance_component'));
  await page.keyboard.type('2,8');
  for (const test of ['row_applies', 'winding_temperature']) {
    await page.tap(point(test));
    await enter(page, reads[test]);
  }
  assert.equal(await verdict(page), 'component', 'circuit: the verdict');
  assert.match(await page.textContent(point('current_on')), /^4,35\s*A$/);
  assert.doesNotMatch((await answerText(page)).replace(/\d+\.\d+\.\d+/g, ''), /\d\.\d+\s*(Ω|V|A)\b/);
  const link = await shared(page);
  assert.match(link, /readings\.1\.value=2\.8ohm/, 'a link is in the plain notation');
  assert.equal(
    await page.getAttribute(field('circuit', 'minutes.resistance_component'), 'placeholder'),
    '10',
    'circuit, field minutes.resistance_component: its placeholder',
  );
  await type(page, 'circuit', 'minutes.resistance_component', '1,5');
  assert.equal(
    await note(page, 'circuit', 'minutes.resistance_component'),
    '',
    'circuit, field minutes.resistance_component: nothing should be told beside it',
  );
  await reload(page);
  assert.equal(await page.inputValue(field('circuit', 'readings.1.value')), '2,8', 'circuit, field readings.1.value: what stands in it');
  assert.equal(await verdict(page), 'component', 'circuit: the verdict');
});

// ---- without a network

elsewhere(
  'a diagnosis without a network',
  () => serve(),
  { at: filled },
  async (page, host) => {
    await says(page, 'offline', 'offline');
    await page.context().setOffline(true);
    await host.stop();
    await reload(page);
    assert.equal(await verdict(page), 'test', 'circuit: the verdict');
    await page.tap(point('current_on'));
    await enter(page, '4.35');
    await page.tap(point('resistance_component'));
    await enter(page, '2.8');
    for (const test of ['row_applies', 'winding_temperature']) {
      await page.tap(point(test));
      await enter(page, reads[test]);
    }
    assert.equal(await verdict(page), 'component', 'circuit: the verdict');
    await go(page, '#/exercise?v=1&seed=bench+1');
    await page.waitForSelector('#exercise .point');
    await go(page, '#/code?v=1&code=P0962');
    await page.waitForSelector('#code [data-carry]');
  },
);
