// The windings of one body in a job: from the bench sheet to the circuit of each, and in the record.
// node --test site/test/page-job-windings.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { point } from './circuit.mjs';
import { begin, theJob } from './jobs.mjs';
import { choose, field, go, reload, type } from './reader.mjs';

useBrowser();

const readingsOf = async (page, tool) =>
  (await theJob(page)).entries.filter((e) => e.kind === 'reading' && (!tool || e.tool === tool)).map((e) => e.value);

scene('a number that is half typed is no reading, however slowly it is typed', { at: '', timeout: 60_000 }, async (page) => {
  await begin(page);
  await go(page, '#/circuit');
  await choose(page, 'circuit-side', 'high');
  const known = { supply: '27.6', 'spec.min': '20', 'spec.max': '24' };
  for (const [path, text] of Object.entries(known)) await type(page, 'circuit', path, text);
  await page.click(point('current_on'));
  await type(page, 'circuit', 'readings.0.value', '1.90');
  await page.click(point('voltage_pin_on')); // leaves the field: the first reading is to be noted soon
  await page.waitForTimeout(2300);
  await page.keyboard.type('13', { delay: 400 });
  await page.waitForTimeout(3500); // a look at the meter
  await page.keyboard.type('.87', { delay: 400 });
  await page.keyboard.press('Enter');
  await page.waitForTimeout(3600);
  assert.deepEqual(await readingsOf(page, 'circuit'), ['1.90 A', '13.87 V']);
  // Down the rows of the bench sheet it is the same.
  await go(page, '#/bank');
  await page.tap(field('bank', 'windings.0.reading'));
  await page.keyboard.type('24.1');
  await page.keyboard.press('Enter');
  await page.waitForTimeout(2300);
  await page.keyboard.type('13.2', { delay: 400 });
  await page.keyboard.press('Enter');
  await page.waitForTimeout(3600);
  assert.deepEqual(await readingsOf(page, 'bank'), ['24.1 ohm', '13.2 ohm']);
});

// ---- from the bench sheet to the circuit of each winding

const windings = [['Y1', '24.1'], ['Y4', '13.2'], ['Y6', '16.5']];

// bench fills in the sheet: 40 °C, leads of 0.3, and three windings by name, or without.
async function bench(page, names = true) {
  await go(page, '#/bank');
  for (const [path, text] of Object.entries({ at: '40', leads: '0.3', 'spec.min': '20', 'spec.max': '24' })) {
    await type(page, 'bank', path, text);
  }
  for (const [i, [name, reading]] of windings.entries()) {
    if (i > 0) await page.click('#bank [data-list="windings"] > [data-do="add"]');
    await type(page, 'bank', `windings.${i}.reading`, reading);
    if (names) await type(page, 'bank', `windings.${i}.name`, name);
  }
}

// take takes a winding of the sheet to its circuit.
async function take(page, i) {
  await go(page, '#/bank');
  await page.click(`#bank .row-go >> nth=${i}`);
  await page.waitForSelector('#circuit:not([hidden])');
}

const read = async (page, test, value) => {
  await page.click(point(test));
  const card = page.locator('#circuit .card.open:visible');
  if (value === 'yes') await card.locator('[data-put="yes"]').click();
  else await card.locator('.f-reading .entry > input').fill(value);
  await page.waitForTimeout(50);
};

// shownReadings is what counts on the circuit that is shown: test and value of each card that is seen.
const shownReadings = (page) =>
  page.$$eval('#circuit .card.picked:not([hidden])', (cards) =>
    cards.map((card) => `${card.querySelector('input[data-how]:checked').value} ${card.querySelector('.f-reading .entry > input').value}`),
  );

const handover = async (page) => {
  await go(page, '#/handover');
  await page.waitForSelector('#handover table.record');
  return page.$$eval('#handover table.record tbody tr', (rows) => rows.map((row) => [...row.children].map((cell) => cell.textContent)));
};

scene('each winding has a circuit of its own', { at: '', timeout: 120_000 }, async (page) => {
  await begin(page);
  await bench(page);
  await take(page, 1);
  await choose(page, 'circuit-side', 'high');
  await type(page, 'circuit', 'supply', '27.6');
  await read(page, 'row_applies', 'yes');
  await read(page, 'current_on', '1.90');
  assert.deepEqual(await shownReadings(page), ['resistance_component 12.9', 'row_applies yes', 'current_on 1.90']);
  assert.match(await page.textContent('#circuit .head'), /Y4: /);
  const y4 = await page.textContent('#circuit .head');
  // The next winding begins with what is shared, and with nothing that was read on the first one.
  await take(page, 2);
  assert.deepEqual(await shownReadings(page), ['row_applies yes', 'resistance_component 16.2']);
  assert.match(await page.textContent('#said'), /circuit of Y6.*read on Y4.*Undo/);
  assert.match(await page.textContent('#circuit .p-about h2'), /Y6/);
  assert.match(await page.textContent('#circuit .head'), /Y6: /);
  assert.equal(await page.inputValue(field('circuit', 'supply')), '27.6');
  // Undo brings the first one back as it was, and what is put aside outlasts a reload.
  await page.click('#circuit [data-do="undo"]:visible');
  assert.equal(await page.textContent('#circuit .head'), y4);
  await take(page, 2);
  await read(page, 'current_on', '1.2');
  await page.waitForTimeout(3300);
  await reload(page);
  await page.click('#circuit .p-about button'); // Y4 again, without the sheet
  assert.deepEqual((await shownReadings(page)).sort(), ['current_on 1.90', 'resistance_component 12.9', 'row_applies yes']);
  assert.equal(await page.textContent('#circuit .head'), y4);
  await take(page, 0);
  await take(page, 2);
  assert.deepEqual((await shownReadings(page)).sort(), ['current_on 1.2', 'resistance_component 16.2', 'row_applies yes']);
  await page.waitForTimeout(3300);
  // The record has each reading once, under the winding's name, and none as corrected.
  const rows = await handover(page);
  const told = rows.map(([what, value, how]) => `${what}: ${value}${/later/.test(how) ? ' LATER' : ''}${/0\.3/.test(how) ? ' leads' : ''}`);
  assert.equal(new Set(rows.map(([what]) => what)).size, rows.length, JSON.stringify(rows));
  assert.equal(rows.length, 6, JSON.stringify(told));
  for (const [name, reading] of windings) {
    const own = told.filter((text) => text.startsWith(`${name},`));
    assert.ok(own.some((text) => text.includes('taken over as') && text.includes(reading) && text.endsWith('leads')), JSON.stringify(told));
  }
  assert.ok(told.every((text) => !text.includes('LATER')), JSON.stringify(told));
  const concluded = await page.textContent('#handover .p-concluded');
  assert.match(concluded, /Y4: .*Y1: .*Y6: |Y4: .*Y6: .*Y1: /s);
});

const apart = 'a winding with limits of its own leaves those of the sheet, and no reading strays to it';
scene(apart, { at: '', timeout: 120_000 }, async (page) => {
  await begin(page);
  await bench(page);
  for (const [path, text] of [['min', '12'], ['max', '14']]) await page.fill(field('bank', `windings.1.${path}`), text);
  await take(page, 1);
  assert.equal(await page.inputValue(field('circuit', 'spec.min')), '12');
  await go(page, '#/bank');
  assert.deepEqual([await page.inputValue(field('bank', 'spec.min')), await page.inputValue(field('bank', 'spec.max'))], ['20', '24']);
  // A reading of the winding tool goes to the circuit that is open then, and to no other.
  await go(page, '#/winding');
  await type(page, 'winding', 'reading', '12.7');
  await go(page, '#/circuit');
  assert.ok((await shownReadings(page)).includes('resistance_winding 12.7'));
  await take(page, 2);
  assert.equal(await page.inputValue(field('circuit', 'spec.min')), '20');
  for (const again of [false, true]) {
    if (again) await reload(page);
    await go(page, '#/winding');
    await go(page, '#/circuit');
    assert.deepEqual(await shownReadings(page), ['resistance_component 16.2'], again ? 'after a reload' : 'at once');
  }
});

scene('half a number is no reading when the page is hidden', { at: '', timeout: 60_000 }, async (page) => {
  await begin(page);
  await go(page, '#/winding');
  await type(page, 'winding', 'specs.0.min', '5');
  await page.tap(field('winding', 'reading'));
  await page.keyboard.type('1');
  await page.evaluate(() => {
    Object.defineProperty(document, 'visibilityState', { value: 'hidden', configurable: true });
    document.dispatchEvent(new Event('visibilitychange'));
    delete document.visibilityState;
    document.dispatchEvent(new Event('visibilitychange'));
  });
  await page.keyboard.type('5.3');
  await page.keyboard.press('Enter');
  await page.waitForTimeout(3500);
  assert.deepEqual(await readingsOf(page, 'winding'), ['15.3 ohm']);
});
