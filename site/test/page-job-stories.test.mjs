// The technician's two stories as jobs, from the first tap on the first screen to the printed page, by touch on a phone: what they cost
// in taps and characters, that nothing is typed twice, and that nothing of one vehicle is seen in the other.
// node --test site/test/page-job-stories.test.mjs
import assert from 'node:assert/strict';
import { elsewhere, scene, serve, useBrowser, visit } from './browser.mjs';
import { kept } from './jobs.mjs';
import { go, headText, reload, says } from './reader.mjs';
import { condemnations, healthy } from './stories.mjs';
import { begins, closed, condemnedToPaper, followed, home, printed, reads } from './technician.mjs';
import { Thumb } from './touch.mjs';

useBrowser();

// What a story may cost at most: a little above what it was measured to.
const most = {
  low: { taps: 58, characters: 200 },
  open: { taps: 38, characters: 120 },
};

function costs(t, thumb, name) {
  t.diagnostic(`${name}: ${thumb.figures}`);
  assert.ok(thumb.taps <= most[name].taps, `${thumb.figures}: at most ${most[name].taps} taps`);
  assert.ok(thumb.characters <= most[name].characters, `${thumb.figures}: at most ${most[name].characters} characters`);
}

// killed crashes a tab, and returns a new one that starts as one does who taps the page's icon.
async function killed(page, base) {
  const context = page.context();
  const session = await context.newCDPSession(page);
  session.send('Page.crash').catch(() => {});
  await page.waitForEvent('crash');
  page.faults.length = 0;
  return visit({ context, base, expects: page.expects });
}

// ---- another vehicle

// seen is all that can be read in a tool: what stands on the screen, folded or not, and in its fields.
const seen = (page) =>
  page.evaluate(() => {
    const shown = document.querySelector('main > section:not([hidden])');
    const fields = [...shown.querySelectorAll('input[type="text"], textarea')].map((input) => `${input.value} ${input.placeholder}`);
    return `${document.querySelector('header').textContent} ${shown.textContent} ${fields.join(' ')}`;
  });

const tools = (page) => page.$$eval('.tile:not(.demo)', (all) => all.map((tile) => tile.hash.slice(2)));

// strange fails if a tool shows anything of another job: texts that no tool shows by itself.
async function strange(page, texts) {
  for (const tool of await tools(page)) {
    await go(page, `#/${tool}`);
    await page.waitForSelector(`#${tool}:not([hidden])`);
    const inputs = `#${tool} form .entry > :is(input, textarea)`;
    const filled = await page.$$eval(inputs, (all) => all.filter((i) => i.value).map((i) => [i.id, i.value]));
    const own = tool === 'handover' ? [['handover-vehicle', 'Fell 7']] : [];
    assert.deepEqual(filled.filter(([id]) => id !== 'exercise-seed'), own, `${tool}: its fields on the next vehicle`);
    assert.equal(await page.locator(`#${tool} .card.picked`).count(), 0, `${tool}: readings of another vehicle`);
    const all = await seen(page);
    for (const text of texts) assert.ok(!all.includes(text), `${tool} shows “${text}” of another vehicle`);
  }
}

// whole is all that the job holds in every tool, and its document.
async function whole(page) {
  const all = {};
  for (const tool of await tools(page)) {
    await go(page, `#/${tool}`);
    await page.waitForSelector(`#${tool}:not([hidden])`);
    all[tool] = await page.evaluate((tool) => {
      const section = document.getElementById(tool);
      if ('jobless' in section.dataset) return null; // it takes part in no job
      const inputs = [...section.querySelectorAll('form .entry > :is(input, textarea)')].filter((i) => i.value);
      const held = inputs.map((i) => `${i.id}=${i.value}`);
      const chosen = [...section.querySelectorAll('form input[type="radio"]:checked')].map((i) => `${i.name}=${i.value}`);
      const text = (part) => section.querySelector(part).textContent;
      return { held, chosen, head: text('.head'), answer: text('[role="region"]') };
    }, tool);
  }
  return all;
}

// nextMorning takes up a second vehicle, sees that nothing of the first is there, and goes back to the first, which is as it was.
async function nextMorning(page, name, texts) {
  const before = await whole(page);
  await kept(page);
  const thumb = new Thumb(page);
  await thumb.tap(home);
  await thumb.tap('#start [data-job="new"]');
  await page.waitForFunction(() => document.activeElement?.id === 'job-vehicle');
  await thumb.into('#job-vehicle', 'Fell 7', 'vehicle');
  await kept(page);
  await strange(page, texts);
  await thumb.tap(home);
  await thumb.tap('#start .bar a[href="#/jobs"]'); // in the bar: "Continue" above it leads there too, now and then
  await thumb.tap(`.job-open:has-text("${name}")`);
  await says(page, 'said', 'job.opened');
  assert.deepEqual(await whole(page), before, `${name}: what is in it after the other vehicle`);
}

// ---- story one: code low, a hot reading, two rows, a known good part, a part that costs 700

scene('code low, read hot, to one printed page; next morning another vehicle', { at: '', fresh: true }, async (page, t) => {
  const thumb = new Thumb(page);
  const { taken, decided } = await condemnedToPaper(thumb, condemnations.en);
  t.diagnostic(`low, to the decision: ${decided}; tests ${taken.join(', ')}`);
  costs(t, thumb, 'low');
  const own = ['Tarn', 'TRN-4711', '84512', 'third gear', '2031 on', 'Replace the component', 'solenoid 2', 'pan bolts'];
  await nextMorning(page, 'Tarn 24', own);
});

// ---- story two: code open, nothing shows, moved wires jump; without a network, the tab killed in the middle

const second = { vehicle: 'Scar 9', tag: 'SCR-0815', odometer: '120455 km', complaint: 'Lamp comes on over bumps', who: 'MK' };

elsewhere(
  'code open that does not show, offline, killed in the middle, to one printed page; next morning another vehicle',
  () => serve(),
  { at: '' },
  async (page, host, t) => {
    await says(page, 'offline', 'offline');
    await page.context().setOffline(true);
    await host.stop();
    await reload(page);
    const thumb = new Thumb(page);
    await begins(thumb, second);
    await reads(thumb, 'P0960', 'open');
    await thumb.tap('#code [data-carry="circuit"]');
    await page.waitForSelector('#circuit:not([hidden])');
    assert.ok(await page.isChecked('input[name="circuit-code_kind"][value="open"]'), 'the code’s kind goes along');
    await thumb.choose('circuit-side', 'high', 'bench.side=high');
    await thumb.choose('circuit-return', 'case', 'circuit.return=case');
    await thumb.has('circuit', 'supply', '13.8', 'supply');
    await thumb.has('circuit', 'spec.min', '5.0', 'row 0.min');
    await thumb.has('circuit', 'spec.max', '5.6', 'row 0.max');
    await thumb.has('circuit', 'winding_temperature', '20', 'temperature');
    await thumb.choose('circuit-fault_present', 'no', 'circuit.fault_present=no');
    const before = await whole(page);
    await go(page, '#/circuit');
    await kept(page);
    const next = await killed(page, host.base);
    thumb.page = next;
    await thumb.tap('#continue a');
    await next.waitForSelector('#circuit:not([hidden])');
    assert.deepEqual(await whole(next), before, 'what is in the job after the tab was killed');
    await go(next, '#/circuit');
    const taken = await followed(thumb, { ...healthy, wiggle_harness: 'jumps' });
    assert.ok(taken.includes('wiggle_harness'), `asked for: ${taken.join(', ')}`);
    assert.match(await headText(next), /^Mend the harness/);
    t.diagnostic(`open, to the decision: ${thumb.figures}; tests ${taken.join(', ')}`);
    await thumb.tap('#circuit .carry a[href="#/handover"]');
    await next.waitForSelector('#handover:not([hidden])');
    for (const fact of [...Object.keys(second), 'code', 'supply']) await thumb.has('handover', fact, '', fact);
    const typed = { repair: 'Wire mended behind the plug', 'plugs.off': '1', 'plugs.on': '1', date: '27 November' };
    for (const [path, text] of Object.entries(typed)) await thumb.has('handover', path, text, `handover ${path}`);
    await closed(thumb);
    const numbers = taken.map((test) => healthy[test]).filter((text) => /\d/.test(text));
    await printed(thumb, [...Object.values(second), 'P0960', ...numbers, 'jump', '5.0 Ω to 5.6 Ω at 20 °C']);
    costs(t, thumb, 'open');
    await nextMorning(next, 'Scar 9', ['Scar', 'SCR-0815', '120455', 'over bumps', 'Mend the harness', 'behind the plug']);
    assert.deepEqual(next.faults, []);
  },
);
