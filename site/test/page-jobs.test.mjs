// Jobs: facts are entered once, vehicles never mix, and nothing typed is lost.
// node --test site/test/page-jobs.test.mjs
import assert from 'node:assert/strict';
import { phone, scene, useBrowser } from './browser.mjs';
import { enter } from './circuit.mjs';
import { begin, entered, inside, kept, put, theJob, valueOf } from './jobs.mjs';
import { choose, field, go, press, says, type, unfold } from './reader.mjs';

useBrowser();

const fold = phone.viewport.height;

// ---- the first screen

scene('the three doors and a new job are above the fold, and each door is one tap from a form', { at: '' }, async (page) => {
  for (const door of await page.$$('.door, .choices a, #start [data-job="new"]')) {
    const box = await door.boundingBox();
    if (box) assert.ok(box.y + box.height <= fold && box.height >= 56, `${await door.textContent()} ends at ${box.y + box.height}`);
  }
  assert.equal(await page.locator('.door').count(), 3);
  await page.tap('.door[href="#/code"]');
  await page.waitForSelector('#code:not([hidden]) [id="code-code"]');
  await go(page, '#/');
  await page.tap('summary.door');
  const ways = await page.$$eval('.choices a', (all) => all.map((a) => a.hash));
  assert.deepEqual(ways, ['#/winding', '#/loop', '#/circuit', '#/trace']);
  await page.tap('.choices a[href="#/loop"]');
  await page.waitForSelector('#loop:not([hidden])');
  await go(page, '#/');
  await page.tap('.door[href="#/torque"]');
  await page.waitForSelector('#torque:not([hidden])');
});

scene('with a job open the card leads on with it, and the doors are still above the fold', { at: '' }, async (page) => {
  await begin(page);
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '5.3', at: '20', 'specs.0.min': '5.0', 'specs.0.max': '5.6' });
  await go(page, '#/');
  const card = page.locator('#continue');
  assert.match(await card.textContent(), /Tarn 24/);
  await page.waitForFunction(() => /Plausible/.test(document.getElementById('continue').textContent));
  for (const door of await page.$$('.door')) {
    const box = await door.boundingBox();
    assert.ok(box.y + box.height <= fold, `${await door.textContent()} ends at ${box.y + box.height}`);
  }
  await page.tap('#continue a');
  await page.waitForSelector('#winding:not([hidden])');
});

// ---- facts

scene('what is entered in one tool stands in all others, with where it came from', { at: '' }, async (page) => {
  await begin(page);
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '6.9', at: '88', 'specs.0.name': '2031 on', 'specs.0.min': '5.0', 'specs.0.max': '5.6' });
  await go(page, '#/circuit');
  await choose(page, 'circuit-side', 'high');
  await put(page, 'circuit', { supply: '13.8' });
  assert.equal(await valueOf(page, 'circuit', 'winding_temperature'), '88');
  assert.equal(await valueOf(page, 'circuit', 'spec.min'), '5.0');
  assert.match(await page.textContent('#circuit [data-path="winding_temperature"] .from'), /Winding/);
  await go(page, '#/loop');
  const there = await entered(page, 'loop');
  assert.equal(there['loop-supply'], '13.8');
  assert.equal(there['loop-spec.max'], '5.6');
  assert.equal(there['loop-winding_temperature'], '88');
  assert.match(await page.textContent('#loop [data-path="supply"] .from'), /Circuit/);
  // A winding in place of the row: the row's limits make room, and come back.
  await put(page, 'loop', { winding: '5.3' });
  assert.equal(await page.inputValue(field('loop', 'spec.max')), '');
  await put(page, 'loop', { winding: '' });
  assert.equal(await page.inputValue(field('loop', 'spec.max')), '5.6');
  // Drive tries out and does not write back.
  await go(page, '#/drive');
  assert.equal(await valueOf(page, 'drive', 'supply'), '13.8');
  await put(page, 'drive', { supply: '9' });
  await go(page, '#/loop');
  assert.equal(await valueOf(page, 'loop', 'supply'), '13.8');
  await go(page, '#/drive');
  assert.equal(await valueOf(page, 'drive', 'supply'), '9');
  const job = await theJob(page);
  assert.deepEqual([job.facts.given.supply, job.facts.units.supply, job.facts.from.supply], ['13.8', 'V', 'circuit']);
  for (const [tool, form] of Object.entries(job.forms)) {
    if (tool !== 'drive') assert.ok(!('supply' in form.given), `${tool} keeps the supply for itself`);
  }
});

scene('a unit goes along; one that is not offered stays with the text', { at: '' }, async (page) => {
  await begin(page);
  await go(page, '#/winding');
  await put(page, 'winding', { at: '190' });
  await choose(page, 'winding-at-unit', 'degF');
  await go(page, '#/circuit');
  assert.equal(await valueOf(page, 'circuit', 'winding_temperature'), '190');
  assert.ok(await page.isChecked('input[name="circuit-winding_temperature-unit"][value="degF"]'));
});

scene('of several rows the circuit asks which one applies, and takes it on a tap', { at: '' }, async (page) => {
  await begin(page);
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '6.9', at: '88', 'specs.0.name': '2031 on', 'specs.0.min': '5.0', 'specs.0.max': '5.6' });
  await press(page, 'add');
  await put(page, 'winding', { 'specs.1.name': 'before', 'specs.1.min': '4.0', 'specs.1.max': '4.6' });
  await go(page, '#/circuit');
  assert.equal(await page.inputValue(field('circuit', 'spec.min')), '', 'none is taken in silence');
  const rows = page.locator('#circuit .spec-rows button');
  assert.equal(await rows.count(), 2);
  await rows.nth(1).tap();
  assert.equal(await page.inputValue(field('circuit', 'spec.max')), '4.6');
  assert.equal(await rows.nth(1).getAttribute('aria-pressed'), 'true');
  await go(page, '#/loop');
  assert.equal((await entered(page, 'loop'))['loop-spec.max'], '4.6');
  await go(page, '#/winding');
  await put(page, 'winding', { 'specs.1.max': '4.7' });
  await go(page, '#/loop');
  assert.equal((await entered(page, 'loop'))['loop-spec.max'], '4.7', 'the row that applies is edited where it stands');
});

scene('a reading goes along with where it was taken, and follows a correction', { at: '' }, async (page) => {
  await begin(page);
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '53', at: '88', 'specs.0.min': '5.0', 'specs.0.max': '5.6' });
  await choose(page, 'winding-measured_at', 'component_connector');
  await go(page, '#/circuit');
  await page.waitForFunction(() => document.getElementById('said').dataset.said === 'job.passed');
  const named = await page.textContent('#circuit input[value="resistance_component"] + span');
  assert.equal(await page.textContent('#circuit .picked-name'), named);
  assert.equal(await page.inputValue(field('circuit', 'readings.0.value')), '53');
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '5.3' });
  await go(page, '#/circuit');
  assert.equal(await page.inputValue(field('circuit', 'readings.0.value')), '5.3');
  assert.equal(await page.locator('#circuit .card.picked').count(), 1);
  // What was entered there by hand stays.
  await unfold(page, field('circuit', 'readings.0.value'));
  await page.fill(field('circuit', 'readings.0.value'), '5.4');
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '5.5' });
  await go(page, '#/circuit');
  assert.equal(await page.inputValue(field('circuit', 'readings.0.value')), '5.4');
  // What was taken away stays away.
  await unfold(page, field('circuit', 'readings.0.value'));
  await page.click('#circuit .card.picked [data-do="remove"]');
  await go(page, '#/winding');
  await go(page, '#/circuit');
  assert.equal(await page.locator('#circuit .card.picked').count(), 0);
});

scene('a code leads to the circuit with what it says', { at: '' }, async (page) => {
  await begin(page);
  await go(page, '#/code');
  await put(page, 'code', { code: 'P0962' });
  await go(page, '#/circuit');
  assert.ok(await page.isChecked('input[name="circuit-code_kind"][value="low"]'));
  assert.equal((await theJob(page)).facts.given.code, 'P0962');
});

scene('the exercise takes part in no job', { at: '' }, async (page) => {
  await begin(page);
  await go(page, '#/exercise');
  const before = await theJob(page);
  await choose(page, 'exercise-side', 'low');
  await go(page, '#/');
  assert.deepEqual((await theJob(page)).forms, before.forms);
  assert.equal(await page.locator('#exercise [data-fact]').count(), 0);
});

// ---- two vehicles

scene('the next vehicle begins empty in every tool, and the first comes back as it was', { at: '#/winding' }, async (page) => {
  await type(page, 'winding', 'reading', '13');
  await begin(page, 'Tarn 24');
  await go(page, '#/winding');
  assert.deepEqual(await entered(page, 'winding'), {}, 'what was entered without a job stays outside it');
  await put(page, 'winding', { reading: '6.9', at: '88', 'specs.0.min': '5.0', 'specs.0.max': '5.6' });
  await go(page, '#/torque');
  await put(page, 'torque', { torque: '10' });
  await begin(page, 'Fell 7');
  for (const tool of ['winding', 'loop', 'circuit', 'torque', 'code', 'drive', 'trace']) {
    await go(page, `#/${tool}`);
    assert.deepEqual(await entered(page, tool), {}, `${tool} has something of another vehicle`);
  }
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '9.1' });
  const jobs = await inside(page);
  assert.equal(jobs.length, 2);
  const other = jobs.find(({ job }) => job.facts.given.vehicle === 'Fell 7');
  assert.ok(!/6\.9|Tarn|88/.test(other.text.replace(/"(made|changed|when)":"[^"]*"/g, '')), other.text);
  await go(page, '#/jobs');
  await page.tap('.job-open:has-text("Tarn 24")');
  await says(page, 'said', 'job.opened');
  await go(page, '#/winding');
  assert.equal(await valueOf(page, 'winding', 'reading'), '6.9');
  await go(page, '#/jobs');
  await page.tap('#job-head [data-job="close"]');
  await says(page, 'said', 'job.closed');
  await go(page, '#/winding');
  assert.deepEqual(await entered(page, 'winding'), { 'winding-reading': '13' });
});

scene('a link and an example open beside the job and change nothing of it', { at: '' }, async (page) => {
  await begin(page);
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '6.9' });
  const before = (await inside(page))[0].text;
  await go(page, '#/winding?v=1&reading=9.7ohm&at=30degC&supply=24V');
  await says(page, 'said', 'job.beside');
  assert.equal(await valueOf(page, 'winding', 'reading'), '9.7');
  await go(page, '#/');
  assert.equal((await inside(page))[0].job.facts.given.supply, undefined);
  await page.tap('#continue a');
  await says(page, 'said', 'job.opened');
  await go(page, '#/winding');
  assert.deepEqual(await entered(page, 'winding'), { 'winding-reading': '6.9' });
  assert.ok(before.includes('6.9'));
});

scene('a job is made of what one form holds, and of nothing else', { at: '#/loop' }, async (page) => {
  await type(page, 'loop', 'current', '2');
  await go(page, '#/winding');
  await type(page, 'winding', 'reading', '6.9');
  await type(page, 'winding', 'at', '88');
  await press(page, 'to-job');
  await says(page, 'said', 'job.made');
  assert.equal(await valueOf(page, 'winding', 'reading'), '6.9');
  await go(page, '#/loop');
  assert.deepEqual(await entered(page, 'loop'), { 'loop-winding_temperature': '88' });
});

// ---- the record

scene('the record has what settled, once, with corrections', { at: '' }, async (page) => {
  await begin(page);
  await page.fill('#job-who', 'M. K.');
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '6.9', at: '88', 'specs.0.min': '5.0', 'specs.0.max': '5.6' });
  await go(page, '#/');
  const first = (await theJob(page)).entries;
  assert.deepEqual(first.map(({ kind, value, verdict }) => [kind, value ?? verdict]), [
    ['reading', '6.9 ohm'],
    ['answer', 'within'],
  ]);
  assert.equal(first[0].who, 'M. K.');
  await go(page, '#/winding');
  await go(page, '#/');
  assert.equal((await theJob(page)).entries.length, 2, 'looking at it adds nothing');
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '9.6' });
  await go(page, '#/');
  await kept(page);
  const entries = (await theJob(page)).entries;
  assert.deepEqual(entries.slice(0, 2), first, 'entries are never changed');
  assert.equal(entries[2].corrects, 1);
  assert.deepEqual(entries.map(({ n }) => n), entries.map((_, i) => i + 1));
});

scene('the handover has every reading of the job, and it is kept there once', { at: '' }, async (page) => {
  await begin(page);
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '6.9', at: '88' });
  await go(page, '#/handover');
  assert.equal(await valueOf(page, 'handover', 'vehicle'), 'Tarn 24');
  assert.match(await page.textContent('#handover .body'), /6\.9/);
  await put(page, 'handover', { cause: 'Wire rubbed through' });
  const job = await theJob(page);
  assert.deepEqual(Object.keys(job.forms.handover.given), ['cause']);
});

scene('a decision leads on: put it back, and from there to the handover, with nothing typed twice', { at: '' }, async (page) => {
  await begin(page);
  await go(page, '#/code');
  await put(page, 'code', { code: 'P0962' });
  await go(page, '#/circuit');
  assert.match(await page.textContent('#circuit [data-path="code_kind"] .from'), /P0962/);
  await choose(page, 'circuit-side', 'high');
  await choose(page, 'circuit-return', 'case');
  await put(page, 'circuit', { supply: '13.8', 'spec.min': '5.0', 'spec.max': '5.6', winding_temperature: '20' });
  const readings = { current_on: '4.35', resistance_component: '2.8', winding_temperature: '20', row_applies: 'yes' };
  for (const [test, value] of Object.entries(readings)) {
    await page.tap(`#circuit .point[data-value="${test}"]`);
    await enter(page, value);
  }
  await page.tap('#circuit .carry a[href="#/torque"]');
  await put(page, 'torque', { torque: '10' });
  await page.tap('#torque [data-carry="handover"]');
  assert.equal(await valueOf(page, 'handover', 'vehicle'), 'Tarn 24');
  assert.equal(await valueOf(page, 'handover', 'code'), 'P0962');
  assert.match(await page.textContent('#handover .body'), /4\.35[^]*2\.8/);
});
