// The module of the page as it is delivered, without a browser: node --test site/test/module.test.mjs (after make build)
import { webcrypto } from 'node:crypto';
import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { before, test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { cli, program, repository, run, runLines } from './program.mjs';
import { same } from './same.mjs';
import { unpacked } from './unpacked.mjs';

globalThis.crypto ??= webcrypto; // Node.js 18 has it, under another name

let ohmwright;

before(async () => {
  program(); // makes the module too, where nothing was made yet
  const built = (name) => join(repository, 'site', 'built', name);
  await import(pathToFileURL(built('wasm_exec.js')));
  const go = new Go();
  const { instance } = await WebAssembly.instantiate(unpacked(readFileSync(built('ohmwright.packed'))), go.importObject);
  ohmwright = await new Promise((resolve, reject) => {
    globalThis.ohmwrightReady = resolve;
    go.run(instance).then(() => reject(new Error('the module ended')), reject);
  });
});

const ask = (tool, request) => JSON.parse(ohmwright.run(tool, request));
const tools = cli('tools');

// vectors are the check values of the tools: [id, tool, request].
function vectors() {
  const directory = join(repository, 'testdata');
  return readdirSync(directory)
    .filter((name) => name.endsWith('.json'))
    .flatMap((name) => JSON.parse(readFileSync(join(directory, name), 'utf8')).vectors)
    .filter((vector) => vector.in.tool)
    .map(({ id, in: { tool, request, text, repeat = [] } }) => {
      let asked = text ?? JSON.stringify(request);
      for (const { mark, piece, join = '', times } of repeat) asked = asked.replace(mark, () => Array(times).fill(piece).join(join));
      return [id, tool, asked];
    });
}

test('tools and describe are those of the command line', () => {
  assert.deepEqual(JSON.parse(ohmwright.tools()), tools, 'tools: the module differs from the program');
  for (const { tool } of tools) {
    assert.deepEqual(JSON.parse(ohmwright.describe(tool)), cli('describe', tool), `describe ${tool}: the module differs from the program`);
  }
});

test('every example is answered as on the command line', () => {
  for (const { tool } of tools) {
    const request = JSON.stringify(JSON.parse(ohmwright.describe(tool)).example);
    const response = ask(tool, request);
    assert.equal(response.ok, true, `run ${tool}: its example should be answered: ${JSON.stringify(response.errors)}`);
    same(response, run(tool, request).response, `run ${tool}`);
  }
});

test('every check value is answered as on the command line, numbers to 1e-12', (t) => {
  const all = vectors();
  assert.ok(all.length > 100, `${all.length} vectors`);
  const byTool = new Map();
  for (const [id, tool, request] of all) {
    if (!tools.some((known) => known.tool === tool)) {
      const { errors } = ask(tool, request);
      assert.deepEqual(
        errors.map((e) => e.code),
        ['unknown'],
        id,
      ); // a slip of the call on the command line
      continue;
    }
    byTool.set(tool, [...(byTool.get(tool) ?? []), [id, request]]);
  }
  let compared = 0;
  for (const [tool, asked] of byTool) {
    // Starting the program for each would take longer than all the rest: what fits on a line is asked in one stream.
    const lines = asked.filter(([, request]) => request.trim() !== '' && !/[\r\n]/.test(request));
    const responses = new Map(
      runLines(
        tool,
        lines.map(([, request]) => request),
      ).map((response, i) => [lines[i], response]),
    );
    for (const entry of asked) {
      const [id, request] = entry;
      same(ask(tool, request), responses.get(entry) ?? run(tool, request).response, `run ${tool}, vector ${id}: `);
      compared++;
    }
  }
  assert.equal(compared, all.filter(([, tool]) => byTool.has(tool)).length, 'every vector of a known tool should be compared');
  t.diagnostic(`${all.length} vectors`);
});

test('a reader of another locale gets words, and numbers in their notation', () => {
  const form = JSON.stringify({ reading: '9,75 ohm', at: '24 degC', leads: '0,25 ohm' });
  for (const locale of ['de', 'de-AT', 'fr-CA', 'ja', 'en-GB', 'no-such-locale-at-all']) {
    const reply = ohmwright.answer('winding', form, 'en', locale);
    assert.equal(JSON.parse(reply).answered, true, locale);
    assert.doesNotMatch(reply, /"(sheet|winding|source|caution|fault)\.[a-z_.]+"/, `${locale}: a key instead of words`);
  }
  assert.match(ohmwright.answer('winding', form, 'en', 'de'), /9,50/);
});

test('odd arguments are answered, and the module stays alive', () => {
  const request = '{"reading": "9.7 ohm", "at": "24 degC"}';
  const huge = '9'.repeat(8 << 20);
  const odd = [
    [],
    [undefined],
    [null, null, null],
    [1, 2, 3],
    [NaN],
    [{}, []],
    [Symbol('odd'), Symbol('odd')],
    [() => {}],
    [10n ** 30n, 1n],
    ['winding'],
    ['winding', '\ud800', '\ud800'],
    [huge, huge, huge],
    ['winding', `{"reading": "${huge}"}`],
    ['winding', '['.repeat(1 << 20), 'en'],
    ['winding', request, 'xx-no-such'],
    ['winding', request, 'en', 4, 5, 6],
  ];
  for (const name of Object.keys(ohmwright)) {
    for (const args of odd) {
      const out = ohmwright[name](...args);
      assert.equal(typeof out, 'string', `${name} should answer odd arguments with a text`);
      JSON.parse(out);
      assert.ok(out.length < 1 << 16, `${name}: ${out.length}`);
    }
    assert.equal(ask('winding', request).ok, true, `after odd arguments to ${name} the winding should be answered`);
  }
  const jobs = ['jobLine', 'jobNote', 'jobRead', 'jobRecord'];
  assert.deepEqual(Object.keys(ohmwright).sort(), ['answer', 'code', 'describe', ...jobs, 'mark', 'open', 'run', 'tools']);
});
