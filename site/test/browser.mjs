// A real browser on the page: Debian's Chromium, the server of the program, and what a reader sees.
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, join, normalize } from 'node:path';
import { after, before, test } from 'node:test';
import { chromium } from 'playwright-core';
import { program } from './program.mjs';

export const phone = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 };
export const laptop = { viewport: { width: 1280, height: 800 } };
const patience = 15_000; // for a condition to come true; nothing here measures time

const flags = ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'];

let browser, server;
export let base; // where the page is
export const seenByProxy = []; // whatever would have left the device

// useBrowser starts one browser and one server for a file of tests.
export function useBrowser() {
  let proxy;
  before(async () => {
    // All that is not this device goes to a proxy that notes it and answers nothing.
    proxy = createServer((request, response) => {
      seenByProxy.push(request.url);
      response.writeHead(502).end();
    });
    proxy.on('connect', (request, socket) => {
      seenByProxy.push(request.url);
      socket.on('error', () => {}); // the browser may have given up already
      socket.end('HTTP/1.1 502 none\r\n\r\n');
    });
    await new Promise((resolve) => proxy.listen(0, '127.0.0.1', resolve));
    server = await serve();
    base = server.base;
    browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: [...flags, `--proxy-server=http://127.0.0.1:${proxy.address().port}`] });
  }, { timeout: 180_000 });
  after(async () => {
    await browser?.close();
    await server?.stop();
    proxy?.closeAllConnections();
    proxy?.close();
  });
}

// serve starts "ohmwright serve".
export async function serve(address = '127.0.0.1:0') {
  const process = spawn(program(), ['serve', '--address', address], { stdio: ['ignore', 'pipe', 'inherit'] });
  const base = await new Promise((resolve, reject) => {
    let said = '';
    process.stdout.on('data', (b) => {
      said += b;
      const at = /http:\/\/[\d.:]+/.exec(said);
      if (at) resolve(at[0]);
    });
    process.on('error', reject);
    process.on('exit', (status) => reject(new Error(`serve ended with ${status}: ${said}`)));
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

const kinds = { '.html': 'text/html; charset=utf-8', '.js': 'text/javascript', '.css': 'text/css', '.wasm': 'application/wasm', '.svg': 'image/svg+xml', '.png': 'image/png', '.webmanifest': 'application/manifest+json' };

// serveFiles serves a directory as any plain host would, and can be stopped and started on the same port.
export async function serveFiles(directory, port = 0) {
  const host = createServer((request, response) => {
    const { pathname } = new URL(request.url, 'http://host');
    const name = normalize(pathname === '/' ? '/index.html' : pathname);
    try {
      const content = readFileSync(join(directory, name));
      response.writeHead(200, { 'content-type': kinds[extname(name)] ?? 'application/octet-stream', 'cache-control': 'no-cache' }).end(content);
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

// scene is a test on a page of its own: a fresh visitor, at a place. Whatever goes wrong in the page fails it.
// options: at (the fragment), size, init (a script before the page's), workers (service workers are wanted), expects
// (a pattern of console errors that belong to the test), base; the rest is the browser's.
export function scene(name, options, act) {
  test(name, { timeout: 120_000 }, async (t) => {
    const page = await visit(options);
    try {
      await act(page, t).catch((e) => {
        if (page.faults.length > 0) e.message += `\nThe page: ${page.faults.join('; ')}`;
        throw e;
      });
      assert.deepEqual(page.faults, [], 'the page has faults');
    } finally {
      await page.context().close();
    }
  });
}

export async function newContext({ size = phone, locale = 'en-GB', workers = false, ...rest } = {}) {
  const context = await browser.newContext({ ...size, locale, serviceWorkers: workers ? 'allow' : 'block', ...rest });
  context.setDefaultTimeout(patience);
  return context;
}

export async function visit({ at = '', init, expects, base: where = base, route, wait = true, context, ...rest } = {}) {
  context ??= await newContext(rest);
  if (init) await context.addInitScript(init);
  const page = await context.newPage();
  page.faults = [];
  const fault = (text) => {
    if (!(expects && expects.test(text)) && !/Service Worker registration blocked by Playwright/.test(text)) page.faults.push(text);
  };
  page.on('console', (m) => ['error', 'warning'].includes(m.type()) && fault(`console: ${m.text()}`));
  page.on('pageerror', (e) => fault(`error: ${e.message}`));
  page.on('crash', () => fault('the page crashed'));
  if (route) await route(page);
  await page.goto(where + at, { waitUntil: wait ? 'load' : 'commit' });
  if (wait) {
    await ready(page).catch(async (e) => {
      await page.context().close();
      throw new Error(`the page did not start: ${page.faults.join('; ') || e.message}`);
    });
  }
  return page;
}

// ready waits until the page answers.
export const ready = (page) => page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');

// word is what scripts say under a key.
export const word = (page, key) => page.evaluate((k) => JSON.parse(document.getElementById('words').textContent)[k], key);

// says waits until an element of the page says a key's words.
export async function says(page, id, key) {
  const text = await word(page, key);
  assert.ok(text, key);
  await page.waitForFunction(([id, text]) => document.getElementById(id).textContent.includes(text), [id, text]);
}

// id selects a field's input by its path.
export const field = (tool, path) => `[id="${tool}-${path}"]`;

// type types into a field as a reader does, key by key, in place of what was there.
export async function type(page, tool, path, text) {
  await unfold(page, field(tool, path));
  await page.fill(field(tool, path), '');
  await page.locator(field(tool, path)).pressSequentially(text);
}

// unfold opens whatever an element is folded away in, by its summaries.
export async function unfold(page, selector) {
  for (;;) {
    const folded = page.locator(`details:not([open])`).filter({ has: page.locator(selector) });
    if ((await folded.count()) === 0) return;
    await folded.first().locator(':scope > summary').click();
  }
}

// choose chooses a unit or a word of a choice, by its value.
export async function choose(page, name, value) {
  const radio = `input[name="${name}"][value="${value}"]`;
  await unfold(page, radio);
  await page.check(radio);
}

// press presses a button of the tool shown, by what it does.
export const press = (page, name) => page.click(`main > section:not([hidden]) [data-do="${name}"]:visible`);

// verdict is the kind of answer at the head: its mark.
export const verdict = (page) =>
  page.evaluate(() => {
    const head = document.querySelector('main > section:not([hidden]) [role="status"]').firstElementChild;
    return head ? (head.dataset.verdict ?? /\bv-(\w+)/.exec(head.className)?.[1]) : '';
  });

export const answered = (page) => page.evaluate(() => document.querySelector('main > section:not([hidden])').dataset.answered === 'yes');

// headText and answerText are what is read at the head and in the answer.
export const headText = (page) => page.evaluate(() => document.querySelector('main > section:not([hidden]) [role="status"]').textContent);
export const answerText = (page) => page.evaluate(() => document.querySelector('main > section:not([hidden]) [role="region"]').textContent);

// note is what stands beside a field; echo what was read of it.
export const note = (page, tool, path) => page.evaluate((id) => document.getElementById(id).textContent, `${tool}-${path}-note`);
export const echo = (page, tool, path) => page.evaluate((id) => document.getElementById(id).textContent, `${tool}-${path}-echo`);

// rowVerdicts are the verdicts of the rows, in order.
export const rowVerdicts = (page) => page.$$eval('main > section:not([hidden]) [role="region"] li[data-verdict]', (all) => all.map((e) => e.dataset.verdict));

// warned are the codes of the warnings shown.
export const codes = (page) => page.$$eval('main > section:not([hidden]) :is([role="region"], .slot) li[data-code]', (all) => all.map((e) => e.dataset.code));

// held is all that the form holds: texts, chosen radios, opened parts.
export const held = (page) =>
  page.evaluate(() => {
    const form = document.querySelector('main > section:not([hidden]) form');
    return {
      texts: Object.fromEntries([...form.querySelectorAll('input[type="text"]')].filter((i) => i.value !== '').map((i) => [i.id, i.value])),
      chosen: [...form.querySelectorAll('input[type="radio"]:checked')].filter((i) => !i.defaultChecked).map((i) => `${i.name}=${i.value}`),
      rows: form.querySelectorAll('[data-row]').length,
    };
  });

export const opened = (page) => page.evaluate(() => [...document.querySelectorAll('main > section:not([hidden]) form details[open][data-keep]')].map((d) => d.dataset.keep));

// stored is what the device keeps under a key.
export const stored = (page, key) => page.evaluate((k) => localStorage.getItem(`ohmwright/${k}`), key);

// expected asks the core for what it has to say to a form: {head, notes: {field: [code, text]}}.
export const expected = (page, tool, given) =>
  page.evaluate(
    async ([tool, given]) => {
      const reply = JSON.parse((await globalThis.ohmwright).answer(tool, JSON.stringify(given), document.documentElement.lang, navigator.language));
      const text = (tree) => (typeof tree === 'string' ? tree : tree.slice(2).map(text).join(''));
      return { head: text(reply.head), notes: Object.fromEntries(reply.notes.map((n) => [n.field, [n.code, n.text]])) };
    },
    [tool, given],
  );

// beside checks that a field has a fault of a code beside it, worded as the core words it, and that it is marked.
export async function beside(page, tool, path, code, given) {
  const { notes } = await expected(page, tool, given);
  assert.equal(notes[path]?.[0], code, `${path}: the core says ${JSON.stringify(notes)}`);
  assert.equal(await note(page, tool, path), notes[path][1], path);
  assert.equal(await page.getAttribute(field(tool, path), 'aria-invalid'), 'true', path);
  assert.ok(await page.isVisible(`[id="${tool}-${path}-note"]`), `${path}: the note is seen`);
}

// shows checks that the number before the "±" at the head is a value, to the last figure shown; however many are shown.
export async function shows(page, want) {
  const text = await headText(page);
  const m = /([-\u2212]?\d+(?:[.,](\d+))?) ± /.exec(text);
  assert.ok(m, text);
  const got = Number(m[1].replace('\u2212', '-').replace(',', '.'));
  assert.ok(Math.abs(got - want) <= 0.5001 * 10 ** -(m[2]?.length ?? 0), `${text}; want ${want}`);
}

// ---- a hand on a slider

// finger is one finger on the screen: down, on to other places, and up. Each place is held for a frame.
export async function finger(page, ...places) {
  const session = await page.context().newCDPSession(page);
  const send = (type, touchPoints) => session.send('Input.dispatchTouchEvent', { type, touchPoints });
  const at = ([x, y]) => [{ x, y, id: 1 }];
  const touch = {
    move: async (...more) => {
      for (const place of more) {
        await send('touchMove', at(place));
        await frame(page);
      }
    },
    up: async () => {
      await send('touchEnd', []);
      await frame(page);
      await session.detach();
    },
  };
  await send('touchStart', at(places[0]));
  await touch.move(...places.slice(1));
  return touch;
}

// frame waits until what was done is drawn.
export const frame = (page) => page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))));

// slider is what a slider is and where it stands: its middle line, and along from 0 to 1.
export const slider = (page, tool, path) =>
  page.evaluate((id) => {
    const range = document.getElementById(id);
    const r = range.getBoundingClientRect();
    return {
      x: r.x, y: r.y, width: r.width, height: r.height, middle: r.y + r.height / 2, said: range.ariaValueText, unset: range.classList.contains('unset'),
      value: Number(range.value), along: (range.value - range.min) / (range.max - range.min),
    };
  }, `${tool}-${path}-slide`);

// along is the place of a slider's thumb where the slider stands at a share of its run.
export const along = (s, share) => [s.x + 24 + (s.width - 48) * share, s.middle];

// ---- keyboard

// focused is what has the focus, and whether a reader sees it: ringed, in view, not covered; null for nothing.
export const focused = (page) =>
  page.evaluate(() => {
    const e = document.activeElement;
    if (!e || e === document.body) return null;
    const r = e.getBoundingClientRect();
    const outlines = [e, e.nextElementSibling].filter(Boolean).map((x) => getComputedStyle(x));
    const hit = document.elementFromPoint(Math.min(innerWidth - 1, Math.max(0, r.x + r.width / 2)), Math.min(innerHeight - 1, Math.max(0, r.y + Math.min(r.height / 2, 28))));
    return {
      id: e.id, tag: e.tagName, do: e.dataset.do, point: e.dataset.value, name: e.name, value: e.value, href: e.getAttribute('href'),
      ringed: outlines.slice(0, e.type === 'radio' ? 2 : 1).some((s) => s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2),
      inView: r.bottom > 0 && r.top < innerHeight && r.right > 0 && r.left < innerWidth,
      covered: !(hit && (e.contains(hit) || hit.contains(e) || hit === e.nextElementSibling || e.closest('label')?.contains(hit))),
    };
  });

// tabTo presses Tab until the focus is where it is wanted, and checks every stop on the way.
export async function tabTo(page, wanted, most = 60, key = 'Tab') {
  const stops = [];
  for (let n = 0; n < most; n++) {
    await page.keyboard.press(key);
    const at = await focused(page);
    stops.push(at ? at.id || at.do || at.href || at.name || at.tag : 'nowhere');
    if (!at) continue;
    assert.ok(at.ringed, `no ring on ${JSON.stringify(at)}`);
    assert.ok(at.inView, `out of view: ${JSON.stringify(at)}`);
    assert.ok(!at.covered, `covered: ${JSON.stringify(at)}`);
    if (wanted(at)) return at;
  }
  assert.fail(`not reached by ${key}: ${stops.join(' ')}`);
}
