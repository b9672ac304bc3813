// The circuit question's wider world on the page: readings in words and by thermometer, a reading's own supply and temperature, what
// is asked once, the stop; by touch, over a reload, by link and without a network.
// node --test site/test/page-circuit-world.test.mjs
import assert from 'node:assert/strict';
import { base, elsewhere, scene, serve, useBrowser, visit } from './browser.mjs';
import { asRequest, enter, filled, given, point, withReadings } from './circuit.mjs';
import {
  answerText, answered, beside, choose, echo, field, focused, go, headText, openCard, press, reload, says, shared, tabTo,
  type, unfold, verdict,
} from './reader.mjs';

useBrowser();

const word = (row, value) => `#circuit .card[data-row="${row}"] .spoken [data-put="${value}"]`;
const cardOf = (page, row) => page.locator(`#circuit .card[data-row="${row}"]`);

// said are the keys of words that a row shows once it is open.
async function said(page, row) {
  await openCard(page, cardOf(page, row));
  return page.$$eval(`#circuit .card[data-row="${row}"] .spoken .key`, (all) =>
    all.filter((key) => key.checkVisibility()).map((key) => [key.dataset.put, key.ariaPressed]),
  );
}

// sameElsewhere opens the link of the form on another device, and checks that form and answer are the same there.
async function sameElsewhere(page, look = async () => {}) {
  const link = await shared(page);
  const other = await visit({ at: link.slice(base.length) });
  try {
    assert.equal(await headText(other), await headText(page), `${link}: the head of the answer`);
    await look(other);
    assert.equal(await shared(other), link, 'the link of a link is the same');
  } finally {
    await other.context().close();
  }
  return link;
}

// ---- a reading in words

scene('moved wires: steady or jumps, by two big keys and no keypad', { at: filled }, async (page) => {
  await page.tap(point('wiggle_harness'));
  assert.deepEqual(await said(page, 0), [
    ['steady', 'false'],
    ['jumps', 'false'],
  ]);
  assert.ok(!(await page.isVisible(field('circuit', 'readings.0.value'))), 'circuit: there should be no keypad for a word');
  const card = page.locator('#circuit .card[data-row="0"]');
  assert.equal(await card.locator('.f-reading .units label:visible').count(), 0, 'circuit: a word has no unit');
  assert.equal(await card.locator('[data-put="OL"]:visible').count(), 0, 'circuit: OL is no word');
  for (const value of ['steady', 'jumps']) {
    const box = await page.locator(word(0, value)).boundingBox();
    assert.ok(box.width >= 56 && box.height >= 56 && box.x >= 0 && box.x + box.width <= 360, `${value}: ${JSON.stringify(box)}`);
  }
  const before = await headText(page);
  await page.tap(word(0, 'jumps'));
  assert.deepEqual(await said(page, 0), [
    ['steady', 'false'],
    ['jumps', 'true'],
  ]);
  assert.equal(await page.textContent(point('wiggle_harness')), 'jumps', 'circuit: the point shows what was read');
  assert.ok(await page.$eval(point('wiggle_harness'), (e) => e.classList.contains('taken')), 'circuit: the point should be taken');
  await page.tap(word(0, 'steady'));
  assert.equal(await page.textContent(point('wiggle_harness')), 'steady', 'circuit: the point shows what was read');
  await press(page, 'undo');
  assert.equal(await page.textContent(point('wiggle_harness')), 'jumps', 'circuit: undo takes the second word back');
  assert.deepEqual((await said(page, 0)).at(-1), ['jumps', 'true'], 'circuit: and marks the first');
  await reload(page);
  assert.deepEqual((await said(page, 0)).at(-1), ['jumps', 'true'], 'circuit: after a reload');
  assert.match(await shared(page), /readings\.0\.test=wiggle_harness&readings\.0\.value=jumps/);
  await page.tap(word(0, 'jumps')); // a row shows its buttons once one is in it
  await page.tap('#circuit .card[data-row="0"] [data-do="remove"]');
  assert.equal(await headText(page), before, 'circuit: the head of the answer without the word');
});

scene(
  'each test has its own words, and a link opens with them',
  { at: `${filled}${withReadings([['heat_component', 'steady'], ['row_applies', 'no'], ['current_on', '2.4A']])}` },
  async (page) => {
    assert.deepEqual(await said(page, 0), [
      ['steady', 'true'],
      ['jumps', 'false'],
    ]);
    assert.deepEqual(await said(page, 1), [
      ['yes', 'false'],
      ['no', 'true'],
    ]);
    assert.deepEqual(await said(page, 2), [], 'a current is read in amperes');
    assert.ok(await page.isVisible(field('circuit', 'readings.2.value')), 'circuit: a current has its keypad');
    await sameElsewhere(page, async (other) => assert.deepEqual((await said(other, 1)).at(-1), ['no', 'true']));
  },
);

scene(
  'a word that is none of the test’s is told beside its keys',
  { at: `${filled}${withReadings([['wiggle_harness', 'yes'], ['current_on', 'steady']])}` },
  async (page) => {
    const list = [
      ['wiggle_harness', 'yes'],
      ['current_on', 'steady'],
    ];
    await beside(page, 'circuit', 'readings.0.value', 'unknown', { ...given, ...asRequest(list) });
    await beside(page, 'circuit', 'readings.1.value', 'syntax', { ...given, ...asRequest(list) });
    assert.match(await page.textContent('[id="circuit-readings.0.value-note"]'), /steady, jumps/);
    assert.equal(await answered(page), true, 'circuit: the rest is answered');
    await page.focus(word(0, 'steady'));
    await page.tap(word(0, 'steady'));
    assert.equal(await page.textContent('[id="circuit-readings.0.value-note"]'), '', 'circuit: nothing is wrong any more');
  },
);

scene('by keyboard: a word is chosen with Space, and removing its card leaves the focus somewhere', { at: filled }, async (page) => {
  await page.click('#said'); // what is said lies over the foot of the page for some seconds
  await tabTo(page, (at) => at.point === 'row_applies', 90);
  await page.keyboard.press('Enter');
  assert.equal(await page.evaluate(() => document.activeElement.dataset.put), 'yes', 'circuit: where the focus is');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Space');
  assert.equal(await page.textContent(point('row_applies')), 'no', 'circuit: the point shows what was read');
  await tabTo(page, (at) => at.do === 'remove', 12);
  await page.keyboard.press('Enter');
  assert.notEqual(await focused(page), null, 'after a card was removed the focus is lost');
});

// ---- a thermometer, and a reading's own supply and temperature

scene('a thermometer reads in °C or °F, below zero too', { at: filled }, async (page) => {
  await page.tap(point('winding_temperature'));
  const units = page.locator('#circuit .card[data-row="0"] .f-reading .units label:visible input');
  assert.deepEqual(await units.evaluateAll((all) => all.map((r) => r.value)), ['degC', 'degF']);
  await page.keyboard.type('75');
  await page.check('input[name="circuit-readings.0.value-unit"][value="degF"]');
  assert.match(await echo(page, 'circuit', 'readings.0.value'), /^23\.89\s°C$/);
  await page.tap('#circuit .card[data-row="0"] [data-put="sign"]');
  assert.equal(await page.inputValue(field('circuit', 'readings.0.value')), '−75', 'circuit: the sign');
  assert.match(await page.textContent(point('winding_temperature')), /^−59\.44\s°C$/);
  await sameElsewhere(page, async (other) => {
    assert.ok(await other.isChecked('input[name="circuit-readings.0.value-unit"][value="degF"]'), 'the unit goes along');
  });
});

scene(
  'a reading taken at another supply and temperature: folded, told in the answer, taken along by a link',
  { at: `${filled}${withReadings([['current_on', '2.1A']])}` },
  async (page) => {
    await openCard(page, cardOf(page, 0));
    const fold = page.locator('#circuit .card[data-row="0"] details.more > summary');
    assert.equal((await fold.textContent()).trim(), 'Taken at another supply or temperature');
    await fold.tap();
    const before = await answerText(page);
    await type(page, 'circuit', 'readings.0.supply', '11.9');
    await type(page, 'circuit', 'readings.0.at', '95');
    const list = await page.textContent('#circuit-answer .p-readings');
    assert.match(list.replace(/\s+/g, ' '), /2\.1 A at 11\.9 V, 95 °C/);
    assert.notEqual(await answerText(page), before, 'circuit: the answer');
    const link = await sameElsewhere(page);
    assert.match(link, /readings\.0\.supply=11\.9V&readings\.0\.at=95degC/);
    await page.fill(field('circuit', 'readings.0.supply'), '0');
    const list2 = { 'readings.0.test': 'current_on', 'readings.0.value': '2.1 A', 'readings.0.supply': '0 V', 'readings.0.at': '95 degC' };
    await beside(page, 'circuit', 'readings.0.supply', 'range', { ...given, ...list2 });
  },
);

// ---- what is asked once

scene('“Does it show now?” and the driver: by touch, kept, and by link', { at: filled }, async (page) => {
  await page.tap('#circuit label:has(input[name="circuit-fault_present"][value="no"])');
  await choose(page, 'circuit-driver.kind', 'regulated');
  await type(page, 'circuit', 'driver.at', '1.2');
  await reload(page);
  assert.ok(await page.isChecked('input[name="circuit-fault_present"][value="no"]'), 'circuit: kept');
  assert.equal(await page.inputValue(field('circuit', 'driver.at')), '1.2', 'circuit: kept');
  const link = await sameElsewhere(page, async (other) => {
    assert.ok(await other.isVisible(field('circuit', 'driver.at')), 'a group that a link fills is unfolded');
    assert.ok(await other.isChecked('input[name="circuit-driver.kind"][value="regulated"]'));
  });
  assert.match(link, /fault_present=no&driver\.kind=regulated&driver\.at=1\.2A/);
  await choose(page, 'circuit-driver.kind', 'plain');
  const request = { ...given, fault_present: 'no', 'driver.kind': 'plain', 'driver.at': '1.2 A' };
  await beside(page, 'circuit', 'driver.at', 'conflict', request);
  assert.equal(await answered(page), true, 'circuit: the rest is answered');
  await press(page, 'undo');
  assert.equal(await page.textContent('[id="circuit-driver.at-note"]'), '', 'circuit: undo takes the other kind back');
});

scene('doubts, inner leads and the second table: behind “more”, and by link', { at: filled }, async (page) => {
  await type(page, 'circuit', 'supply_within', '0.5');
  await type(page, 'circuit', 'winding_temperature_within', '5');
  await choose(page, 'circuit-inner_harness', 'apart');
  await type(page, 'circuit', 'minutes.wiggle_harness', '4');
  await type(page, 'circuit', 'costs.wrong.unit_power', '120');
  await type(page, 'circuit', 'priors.other_row', '9');
  await type(page, 'circuit', 'parameters.other_row.max', '150');
  assert.equal(await answered(page), true, 'circuit: the form should be answered');
  const link = await sameElsewhere(page);
  for (const part of ['supply_within=0.5V', 'winding_temperature_within=5K', 'inner_harness=apart', 'minutes.wiggle_harness=4',
    'costs.wrong.unit_power=120', 'priors.other_row=9', 'parameters.other_row.max=150%25'])
    assert.ok(link.includes(part), `${link} lacks ${part}`);
});

scene(
  'an old link opens and answers, and says that the temperature is not known',
  {
    at: `#/circuit?v=1&side=low&supply=12.6V&spec.min=11ohm&spec.max=13ohm&nominal.driver=0.2ohm&priors.winding.open=4${withReadings([
      ['current_on', '0.9A'],
    ])}`,
  },
  async (page) => {
    assert.equal(await answered(page), true, 'circuit: the form should be answered');
    assert.ok((await page.locator('#circuit li[data-code="temperature_unknown"]').count()) === 1, 'circuit: it should be told');
  },
);

scene(
  'the loaded test takes along what is known of the driver',
  { at: '#/loop?v=1&supply=13.2V&current=1.65A&winding=5.3ohm&driver_kind=protected' },
  async (page) => {
    await page.tap('#loop [data-carry="circuit"]');
    await page.waitForSelector('#circuit:not([hidden])');
    assert.ok(await page.isChecked('input[name="circuit-driver.kind"][value="protected"]'), 'circuit: the driver that was told');
  },
);

// ---- the drawing

scene('every test has a point that a thumb meets, at 360 pixels', { at: '#/circuit?v=1&side=low' }, async (page) => {
  const points = await page.$$eval('#circuit .point', (all) =>
    all.map((b) => {
      const { x, width, height } = b.getBoundingClientRect();
      return { test: b.dataset.value, x, width, height, spills: b.scrollWidth > b.clientWidth + 1 };
    }),
  );
  assert.equal(points.length, 20, 'the low side has all 20 tests');
  assert.equal(new Set(points.map(({ test }) => test)).size, 20);
  for (const p of points) {
    assert.ok(p.height >= 56 && p.width >= 56 && p.x >= 0 && p.x + p.width <= 360 && !p.spills, JSON.stringify(p));
  }
  const looks = page.locator('#circuit .looks');
  assert.equal(await looks.getAttribute('aria-label'), 'Is what was typed right?');
  assert.deepEqual(await looks.locator('.point').evaluateAll((all) => all.map((b) => b.dataset.value)), [
    'row_applies',
    'winding_temperature',
    'supply_driven',
  ]);
});

// ---- the stop

scene('above 60 V: a stop, no points, no advice; corrected, all is there again', { at: filled }, async (page) => {
  await type(page, 'circuit', 'supply', '138');
  assert.equal(await verdict(page), 'stop', 'circuit: the verdict');
  assert.equal(await page.locator('#circuit .point').count(), 0, 'circuit: nothing to tap and measure at');
  assert.equal(await page.locator('#circuit .p-next').count(), 0, 'circuit: no next test');
  await type(page, 'circuit', 'supply', '13.8');
  assert.equal(await verdict(page), 'test', 'circuit: the verdict');
  await page.tap(point('supply_driven'));
  await enter(page, '96');
  assert.equal(await verdict(page), 'stop', 'circuit: a battery that reads so much stops it too');
});

scene('an exercise above 60 V is a stop too', { at: '#/exercise?v=1&seed=bench+1&supply=72V' }, async (page) => {
  assert.equal(await verdict(page), 'stop', 'exercise: the verdict');
  assert.equal(await page.locator('#exercise .point').count(), 0, 'exercise: nothing to ask for');
});

// ---- from a code that comes and goes

scene('a code of a state that comes and goes leads to the circuit, where it is asked whether it shows', { at: '#/code' }, async (page) => {
  await page.fill(field('code', 'code'), 'P0749');
  assert.equal(await verdict(page), 'intermittent', 'code: the verdict');
  await page.tap('#code [data-carry="circuit"]');
  await page.waitForSelector('#circuit:not([hidden])');
  assert.ok(await page.isVisible('#circuit [data-path="fault_present"]'), 'circuit: “Does it show now?” should be seen');
});

// ---- without a network

elsewhere(
  'a word, a thermometer and the questions without a network',
  () => serve(),
  { at: filled },
  async (page, host) => {
    await says(page, 'offline', 'offline');
    await page.context().setOffline(true);
    await host.stop();
    await reload(page);
    await page.tap('#circuit label:has(input[name="circuit-fault_present"][value="yes"])');
    await page.tap(point('row_applies'));
    await enter(page, 'yes');
    await page.tap(point('winding_temperature'));
    await enter(page, '22');
    assert.equal(await page.textContent(point('row_applies')), 'yes', 'circuit: the point shows what was read');
    assert.match(await page.textContent(point('winding_temperature')), /^22\s°C$/);
    await unfold(page, field('circuit', 'supply_within'));
    await page.fill(field('circuit', 'supply_within'), '0.1');
    assert.equal(await answered(page), true, 'circuit: the form should be answered');
    await go(page, '#/exercise?v=1&seed=bench+1');
    await page.waitForSelector('#exercise .point');
  },
);
