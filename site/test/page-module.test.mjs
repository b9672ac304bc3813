// The promise that the page gives other scripts: the module, and what it answers.
// node --test site/test/page-module.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { cli, run } from './program.mjs';
import { answered, fill, stored, verdict } from './reader.mjs';
import { same } from './same.mjs';
import { plain } from './winding.mjs';

useBrowser();

scene('ohmwright.run, tools and describe say what the command line says', {}, async (page) => {
  const ask = (name, ...args) =>
    page.evaluate(async ([name, args]) => (await globalThis.ohmwright)[name](...args), [name, args]).then(JSON.parse);
  assert.ok(await page.evaluate(() => globalThis.ohmwright instanceof Promise), 'globalThis.ohmwright should be a promise');
  const tools = cli('tools');
  same(await ask('tools'), tools, 'tools', 0);
  assert.ok(tools.length >= 2, 'there should be several tools');
  for (const { tool } of tools) {
    const described = cli('describe', tool);
    same(await ask('describe', tool), described, `describe ${tool}`, 0);
    const request = JSON.stringify(described.example);
    same(await ask('run', tool, request), run(tool, request).response, `run ${tool}`, 0);
  }
  for (const request of [
    '{"reading":"13 ohm","at":"24 degC"}',
    '{"reading":"OL","at":"24 degC","specs":[{"min":"5 ohm"}]}',
    '{"reading":"9,7Ω","at":"75 degF","specs":[{"nominal":"10 ohm","tolerance":"10 %"}]}',
    '{"reading":"1,250 ohm","colour":1}',
    '{"reading":"1e-300 ohm","at":"-234.4 degC"}',
    '{"reading":"26 ohm","at":"30 degC","arrangement":{"series":2},"material":"aluminium","supply":"13.8 V","driver_limit":"1 A"}',
    '',
    '[]',
    '{',
  ]) {
    same(await ask('run', 'winding', request), run('winding', request).response, request, 0);
  }
  assert.equal((await ask('run', 'anvil', '{}')).errors[0].code, 'unknown'); // where the command line speaks of its usage
});

// hostile runs in the page: what the module says to what is no request, or no tool: [what was asked, the answer].
async function hostile() {
  const core = await globalThis.ohmwright;
  const texts = [
    ...['{', '{"reading":', '\u0000', '\ud800', '"', 'null', '[]', '{}{}', '{"reading":1e999}', 'x'.repeat(100 << 10)],
    ...[`{"reading":"${'9'.repeat(100 << 10)} ohm"}`, '['.repeat(100_000), '{"a":'.repeat(50_000)],
    ...[`{"specs":${'['.repeat(30_000)}${']'.repeat(30_000)}}`, `{"specs":[${'{},'.repeat(20_000)}{}]}`],
    ...['{"reading":"NaN ohm","at":"inf degC"}', '{"__proto__":{"reading":"1 ohm"}}', `{"${'k'.repeat(60_000)}":1}`],
  ];
  const throwing = {
    toString() {
      throw new Error('no');
    },
  };
  const out = [];
  for (const request of [...texts, undefined, null, 7, {}, [], true, () => 1, Symbol('s'), 10n, throwing]) {
    for (const tool of ['winding', 'loop', 'circuit', 'code', 'exercise']) {
      try {
        out.push([String(typeof request === 'string' ? request.slice(0, 20) : typeof request), core.run(tool, request)]);
      } catch (e) {
        out.push(['thrown', String(e)]);
      }
    }
  }
  for (const tool of ['', 'anvil', 'x'.repeat(100_000), '__proto__', undefined, 3, {}]) {
    out.push(['tool', core.run(tool, '{}')], ['describe', core.describe(tool)]);
  }
  out.push(['none', core.run()], ['none', core.describe()], ['more', core.run('winding', '{}', 'de', 4, 5)]);
  return out;
}

scene('hostile requests are refused, and the module answers on', { at: '#/winding' }, async (page) => {
  const replies = await page.evaluate(hostile);
  assert.equal(replies.length, 28 * 5 + 7 * 2 + 3, 'every odd request should have been asked');
  for (const [request, text] of replies) {
    const reply = JSON.parse(text);
    assert.equal(reply.ok, false, request);
    assert.ok(reply.errors.length > 0 && reply.errors.every((e) => typeof e.code === 'string' && e.message), request);
    assert.ok(text.length < 64 << 10, `${request}: ${text.length} characters`);
  }
  await fill(page, 'winding', plain);
  assert.equal(await verdict(page), 'within', 'the tool shown: the verdict');
  const after = await page.evaluate(async () =>
    JSON.parse((await globalThis.ohmwright).run('winding', '{"reading":"13 ohm","at":"24 degC"}')),
  );
  assert.equal(after.ok, true, `run winding: after hostile requests a good one should be answered: ${JSON.stringify(after)}`);
});

for (const tool of ['winding', 'circuit', 'drive', 'torque']) {
  scene(`${tool}: the example is answered while nothing is typed, and shown nowhere`, { at: `#/${tool}` }, async (page) => {
    await page.waitForFunction(() => performance.getEntriesByName('warm').length > 0);
    assert.equal(await answered(page), false, `${tool}: the form should wait for figures`);
    const filled = (tool) => [...document.querySelectorAll(`#${tool} .entry > input`)].filter((input) => input.value).length;
    assert.equal(await page.evaluate(filled, tool), 0, `${tool}: no field is filled`);
    const kept = await stored(page, tool);
    assert.deepEqual(JSON.parse(kept ?? '{"given":{}}').given, {}, `${tool}: nothing is kept`);
  });
}

// The module is unpacked and compiled in a worker, and in the page where that does not come to anything. How often the page does it
// itself is counted by what it asks the browser to compile.
function counted() {
  globalThis.compiledHere = 0;
  const { compileStreaming } = WebAssembly;
  WebAssembly.compileStreaming = (...args) => {
    globalThis.compiledHere++;
    return compileStreaming.apply(WebAssembly, args);
  };
}
const deaf = `globalThis.Worker = class extends EventTarget { postMessage() {} terminate() {} };`;
const dead = `globalThis.Worker = class extends EventTarget {
  constructor() { super(); setTimeout(() => this.dispatchEvent(new Event('error'))); }
  postMessage() {}
  terminate() {}
};`;
const wrong = `globalThis.Worker = class extends Worker {
  constructor() { super(URL.createObjectURL(new Blob(['postMessage("here"); postMessage({ wrong: "odd" })']))); }
};`;
const none = 'delete globalThis.Worker;';
const wordless = `globalThis.Worker = class extends Worker {
  postMessage(it) { super.postMessage('words' in it ? { ...it, words: '' } : it); }
};`;
for (const [what, worker, here, expects] of [
  ['a worker', '', 0],
  ['a worker in which it does not run', wordless, 0, /exit code: 2/],
  ['a worker that does not begin', deaf, 1],
  ['a worker that cannot begin', dead, 1],
  ['a worker that fails', wrong, 1],
  ['no worker', none, 1],
]) {
  const init = `(${counted})(); ${worker}`;
  const options = { at: '#/winding', fresh: true, init: { content: init }, expects };
  scene(`with ${what} the module comes`, options, async (page) => {
    await fill(page, 'winding', plain);
    assert.equal(await verdict(page), 'within', 'winding: the verdict');
    assert.equal(await page.evaluate(() => globalThis.compiledHere), here, `${what}: compiled in the page`);
  });
}

// orders has what the page sends its workers, with words cut short.
const orders = `globalThis.orders = [];
globalThis.Worker = class extends Worker {
  postMessage(it) {
    if (!('file' in it || 'bytes' in it)) orders.push(JSON.stringify(it, (key, value) => (key === 'words' ? value.length : value)));
    super.postMessage(it);
  }
};`;
const LINK = '#/winding?v=1&reading=6.90ohm&at=88degC';
scene('the worker is told what the page was opened with', { at: LINK, init: { content: orders } }, async (page) => {
  const [fetching, asking, ...others] = (await page.evaluate(() => globalThis.orders)).map(JSON.parse);
  assert.deepEqual(fetching, { cache: 'default' });
  assert.ok(asking.words > 10_000, 'the words');
  assert.deepEqual(asking, { words: asking.words, hash: LINK, language: 'en', locale: 'en-GB' });
  assert.deepEqual(others, []);
});

// ---- on the way to a place

const formsLate = async (page) => {
  const late = new Promise((resolve) => (page.letCome = resolve));
  await page.route('**/forms.packed*', async (route) => {
    await late;
    await route.continue();
  });
};
const look = "addEventListener('load', () => (globalThis.atLoad = document.getElementById('start').checkVisibility()));";
const onItsWay = { wait: false, route: formsLate, init: { content: look } };
scene('a link does not show the first screen on its way; but it does if nothing comes', { at: LINK, ...onItsWay }, async (page) => {
  await page.waitForFunction(() => globalThis.atLoad !== undefined);
  assert.equal(await page.evaluate(() => globalThis.atLoad), false, 'at first');
  await page.waitForSelector('#start', { state: 'visible' });
  page.letCome();
  await page.waitForSelector('#winding', { state: 'visible' });
  assert.equal(await page.isVisible('#start'), false, 'in the end');
});
scene('without a link the first screen is there before any form', onItsWay, async (page) => {
  await page.waitForFunction(() => globalThis.atLoad !== undefined);
  assert.equal(await page.evaluate(() => globalThis.atLoad), true);
  page.letCome();
});

// shifts adds up how far what is seen jumps while nobody does anything, as browsers count it.
const shifts = `globalThis.shifted = 0;
new PerformanceObserver((list) => list.getEntries().forEach(({ value }) => (globalThis.shifted += value))).observe({
  type: 'layout-shift', buffered: true,
});`;
for (const [what, at, most] of [['the first screen', '', 0.02], ['a link', LINK, 0.1]]) {
  scene(`${what} hardly jumps while it comes`, { at, fresh: true, init: { content: shifts } }, async (page) => {
    await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve, 200))));
    const jumped = await page.evaluate(() => globalThis.shifted);
    assert.ok(jumped < most, `${what}: ${jumped} of at most ${most}`);
  });
}
