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
