// Where the circuit's answer stands on a phone, and that the strip, the price and the next test are within reach.
// node --test site/test/page-circuit-screen.test.mjs
import assert from 'node:assert/strict';
import { laptop, scene, useBrowser } from './browser.mjs';
import { enter, filled, looked, point, reads, withReadings } from './circuit.mjs';
import { answerText, choose, field, focused, headText, type, verdict } from './reader.mjs';

useBrowser();

const decided = `${filled}${withReadings([['current_on', `${reads.current_on}A`], ['resistance_component', '2.8ohm'], ...looked])}`;

// hint is what is painted on the strip of a tap on it; "none" where nothing is.
const hint = (page, tool = 'circuit') =>
  page.$eval(`#${tool} .verdict`, (e) => getComputedStyle(e, '::after').content.replace(/^"|"$/g, ''));
const top = (page, selector) => page.$eval(selector, (e) => e.getBoundingClientRect().top);

scene('a phone says that the strip can be tapped once there is an answer, and a tap leads to the reason', { at: decided }, async (page) => {
  assert.equal(await hint(page), 'tap: why');
  await page.tap('#circuit .head');
  const [strip, why] = [await page.$eval('#circuit .strip', (e) => e.getBoundingClientRect().bottom), await top(page, '#circuit .why')];
  assert.ok(why >= strip && why < strip + 60, `the reason stands at ${why}, the strip ends at ${strip}`);
  await page.fill(field('circuit', 'supply'), '');
  assert.equal(await verdict(page), 'waiting', 'circuit: the verdict without a supply');
  assert.match(await headText(page), /^Describe the circuit/);
  assert.equal(await hint(page), 'none', 'circuit: nothing is explained yet');
});

scene('a wide page, with the answer beside the form, says nothing of a tap', { at: decided, size: laptop }, async (page) => {
  assert.equal(await hint(page), 'none');
});

scene('decided: the chances stand below the reason, before drawing and cards; the price beside them leads to its field', { at: decided },
  async (page) => {
    assert.equal(await verdict(page), 'component', 'circuit: the verdict');
    const order = [];
    for (const part of ['.why', '.p-repairs', '.circuit', '.card']) order.push(await top(page, `#circuit ${part}`));
    assert.deepEqual(order, [...order].sort((a, b) => a - b), 'reason, chances, drawing, cards');
    assert.match(await page.textContent('#circuit .price'), /the component\): counted as 300/);
    await page.tap('#circuit .price');
    const { id, covered } = await focused(page);
    assert.deepEqual([id, covered], ['circuit-costs.wrong.component', false]);
    const at = await top(page, field('circuit', 'costs.wrong.component'));
    assert.ok(at > 0 && at < 740, `the field stands at ${at}`);
    await type(page, 'circuit', 'costs.wrong.component', '700');
    assert.match(await page.textContent('#circuit .price'), /counted as 700/);
  });

const oneTaken = `${filled}${withReadings([['voltage_pin_off', '0V']])}`;

scene('the next test stands below the card that is open, before the other cards', { at: oneTaken },
  async (page) => {
    await page.tap(point('current_on'));
    await enter(page, reads.current_on);
    assert.equal(await verdict(page), 'test', 'circuit: the verdict');
    const order = [];
    for (const part of ['.circuit', '.card.open', '.p-next', '.card:not(.open)']) order.push(await top(page, `#circuit ${part}`));
    assert.deepEqual(order, [...order].sort((a, b) => a - b), 'drawing, open card, next test, the other card');
    assert.equal(
      await page.$eval(point('current_on'), (e) => getComputedStyle(e, '::before').content),
      '"Amps, driver on"',
      'a point that was read keeps its name',
    );
  });

scene('nothing fits: no chance is claimed for it', { fresh: true, at: '#/circuit' }, async (page) => {
  const odd = [['resistance_component', 'OL'], ['continuity_harness', 'OL'], ['insulation_harness', 'OL'], ['voltage_pin_on', '13V']];
  await page.goto(`${page.url().split('#')[0]}${filled}${withReadings([...odd, ...odd, ...odd, ...looked, ...looked])}`);
  await page.waitForSelector('#circuit .verdict[data-verdict="unexplained"]');
  assert.doesNotMatch(await headText(page), /%|rests on/);
  assert.equal(await page.locator('#circuit .price').count(), 0, 'circuit: no repair, no price of one');
});

const apart = `${filled.replace('&code_kind=low', '')}${withReadings([['resistance_winding', 'OL'], ['continuity_harness', '0.3ohm']])}`;

scene('two faults that together explain the readings are looked for once the typing pauses', { at: apart }, async (page) => {
  const both = /Two faults at once/;
  assert.doesNotMatch(await page.textContent('#circuit'), both);
  const [soon, waits] = await page.$eval(field('circuit', 'readings.1.value'), (input) => {
    input.value = 'OL';
    input.dispatchEvent(new InputEvent('input', { bubbles: true }));
    const { textContent } = document.getElementById('circuit');
    return [textContent, document.querySelector('#circuit [data-late]') !== null];
  });
  assert.match(soon, /No single fault/i, 'that no single fault fits is said at once');
  assert.doesNotMatch(soon, both);
  assert.ok(waits, 'something follows');
  await page.waitForFunction(() => !document.querySelector('#circuit [data-late]'));
  assert.match(await page.textContent('#circuit'), both);
  // What is told stays while somebody types on: nothing jumps.
  const heights = await page.$eval(field('circuit', 'supply'), (input) => {
    const height = () => document.documentElement.scrollHeight;
    const before = height();
    input.value = '13.9';
    input.dispatchEvent(new InputEvent('input', { bubbles: true }));
    return [before, height()];
  });
  assert.equal(heights[1], heights[0], 'how long the page is');
  assert.match(await page.textContent('#circuit'), both);
});

scene('exercise: what was hidden stands below the decision, and a tap on the strip leads to it', { at: '#/exercise?v=1&seed=bench+1' },
  async (page) => {
    assert.doesNotMatch(await headText(page), /fault is hidden/, 'there may be none');
    await page.tap('#exercise input[data-value="repair=harness"]');
    await page.tap('#exercise .decide');
    const found = '#exercise .slot[data-slot="answer"] > .p-found';
    assert.match(await page.textContent(found), /The hidden fault/);
    await page.waitForTimeout(800); // a tap right after the button that decides is held back
    assert.doesNotMatch(await answerText(page), /The hidden fault/, 'exercise: it stands in one place');
    await page.evaluate(() => scrollTo(0, 0));
    await page.tap('#exercise .head');
    const at = await top(page, found);
    assert.ok(at > 0 && at < 300, `what was hidden stands at ${at}`);
  });

const three = `${filled}${withReadings([['current_on', '4.62A'], ['resistance_component', '2.7ohm'], ['wiggle_harness', 'steady']])}`;
const line = (row) => `#circuit .card[data-row="${row}"] .card-line`;
const openRows = (page) => page.$$eval('#circuit .card.open', (all) => all.map((card) => card.dataset.row));

scene('a card with a reading is one line; it opens at a tap, and not under a finger or the focus', { at: three }, async (page) => {
  await page.tap('#said');
  const lines = await page.$$eval('#circuit .card-line', (all) => all.map((e) => e.innerText.replace(/\s+/g, ' ')));
  const told = ['Current, driver on 4.62 A', 'Ohms at the component 2.7 Ω', 'Ohms while wires are moved steady'];
  assert.deepEqual(lines, told);
  const cards = await page.$$eval('#circuit .card', (all) => all.map((card) => card.offsetHeight));
  for (const height of cards) assert.ok(height >= 56 && height <= 72, `a card is ${height} px tall`);

  await page.tap(line(0));
  assert.deepEqual(await openRows(page), ['0']);
  assert.equal((await focused(page)).id, 'circuit-readings.0.value');
  await page.focus(line(1));
  assert.deepEqual(await openRows(page), ['0'], 'the focus alone opens nothing');

  // A finger comes down on a line while another card is open and has the focus.
  await page.focus(field('circuit', 'readings.0.value'));
  await page.locator(line(2)).scrollIntoViewIfNeeded();
  const place = () => page.locator(line(2)).boundingBox();
  const before = await place();
  const touch = await page.context().newCDPSession(page);
  await page.waitForTimeout(400); // a tap within a third of a second after the last one would not count
  const at = { x: before.x + before.width / 2, y: before.y + before.height / 2 };
  await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [at] });
  await page.waitForTimeout(100);
  assert.deepEqual([await place(), await openRows(page)], [before, ['0']], 'under the finger nothing moves or opens');
  await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
  await page.waitForFunction(() => document.querySelector('#circuit .card[data-row="2"].open'));
  assert.deepEqual(await openRows(page), ['2']);

  // Another tap that comes at once is not meant for the line that has come below the finger; by keyboard a line opens as well.
  await page.waitForTimeout(400);
  await page.focus(line(1));
  await page.keyboard.press('Enter');
  assert.deepEqual(await openRows(page), ['1']);
  await page.locator(line(0)).dispatchEvent('click');
  assert.deepEqual(await openRows(page), ['1'], 'a second tap within a third of a second');
  await page.waitForTimeout(400);
  // What is wrong is not folded away.
  await page.fill(field('circuit', 'readings.1.value'), 'abc');
  await page.tap(line(0));
  assert.ok(await page.isVisible('[id="circuit-readings.1.value-note"]'), 'the note beside the reading');
});
