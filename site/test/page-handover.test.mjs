// The record of a job: on a phone, and as one page of paper.
// node --test site/test/page-handover.test.mjs
import assert from 'node:assert/strict';
import { laptop, phone, scene, useBrowser } from './browser.mjs';
import { paper, tight } from './paper.mjs';
import { answerText, field, press, type, verdict } from './reader.mjs';

useBrowser();

scene('nothing has to be typed, and what is missing is said', { at: '#/handover', size: phone }, async (page) => {
  await page.waitForSelector('#handover-answer .p-work');
  assert.equal(await verdict(page), 'not_recorded');
  assert.match(await answerText(page), /Not recorded: vehicle, number, odometer, complaint, readings/);
  await type(page, 'handover', 'vehicle', 'Tarn 24');
  await page.waitForFunction(() => !document.querySelector('#handover-answer').textContent.includes('Not recorded: vehicle'));
});

scene('counts that do not match are the verdict, beside what to do', { at: '#/handover', size: phone }, async (page) => {
  await press(page, 'demo');
  await page.waitForFunction(() => document.querySelector('#handover .head [data-verdict="open_items"]'));
  await page.fill(field('handover', 'bolts.0.on'), '13');
  await page.waitForFunction(() => document.querySelector('#handover .head [data-verdict="counts_differ"]'));
  const text = await answerText(page);
  assert.match(text, /14 off and 13 back/);
  assert.match(text, /Do not start or drive before the counts match/);
});

scene('the lists that come from the job are kept and not shown as fields', { at: '#/handover', size: phone }, async (page) => {
  await press(page, 'demo');
  await page.waitForSelector('#handover-answer .record');
  for (const list of ['readings', 'answers', 'steps', 'not_made'])
    assert.equal(await page.locator(`#handover [data-list="${list}"]`).isVisible(), false, list);
  await page.reload();
  await page.waitForSelector('#handover-answer .record');
  assert.equal(await page.locator('#handover-answer .record tbody tr').count(), 4, 'three readings and the new part');
});

scene('a phone shows names whole and nothing out of view', { at: '#/handover', size: phone }, async (page) => {
  await press(page, 'demo');
  await page.waitForSelector('#handover-answer .record');
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 360);
  const broken = await page.$$eval('#handover-answer .record th[scope="row"]', (all) =>
    all.filter((th) => th.scrollWidth > th.clientWidth).map((th) => th.textContent),
  );
  assert.deepEqual(broken, []);
});

for (const format of ['A4', 'Letter'])
  scene(`one page of ${format}: every reading and name, no button`, { at: '#/handover', size: laptop, fresh: true }, async (page) => {
    await press(page, 'demo');
    await page.waitForSelector('#handover-answer .record');
    const texts = ':is(.record :is(th, td), .figures :is(span, strong), .told, .record-list li)';
    const said = await page.$$eval(`#handover-answer ${texts}`, (all) => all.map((e) => e.textContent));
    assert.ok(said.length > 40, `${said.length} texts`);
    const buttons = await page.$$eval('#handover button', (all) => all.map((b) => b.textContent.trim()).filter((t) => t.length > 4));
    assert.ok(buttons.length > 4, 'there are buttons on the screen');
    const { sheets, text } = await paper(page, format);
    assert.equal(sheets, 1);
    // A cell of two lines stands beside the next one, so that its text is not in one piece: its words are looked for one by one.
    for (const one of said) for (const word of one.split(/[\s\u00a0]+/)) assert.ok(text.includes(word), `${word} of ${one}`);
    for (const b of buttons) assert.ok(!text.includes(tight(b)), `a button is printed: ${b}`);
    assert.ok(text.includes('Signature'));
    await page.emulateMedia({ media: 'print' });
    const split = await page.$$eval('#handover-answer :is(.record tr, .figures li, .record-list li, .p-customer)', (all) =>
      all.filter((e) => getComputedStyle(e).breakInside !== 'avoid').map((e) => e.textContent),
    );
    assert.deepEqual(split, [], 'what may break over two pages');
    await page.emulateMedia({ media: 'screen' });
  });
