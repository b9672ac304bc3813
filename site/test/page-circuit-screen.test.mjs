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
    assert.match(await page.textContent('#circuit .price'), /the component: counted as 300/);
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
      '"A on"',
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

scene('exercise: what was hidden stands below the decision, and a tap on the strip leads to it', { at: '#/exercise?v=1&seed=bench+1' },
  async (page) => {
    assert.doesNotMatch(await headText(page), /fault is hidden/, 'there may be none');
    await choose(page, 'exercise-answer', 'harness');
    const found = '#exercise .slot[data-slot="answer"] > .p-found';
    assert.match(await page.textContent(found), /Hidden was/);
    assert.doesNotMatch(await answerText(page), /Hidden was/, 'exercise: it stands in one place');
    await page.evaluate(() => scrollTo(0, 0));
    await page.tap('#exercise .head');
    const at = await top(page, found);
    assert.ok(at > 0 && at < 300, `what was hidden stands at ${at}`);
  });
