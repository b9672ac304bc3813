// Prints what a first visit costs: bytes, time to the first answer, time of a keystroke. Figures of one run, side by side
// with an empty Go module, since a machine's seconds mean little elsewhere.
//   node bench.mjs SITE EMPTY.wasm [rounds]
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { chromium } from 'playwright-core';
import { serve } from './serve.mjs';

const [directory, emptyFile, rounds = '9'] = process.argv.slice(2);
const empty = readFileSync(emptyFile);
const FLAGS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];
const ASKED = '#/winding?v=1&reading=6.90ohm&leads=0.30ohm&at=88degC&meter.resolution=0.01ohm&specs.0.min=5.0ohm&specs.0.max=5.6ohm';
const median = (list) => [...list].sort((a, b) => a - b)[list.length >> 1];
const ms = (n) => `${n.toFixed(0)} ms`;
const kB = (n) => `${(n / 1000).toFixed(1)} kB`;

const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: FLAGS });
const site = await serve(directory);
const emptySite = await serve(directory, { 'ohmwright.wasm': empty });

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

// Bytes: until the page says that it works offline, so the service worker's own fetching is in it.
await page(1, async (p) => {
  site.sent.length = 0;
  await p.goto(site.url);
  await p.waitForFunction(() => document.getElementById('offline').textContent !== '');
  await p.waitForFunction(() => navigator.serviceWorker.ready.then(() => true));
  await p.waitForTimeout(1500);
});
const total = site.sent.reduce((sum, [, n]) => sum + n, 0);
const module = site.files.get('/ohmwright.wasm').body.length;
console.log(
  `first visit, brotli: ${kB(total)} in ${site.sent.length} requests (goal 900 kB); the module ${kB(module)}, an empty Go module ${kB(emptySite.files.get('/ohmwright.wasm').body.length)}`,
);
for (const [name, n] of site.sent.filter(([, n]) => n > 3000)) console.log(`  ${name} ${kB(n)}`);

// Time to the first answer at 4x CPU throttle, beside the time until an empty Go module has run in the same page.
const firstAnswer = (url, mark) =>
  page(4, async (p) => {
    await p.addInitScript(() => addEventListener('ohmwright-ended', () => performance.mark('ended')));
    await p.goto(url, { waitUntil: 'commit' });
    await p.waitForFunction((m) => performance.getEntriesByName(m).length > 0, mark, { polling: 100 });
    return p.evaluate((m) => performance.getEntriesByName(m)[0].startTime, mark);
  });
const ours = [];
const theirs = [];
for (let i = 0; i < Number(rounds); i++) {
  theirs.push(await firstAnswer(emptySite.url + ASKED, 'ended'));
  ours.push(await firstAnswer(site.url + ASKED, 'answered'));
}
console.log(
  `navigation to first answer, 4x throttle: median ${ms(median(ours))}; an empty Go module in the same page has run after ${ms(median(theirs))}; ratio ${(median(ours) / median(theirs)).toFixed(2)} (goal 1.25)`,
);

// A keystroke: from the input event until the answer is on the page and laid out, at 4x throttle. texts are typed into a field
// in turn; the first ten are not counted.
const strokes = (asked, path, texts) =>
  page(4, async (p) => {
    await p.goto(site.url + asked);
    await p.waitForFunction(() => performance.getEntriesByName('answered').length > 0);
    return p.evaluate(
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
    );
  });
const typed = (whole) => Array.from({ length: 60 }, (_, i) => `${whole}.${(i * 37) % 100}`);
const winding = await strokes(ASKED, 'reading', typed(6));
console.log(
  `keystroke to answer, 4x throttle: median ${median(winding).toFixed(1)} ms (goal 16 ms), longest ${Math.max(...winding).toFixed(1)} ms`,
);

// The circuit question with its next test, by the number of readings: the core's answer alone, and until it is on the page.
const answers = (asked, path, texts) =>
  page(4, async (p) => {
    await p.goto(site.url + asked);
    await p.waitForFunction(() => performance.getEntriesByName('answered').length > 0);
    return p.evaluate(
      async ([asked, path, texts]) => {
        const core = await globalThis.ohmwright;
        const given = Object.fromEntries(
          Object.entries(JSON.parse(core.open(asked, 'en', 'en')).fields).map(([key, f]) => [key, `${f.text} ${f.unit}`.trim()]),
        );
        const times = [];
        for (const text of texts) {
          const form = JSON.stringify({ ...given, [path]: `${text} ohm` });
          const from = performance.now();
          core.answer('circuit', form, 'en', 'en', 'brief');
          times.push(performance.now() - from);
        }
        return times.slice(10);
      },
      [asked, path, texts],
    );
  });
const CIRCUIT = '#/circuit?v=1&side=high&supply=13.8V&spec.min=5ohm&spec.max=5.6ohm&winding_temperature=20degC';
const READINGS = [
  ['resistance_component', '5.4ohm'],
  ['voltage_pin_on', '13.5V'],
  ['current_on', '0.27A'],
  ['resistance_unit', '45.6ohm'],
  ['continuity_harness', '40.3ohm'],
  ['voltage_drop_return', '0.02V'],
];
for (const n of [1, 2, 4, 6]) {
  const link = READINGS.slice(0, n).reduce(
    (link, [test, value], i) => `${link}&readings.${i}.test=${test}&readings.${i}.value=${value}`,
    CIRCUIT,
  );
  const answer = await answers(link, 'readings.0.value', typed(5));
  const shown = await strokes(link, 'readings.0.value', typed(5));
  console.log(
    `circuit, ${n} reading${n > 1 ? 's' : ''}: answer with next test, 4x throttle: median ${median(answer).toFixed(1)} ms (goal 50 ms), on the page ${median(shown).toFixed(1)} ms`,
  );
}

// The drive question: a keystroke, and a slider that is moved and let go, so that it is answered without waiting for a frame.
const DRIVE =
  '#/drive?v=1&supply=13.8V&resistance=5.3ohm&winding_temperature=88degC&inductance=12mH&frequency=300Hz&duty=45%25&wiring=0.2ohm&driver=0.15ohm&driver_limit=3A';
const slid = (asked, path, places) =>
  page(4, async (p) => {
    await p.goto(site.url + asked);
    await p.waitForFunction(() => performance.getEntriesByName('answered').length > 0);
    return p.evaluate(
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
    );
  });
const driven = await strokes(DRIVE, 'supply', typed(13));
const moved = await slid(
  DRIVE,
  'duty',
  Array.from({ length: 60 }, (_, i) => 20 + ((i * 7) % 60)),
);
console.log(
  `drive, 4x throttle: keystroke to redraw median ${median(driven).toFixed(1)} ms, slider to redraw median ${median(moved).toFixed(1)} ms, longest ${Math.max(...moved).toFixed(1)} ms (goal 16 ms)`,
);

await browser.close();
site.close();
emptySite.close();
