// A real browser on the page: Debian's Chromium, the server of the program, and a page for each scene.
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { connect, createServer as createDoor } from 'node:net';
import { extname, join, normalize } from 'node:path';
import { after, before, test } from 'node:test';
import { chromium } from 'playwright-core';
import { explained } from './explain.mjs';
import { program } from './program.mjs';

export const phone = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 };
export const laptop = { viewport: { width: 1280, height: 800 } };
const patience = 40_000; // for a condition to come true; nothing here measures time

export const flags = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

// Most files run in Chromium's headless shell: the same engine, network and storage without what a desktop's browser has around them,
// which takes more than half the time of a scene. Files that are about loading, workers and what leaves the device run in the whole.
const whole = '/usr/bin/chromium';
const shell = '/usr/bin/chromium-headless-shell';

const shared = process.env.OHMWRIGHT_AT; // the server that files share, where run.mjs started one
let browser, server;
export let base; // where the page is
export const seenByProxy = []; // whatever would have left the device

// useBrowser starts one browser for a file of tests, the whole where desktop is asked for, and a server unless the files share one.
export function useBrowser({ desktop = false } = {}) {
  let proxy;
  before(
    async () => {
      proxy = await startProxy();
      if (!shared) server = await serve();
      base = shared ?? server.base;
      const args = [...flags, `--proxy-server=http://127.0.0.1:${proxy.address().port}`];
      browser = await chromium.launch({ executablePath: desktop ? whole : shell, args });
    },
    { timeout: 180_000 },
  );
  after(async () => {
    await browser?.close();
    await server?.stop();
    proxy?.closeAllConnections();
    proxy?.close();
  });
}

// startProxy starts a proxy for all that is not this device: it notes what is asked for and answers nothing.
async function startProxy() {
  const proxy = createServer((request, response) => {
    seenByProxy.push(request.url);
    response.writeHead(502).end();
  });
  proxy.on('connect', (request, socket) => {
    seenByProxy.push(request.url);
    socket.on('error', () => {}); // the browser may have given up already
    socket.end('HTTP/1.1 502 none\r\n\r\n');
  });
  await new Promise((resolve) => proxy.listen(0, '127.0.0.1', resolve));
  return proxy;
}

// serve starts "ohmwright serve", or a door to the one that files share: either is at an address of its own and can be stopped.
export const serve = () => (shared ? door(new URL(shared)) : startServer());

async function door({ hostname, port }) {
  const guests = new Set();
  const host = createDoor((near) => {
    const far = connect(port, hostname);
    for (const [one, other] of [
      [near, far],
      [far, near],
    ]) {
      guests.add(one);
      one.on('error', () => {}).on('close', () => guests.delete(one) && other.destroy());
      one.pipe(other);
    }
  });
  await new Promise((resolve, reject) => host.once('error', reject).listen(0, '127.0.0.1', resolve));
  const stop = () =>
    new Promise((resolve) => {
      host.close(resolve);
      for (const guest of guests) guest.destroy();
    });
  return { base: `http://127.0.0.1:${host.address().port}/`, stop };
}

async function startServer(address = '127.0.0.1:0') {
  const process = spawn(program(), ['serve', '--address', address], { stdio: ['ignore', 'pipe', 'inherit'] });
  const base = await new Promise((resolve, reject) => {
    let said = '';
    process.stdout.on('data', (b) => {
      said += b;
      const at = /http:\/\/[\d.:]+/.exec(said);
      if (at) resolve(at[0]);
    });
    process.on('error', reject);
    process.on('exit', (status) => reject(new Error(`"ohmwright serve --address ${address}" ended with status ${status}: ${said}`)));
  });
  const stop = () =>
    new Promise((resolve) => {
      process.removeAllListeners('exit');
      if (process.exitCode !== null || process.signalCode !== null) return resolve();
      process.once('exit', resolve);
      process.kill('SIGINT');
    });
  return { base: base + '/', stop };
}

const kinds = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.wasm': 'application/wasm',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.webmanifest': 'application/manifest+json',
};

// serveFiles serves a directory as any plain host would, and can be stopped and started on the same port.
export async function serveFiles(directory, port = 0) {
  const host = createServer((request, response) => {
    const { pathname } = new URL(request.url, 'http://host');
    const name = normalize(pathname === '/' ? '/index.html' : pathname);
    try {
      const content = readFileSync(join(directory, name));
      const kind = kinds[extname(name)] ?? 'application/octet-stream';
      response.writeHead(200, { 'content-type': kind, 'cache-control': 'no-cache' }).end(content);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise((resolve, reject) => host.once('error', reject).listen(port, '127.0.0.1', resolve));
  const stop = () =>
    new Promise((resolve) => {
      host.close(resolve);
      host.closeAllConnections();
    });
  return { base: `http://127.0.0.1:${host.address().port}/`, port: host.address().port, stop };
}

// ---- scenes

// scene is a test on a page, as someone sees it who comes for the first time. Whatever goes wrong in the page fails it.
//
// Most scenes of a file share one page, which is emptied and loaded again for each: starting a new one takes three times as long.
// A scene that changes what a load does not put right (storage that fails, emulated media, a second window, a listener of the
// browser's) asks for a page of its own with fresh: true. So, without asking, has any that needs what only a new one can have: a
// service worker, a route, a locale.
//
// options: at (the fragment), size, init (a script before the page's), fresh, expects (a pattern of console errors that belong to
// the test), timeout, workers (service workers are wanted), wait (false: do not wait until the page answers), base; the rest is the
// browser's.
export function scene(name, options, act) {
  test(name, { timeout: options.timeout ?? 120_000 }, async (t) => {
    const page = canShare(options) ? await sharedVisit(options) : await visit(options);
    let kept = false;
    try {
      await play(page, () => act(page, t));
      kept = canShare(options) && (await giveBack(page, options).catch(() => false));
    } finally {
      if (!kept) await page.context().close();
    }
  });
}

// elsewhere is a scene on a server of its own, which may stop, with a service worker. start starts it; act gets page, server and test.
export function elsewhere(name, start, { at, locale, timeout = 120_000 }, act) {
  const expects = /ERR_(INTERNET_DISCONNECTED|CONNECTION_REFUSED|FAILED)|Failed to (load|update|fetch)|404/;
  test(name, { timeout }, async (t) => {
    const host = await start();
    t.after(() => host.stop());
    const page = await visit({ base: host.base, workers: true, at, locale, expects });
    try {
      await play(page, () => act(page, host, t));
    } finally {
      await page.context().close();
    }
  });
}

// play acts on a page, explains what fails, and fails for what the page complains of.
async function play(page, act) {
  await act().catch(async (e) => {
    throw await explained(e, page);
  });
  assert.deepEqual(page.faults, [], 'the page should write no errors or warnings to its console');
}

const shareable = ['at', 'size', 'init', 'expects', 'timeout', 'permissions'];
const canShare = (options) => Object.keys(options).every((key) => shareable.includes(key));

// idle are the shared pages that no scene is using, by the kind of device. A page that a scene takes is out of here until that
// scene has passed: one that failed, or that is still at it after its time is up, spoils no other.
const idle = new Map();
const deviceOf = ({ size = phone }) => JSON.stringify({ ...size, viewport: null });

async function sharedVisit(options) {
  const { at = '', size = phone, init, expects, permissions = [] } = options;
  const device = deviceOf(options);
  const page = idle.get(device);
  if (!page) return visit(options);
  idle.delete(device);
  try {
    await page.setViewportSize(size.viewport);
    await page.context().grantPermissions(permissions);
    Object.assign(page, { faults: [], expects });
    if (init) page.init = await page.addInitScript(init);
    await start(page, base + at);
    return page;
  } catch (e) {
    await page.context().close();
    throw e;
  }
}

// giveBack empties a page for the next scene and reports whether it could. It goes by way of a small file of the same origin: the
// browser then keeps the process, and in it the module compiled.
async function giveBack(page, options) {
  const device = deviceOf(options);
  if (idle.has(device) || page.context().pages().length !== 1) return false;
  await page.init?.dispose();
  page.init = null;
  page.between = true; // a browser looks for the icon of a file that is no page
  await page.goto(`${base}icon.svg`);
  await page.context().clearPermissions();
  const left = await page.evaluate(async () => {
    localStorage.clear();
    sessionStorage.clear();
    for (const { name } of await indexedDB.databases()) {
      const gone = indexedDB.deleteDatabase(name);
      await new Promise((resolve) => (gone.onsuccess = gone.onerror = gone.onblocked = resolve));
    }
    return [...(await caches.keys()), ...(await indexedDB.databases()), document.cookie].filter(Boolean);
  });
  if (left.length > 0) return false;
  idle.set(device, page);
  return true;
}

// newContext starts a browser's profile; what scene alone knows of the options is left out.
async function newContext({ size = phone, locale = 'en-GB', workers = false, ...rest }) {
  delete rest.fresh;
  delete rest.timeout;
  const context = await browser.newContext({ ...size, locale, serviceWorkers: workers ? 'allow' : 'block', ...rest });
  context.setDefaultTimeout(patience);
  return context;
}

// visit opens a page in a context of its own, or in the one given.
export async function visit({ at = '', init, expects, base: where = base, route, wait = true, context, ...rest } = {}) {
  context ??= await newContext(rest);
  const page = await context.newPage();
  Object.assign(page, { faults: [], expects });
  listen(page);
  if (init) page.init = await context.addInitScript(init);
  if (route) await route(page);
  await start(page, where + at, wait).catch(async (e) => {
    await context.close();
    throw e;
  });
  return page;
}

// listen gathers in page.faults what the page complains of, except for what page.expects matches.
function listen(page) {
  const fault = (text, where) => {
    const blocked = /Service Worker registration blocked by Playwright/.test(text);
    const known = blocked || page.expects?.test(text) || (page.between && where === `${base}favicon.ico`);
    if (!known) page.faults.push(text);
  };
  page.on('console', (m) => ['error', 'warning'].includes(m.type()) && fault(`console: ${m.text()}`, m.location().url));
  page.on('pageerror', (e) => fault(`error: ${e.message}`));
  page.on('crash', () => fault('the page crashed'));
}

// start goes to an address and, if wanted, waits until the page answers.
async function start(page, address, wait = true) {
  await page.goto(address, { waitUntil: wait ? 'load' : 'commit' });
  if (!wait) return;
  await ready(page).catch((e) => {
    throw new Error(`${address} did not start: ${page.faults.join('; ') || e.message}`);
  });
}

// ready waits until the page answers.
export const ready = (page) => page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
