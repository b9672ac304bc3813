// The main job in another browser than Chromium: one vehicle from its code to the handover, kept, without a network, as a link and as
// a file.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { serve } from './browser.mjs';
import { explained } from './explain.mjs';
import { entered, inside, kept } from './jobs.mjs';
import { saidBy } from './joblinks.mjs';
import { startHost } from './host.mjs';
import { program } from './program.mjs';
import { field, go, headText, reload, says, verdict } from './reader.mjs';
import { lost } from './stories.mjs';
import { on } from './torque.mjs';

const later = (ms) => new Promise((resolve) => setTimeout(resolve, ms));
const home = 'header a:has(#home-name)';
export const ready = (page) => page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
const shown = (page, tool) => page.waitForFunction((id) => !document.getElementById(id).hidden, tool);
// judged waits until the head has a kind of verdict.
async function judged(page, kind) {
  for (const end = Date.now() + 30_000; (await verdict(page).catch(() => '')) !== kind; await later(50)) {
    if (Date.now() > end) assert.fail(`the verdict should be ${kind}, and is ${await verdict(page)}`);
  }
}
const put = async (page, tool, texts) => {
  for (const [path, text] of Object.entries(texts)) await page.fill(field(tool, path), text);
};
const choose = (page, name, value) => page.tap(`label:has(input[name="${name}"][value="${value}"])`);

// What a browser may complain of once the host is gone: that it does not answer.
const unreachable = /NetworkError|network|fetch|connect|ServiceWorker|script|load/i;

// playIn tests a browser that start starts: that what a page complains of is seen, that nothing comes twice, and the main job.
export function playIn(start, phone) {
  let page;
  before(async () => (page = await start(phone)), { timeout: 180_000 });
  after(() => page?.stop());
  const scene = (name, host, act) =>
    test(name, { timeout: 300_000 }, async (t) => {
      const at = await host();
      t.after(() => at.stop());
      try {
        await act(at, t);
      } catch (e) {
        page.faults = await page.complaints(at.base).catch(() => []);
        throw await explained(e, page);
      }
    });

  scene('what a page complains of is seen', complaining, async (host, t) => {
    t.diagnostic(page.version);
    await page.goto(host.base);
    await page.waitForFunction(() => document.title === 'done');
    const seen = (await page.complaints(host.base)).join('\n');
    for (const one of ['thrown by a script', 'written by a script', 'rejected by a promise', 'Content-Security-Policy']) {
      assert.match(seen, new RegExp(one), `of what ${page.version} told`);
    }
  });

  scene('a first visit asks for each file once', withoutWorker, async (host) => {
    await page.goto(host.base);
    await ready(page);
    for (const name of ['index.html', 'core.js', 'style.css', 'forms.packed', 'ohmwright.packed']) {
      assert.equal(host.asked.get(name), 1, `how often ${name} was asked for`);
    }
  });

  scene('a page that was put aside holds nothing up, and goes on when it is gone back to', serve, (host, t) => goesBack(page, host, t));

  scene('the main job, without a network too', serve, (host, t) => mainJob(page, host, t));
}

// withoutWorker is a host of the site that keeps silent about its service worker, which would ask for all files again.
async function withoutWorker() {
  const directory = mkdtempSync(join(tmpdir(), 'ohmwright-site-'));
  execFileSync(program(), ['build', directory]);
  const host = await startHost(directory);
  host.spoil('never', 'sw.js');
  const stop = () => {
    rmSync(directory, { recursive: true });
    return host.stop();
  };
  return Object.assign(Object.create(host), { stop });
}

// complaining is a host whose one page does everything wrong that the main job must not do.
async function complaining() {
  const policy = "default-src 'none'; script-src 'self'";
  const script = `setTimeout(() => {
    setTimeout(() => { document.title = 'done'; }, 500);
    document.body.append(Object.assign(document.createElement('script'), { text: 'document.title = "not allowed"' }));
    console.error('written by a script'); Promise.reject(new Error('rejected by a promise')); throw new Error('thrown by a script');
  }, 1500);`;
  const page = '<!doctype html><title>wrong</title><body><script src="wrong.js"></script>';
  const server = createServer((request, response) => {
    const [type, text] = request.url === '/wrong.js' ? ['text/javascript', script] : ['text/html', page];
    response.writeHead(200, { 'content-type': type, 'content-security-policy': policy }).end(text);
  });
  await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));
  const stop = () => new Promise((resolve) => (server.close(resolve), server.closeAllConnections()));
  return { base: `http://127.0.0.1:${server.address().port}/`, stop };
}

// goesBack does so twice: WebKit puts the page aside here only the second time.
async function goesBack(page, host, t) {
  const hows = [await goesBackOnce(page, host, 'Tarn 24, first'), await goesBackOnce(page, host, 'Tarn 24, second')];
  t.diagnostic(`gone back to: ${hows.join(', then ')}`);
}

// goesBackOnce opens a link in the place of a new job, at once after a change, changes the job there, and goes back.
async function goesBackOnce(page, host, vehicle) {
  const theJob = async () => (await inside(page)).find(({ job }) => job.facts.given.vehicle.startsWith(vehicle)).job;
  await page.goto(`${host.base}?${vehicle.length}`);
  await ready(page);
  await page.tap('#start [data-job="new"]');
  await page.fill('#job-vehicle', vehicle);
  await kept(page);
  await go(page, '#/winding');
  await shown(page, 'winding');
  await put(page, 'winding', { 'specs.0.min': '5.0' });
  await page.waitForFunction(() => location.hash.endsWith('specs.0.min=5.0ohm')); // and it lacks the rest when the page is left
  await put(page, 'winding', { 'specs.0.max': '5.6', at: '20', reading: '5.3' });
  await judged(page, 'within');
  const before = await page.evaluate(() => {
    globalThis.isSame = true;
    addEventListener('pageshow', () => sessionStorage.setItem('aside', 'yes'));
    return history.length;
  });
  await page.goto(`${host.base}?from=home#/winding?v=1&reading=6.8ohm`);
  await ready(page);
  const left = await theJob();
  assert.equal(left.forms.winding.given.reading, '5.3', 'what was typed last is kept');
  assert.match(JSON.stringify(left.entries), /"answer"/, 'and the answer that stood there when the page was left');
  await go(page, '#/jobs');
  await page.tap('.job-open');
  await saidBy(page, 'job.opened');
  await go(page, '#/jobs');
  await page.fill('#job-vehicle', `${vehicle}, red`);
  await kept(page);
  await page.evaluate((before) => setTimeout(() => history.go(before - history.length)), before);
  await page.waitForFunction(() => location.search !== '?from=home' && !globalThis.isSame);
  await ready(page);
  const how = (await page.evaluate(() => sessionStorage.aside)) ? 'a page put aside' : 'a page let go';
  await page.evaluate(() => sessionStorage.removeItem('aside'));
  await page.waitForFunction((name) => document.getElementById('home-name').textContent.startsWith(name), `${vehicle}, red`);
  await put(page, 'winding', { reading: '4.4' });
  await judged(page, 'below');
  await kept(page);
  const { forms, facts } = await theJob();
  assert.deepEqual([forms.winding.given.reading, facts.given.vehicle], ['4.4', `${vehicle}, red`], 'the job has both changes');
  return how;
}

// ---- the job, step by step; each begins where the last has ended

// stepping returns what takes a step, and tells how long it took.
export const stepping = (page, t) => async (name, act) => {
  const began = performance.now();
  const said = await act();
  t.diagnostic(`${name}: ${((performance.now() - began) / 1000).toFixed(1)} s${said ? `; ${said}` : ''}`);
  if (process.env.OHMWRIGHT_PICTURES) await page.screenshot(`${process.env.OHMWRIGHT_PICTURES}/${name.replaceAll(' ', '-')}.png`);
};

// fromCodeToHandover does the job, and loads the page again.
export async function fromCodeToHandover(page, host, step) {
  await step('first screen', () => begins(page, host));
  await step('code', () => reads(page));
  await step('winding', () => measures(page));
  await step('circuit', () => follows(page));
  await step('torque', () => tightens(page));
  await step('handover', () => handsOver(page));
  await step('reload', () => staysKept(page));
}

async function mainJob(page, host, t) {
  const step = stepping(page, t);
  await fromCodeToHandover(page, host, step);
  await step('ready to go offline', () => says(page, 'offline', 'offline'));
  const before = await page.complaints(host.base);
  assert.deepEqual(before, [], 'the page should write no errors or warnings to the console, and keep to its policy');
  await host.stop();
  await step('offline', () => worksOffline(page, host));
  await step('link', () => opensLink(page, host));
  await step('file', () => goesThroughFile(page));
  const after = (await page.complaints(host.base)).filter((text) => !unreachable.test(text));
  assert.deepEqual(after, [], 'offline, the page should complain of nothing but that its host is gone');
}

async function begins(page, host) {
  await page.goto(host.base);
  await ready(page);
  const size = await page.evaluate(() => [innerWidth, innerHeight, document.documentElement.scrollWidth]);
  assert.ok(size[2] <= size[0], `the first screen is wider than the window: ${size}`);
  await page.tap('#start [data-job="new"]');
  await page.fill('#job-vehicle', 'Tarn 24');
  await page.fill('#job-complaint', 'Stays in third gear when hot');
  await kept(page);
  await page.tap(home);
  return `window ${size[0]} × ${size[1]}`;
}

async function reads(page) {
  await page.tap('.door[href="#/code"]');
  await page.fill(field('code', 'code'), 'P0962');
  await judged(page, 'low');
  assert.equal(await verdict(page), 'low', 'code P0962: the verdict');
  await page.tap(home);
}

// measures reads a sound winding first, then one that has lost turns: the verdict follows.
async function measures(page) {
  await page.tap('.choices a[href="#/winding"]');
  await shown(page, 'winding');
  await put(page, 'winding', { reading: '6.8', at: '88', 'specs.0.min': '5.0', 'specs.0.max': '5.6' });
  await judged(page, 'within');
  await choose(page, 'winding-measured_at', 'component_connector');
  await put(page, 'winding', { reading: lost.resistance_component });
  await judged(page, 'below');
  await page.tap('#winding [data-carry="circuit"]');
  await shown(page, 'circuit');
}

// follows takes the tests that the card asks for, until the page decides.
async function follows(page) {
  await choose(page, 'circuit-side', 'high');
  await choose(page, 'circuit-return', 'case');
  await put(page, 'circuit', { supply: '13.8', 'costs.wrong.component': '700' });
  assert.equal(await page.inputValue(field('circuit', 'winding_temperature')), '88', 'the temperature goes along');
  assert.equal(await page.inputValue(field('circuit', 'readings.0.value')), lost.resistance_component, 'the reading goes along');
  const taken = [];
  for (;;) {
    await page.waitForFunction(() => !document.querySelector('#circuit [data-late]'));
    if (!['test', 'again'].includes(await verdict(page))) break;
    const asked = await page.evaluate(() => document.querySelector('#circuit .p-next').dataset.test);
    assert.ok(!taken.includes(asked) && taken.length < 12, `the page asks for ${[...taken, asked].join(', ')}`);
    await page.tap('#circuit .p-next [data-pick]');
    const path = await page.waitForFunction(() => document.activeElement.closest('[data-path]')?.dataset.path);
    const key = `#circuit [data-path="${path}"] [data-put="${lost[asked]}"]`;
    const isKey = await page.evaluate((css) => document.querySelector(css)?.checkVisibility(), key);
    await (isKey ? page.tap(key) : page.fill(field('circuit', path), lost[asked]));
    taken.push(asked);
  }
  assert.ok(taken.length >= 2, `tests taken: ${taken}`);
  assert.match(await headText(page), /^Replace the component/);
  return taken.join(', ');
}

// tightens converts a torque, and taps four bolts on the plate.
async function tightens(page) {
  await page.tap('#circuit .carry a[href="#/torque"]');
  await shown(page, 'torque');
  await put(page, 'torque', { torque: '8' });
  await page.waitForFunction(() => document.querySelector('#torque .head').textContent.includes('70.81'));
  const corners = [[20, 85], [80, 85], [80, 20], [20, 20]];
  // isSeen brings the plate into the window, and reports whether it has stayed there since the frame before.
  const isSeen = () => {
    const plate = document.querySelector('#torque [data-plate]');
    const { top, bottom } = plate.getBoundingClientRect();
    plate.scrollIntoView({ block: 'center', behavior: 'instant' });
    return top >= 0 && bottom <= innerHeight;
  };
  for (const [i, [x, y]] of corners.entries()) {
    await page.waitForFunction(isSeen);
    await page.tapAt(...(await on(page, x, y)));
    await page.waitForFunction((n) => document.querySelectorAll('#torque [data-plate] [data-bolt]').length === n, i + 1);
  }
  const places = await page.evaluate(() =>
    [0, 1, 2, 3].map((i) => ['x', 'y'].map((axis) => document.getElementById(`torque-bolts.${i}.${axis}`).value).join(' ')),
  );
  assert.deepEqual(places, ['20 85', '80 85', '80 20', '20 20'], 'where the bolts are');
}

async function handsOver(page) {
  await page.tap('#torque [data-carry="handover"]');
  await shown(page, 'handover');
  const known = { vehicle: 'Tarn 24', complaint: 'Stays in third gear when hot', code: 'P0962', supply: '13.8' };
  for (const [path, text] of Object.entries(known)) {
    assert.equal(await page.inputValue(field('handover', path)), text, `handover, field ${path}: what is known already`);
  }
  await put(page, 'handover', { repair: 'Solenoid 2 replaced', 'bolts.0.length': '20', 'bolts.0.off': '14', 'bolts.0.on': '13' });
  await judged(page, 'counts_differ');
  await put(page, 'handover', { 'bolts.0.on': '14' });
  await judged(page, 'not_recorded');
  await kept(page);
}

// whole is what the open job has in every form, and its document.
export async function whole(page) {
  const [{ job }, ...more] = await inside(page);
  assert.equal(more.length, 0, 'one job is kept');
  const forms = {};
  for (const tool of ['code', 'winding', 'circuit', 'torque', 'handover']) {
    await go(page, `#/${tool}`);
    await shown(page, tool);
    forms[tool] = { held: await entered(page, tool), head: await headText(page) };
  }
  return { job: job.forms, forms };
}

async function staysKept(page) {
  const before = await whole(page);
  assert.match(before.forms.circuit.head, /^Replace the component/);
  await kept(page);
  await reload(page);
  assert.deepEqual(await whole(page), before, 'all that was entered and answered stands there after a reload');
}

async function worksOffline(page, host) {
  const before = await whole(page);
  await assert.rejects(fetch(host.base), 'the host is gone');
  await reload(page);
  assert.deepEqual(await whole(page), before, 'all that was entered and answered stands there offline');
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '19' });
  await judged(page, 'above');
  await put(page, 'winding', { reading: lost.resistance_component });
  await judged(page, 'below');
  await says(page, 'offline', 'offline');
  await kept(page);
}

// opensLink opens a link as one from elsewhere does, and goes back to the job, which is as it was.
async function opensLink(page, host) {
  const [{ job: before }] = await inside(page);
  await page.goto(`${host.base}?from=home#/winding?v=1&reading=6.8ohm&at=88degC&specs.0.min=5.0ohm&specs.0.max=5.6ohm`);
  await ready(page);
  await judged(page, 'within');
  assert.equal(await page.inputValue(field('winding', 'reading')), '6.8', 'winding, field reading: the link’s');
  const [{ job: after }] = await inside(page);
  assert.deepEqual(after.forms, before.forms, 'the job that was open is as it was');
}

export async function goesThroughFile(page) {
  await go(page, '#/jobs');
  await page.tap('.job-open');
  await saidBy(page, 'job.opened');
  await go(page, '#/jobs');
  const { name, text } = await page.download(() => page.tap('#job-head [data-job="export"]'));
  assert.equal(name, 'Tarn 24.ohmwright-job.json');
  assert.equal(JSON.parse(text).forms.winding.given.reading, lost.resistance_component, 'what the file has');
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '4.4' });
  await kept(page);
  await go(page, '#/jobs');
  await page.offer('#job-file', text);
  assert.equal(await saidBy(page, 'job.import.c'), 'job.import.copy');
  const readings = (await inside(page)).map(({ job }) => job.forms.winding.given.reading).sort();
  assert.deepEqual(readings, [lost.resistance_component, '4.4'].sort(), 'the file opens beside the job, and replaces nothing');
}
