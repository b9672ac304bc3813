// The record of a job: on a phone, and as one page of paper.
// node --test site/test/page-handover.test.mjs
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { laptop, phone, scene, useBrowser } from './browser.mjs';
import { readOff } from './camera.mjs';
import { begin, kept, offer, theJob } from './jobs.mjs';
import { paper, pictured, tight } from './paper.mjs';
import { answerText, field, go, press, type, unfold, verdict } from './reader.mjs';

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
  await unfold(page, field('handover', 'bolts.0.on'));
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

// The circuit that the example's record rests on, as a job hands it over.
const circuit =
  '#/circuit?v=1&side=high&return=case&supply=13.8V&spec.min=5.0ohm&spec.max=5.6ohm&winding_temperature=88degC&code_kind=low' +
  '&readings.0.test=current_on&readings.0.value=4.62A&readings.1.test=resistance_component&readings.1.value=2.7ohm';

for (const format of ['A4', 'Letter'])
  scene(`one page of ${format}: every reading and name, no button`, { at: '#/handover', size: laptop, fresh: true }, async (page) => {
    const demo = await page.getAttribute('#handover', 'data-demo');
    await go(page, `${demo}&drawn=${encodeURIComponent(circuit)}`);
    await page.waitForSelector('#handover-answer .p-circuit');
    const texts = ':is(.record :is(th, td), .figures :is(span, strong), .told, .record-list li, .p-circuit summary)';
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
    const drawn = await page.$$eval('#handover .p-circuit :is(text, .no-fault span)', (all) => all.map((e) => e.textContent));
    assert.ok(drawn.length >= 15, `the drawing of the circuit says ${drawn}`);
    for (const one of drawn) assert.ok(text.includes(tight(one)), `the drawing’s ${one} is not printed`);
    await page.emulateMedia({ media: 'print' });
    const split = await page.$$eval('#handover-answer :is(.record tr, .figures li, .record-list li, .p-customer)', (all) =>
      all.filter((e) => getComputedStyle(e).breakInside !== 'avoid').map((e) => e.textContent),
    );
    assert.deepEqual(split, [], 'what may break over two pages');
    await page.emulateMedia({ media: 'screen' });
  });

const ready = (page) => page.waitForSelector('#handover .paper-link:not([hidden])', { state: 'attached' });

for (const format of ['A4', 'Letter'])
  scene(`the link of a short job on ${format}, as text and as a code that a camera reads`, { fresh: true }, async (page) => {
    await begin(page, 'Tarn 24');
    await go(page, '#/handover');
    await ready(page);
    const address = await page.textContent('#handover .paper-link .address');
    assert.match(address, /#\/job\?v=1&z=/);
    assert.equal(await page.isVisible('#handover .paper-link'), false, 'it stands on paper alone');
    const { sheets, text, picture } = await pictured(page, format);
    assert.equal(sheets, 1);
    assert.ok(text.includes(tight(address)), 'the address is printed');
    assert.equal(readOff(picture), address);
  });

scene('what was printed before a change is not printed after it', { fresh: true }, async (page) => {
  await begin(page, 'Tarn 24');
  await go(page, '#/handover');
  await ready(page);
  const before = await page.textContent('#handover .paper-link .address');
  await unfold(page, field('handover', 'repair'));
  await page.fill(field('handover', 'repair'), 'Wire mended');
  assert.ok(await page.$('#handover .paper-link[hidden]'), 'at once there is none');
  await kept(page);
  await ready(page);
  const after = await page.textContent('#handover .paper-link .address');
  assert.match(after, /#\/job/);
  assert.notEqual(after, before);
});

scene('of a job with a long link its file is named, and when it was changed', { fresh: true }, async (page) => {
  await go(page, '#/jobs');
  await offer(page, readFileSync(new URL('../../testdata/jobs/circuit-decided.json', import.meta.url), 'utf8'));
  await page.waitForSelector('#said[data-said="job.import.new"]');
  await go(page, '#/handover');
  await ready(page);
  const said = await page.textContent('#handover .paper-link');
  assert.match(said, /^This job, saved as a file, is “Tarn 24.*\.ohmwright-job\.json”.* 2026.* characters: too long to print\.$/);
  assert.equal(await page.locator('#handover .paper-link svg').count(), 0);
});

// A clock that is half an hour off, and is changed twice a year.
const there = { timezoneId: 'America/St_Johns' };

// winterAndSummer is a job with a reading of July and one of November.
function winterAndSummer(...times) {
  const job = JSON.parse(readFileSync(new URL('../../testdata/jobs/empty.json', import.meta.url), 'utf8'));
  const reading = (when, i) => ({ n: i + 1, kind: 'reading', tool: 'circuit', what: 'current_on', value: `${i + 4} A`, when, who: 'LM' });
  return JSON.stringify({ ...job, entries: times.map(reading) });
}

for (const [name, times, wanted, once] of [
  ['one offset', ['2026-11-23T02:00:00Z', '2026-11-23T12:30:00Z'], ['2026-11-22 22:30, LM', '2026-11-23 09:00, LM'], 'UTC−03:30'],
  [
    'clocks changed in between',
    ['2026-07-01T12:00:00Z', '2026-11-23T12:00:00Z'],
    ['2026-07-01 09:30 UTC−02:30', '2026-11-23 08:30 UTC−03:30'],
  ],
])
  scene(`times are those of the reader’s clock: ${name}`, there, async (page) => {
    await go(page, '#/jobs');
    await offer(page, winterAndSummer(...times));
    await page.waitForSelector('#said[data-said="job.import.new"]');
    await go(page, '#/handover');
    await page.waitForSelector('#handover-answer .record tbody tr:nth-child(2)');
    const { sheets, text } = await paper(page, 'A4');
    assert.equal(sheets, 1);
    for (const one of wanted) assert.ok(text.includes(tight(one)), `${one} is not printed`);
    assert.equal(text.split('UTC').length - 1, once ? 1 : 2, 'how often an offset is printed');
    if (once) assert.ok(text.includes(tight(`Times of day ${once}`)));
    await go(page, '#/jobs');
    await kept(page);
    const { changed } = await theJob(page);
    const local = new Intl.DateTimeFormat('en-GB', { timeStyle: 'short', timeZone: there.timezoneId }).format(new Date(changed));
    await page.waitForFunction((local) => document.querySelector('.job-open')?.textContent.includes(local), local);
  });

const folds = '#handover .fold > summary';

scene('the form is a line for each part of the work, which says what is in it and opens at a tap', {}, async (page) => {
  await begin(page, 'Tarn 24');
  await page.fill('#job-complaint', 'Stays in third gear when hot');
  await go(page, '#/handover');
  await page.waitForSelector('#handover:not([hidden]) .record, #handover-answer .p-measured');
  const height = await page.$eval('#handover form', (form) => form.offsetHeight);
  assert.ok(height < 900, `the form is ${height} px tall`);
  const told = () => page.$$eval(folds, (all) => all.map((e) => e.innerText.split('\n')));
  assert.deepEqual(await told(), [
    ['Vehicle, complaint, who', 'Tarn 24 · Stays in third gear when hot'],
    ['Cause, correction, parts'],
    ['Put back: counts and torque'],
    ['Fluid, codes, relearn, road test'],
    ['For the customer, still to do, date'],
  ]);
  for (const summary of await page.$$(folds)) assert.ok((await summary.boundingBox()).height >= 56, 'a thumb hits it');
  await page.tap(`${folds} >> nth=2`);
  await page.fill(field('handover', 'bolts.0.length'), '20');
  await page.fill(field('handover', 'bolts.0.off'), '14');
  await page.tap(`${folds} >> nth=3`);
  await page.check('input[name="handover-cleared"][value="done"]', { force: true });
  await page.tap(`${folds} >> nth=2`);
  await page.tap(`${folds} >> nth=3`);
  const lines = await told();
  assert.deepEqual([lines[2][1], lines[3][1]], ['20 mm · Taken off: 14', 'Codes cleared: yes']);
  await kept(page);
});

scene('a part that was just opened stays open when a field is left', {}, async (page) => {
  await begin(page, 'Tarn 24');
  await go(page, '#/handover');
  await page.waitForSelector('#handover-answer .p-measured');
  const fold = page.locator(`${folds} >> nth=2`);
  await fold.evaluate((summary) => {
    summary.click(); // the browser tells of it in a later task
    document.getElementById('handover-vehicle').dispatchEvent(new Event('focusout', { bubbles: true }));
  });
  assert.equal(await fold.evaluate((summary) => summary.parentElement.open), true);
});

scene('what is wrong in a folded part opens it', { at: '#/handover?torques.0.set=8V' }, async (page) => {
  await page.waitForFunction(() => document.querySelector('[id="handover-torques.0.set-note"]')?.textContent !== '');
  assert.ok(await page.isVisible('[id="handover-torques.0.set-note"]'));
  assert.equal(await page.locator('#handover .fold[open]').count(), 1, 'and no other');
});
