// Two thousand keystrokes leave the page as large as it was: its elements and what listens to them, its own memory and the module's.
// node --test site/test/page-memory.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { DRIVE } from './drive.mjs';

useBrowser();

const WINDING = '#/winding?v=1&reading=13ohm&at=24degC&specs.0.min=12ohm&specs.0.max=14.5ohm';
const READING = 'readings.0.test=resistance_component&readings.0.value=5.4ohm';
const CIRCUIT = `#/circuit?v=1&side=high&supply=13.8V&spec.min=5ohm&spec.max=5.6ohm&winding_temperature=20degC&${READING}`;
const KEYS = 2000;
const MB = (n) => `${(n / 1e6).toFixed(1)} MB`;

// typed has KEYS texts typed into a field, each answered before the next; every tenth time somebody waits for what comes late.
const typed = (page, path, texts, keys) =>
  page.evaluate(
    async ([path, texts, keys]) => {
      const input = document.getElementById(`${document.body.dataset.place}-${path}`);
      for (let i = 0; i < keys; i++) {
        input.value = texts[i % texts.length];
        input.dispatchEvent(new InputEvent('input', { bubbles: true }));
        if (i % 10 === 0) await new Promise((resolve) => setTimeout(resolve));
      }
      await new Promise((resolve) => setTimeout(resolve, 1000)); // what is put off: the address, what comes late
    },
    [path, texts, keys],
  );

// watched keeps the module's memory, which no tool of the browser counts.
function watched() {
  const { instantiate } = WebAssembly;
  WebAssembly.instantiate = async (...args) => {
    const made = await instantiate.apply(WebAssembly, args);
    globalThis.moduleMemory = made.exports.mem;
    return made;
  };
}

// held is what the page takes once all is thrown away that nothing refers to.
async function held(page, session) {
  for (let n = 0; n < 3; n++) await session.send('HeapProfiler.collectGarbage');
  const { nodes, jsEventListeners } = await session.send('Memory.getDOMCounters');
  const { usedSize } = await session.send('Runtime.getHeapUsage');
  const module = await page.evaluate(() => globalThis.moduleMemory.buffer.byteLength);
  return { nodes, listeners: jsEventListeners, heap: usedSize, module };
}

for (const [tool, link, path, texts] of [
  ['winding', WINDING, 'reading', ['13', '9', '12.2', '', '19', '13.55']],
  ['drive', DRIVE, 'supply', ['13.8', '12', '9', '14.4']],
  ['circuit', CIRCUIT, 'readings.0.value', ['5.3', '9', '0.4', '61']],
]) {
  scene(`${tool}: ${KEYS} keystrokes, and the page is no larger`, { at: link, init: watched }, async (page, t) => {
    const session = await page.context().newCDPSession(page);
    await typed(page, path, texts, KEYS / 10); // what grows once: undo, compiled functions, the module's own heap
    const before = await held(page, session);
    await typed(page, path, texts, KEYS);
    const after = await held(page, session);
    t.diagnostic(`${tool}: page ${MB(before.heap)} then ${MB(after.heap)}, module ${MB(before.module)} then ${MB(after.module)}`);
    assert.ok(after.nodes <= before.nodes + 200, `${before.nodes} elements and texts, then ${after.nodes}`);
    assert.ok(after.listeners <= before.listeners + 20, `${before.listeners} listeners, then ${after.listeners}`);
    assert.ok(after.heap <= 1.1 * before.heap, `${MB(before.heap)} of heap, then ${MB(after.heap)}`);
    assert.ok(after.module <= 1.1 * before.module, `${MB(before.module)} of the module's memory, then ${MB(after.module)}`);
  });
}
