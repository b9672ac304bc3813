// What leads from one tool of a job to the next, and what goes along.
// node --test site/test/page-job-ways.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { begin, kept, put, theJob, valueOf } from './jobs.mjs';
import { answerText, choose, field, go, headText, press, unfold, verdict } from './reader.mjs';

useBrowser();

// circuit fills in a circuit of an open job: on the high side, through the case.
async function circuit(page) {
  await go(page, '#/circuit');
  await page.waitForSelector('#circuit:not([hidden])');
  await choose(page, 'circuit-side', 'high');
  await choose(page, 'circuit-return', 'case');
  await put(page, 'circuit', { supply: '13.8' });
}

// read puts in the reading of a test, in a row that a tap on its point opens.
async function read(page, test, value) {
  await page.tap(`#circuit .point[data-value="${test}"]`);
  const path = await page.evaluate(() => document.activeElement.closest('[data-path]').dataset.path);
  const key = page.locator(`#circuit [data-path="${path}"] [data-put="${value}"]:visible`);
  if ((await key.count()) > 0) await key.first().tap();
  else await page.fill(field('circuit', path), value);
}

scene('where nothing is to be mended, a tap leads to the record, which says so', {}, async (page) => {
  await begin(page);
  await circuit(page);
  await put(page, 'circuit', { 'spec.min': '5.0', 'spec.max': '5.6', winding_temperature: '20' });
  await choose(page, 'circuit-fault_present', 'no');
  const healthy = { current_on: '2.40', resistance_component: '5.4', wiggle_harness: 'steady', heat_component: 'steady',
    voltage_pin_on: '13.3', voltage_pin_off: '0', row_applies: 'yes' };
  for (const [test, value] of Object.entries(healthy)) await read(page, test, value);
  assert.equal(await verdict(page), 'nothing');
  assert.match(await headText(page), /^Nothing to mend found/);
  const ways = await page.$$eval('#circuit .carry a', (all) => all.map((a) => [a.getAttribute('href'), a.textContent]));
  assert.deepEqual(ways[0], ['#/handover', 'Hand it back as found: write it up'], 'the first way on');
  const box = await page.locator('#circuit .carry a').first().boundingBox();
  assert.ok(box.height >= 56 && box.width >= 300, `a thumb hits it: ${JSON.stringify(box)}`);
  await page.tap('#circuit .carry a[href="#/handover"]');
  await page.waitForSelector('#handover:not([hidden]) .record');
  const text = await answerText(page);
  assert.match(text, /Nothing to mend found, .*by the circuit tool/, 'the cause in the record');
  for (const one of ['2.40\u00a0A', '5.4\u00a0Ω', '13.3\u00a0V']) assert.ok(text.includes(one), `${one} in the record`);
});

scene('the row that a good part settled is not asked for again, until it is settled no longer', {}, async (page) => {
  await begin(page);
  await go(page, '#/winding');
  await press(page, 'add');
  await choose(page, 'winding-measured_at', 'component_connector');
  await unfold(page, field('winding', 'known_good.reading'));
  await put(page, 'winding', {
    reading: '3.5', at: '88', 'specs.0.min': '2.4', 'specs.0.max': '3.0', 'specs.1.min': '5.0', 'specs.1.max': '5.6',
    'known_good.reading': '5.3', 'known_good.at': '22',
  });
  await page.tap('#winding [data-carry="circuit"]');
  await circuit(page);
  const settled = 'Row fits the part number: yes, settled by a known good part';
  await page.waitForFunction((text) => document.getElementById('circuit-answer').textContent.includes(text), settled);
  assert.equal(await page.textContent('#circuit .point[data-value="row_applies"]'), 'yes');
  assert.equal(await page.locator('#circuit .p-others [data-test="row_applies"]').count(), 0, 'it is no test that is left');
  // The other row is tapped: the good part settled that it is not that one, but nobody has looked.
  await page.tap('#circuit .spec-rows button:nth-of-type(1)');
  await page.waitForFunction((text) => !document.getElementById('circuit-answer').textContent.includes(text), settled);
  await page.tap('#circuit .spec-rows button:nth-of-type(2)');
  await page.waitForFunction((text) => document.getElementById('circuit-answer').textContent.includes(text), settled);
  await kept(page);
  // The good part turns out to be none.
  await go(page, '#/winding');
  await page.waitForSelector('#winding:not([hidden])');
  await put(page, 'winding', { 'known_good.reading': '' });
  await go(page, '#/circuit');
  await page.waitForSelector('#circuit:not([hidden])');
  await page.waitForFunction((text) => !document.getElementById('circuit-answer').textContent.includes(text), settled);
  assert.notEqual(await page.textContent('#circuit .point[data-value="row_applies"]'), 'yes');
});

// The order of two days: read cold on the bench, then loaded and hot in the vehicle.
scene('readings keep the temperature and supply that they were taken at', {}, async (page) => {
  await begin(page);
  await circuit(page);
  await put(page, 'circuit', { 'spec.min': '5.0', 'spec.max': '5.6', winding_temperature: '20' });
  await read(page, 'voltage_pin_on', '12.9');
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '5.3' });
  assert.equal(await verdict(page), 'within');
  await go(page, '#/loop');
  assert.equal(await valueOf(page, 'loop', 'winding_temperature'), '20', 'what the job knows is where it begins');
  await put(page, 'loop', { supply: '12.9', current: '1.9', winding_temperature: '85' });
  await go(page, '#/winding');
  assert.doesNotMatch(await page.textContent('#said'), /Undo takes it back/, 'here undo would take back something else');
  assert.equal(await valueOf(page, 'winding', 'at'), '20');
  assert.equal(await verdict(page), 'within', 'winding: the reading was cold');
  const beside = /kept for what was read here; the job says 85\s°C now \(Loaded test\)/;
  assert.match(await page.textContent('#winding [data-path="at"] .from'), beside);
  await go(page, '#/circuit');
  assert.deepEqual([await valueOf(page, 'circuit', 'supply'), await valueOf(page, 'circuit', 'winding_temperature')], ['13.8', '20']);
  const rows = await page.$$eval('#circuit [data-list="readings"] .card', (all) =>
    all.map((card) => ['test', 'value', 'supply', 'at'].map((name) => {
      const inside = card.querySelector(`[data-path$=".${name}"]`);
      return (inside.querySelector('input:checked[data-how]') ?? inside.querySelector('input')).value;
    })));
  assert.deepEqual(rows.map((row) => row.slice(1)), [['12.9', '', ''], ['5.3', '', '20'], ['1.9', '12.9', '85']], 'each with its own');
  // A card that is folded says so, one that is opened shows it; what a sound circuit reads is said for that.
  const line = page.locator('#circuit .card-line', { hasText: '5.3' });
  assert.match(await line.textContent(), /5\.3 Ω · 20 °C/);
  await line.click();
  assert.equal(await page.locator('#circuit .card.open [data-path$=".at"] input').first().isVisible(), true);
  assert.match(await page.textContent('#circuit .card.open .picked-expected'), /4\.\d\sΩ to 6\.\d\sΩ/, 'at 20 °C, its own');
  // What is read from now on is at what the job says last; the form of a reading can be brought up to it.
  await go(page, '#/drive');
  assert.deepEqual([await valueOf(page, 'drive', 'supply'), await valueOf(page, 'drive', 'winding_temperature')], ['12.9', '85']);
  await kept(page);
  const noted = (await theJob(page)).entries.filter((e) => e.kind === 'reading').map((e) => [e.tool, e.what, e.value, e.at, e.supply]);
  assert.deepEqual(noted, [
    ['circuit', 'voltage_pin_on', '12.9 V', '20 degC', '13.8 V'],
    ['winding', 'reading', '5.3 ohm', '20 degC', undefined],
    ['loop', 'supply', '12.9 V', '85 degC', undefined],
    ['loop', 'current', '1.9 A', '85 degC', '12.9 V'],
    ['circuit', 'resistance_winding', '5.3 ohm', '20 degC', '13.8 V'],
    ['circuit', 'current_on', '1.9 A', '85 degC', '12.9 V'],
  ], 'nothing was corrected');
});

scene('a recording keeps its supply and temperature, and what follows the job again has no readings', {}, async (page) => {
  await begin(page);
  await go(page, '#/trace');
  const ramp = Array.from({ length: 80 }, (_, i) => `${(i * 0.25).toFixed(2)},${(2 * (1 - Math.exp(-i / 12))).toFixed(4)}`);
  await put(page, 'trace', { supply: '13.8', winding_temperature: '88', resistance: '5.45' });
  const recording = Buffer.from(['ms,A', ...ramp].join('\n'));
  await page.setInputFiles('#trace .f-file input[type="file"]', { name: 'ramp.csv', mimeType: 'text/csv', buffer: recording });
  await page.waitForFunction(() => document.querySelector('#trace').dataset.answered === 'yes');
  const before = await headText(page);
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '5.45', at: '20' });
  await go(page, '#/trace');
  assert.equal(await valueOf(page, 'trace', 'winding_temperature'), '88');
  assert.equal(await headText(page), before);
});
