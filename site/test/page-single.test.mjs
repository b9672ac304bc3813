// The whole site as one file, opened from a stick: no server, no network.
// node --test site/test/page-single.test.mjs
import assert from 'node:assert/strict';
import { execFileSync, spawnSync } from 'node:child_process';
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { ready, scene, useBrowser } from './browser.mjs';
import { begin, exported, kept, offer, put, valueOf } from './jobs.mjs';
import { program } from './program.mjs';
import { answered, field, go, reload, says, type, verdict } from './reader.mjs';

const stick = mkdtempSync(join(tmpdir(), 'ohmwright a stick '));
const file = join(stick, 'ohmwright.html');
execFileSync(program(), ['build', '--single', file]);
const base = pathToFileURL(file).href;
process.on('exit', () => rmSync(stick, { recursive: true, force: true }));
useBrowser();

const LINK = '#/winding?v=1&reading=6.90ohm&leads=0.30ohm&at=88degC&specs.0.min=5.0ohm&specs.0.max=5.6ohm';

scene('a link answers, what is typed stays, and it says where', { base, at: LINK }, async (page) => {
  const asked = [];
  page.on('request', (request) => asked.push(request.url()));
  assert.equal(await verdict(page), 'within');
  await says(page, 'offline', 'offline.inside');
  await says(page, 'saved', 'saved');
  await type(page, 'winding', 'reading', '7.5');
  await reload(page);
  assert.equal(await page.inputValue(field('winding', 'reading')), '7.5', 'winding, field reading: what stands in it');
  assert.equal(await answered(page), true, 'the tool shown: the form should be answered');
  assert.deepEqual(asked.filter((address) => !/^(file|data|blob):/.test(address)), [], 'nothing is asked for elsewhere');
  assert.match(await page.textContent('footer details pre'), /BSD|MIT/, 'the licences are in it');
  const moved = join(mkdtempSync(join(stick, 'elsewhere ')), 'tools.html');
  copyFileSync(file, moved);
  await page.goto(`${pathToFileURL(moved).href}#/winding`);
  await ready(page);
  // Another file is another process: the browser hands over what was kept in its own time.
  for (let n = 0; n < 5 && (await page.inputValue(field('winding', 'reading'))) === ''; n++) await reload(page);
  assert.equal(await page.inputValue(field('winding', 'reading')), '7.5', 'the same is there wherever the file lies');
});

scene('it stays in its language, whatever the browser’s is', { base, at: LINK, locale: 'de-DE' }, async (page) => {
  assert.equal(await verdict(page), 'within');
  assert.equal(new URL(page.url()).pathname, new URL(base).pathname);
  assert.equal(await page.getAttribute('html', 'lang'), 'en');
  assert.equal(await page.locator('.languages').count(), 0, 'there is no other to choose');
});

scene('a job, from its first field through a reload to a file and back', { base, at: '' }, async (page) => {
  await begin(page);
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '6.9', at: '88', 'specs.0.min': '5.0' });
  await kept(page);
  await reload(page);
  assert.equal(await valueOf(page, 'winding', 'reading'), '6.9', 'after a reload');
  const { text } = await exported(page);
  await page.evaluate(() => document.querySelector('#job-head [data-job="remove"]').click());
  await page.waitForFunction(() => document.getElementById('job-head').hidden);
  await offer(page, text);
  await page.waitForFunction(() => !document.getElementById('job-head').hidden);
  await go(page, '#/winding');
  assert.equal(await valueOf(page, 'winding', 'reading'), '6.9', 'from the file');
});

scene(
  'a browser that keeps nothing for a file says so, and a job goes out as a file and comes back',
  {
    base,
    at: '#/winding',
    init: () => {
      const refuse = { get: () => { throw new DOMException('no', 'SecurityError'); } };
      for (const name of ['localStorage', 'sessionStorage', 'indexedDB']) Object.defineProperty(globalThis, name, refuse);
    },
  },
  async (page) => {
    await says(page, 'offline', 'offline.inside.unkept');
    await type(page, 'winding', 'reading', '6.9');
    await page.click('#winding [data-do="to-job"]');
    const { text } = await exported(page);
    assert.equal(JSON.parse(text).forms.winding.given.reading, '6.9');
    await page.reload();
    await says(page, 'offline', 'offline.inside.unkept');
    await go(page, '#/jobs');
    await offer(page, text);
    await says(page, 'said', 'job.import.held');
    await go(page, '#/winding');
    assert.equal(await valueOf(page, 'winding', 'reading'), '6.9', 'from the file');
  },
);

test('the program replaces an earlier file, and no other', () => {
  const build = (...args) => spawnSync(program(), ['build', '--single', ...args], { encoding: 'utf8' });
  const before = readFileSync(file);
  assert.equal(build(file).status, 0);
  assert.ok(readFileSync(file).equals(before), 'the same bytes again');
  const own = join(stick, 'own.html');
  writeFileSync(own, '<!doctype html>mine');
  for (const [args, why] of [[[own], /not from an earlier build/], [[], /0 files named/], [[''], /want one/], [[stick], /no plain file/]]) {
    const done = build(...args);
    assert.equal(done.status, 1);
    assert.match(done.stderr, why);
  }
  assert.equal(readFileSync(own, 'utf8'), '<!doctype html>mine');
});
