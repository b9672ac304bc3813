// What a keystroke writes into the page: nothing that stands there already. A browser works out anew what depends on each attribute that is
// set, also to what it was, and with :has() on the root that is half the page.
// node --test site/test/page-repaint.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { DRIVE } from './drive.mjs';

useBrowser();

const BOLTS = Array.from({ length: 12 }, (_, i) => `&bolts.${i}.x=${(i % 4) * 40}mm&bolts.${i}.y=${Math.floor(i / 4) * 40}mm`).join('');
const READING = 'readings.0.test=resistance_component&readings.0.value=5.4ohm';

// written types texts and resolves to what was written though it stood there: attributes as they were, texts and whole lists put in place
// of the same.
const written = (page, path, texts) =>
  page.evaluate(
    async ([path, texts]) => {
      const input = document.getElementById(`${document.body.dataset.place}-${path}`);
      const named = (node) => `${node.nodeName} ${node.getAttribute?.('class') ?? ''}`.trim();
      const found = new Set();
      let seen = 0;
      const look = (records) => {
        seen += records.length;
        for (const { type, target, attributeName, oldValue, addedNodes, removedNodes } of records) {
          if (type === 'attributes' && target.getAttribute(attributeName) === oldValue) found.add(`${attributeName} of ${named(target)}`);
          if (type !== 'childList' || addedNodes.length === 0 || addedNodes.length !== removedNodes.length) continue;
          const same = [...addedNodes].every((node, i) => node.textContent === removedNodes[i].textContent);
          if (same) found.add(`the same put into ${named(target)}`);
        }
      };
      const watch = new MutationObserver(look);
      const what = { subtree: true, childList: true, attributes: true, attributeOldValue: true };
      const type = async (text) => {
        input.value = text;
        input.dispatchEvent(new InputEvent('input', { bubbles: true }));
        look(watch.takeRecords());
        await new Promise((resolve) => setTimeout(resolve, 20));
      };
      for (const text of texts) await type(text); // the first key says that the field was touched
      watch.observe(document.documentElement, what);
      for (const text of texts) await type(text);
      watch.disconnect();
      return { found: [...found], seen };
    },
    [path, texts],
  );

for (const [tool, link, path, texts] of [
  ['winding', '#/winding?v=1&reading=13ohm&at=24degC&specs.0.min=12ohm&specs.0.max=14.5ohm', 'reading', ['13.1', '13.2', '9', '13.3']],
  ['drive', DRIVE, 'supply', ['13.8', '12', '9']],
  ['torque', `#/torque?v=1&torque=10N.m${BOLTS}`, 'torque', ['10', '11', '12.5']],
  ['circuit', `#/circuit?v=1&side=high&supply=13.8V&spec.min=5ohm&spec.max=5.6ohm&${READING}`, 'readings.0.value', ['5.4', '9', '5.3']],
]) {
  scene(`${tool}: a keystroke writes nothing that stands there`, { at: link }, async (page) => {
    const { found, seen } = await written(page, path, texts);
    assert.ok(seen > 0, `${tool}: something changes`);
    assert.deepEqual(found, [], tool);
  });
}

// listen makes the page note what the module is asked and what it sends: [number, reply as text, the same reply whole].
const listen = (page) =>
  page.evaluate(async () => {
    const core = await globalThis.ohmwright;
    const { answer } = core;
    globalThis.sent = [];
    core.answer = (...args) => {
      if (globalThis.fails) throw new Error('lost');
      const reply = answer.apply(core, args);
      if (args.length > 5) globalThis.sent.push([args[5], reply, answer.apply(core, args.slice(0, 5))]);
      return reply;
    };
  });

// typed types a text and resolves to what was sent for it last, {number, reply, whole}, once it is checked that the answer on the page has
// all the words of the whole reply.
async function typed(page, tool, path, text) {
  await page.fill(`#${tool}-${path}`, text);
  const [[number, reply, whole], parts] = await page.evaluate(
    (tool) => [
      globalThis.sent.at(-1),
      [...document.querySelectorAll(`#${tool} .slot > *, #${tool} .body > *`)].map((part) => part.textContent),
    ],
    tool,
  );
  const wordsIn = (tree) => (typeof tree === 'string' ? tree : tree.slice(2).map(wordsIn).join(''));
  assert.deepEqual(parts.sort(), JSON.parse(whole).body.map(wordsIn).sort(), `${tool}: the answer on the page`);
  return { number, reply, whole: JSON.parse(whole), share: reply.length / whole.length };
}

scene('what stays of an answer is neither sent nor painted', { at: `#/torque?v=1&torque=10N.m${BOLTS}` }, async (page) => {
  await listen(page);
  const first = await typed(page, 'torque', 'torque', '11');
  assert.notEqual(first.number, '0', 'the page says which reply it has');
  await page.evaluate(() => {
    globalThis.painted = 0;
    const what = { subtree: true, childList: true, attributes: true, characterData: true };
    new MutationObserver((records) => (globalThis.painted += records.length)).observe(document.querySelector('.plate-figure'), what);
  });
  const { reply, whole, share } = await typed(page, 'torque', 'torque', '12');
  const plate = whole.body.findIndex((tree) => tree[1].class === 'plate-figure');
  const { body, ...rest } = JSON.parse(reply);
  assert.equal(body[plate], 0, 'the plate is not sent');
  assert.ok(!('notes' in rest) && !('left' in rest) && 'link' in rest, `only what differs: ${Object.keys(rest)}`);
  assert.ok(share < 0.5, `less than half of the reply is sent: ${share}`);
  assert.equal(await page.evaluate(() => globalThis.painted), 0, 'the plate is not painted');
});

scene('a part is sent and painted again once something else wrote over it', { at: `#/torque?v=1&torque=10N.m${BOLTS}` }, async (page) => {
  await listen(page);
  const caption = '#torque .plate-figure figcaption';
  const said = await page.textContent(caption);
  await typed(page, 'torque', 'torque', '11');
  for (const write of [(e) => (e.firstChild.data = 'translated'), (e) => e.remove(), (e) => (e.innerHTML = '<font>translated</font>')]) {
    await page.$eval(caption, write);
    const { number, share } = await typed(page, 'torque', 'torque', '12');
    assert.deepEqual([number, share >= 1], ['0', true], 'all of it is sent');
    assert.equal(await page.textContent(caption), said);
    assert.ok((await typed(page, 'torque', 'torque', '11')).share < 0.5, 'and the next time only what differs');
  }
});

scene('forms in turn, a reply that failed, and a form made anew have the whole answer', { at: DRIVE }, async (page) => {
  await listen(page);
  await typed(page, 'drive', 'supply', '13');
  await page.evaluate(() => (location.hash = '#/winding'));
  await typed(page, 'winding', 'reading', '9.7');
  assert.ok((await typed(page, 'winding', 'reading', '9.8')).share < 1, 'the second form');
  await page.evaluate(() => (location.hash = '#/drive'));
  await page.waitForSelector('#drive:not([hidden])');
  assert.ok((await typed(page, 'drive', 'supply', '12')).share < 1, 'the first form again');
  await page.evaluate(() => (globalThis.fails = true));
  await page.fill('#drive-supply', '11');
  await page.evaluate(() => (globalThis.fails = false));
  assert.equal((await typed(page, 'drive', 'supply', '10')).number, '0', 'after a reply that failed');
  await page.reload();
  await page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
  await listen(page);
  await typed(page, 'drive', 'supply', '9');
});
