// The site on hosts of every kind, at the root and below a path: the first answer of a link, and the same without a network.
// node --test site/test/page-hosts.test.mjs
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, describe, test } from 'node:test';
import { ready, serve, useBrowser, visit } from './browser.mjs';
import { explained } from './explain.mjs';
import { startHost } from './host.mjs';
import { field, type, verdict } from './reader.mjs';
import { isNext, make, next } from './versions.mjs';

useBrowser({ desktop: true });

const LINK = '#/winding?reading=13ohm&at=24degC&specs.0.min=12ohm';
const SUB = '/tools/test bench/'; // a path with a space
let directory, site, other;
before(() => {
  directory = mkdtempSync(join(tmpdir(), 'ohmwright-hosts-'));
  site = make(join(directory, 'root'));
  make(join(site, SUB));
  other = make(join(directory, 'next'));
  next(other);
});
after(() => rmSync(directory, { recursive: true, force: true }));

const freePort = () =>
  new Promise((resolve) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address();
      server.close(() => resolve(port));
    });
  });

// run starts a program that serves at a port, and resolves once it answers.
async function run(command, args, port) {
  const program = spawn(command, args, { stdio: ['ignore', 'ignore', 'pipe'] });
  let said = '';
  program.stderr.on('data', (text) => (said += text));
  const ended = new Promise((resolve) => program.once('exit', resolve).once('error', resolve));
  const base = `http://127.0.0.1:${port}/`;
  for (let tries = 0; ; tries++) {
    if (await fetch(base).then((r) => r.ok, () => false)) break;
    if (tries > 100) throw new Error(`${command} does not serve: ${said}`);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  return { base, stop: () => (program.kill('SIGTERM'), ended) };
}

// nginx serves as Debian's package does, with a rule or two more; the worker's processes end with it.
async function nginx(rules) {
  const port = await freePort();
  const folder = mkdtempSync(join(directory, 'nginx-'));
  for (const name of ['body', 'proxy', 'fastcgi', 'uwsgi', 'scgi']) mkdirSync(join(folder, name));
  const names = ['client_body', 'proxy', 'fastcgi', 'uwsgi', 'scgi'];
  const temporary = names.map((name) => `${name}_temp_path ${join(folder, name.replace('client_', ''))};`);
  writeFileSync(
    join(folder, 'nginx.conf'),
    `daemon off; user root; pid ${join(folder, 'pid')}; error_log stderr error; events {}
http { include /etc/nginx/mime.types; default_type application/octet-stream; access_log off; ${temporary.join(' ')}
server { listen 127.0.0.1:${port}; root "${site}"; ${rules} } }\n`,
  );
  return run('/usr/sbin/nginx', ['-c', join(folder, 'nginx.conf'), '-p', folder], port);
}

const FEW = { '.css': 'text/css', '.js': 'text/javascript', '.html': 'text/html' }; // without these no browser takes a page
const OWN = { 'content-security-policy': "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'" };
const plain = (kinds) => startHost(site, { kinds, folders: true });
const HOSTS = {
  "Go's serve": { start: () => serve(), root: true },
  nginx: { start: () => nginx('gzip on; gzip_types *;') },
  'nginx, kept for a year': { start: () => nginx('expires 1y; add_header Cache-Control "public, immutable";') },
  'nginx, / redirected to /index.html': { start: () => nginx('absolute_redirect off; rewrite ^(.*)/$ $1/index.html redirect;') },
  "Python's http.server": {
    async start() {
      const port = await freePort();
      return run('/usr/bin/python3', ['-B', '-m', 'http.server', '--bind', '127.0.0.1', '--directory', site, String(port)], port);
    },
  },
  'the module as text': { start: () => plain({ ...FEW, '.packed': 'text/plain; charset=utf-8' }) },
  'the module as WebAssembly': { start: () => plain({ ...FEW, '.packed': 'application/wasm' }) },
  'a policy of its own, which lets in no script by its hash': { start: () => startHost(site, { headers: OWN, folders: true }) },
  'the module with no type, pictures and manifest too': { start: () => plain({ ...FEW, '.packed': '', '.png': '', '.webmanifest': '' }) },
};

const cases = Object.entries(HOSTS).flatMap(([name, host]) => (host.root ? ['/'] : ['/', SUB]).map((path) => [name, path, host.start]));

async function answersAndKeeps(t, path, start) {
  const host = await start();
  t.after(() => host.stop());
  const base = new URL(encodeURI(path.slice(1)), host.base).href;
  const page = await visit({ base, at: LINK, workers: true, expects: /ERR_|Failed to|Content Security Policy/ });
  try {
    assert.equal(await verdict(page), 'within', 'the first answer');
    await page.waitForFunction(() => document.getElementById('offline').dataset.state === 'yes');
    await page.reload();
    await ready(page);
    await host.stop();
    await page.context().setOffline(true);
    await page.goto(`${base}?again${LINK.replace('13ohm', '9ohm')}`);
    await ready(page);
    assert.equal(await verdict(page), 'below', 'without a network');
    assert.deepEqual(page.faults, []);
  } catch (e) {
    throw await explained(e, page);
  } finally {
    await page.context().close();
  }
}

async function sideBySide(t) {
  const host = await startHost(site, { folders: true, sites: [['/sub/', other]] });
  t.after(() => host.stop());
  const isOffline = (page) => page.waitForFunction(() => document.getElementById('offline').dataset.state === 'yes');
  const first = await visit({ base: host.base, at: '#/winding', workers: true, expects: /ERR_|Failed to/ });
  try {
    await isOffline(first);
    await type(first, 'winding', 'reading', '11');
    const second = await visit({ context: first.context(), base: `${host.base}sub/`, at: '#/winding', expects: /ERR_|Failed to/ });
    await isOffline(second);
    assert.equal(await second.inputValue(field('winding', 'reading')), '', 'what was typed at the root stays there');
    await type(second, 'winding', 'reading', '22');
    const names = await second.evaluate(() => caches.keys());
    assert.deepEqual(names.map((name) => name.split(' ')[1]).sort(), ['/', '/sub/']);
    // A neighbour's page, another version's file and the API are the host's business.
    const before = host.asked.size;
    for (const path of ['other/page.html', 'v1/winding', 'v1', 'app.js?0000000000000000']) {
      await first.evaluate((path) => fetch(path).then(() => {}), path);
    }
    assert.ok(host.asked.size >= before + 3, `asked: ${[...host.asked.keys()]}`);
    await host.stop();
    for (const [page, text, isLater] of [
      [first, '11', false],
      [second, '22', true],
    ]) {
      await page.reload();
      await ready(page);
      assert.equal(await page.inputValue(field('winding', 'reading')), text);
      assert.equal(await isNext(page), isLater);
    }
  } finally {
    await first.context().close();
  }
}

async function takenAlong(t) {
  const host = await startHost(site, { folders: true, sites: [['/sub/', other]] });
  t.after(() => host.stop());
  const kept = async () => {
    if (localStorage.getItem('ohmwright/winding') || localStorage.getItem('ohmwright/sub/winding')) return;
    localStorage.setItem('ohmwright/winding', '{"v":1,"given":{"reading":"33"},"units":{},"names":{},"rows":{},"open":[]}');
    localStorage.setItem('ohmwright/look', 'dark');
    const request = indexedDB.open('ohmwright', 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore('jobs', { keyPath: 'id' }).put({ id: 'one', text: '{"damaged' });
      request.result.createObjectStore('beside').put('text', 'one/file');
    };
    await new Promise((resolve, reject) => Object.assign(request, { onsuccess: resolve, onerror: reject }));
    request.result.close();
  };
  const page = await visit({ base: `${host.base}icon.svg`, wait: false });
  try {
    await page.waitForLoadState();
    await page.evaluate(kept);
    await page.goto(`${host.base}sub/#/winding`);
    await ready(page);
    assert.equal(await page.inputValue(field('winding', 'reading')), '33');
    assert.equal(await page.getAttribute('html', 'data-look'), 'dark');
    await page.goto(`${host.base}sub/#/jobs`);
    await page.waitForSelector('.job-list li');
    await page.goto(`${host.base}sub/#/winding`);
    await type(page, 'winding', 'reading', '44');
    const now = await page.evaluate(() => [localStorage.getItem('ohmwright/winding'), localStorage.getItem('ohmwright/sub/winding')]);
    assert.match(now[0], /"33"/, 'a neighbour may have it under the old name still');
    assert.match(now[1], /"44"/);
  } finally {
    await page.context().close();
  }
}

describe('hosts', { concurrency: 3 }, () => {
  const timeout = 120_000;
  for (const [name, path, start] of cases) {
    test(`${name} at ${path}: first answer and offline`, { timeout }, (t) => answersAndKeeps(t, path, start));
  }
  test('two versions under two paths of one host live side by side', { timeout }, sideBySide);
  test('what was kept at a path under the old names is there under the new ones', { timeout }, takenAlong);
});
