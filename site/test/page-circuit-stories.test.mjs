// The technician's two stories from the trouble code to the decision, by touch on a phone: a winding that has lost turns, read hot
// with two rows to choose from; and an open that comes and goes. The readings are an invented circuit's, from Ohm's law; which test
// comes next is what the page asks for.
// node --test site/test/page-circuit-stories.test.mjs
import assert from 'node:assert/strict';
import { elsewhere, scene, serve, useBrowser } from './browser.mjs';
import { choice, enter, point } from './circuit.mjs';
import {
  answerText, answered, choose, codes, field, go, headText, openCard, press, reload, says, tapIn, type, verdict,
} from './reader.mjs';
import { healthy, lost } from './stories.mjs';

useBrowser();

const most = 12; // tests that a technician is asked for at most, from an empty circuit to the decision

// followed takes each test that the card asks for, with the readings of a circuit, until the page decides; it returns the tests taken.
async function followed(page, reads, look = async () => {}) {
  const taken = [];
  while (['test', 'again'].includes(await verdict(page))) {
    const asked = await page.getAttribute('#circuit .p-next', 'data-test');
    const way = [...taken, asked].join(', ');
    assert.equal(await verdict(page), 'test', `readings that belong together should not be asked for again: ${way}`);
    assert.ok(reads[asked], `the page asks for ${asked}, which this circuit has no reading of`);
    assert.ok(!taken.includes(asked), `the page asks twice for one test: ${way}`);
    assert.ok(taken.length < most, `the page asks for more than ${most} tests: ${way}`);
    const title = (await page.textContent('#circuit .p-next h2')).replace(/^Next: /, '');
    assert.ok((await headText(page)).includes(title), `the strip should name the test of the card, “${title}”`);
    await page.tap('#circuit .p-next [data-pick]');
    await enter(page, reads[asked]);
    await page.evaluate(() => document.activeElement?.blur());
    assert.ok(await page.$eval(point(asked), (e) => e.classList.contains('taken')), `the point of ${asked} should be taken`);
    taken.push(asked);
    await look(asked);
  }
  return taken;
}

// fromCode types a code, checks what it is taken for, and takes it to the circuit.
async function fromCode(page, code, kind) {
  await page.tap('a[href="#/code"]');
  await page.waitForSelector('#code:not([hidden])');
  await tapIn(page, 'code', 'code', code);
  assert.equal(await verdict(page), kind, `code ${code}: the verdict`);
  await page.tap('#code [data-carry="circuit"]');
  await page.waitForSelector('#circuit:not([hidden])');
}

// ---- story one: code low, a hot reading, two rows, a known good part, a part that costs 700

scene('code low, read hot, two rows, a good part beside it, a part at 700: not before row and warmth', {}, async (page) => {
  await fromCode(page, 'P0962', 'low');
  assert.ok(await page.isChecked('input[name="circuit-code_kind"][value="low"]'), 'circuit: the code’s kind should be taken over');

  // The winding: cold it is 2.7 ohm, which the first row would have; the known good part fits the second.
  await go(page, '#/winding');
  await page.waitForSelector('#winding:not([hidden])');
  await tapIn(page, 'winding', 'reading', lost.resistance_component);
  await tapIn(page, 'winding', 'at', '88');
  await choose(page, 'winding-measured_at', 'component_connector');
  for (const [path, text] of [
    ['specs.0.min', '2.4'],
    ['specs.0.max', '3.0'],
    ['specs.1.min', '5.0'],
    ['specs.1.max', '5.6'],
  ]) {
    if ((await page.locator(field('winding', path)).count()) === 0) await press(page, 'add');
    await type(page, 'winding', path, text);
  }
  assert.equal(await verdict(page), 'rows_disagree', 'winding: two rows, two answers');
  assert.doesNotMatch(await answerText(page), /known good part fits/, 'winding: nothing settles the row yet');
  await type(page, 'winding', 'known_good.reading', '5.3');
  await type(page, 'winding', 'known_good.at', '22');
  assert.match((await answerText(page)).replace(/\s+/g, ' '), /The known good part fits “.*” and no other/, 'winding: the row is settled');

  // The circuit: reading, warmth and the row that is settled go along.
  await page.tap('#winding [data-carry="circuit"]');
  await page.waitForSelector('#circuit:not([hidden])');
  assert.ok(await page.isChecked('input[name="circuit-code_kind"][value="low"]'), 'circuit: the code’s kind should have stayed');
  for (const [path, want] of [
    ['spec.min', 5],
    ['spec.max', 5.6],
    ['winding_temperature', 88],
    ['readings.0.value', Number(lost.resistance_component)],
  ])
    assert.equal(Number(await page.inputValue(field('circuit', path))), want, `circuit, field ${path}: what was taken over`);
  await choice(page, 'side', 'high');
  await choice(page, 'return', 'case');
  await tapIn(page, 'circuit', 'supply', '13.8');
  await type(page, 'circuit', 'costs.wrong.component', '700');

  const looked = [];
  const taken = await followed(page, lost, async (test) => {
    looked.push(test);
    const condemned = (await verdict(page)) === 'component';
    assert.ok(!condemned || looked.includes('winding_temperature'), `the component is condemned after ${looked.join(', ')} alone`);
  });
  assert.ok(!looked.includes('row_applies'), 'circuit: the good part has settled the row, which is not asked for again');
  assert.match(await answerText(page), /Row fits the part number: yes, settled by a known good part/);
  assert.ok(taken.length > 0, 'one reading alone should condemn nothing');
  assert.equal(await verdict(page), 'component', `after ${taken.join(', ')}: the verdict`);
  assert.match((await headText(page)).replace(/\s+/g, ' '), /^Replace the component(> ?)?\d+ % likely/);
  assert.equal(await page.locator('#circuit .p-next').count(), 0, 'circuit: nothing more to measure');
});

// ---- story two: code open, and nothing shows

// untroubled fills in a circuit that does not show its complaint, from a code that comes and goes.
async function untroubled(page) {
  await fromCode(page, 'P0960', 'open');
  assert.ok(await page.isChecked('input[name="circuit-code_kind"][value="open"]'), 'circuit: the code’s kind should be taken over');
  await filledIn(page);
}

async function filledIn(page) {
  await choice(page, 'side', 'high');
  await choice(page, 'return', 'case');
  await tapIn(page, 'circuit', 'supply', '13.8');
  await tapIn(page, 'circuit', 'spec.min', '5.0');
  await tapIn(page, 'circuit', 'spec.max', '5.6');
  await tapIn(page, 'circuit', 'winding_temperature', '20');
  await choice(page, 'code_kind', 'open');
  assert.equal(await answered(page), true, 'circuit: the form should be answered');
  await choice(page, 'fault_present', 'no');
}

// mended follows the cards with wires that jump when moved, to the harness.
async function mended(page) {
  const taken = await followed(page, { ...healthy, wiggle_harness: 'jumps' });
  assert.ok(taken.includes('wiggle_harness'), `the wires should be moved; asked was ${taken.join(', ')}`);
  assert.equal(await verdict(page), 'harness', `after ${taken.join(', ')}: the verdict`);
  assert.match((await headText(page)).replace(/\s+/g, ' '), /^Mend the harness(> ?)?\d+ % likely/);
}

// stays follows the cards where all is steady, to the end that hands nothing over as good.
async function stays(page) {
  const taken = await followed(page, healthy);
  for (const test of ['wiggle_harness', 'heat_component'])
    assert.ok(taken.includes(test), `${test} should be asked for; asked was ${taken.join(', ')}`);
  assert.equal(await verdict(page), 'nothing', `after ${taken.join(', ')}: the verdict`);
  const head = (await headText(page)).replace(/\s+/g, ' ');
  assert.match(head, /^Nothing to mend found.*a fault that comes and goes stays possible, [<>]? ?\d+ %/);
  assert.ok((await codes(page)).includes('comes_and_goes'), 'circuit: the warning that a fault may come and go');
}

scene('code open, does not show now, moved wires jump: to the harness', {}, async (page) => {
  await untroubled(page);
  await mended(page);
});

scene('code open, does not show now, all steady: nothing found, and it may come and go', {}, async (page) => {
  await untroubled(page);
  await stays(page);
});

scene('a code of an intermittent circuit leads to the same question', {}, async (page) => {
  await fromCode(page, 'P0749', 'intermittent');
  await filledIn(page);
  await mended(page);
});

elsewhere(
  'the fault that comes and goes, both ends, without a network after the first visit',
  () => serve(),
  { at: '' },
  async (page, host) => {
    await says(page, 'offline', 'offline');
    await page.context().setOffline(true);
    await host.stop();
    await reload(page);
    await untroubled(page);
    await mended(page);
    const row = await page.locator('#circuit .card').filter({ has: page.locator('input[value="wiggle_harness"]:checked') });
    const key = row.locator('.spoken [data-put="steady"]');
    assert.equal(await key.isVisible(), false, 'a card with a reading is a line');
    await openCard(page, row);
    await key.tap();
    assert.equal(await key.getAttribute('aria-pressed'), 'true', 'the word under the finger is taken');
    assert.equal(await answered(page), true, 'circuit: the changed word should be answered');
    assert.notEqual(await verdict(page), 'harness', 'circuit: wires that stay steady accuse no harness');
  },
);
