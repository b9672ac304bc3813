// Keeping jobs: reload, undo, a killed tab, two windows, and the list.
// node --test site/test/page-jobs-keep.test.mjs
import assert from 'node:assert/strict';
import { ready, scene, useBrowser, visit } from './browser.mjs';
import { begin, entered, kept, put, theJob, valueOf } from './jobs.mjs';
import { field, go, press, reload, says, type } from './reader.mjs';

useBrowser();

scene('reload, undo after it, and a tab that is killed in the middle', { at: '', fresh: true, expects: /crash/ }, async (page) => {
  await begin(page);
  await go(page, '#/winding');
  await type(page, 'winding', 'reading', '6.9');
  await type(page, 'winding', 'at', '88');
  await kept(page);
  await reload(page);
  assert.deepEqual(await entered(page, 'winding'), { 'winding-reading': '6.9', 'winding-at': '88' });
  await press(page, 'undo');
  assert.deepEqual(await entered(page, 'winding'), { 'winding-reading': '6.9' });
  await type(page, 'winding', 'leads', '0.3');
  await kept(page);
  const context = page.context();
  const session = await context.newCDPSession(page);
  session.send('Page.crash').catch(() => {});
  await page.waitForEvent('crash');
  page.faults.length = 0;
  const next = await visit({ context, at: '#/winding' });
  assert.deepEqual(await entered(next, 'winding'), { 'winding-reading': '6.9', 'winding-leads': '0.3' });
});

scene('undo survives a reload without a job too', { at: '#/winding' }, async (page) => {
  await type(page, 'winding', 'reading', '6.9');
  await type(page, 'winding', 'at', '88');
  await reload(page);
  await press(page, 'undo');
  assert.deepEqual(await entered(page, 'winding'), { 'winding-reading': '6.9' });
  await press(page, 'undo');
  assert.deepEqual(await entered(page, 'winding'), {});
});

scene('undo in one tool leaves alone what another one entered', { at: '' }, async (page) => {
  await begin(page);
  await go(page, '#/winding');
  await put(page, 'winding', { at: '88', leads: '0.3' });
  await go(page, '#/circuit');
  await put(page, 'circuit', { winding_temperature: '20' });
  await go(page, '#/winding');
  assert.equal(await valueOf(page, 'winding', 'at'), '20', 'nothing was read yet: the job has one temperature');
  await press(page, 'undo');
  assert.deepEqual(await entered(page, 'winding'), { 'winding-at': '20' });
});

scene('delete with undo, archive, search and a new job like another', { at: '' }, async (page) => {
  await begin(page, 'Fell 7');
  await begin(page, 'Tarn 24');
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '6.9', at: '88', 'specs.0.min': '5.0', 'specs.0.max': '5.6' });
  await go(page, '#/jobs');
  await page.waitForFunction(() => document.querySelectorAll('.job-list > li').length === 2);
  await page.fill('#job-search', 'fell');
  assert.deepEqual(await page.$$eval('.job-open strong', (all) => all.map((e) => e.textContent)), ['Fell 7']);
  await page.fill('#job-search', '');
  await page.tap('#job-head [data-job="remove"]');
  await says(page, 'said', 'job.removed');
  assert.equal(await page.isHidden('#job-head'), true);
  await page.tap('[data-job="back"]:visible');
  await says(page, 'said', 'job.back');
  await page.tap('.job-open:has-text("Tarn 24")');
  await says(page, 'said', 'job.opened');
  await go(page, '#/winding');
  assert.equal(await valueOf(page, 'winding', 'reading'), '6.9');
  await go(page, '#/jobs');
  await page.tap('#job-head [data-job="like"]');
  await says(page, 'said', 'job.like');
  await go(page, '#/winding');
  assert.deepEqual(await entered(page, 'winding'), { 'winding-specs.0.min': '5.0', 'winding-specs.0.max': '5.6' });
  await go(page, '#/jobs');
  await page.tap('#job-head [data-job="archive"]');
  await page.waitForFunction(() => /archived/.test(document.querySelector('.job-list > li:last-child').textContent));
});

scene('two windows on one job: each sees the other, and nothing typed is replaced', { at: '', fresh: true }, async (page) => {
  await begin(page);
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '6.9' });
  const second = await visit({ context: page.context(), at: '#/winding' });
  assert.equal(await valueOf(second, 'winding', 'reading'), '6.9');
  // The first is typing in one field while the second changes it, and another one.
  await page.focus(field('winding', 'reading'));
  await put(second, 'winding', { reading: '7.5', at: '88' });
  await page.waitForFunction(() => document.getElementById('winding-at').value === '88');
  assert.equal(await valueOf(page, 'winding', 'reading'), '6.9', 'what is under the fingers stays');
  await page.keyboard.press('End');
  await page.keyboard.type('5');
  await second.waitForFunction(() => document.getElementById('winding-reading').value === '6.95');
  await put(second, 'winding', { leads: '0.2' });
  await page.waitForFunction(() => document.getElementById('winding-leads').value === '0.2');
  // Both at once, in different fields and tools.
  await go(second, '#/circuit');
  await Promise.all([
    page.locator(field('winding', 'leads')).fill('0.25'),
    second.locator(field('circuit', 'supply')).pressSequentially('13.8'),
  ]);
  await kept(page);
  await kept(second);
  await go(page, '#/');
  await go(second, '#/');
  const job = await theJob(page);
  assert.equal(job.forms.winding.given.leads, '0.25');
  assert.equal(job.facts.given.supply, '13.8');
  // The leads, which were changed once the reading was noted, stand with the meter: that is another entry.
  const told = ({ tool, what, value, at, meter }) => [tool, what, value, at, meter].join();
  const readings = job.entries.filter(({ kind }) => kind === 'reading').map(told);
  assert.deepEqual(readings, [...new Set(readings)], 'no reading is noted twice');
  await go(second, '#/jobs');
  await second.tap('#job-head [data-job="remove"]');
  await says(page, 'said', 'job.gone');
  assert.deepEqual(second.faults, []);
});

scene('forms kept by the version before open as they were', { at: '' }, async (page) => {
  const given = { reading: '13', at: '24', 'specs.0.min': '12' };
  const old = { v: 1, given, units: { at: 'degF' }, names: {}, rows: { specs: 1 }, open: [] };
  await page.evaluate((text) => localStorage.setItem('ohmwright/winding', text), JSON.stringify(old));
  await page.goto(page.url().split('#')[0] + '#/winding');
  await page.reload();
  await ready(page);
  assert.deepEqual(await entered(page, 'winding'), { 'winding-reading': '13', 'winding-at': '24', 'winding-specs.0.min': '12' });
  assert.ok(await page.isChecked('input[name="winding-at-unit"][value="degF"]'));
});

scene('a window loaded anew goes on with its own job, a new one with what was opened last', { at: '', fresh: true }, async (page) => {
  await begin(page, 'Tarn 24');
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '6.9' });
  const second = await visit({ context: page.context(), at: '' });
  await begin(second, 'Fell 7');
  await go(second, '#/winding');
  await reload(page);
  assert.deepEqual(await entered(page, 'winding'), { 'winding-reading': '6.9' }, 'its own job');
  await reload(second);
  assert.deepEqual(await entered(second, 'winding'), {});
  const third = await visit({ context: page.context(), at: '#/winding' });
  assert.deepEqual(await entered(third, 'winding'), {}, 'what was opened last');
});
