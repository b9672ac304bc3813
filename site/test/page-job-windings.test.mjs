// The windings of one body in a job: from the bench sheet to the circuit of each, and in the record.
// node --test site/test/page-job-windings.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { point } from './circuit.mjs';
import { begin, theJob } from './jobs.mjs';
import { choose, field, go, type } from './reader.mjs';

useBrowser();

const readingsOf = async (page, tool) =>
  (await theJob(page)).entries.filter((e) => e.kind === 'reading' && (!tool || e.tool === tool)).map((e) => e.value);

scene('a number that is half typed is no reading, however slowly it is typed', { at: '', timeout: 60_000 }, async (page) => {
  await begin(page);
  await go(page, '#/circuit');
  await choose(page, 'circuit-side', 'high');
  for (const [path, text] of Object.entries({ supply: '27.6', 'spec.min': '20', 'spec.max': '24' })) await type(page, 'circuit', path, text);
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
