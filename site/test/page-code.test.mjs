// A link as a code: read back off a screenshot at the size of a phone by zbarimg, an independent reader, it is the link, which opens and
// answers the same.
// node --test site/test/page-code.test.mjs
import assert from 'node:assert/strict';
import { ready, scene, useBrowser } from './browser.mjs';
import { readOff } from './camera.mjs';
import { answerText, answered, field, headText, tapIn } from './reader.mjs';

useBrowser();

const show = (page, tool) => page.tap(`#${tool} [data-do="code"]`);

for (const [tool, link] of [
  ['winding', '#/winding?v=1&reading=6.90ohm&leads=0.30ohm&at=88degC&specs.0.min=5.0ohm&specs.0.max=5.6ohm'],
  [
    'circuit',
    '#/circuit?v=1&side=high&return=case&supply=13.8V&spec.min=5.0ohm&spec.max=5.6ohm&code_kind=low&winding_temperature=88degC' +
      '&readings.0.test=current_on&readings.0.value=4.62A&readings.1.test=resistance_component&readings.1.value=2.1ohm',
  ],
  ['torque', '#/torque?v=1&torque=90in-lb&adapter.wrench=12in&adapter.extension=3in&wrench.max=150in-lb'],
])
  scene(`${tool}: a link read off the screen is the link`, { at: link }, async (page) => {
    assert.equal(await answered(page), true, `${tool}: the link should be answered`);
    await show(page, tool);
    const figure = page.locator(`#${tool} .code`);
    await figure.waitFor({ state: 'visible' });
    const url = await figure.locator('.address').textContent();
    assert.ok(url.length <= 500, `a link of ${url.length} characters`);
    assert.equal(readOff(await page.screenshot()), url, 'what the camera reads');
    const before = [await headText(page), await answerText(page)];
    await page.goto('about:blank');
    await page.goto(url);
    await ready(page);
    assert.equal(await answered(page), true, `${tool}: the link that was read should be answered`);
    assert.deepEqual([await headText(page), await answerText(page)], before, `${tool}: it answers the same`);
  });

const short = '#/winding?v=1&reading=6.90ohm&at=88degC';

scene('a code is taken away by a second tap, and when the link changes', { at: short }, async (page) => {
  const figure = page.locator('#winding .code');
  await show(page, 'winding');
  await figure.waitFor({ state: 'visible' });
  await show(page, 'winding');
  await figure.waitFor({ state: 'hidden' });
  await show(page, 'winding');
  await figure.waitFor({ state: 'visible' });
  await tapIn(page, 'winding', 'reading', '7.10');
  await figure.waitFor({ state: 'hidden' });
});

scene('a link that is too long for a code says so, and shows none', {}, async (page) => {
  const row = (i) => `specs.${i}.min=5.${i}ohm&specs.${i}.max=6.${i}ohm&specs.${i}.name=row+of+the+year+${2001 + i}`;
  const rows = [...Array(12).keys()].map(row);
  await page.evaluate((link) => (location.hash = link), `#/winding?v=1&reading=6.90ohm&${rows.join('&')}`);
  await page.waitForSelector('#winding:not([hidden])');
  assert.ok((await page.inputValue(field('winding', 'specs.11.name'))).includes('2012'));
  await show(page, 'winding');
  await page.waitForSelector('#said[data-said="code.long"]');
  assert.equal(await page.locator('#winding .code').isVisible(), false);
});
