// Prints what a first visit costs: bytes, time to the first answer, time of a keystroke. Figures of one run, side by side
// with an empty Go module, since a machine's seconds mean little elsewhere.
//   node bench.mjs [rounds]
import { execFileSync } from 'node:child_process';
import { copyFileSync, cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { flags } from './browser.mjs';
import { withReadings } from './circuit.mjs';
import { program, repository } from './program.mjs';
import { serve } from './serve.mjs';
import { stampAs } from './versions.mjs';

const WINDING = [
  '#/winding?v=1&reading=6.90ohm&leads=0.30ohm&at=88degC',
  'meter.resolution=0.01ohm&specs.0.min=5.0ohm&specs.0.max=5.6ohm',
].join('&');
const CIRCUIT = '#/circuit?v=1&side=high&supply=13.8V&spec.min=5ohm&spec.max=5.6ohm&winding_temperature=20degC';
const READINGS = [
  ['resistance_component', '5.4ohm'],
  ['voltage_pin_on', '13.5V'],
  ['current_on', '0.27A'],
  ['resistance_unit', '45.6ohm'],
  ['continuity_harness', '40.3ohm'],
  ['voltage_drop_return', '0.02V'],
];
const DRIVE = [
  '#/drive?v=1&supply=13.8V&resistance=5.3ohm&winding_temperature=88degC&inductance=12mH',
  'frequency=300Hz&duty=45%25&wiring=0.2ohm&driver=0.15ohm&driver_limit=3A',
].join('&');
const HOMEWORK = '#/exercise?v=1&seed=bench-1&level=2';
const SLOW = 4; // how many times as slow the browser is made

const median = (list) => [...list].sort((a, b) => a - b)[list.length >> 1];
const ms = (n) => `${n.toFixed(0)} ms`;
const tenths = (n) => `${n.toFixed(1)} ms`;
const kB = (n) => `${(n / 1000).toFixed(1)} kB`;
const typed = (whole) => Array.from({ length: 60 }, (_, i) => `${whole}.${(i * 37) % 100}`);

let browser;

async function page(throttle, then) {
  const context = await browser.newContext({ viewport: { width: 360, height: 740 } });
  const p = await context.newPage();
  const session = await context.newCDPSession(p);
  if (throttle > 1) await session.send('Emulation.setCPUThrottlingRate', { rate: throttle });
  try {
    return await then(p, context);
  } finally {
    await context.close();
  }
}

// answered opens a link, slowed down, waits for its answer and until the page is at rest, and goes on: what comes for later visits is not
// to count.
const answered = (url, then) =>
  page(SLOW, async (p) => {
    await p.goto(url);
    await p.waitForFunction(() => performance.getEntriesByName('answered').length > 0);
    await p.waitForFunction(() => document.getElementById('offline').dataset.state === 'yes');
    await p.waitForTimeout(500);
    return then(p);
  });

// made makes the site, the same with an empty Go module in it, and the site in one language.
function made(directory) {
  const [site, empty, one] = ['site', 'empty', 'one'].map((name) => join(directory, name));
  execFileSync(program(), ['build', site]);
  execFileSync(program(), ['build', one, '--only']);
  execFileSync('make', ['-s', 'build/empty.wasm'], { cwd: repository, stdio: 'inherit' });
  cpSync(site, empty, { recursive: true });
  copyFileSync(join(repository, 'build/empty.packed'), join(empty, 'ohmwright.packed'));
  stampAs(empty, '0123456789abcdef', readFileSync(join(empty, 'ohmwright.packed')));
  return [site, empty, one];
}

// visited resolves to the bytes of a first visit. They are counted until the page says that it works offline, so the service worker's own
// fetching is in it.
async function visited(site) {
  await page(1, async (p) => {
    site.sent.length = 0;
    await p.goto(site.url);
    await p.waitForFunction(() => document.getElementById('offline').dataset.state === 'yes');
    await p.waitForFunction(() => navigator.serviceWorker.ready.then(() => true));
    await p.waitForTimeout(1500);
  });
  return site.sent.reduce((sum, [, n]) => sum + n, 0);
}

// bytes also compares with a site in one language: a visitor gets the files of one, however many there are.
async function bytes(site, emptySite, oneSite) {
  const total = await visited(site);
  const [module, empty] = [site, emptySite].map((s) => s.files.get('/ohmwright.packed').body.length);
  const modules = `the module ${kB(module)}, an empty Go module ${kB(empty)}`;
  console.log(`first visit, brotli: ${kB(total)} in ${site.sent.length} requests (goal 850 kB); ${modules}`);
  for (const [name, n] of site.sent.filter(([, n]) => n > 3000)) console.log(`  ${name} ${kB(n)}`);
  const alone = await visited(oneSite);
  const pages = [...site.files.keys()].filter((name) => name.endsWith('.webmanifest')).length;
  const more = `${pages} languages ${kB(total)}, of a site with one ${kB(alone)}; ${kB(total - alone)} more (goal at most 5 kB)`;
  console.log(`first visit to a site with ${more}`);
}

// hosts compares the first answer of a homework link on a plain host with that on a compressing one, over a slow line.
async function hosts(directory, rounds) {
  const times = { plain: [], compressing: [] };
  const sent = {};
  for (const kind of Object.keys(times)) {
    const host = await serve(directory, { compresses: kind === 'compressing' });
    for (let i = 0; i < rounds; i++) {
      await page(SLOW, async (p, context) => {
        const session = await context.newCDPSession(p);
        await session.send('Network.enable');
        const bytes = 1.6e6 / 8;
        await session.send('Network.emulateNetworkConditions', {
          ...{ offline: false, latency: 150, downloadThroughput: bytes, uploadThroughput: bytes },
        });
        host.sent.length = 0;
        await p.goto(host.url + HOMEWORK, { waitUntil: 'commit' });
        const done = () => performance.getEntriesByName('answered').length > 0;
        await p.waitForFunction(done, undefined, { polling: 100, timeout: 120_000 });
        times[kind].push(await p.evaluate(() => performance.getEntriesByName('answered')[0].startTime));
        sent[kind] = host.sent.reduce((sum, [, n]) => sum + n, 0);
      });
    }
    host.close();
  }
  const [plain, compressing] = [median(times.plain), median(times.compressing)];
  const beside = `on a compressing one ${ms(compressing)} (${kB(sent.compressing)}); ratio ${(plain / compressing).toFixed(2)} (goal 1.1)`;
  const line = `a homework link's first answer, 1.6 Mbit/s, 150 ms, ${SLOW}x throttle`;
  console.log(`${line}: on a plain host ${ms(plain)} (${kB(sent.plain)}), ${beside}`);
}

// start is the time to the first answer, beside the time until an empty Go module has run in the same page, and beside the answer in a
// site with one language.
async function start(site, emptySite, oneSite, rounds) {
  const until = (url, mark) =>
    page(SLOW, async (p) => {
      await p.addInitScript(() => addEventListener('ohmwright-ended', () => performance.mark('ended')));
      await p.goto(url, { waitUntil: 'commit' });
      await p.waitForFunction((m) => performance.getEntriesByName(m).length > 0, mark, { polling: 100 });
      return p.evaluate((m) => performance.getEntriesByName(m)[0].startTime, mark);
    });
  const [ours, theirs, alone] = [[], [], []];
  for (let i = 0; i < rounds; i++) {
    theirs.push(await until(emptySite.url + WINDING, 'ended'));
    ours.push(await until(site.url + WINDING, 'answered'));
    alone.push(await until(oneSite.url + WINDING, 'answered'));
  }
  const [our, their] = [median(ours), median(theirs)];
  const beside = `an empty Go module in the same page has run after ${ms(their)}; ratio ${(our / their).toFixed(2)} (goal 1.25)`;
  console.log(`navigation to first answer, ${SLOW}x throttle: median ${ms(our)}; ${beside}`);
  const spread = (list) => `${ms(Math.min(...list))} to ${ms(Math.max(...list))}`;
  const one = `in a site with one language ${ms(median(alone))} (${spread(alone)}), with all ${ms(our)} (${spread(ours)})`;
  console.log(`the same, ${one}: ratio ${(our / median(alone)).toFixed(2)}`);
}

// strokes types texts into a field in turn: from the input event until the answer is on the page and laid out. The first ten are
// not counted.
const strokes = (url, path, texts) =>
  answered(url, (p) =>
    p.evaluate(
      async ([path, texts]) => {
        const input = document.querySelector(`[data-path="${path}"] input`);
        const times = [];
        for (const text of texts) {
          input.value = text;
          await new Promise((r) => setTimeout(r, 30));
          const from = performance.now();
          input.dispatchEvent(new InputEvent('input', { bubbles: true }));
          document.body.getBoundingClientRect(); // what the answer needs of layout is part of it
          times.push(performance.now() - from);
        }
        return times.slice(10);
      },
      [path, texts],
    ),
  );

// typedThrough types the readings one after another, each character by character with those before it there, as at the bench.
async function typedThrough(url) {
  const times = [];
  for (const [k, [, value]] of READINGS.entries()) {
    const [number] = /^[\d.]+/.exec(value);
    const keys = Array.from(number, (_, i) => number.slice(0, i + 1));
    const texts = Array.from({ length: 12 }, () => keys).flat();
    times.push(...(await strokes(url + CIRCUIT + withReadings(READINGS.slice(0, k + 1)), `readings.${k}.value`, texts)));
  }
  return times;
}

// answers are the times of the core's answer alone; detail is "hasty" between two keystrokes, "brief" once the typing pauses.
const answers = (url, asked, path, texts, detail) =>
  answered(url, (p) =>
    p.evaluate(
      async ([asked, path, texts, detail]) => {
        const core = await globalThis.ohmwright;
        const { fields } = JSON.parse(core.open(asked, 'en', 'en'));
        const given = Object.fromEntries(Object.entries(fields).map(([key, f]) => [key, `${f.text} ${f.unit}`.trim()]));
        const times = [];
        for (const text of texts) {
          const form = Object.entries({ ...given, [path]: `${text} ohm` }).flat().join('\0') + '\0';
          const from = performance.now();
          core.answer('circuit', form, 'en', 'en', detail);
          times.push(performance.now() - from);
        }
        return times.slice(10);
      },
      [asked, path, texts, detail],
    ),
  );

// slid moves a slider and lets it go, so that it is answered without waiting for a frame.
const slid = (url, path, places) =>
  answered(url, (p) =>
    p.evaluate(
      async ([path, places]) => {
        const range = document.querySelector(`[data-path="${path}"] .slide input`);
        const times = [];
        for (const place of places) {
          await new Promise((r) => setTimeout(r, 30));
          const from = performance.now();
          range.value = place;
          range.dispatchEvent(new InputEvent('input', { bubbles: true }));
          range.dispatchEvent(new Event('change', { bubbles: true }));
          document.body.getBoundingClientRect();
          times.push(performance.now() - from);
        }
        return times.slice(10);
      },
      [path, places],
    ),
  );

// keystrokes are those of the winding, of the circuit question by its number of readings, and of the drive with its slider.
async function keystrokes(url) {
  const winding = await strokes(url + WINDING, 'reading', typed(6));
  const longest = tenths(Math.max(...winding));
  console.log(`keystroke to answer, ${SLOW}x throttle: median ${tenths(median(winding))} (goal 16 ms), longest ${longest}`);
  for (const n of [1, 2, 4, 6]) {
    const asked = CIRCUIT + withReadings(READINGS.slice(0, n));
    const times = (detail) => answers(url + asked, asked, 'readings.0.value', typed(5), detail);
    const answer = tenths(median(await times('hasty')));
    const whole = tenths(median(await times('brief')));
    const shown = tenths(median(await strokes(url + asked, 'readings.0.value', typed(5))));
    const name = `circuit, ${n} reading${n > 1 ? 's' : ''}`;
    const beside = `with what it would show, once the typing pauses, ${whole}`;
    console.log(`${name}: answer with next test, ${SLOW}x throttle: median ${answer} (goal 50 ms), on the page ${shown}; ${beside}`);
  }
  const through = (await typedThrough(url)).sort((a, b) => a - b);
  const [middle, nine] = [median(through), through[Math.floor(through.length * 0.9)]].map(tenths);
  const most = tenths(through.at(-1));
  console.log(`circuit, six readings typed key by key: median ${middle} (goal 25 ms), nine in ten at most ${nine}, longest ${most}`);
  for (const n of [12, 40]) {
    const bolts = Array.from({ length: n }, (_, i) => `&bolts.${i}.x=${(i % 8) * 40}mm&bolts.${i}.y=${Math.floor(i / 8) * 40}mm`);
    const times = await strokes(`${url}#/torque?v=1&torque=10N.m${bolts.join('')}`, 'torque', typed(9));
    console.log(`torque with ${n} bolts, ${SLOW}x throttle: keystroke to answer median ${tenths(median(times))} (goal 25 ms)`);
  }
  const places = Array.from({ length: 60 }, (_, i) => 20 + ((i * 7) % 60));
  const driven = tenths(median(await strokes(url + DRIVE, 'supply', typed(13))));
  const moved = await slid(url + DRIVE, 'duty', places);
  const slider = `slider to redraw median ${tenths(median(moved))}, longest ${tenths(Math.max(...moved))} (goal 16 ms)`;
  console.log(`drive, ${SLOW}x throttle: keystroke to redraw median ${driven}, ${slider}`);
}

async function bench([directory, emptyDirectory, oneDirectory], rounds) {
  browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: flags });
  const site = await serve(directory);
  const emptySite = await serve(emptyDirectory);
  const oneSite = await serve(oneDirectory);
  try {
    await bytes(site, emptySite, oneSite);
    await hosts(directory, Math.min(rounds, 5));
    await start(site, emptySite, oneSite, rounds);
    await keystrokes(site.url);
  } finally {
    await browser.close();
    site.close();
    emptySite.close();
    oneSite.close();
  }
}

const directory = mkdtempSync(join(tmpdir(), 'ohmwright-bench-'));
try {
  await bench(made(directory), Number(process.argv[2] ?? 9));
} finally {
  rmSync(directory, { recursive: true, force: true });
}
