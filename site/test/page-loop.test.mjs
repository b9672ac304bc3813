// The loaded test, and both it and the winding by a thumb alone.
// node --test site/test/page-loop.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { answered, answerText, beside, choose, codes, fill, headText, note, rowVerdicts, shows, tapIn, type, verdict } from './reader.mjs';

useBrowser();

// ---- a thumb

scene('the whole winding job by tap', {}, async (page) => {
  await page.tap('summary.door');
  await page.tap('a[href="#/winding"]');
  await tapIn(page, 'winding', 'reading', '6.90');
  await tapIn(page, 'winding', 'at', '190.4');
  await page.tap('#winding label:has(input[name="winding-at-unit"][value="degF"])'); // 190.4 degF is 88 degC
  await tapIn(page, 'winding', 'leads', '0.30');
  await tapIn(page, 'winding', 'specs.0.min', '5.1');
  await tapIn(page, 'winding', 'specs.0.max', '5.6');
  assert.equal(await verdict(page), 'undecided', 'loop: the verdict'); // (6.90 − 0.30) × 254.5/322.5 = 5.21, known to 0.15 either way
  await page.tap('#winding [data-do="add"]');
  await tapIn(page, 'winding', 'specs.1.name', 'another');
  await tapIn(page, 'winding', 'specs.1.min', '7');
  assert.deepEqual(await rowVerdicts(page), ['undecided', 'below'], 'loop: the verdicts of the rows');
  await page.tap('[data-row="1"] [data-do="remove"]');
  assert.deepEqual(await rowVerdicts(page), ['undecided'], 'loop: the verdicts of the rows');
  await page.tap('#winding details[data-keep="fine"] > summary');
  await page.tap('#winding details[data-keep="meter"] > summary');
  await tapIn(page, 'winding', 'meter.percent', '0.5');
  await tapIn(page, 'winding', 'meter.resolution', '0.01');
  assert.equal(await verdict(page), 'within', 'loop: the verdict');
  await page.tap('#winding .head');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'winding-answer', 'loop: where the focus is');
  await page.tap('#winding-answer details > summary');
  await page.waitForSelector('#winding-answer ol li');
  await page.tap('#winding [data-path="reading"] [data-put="OL"]');
  assert.equal(await verdict(page), 'open', 'loop: the verdict');
  await page.tap('#winding [data-do="undo"]');
  assert.equal(await verdict(page), 'within', 'loop: the verdict');
  await page.tap('#winding [data-do="clear"]');
  assert.equal(await answered(page), false, 'loop: the form should not be answered');
  await page.tap('header a');
  await page.waitForSelector('#start:not([hidden])');
});

scene('the whole loaded test by tap', {}, async (page) => {
  await page.tap('summary.door');
  await page.tap('a[href="#/loop"]');
  await tapIn(page, 'loop', 'supply', '13.2');
  await tapIn(page, 'loop', 'current', '1.65');
  await tapIn(page, 'loop', 'winding', '5.3');
  assert.ok((await codes(page)).includes('temperature_unknown'), 'loop: the warnings shown');
  await tapIn(page, 'loop', 'winding_temperature', '88');
  assert.equal(await verdict(page), 'unwanted', 'loop: the verdict'); // 13.2 − 1.65 × (5.3 × 322.5/254.5 + 0.15) = 1.87 V
  await shows(page, 1.8708);
  await page.tap('#loop details[data-keep="fine"] > summary');
  await page.tap('#loop label:has(input[name="loop-driver-unit"][value="V"])');
  await tapIn(page, 'loop', 'driver', '0.3');
  await shows(page, 1.8183); // 13.2 − 1.65 × 6.7161 − 0.3 V
});

// ---- the loaded test

scene('each verdict of the loaded test', { at: '#/loop' }, async (page) => {
  await fill(page, 'loop', { supply: '13.2', winding: '5.3', winding_temperature: '20', limit: '0.5' });
  // The loop of 13.2 V and I has 13.2/I ohm; the winding and the driver 5.45 ohm of them. Lost: 13.2 − 5.45 I volts.
  for (const [current, kinds, lost] of [
    ['1.65', ['unwanted'], 4.2075],
    ['2.4', ['undecided'], 0.12],
    ['3', ['below', 'too_much']],
  ]) {
    await type(page, 'loop', 'current', current);
    assert.ok(kinds.includes(await verdict(page)), `${current} A: ${await verdict(page)}`);
    if (lost) await shows(page, lost);
    assert.equal((await codes(page)).includes('too_much'), kinds.includes('too_much'), 'loop: the warnings shown');
  }
  await fill(page, 'loop', { current: '2.4', limit: '1' });
  assert.equal(await verdict(page), 'clean', 'loop: the verdict');
  assert.deepEqual(
    (await codes(page)).filter((c) => c === 'undecided' || c === 'temperature_unknown'),
    [],
    'loop: the warnings shown',
  );
  await fill(page, 'loop', { winding_temperature: '' });
  assert.ok((await codes(page)).includes('temperature_unknown'), 'loop: the warnings shown');
  // A finer clamp, and less doubt about the rest, settles what was undecided.
  const sure = { winding_temperature: '20', winding_temperature_within: '1', winding_within: '0.5', supply_within: '0.05' };
  await fill(page, 'loop', { ...sure, limit: '0.5', 'meter.percent': '0.1', 'meter.counts': '1' });
  assert.equal(await verdict(page), 'clean', 'loop: the verdict');
  await choose(page, 'loop-current-unit', 'mA');
  await type(page, 'loop', 'current', '2400');
  assert.equal(await answered(page), true, 'loop: the form should be answered');
  assert.match(await headText(page), /0\.1/);
});

scene('winding or specification, not both, not neither', { at: '#/loop' }, async (page) => {
  await fill(page, 'loop', { supply: '13.2', current: '1.65', winding_temperature: '20' });
  assert.equal(await answered(page), false, 'loop: the form should not be answered');
  await fill(page, 'loop', { 'spec.min': '5.0', 'spec.max': '5.6' });
  assert.equal(await verdict(page), 'unwanted', 'loop: the verdict');
  const bySpec = await headText(page);
  await fill(page, 'loop', { winding: '5.3' });
  assert.equal(await answered(page), false, 'loop: the form should not be answered');
  assert.notEqual(await page.textContent('[data-note="spec"]'), '', 'loop: [data-note="spec"]: what is read there');
  await fill(page, 'loop', { 'spec.min': '', 'spec.max': '' });
  assert.equal(await verdict(page), 'unwanted', 'loop: the verdict');
  assert.notEqual(await headText(page), bySpec, 'the width of the band counts as doubt');
  assert.equal((await headText(page)).split(' ± ')[0], bySpec.split(' ± ')[0], 'loop: the head of the answer');
});

scene('a driver that takes more than the supply is told', { at: '#/loop' }, async (page) => {
  await fill(page, 'loop', { supply: '13.2', current: '1.65', winding: '5.3', winding_temperature: '20' });
  const rest = { current: '1.65 A', winding: '5.3 ohm', winding_temperature: '20 degC' };
  await type(page, 'loop', 'driver', '14');
  await choose(page, 'loop-driver-unit', 'V');
  await beside(page, 'loop', 'driver', 'conflict', { supply: '13.2 V', ...rest, driver: '14 V' });
  await type(page, 'loop', 'supply', '13.2 A');
  await beside(page, 'loop', 'supply', 'unit', { supply: '13.2 A', ...rest, driver: '14 V' });
  await fill(page, 'loop', { supply: '13.2', driver: '0.3' });
  assert.equal(await note(page, 'loop', 'driver'), '', 'loop, field driver: nothing should be told beside it');
  assert.equal(await verdict(page), 'unwanted', 'loop: the verdict');
  assert.notEqual(await answerText(page), '', 'loop: the answer');
});
