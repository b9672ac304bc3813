// Tightening one bolt at a time: no bolt skipped, no place lost, the screen kept on.
// node --test site/test/page-torque-steps.test.mjs
import assert from 'node:assert/strict';
import { laptop, scene, useBrowser } from './browser.mjs';
import { begin as beginJob, put } from './jobs.mjs';
import { focused, frame, go, reload, tabTo } from './reader.mjs';
import {
  alone, at, begin, bolt, box, bring, drawn, hurried, next, number, pass, pattern, places, rest, tap, tapAndRest, undo, wrenchSet,
} from './torque.mjs';

useBrowser();

scene(
  'each pass begins with setting the wrench; then one bolt at a time, never losing its place',
  { at: pattern, init: hurried },
  async (page) => {
    await begin(page);
    assert.deepEqual(await alone(page), [], 'nothing else is shown');
    assert.equal(await page.isVisible('#torque .undo'), true, 'torque: #torque .undo: should be seen');
    assert.equal(await page.evaluate(() => document.activeElement.classList.contains('p-step')), true, 'the focus is on it');
    assert.equal(await at(page), 'set', 'torque: what the step shown asks for');
    assert.equal(await page.locator('#torque .p-step .go').count(), 0, 'torque: #torque .p-step .go: how many there are');
    const first = await page.textContent('#torque .p-step h2');
    const set = await box(page, '.ready');
    await wrenchSet(page);
    assert.equal(await at(page), 'bolt', 'torque: what the step shown asks for');
    assert.equal(await number(page), '1', 'torque: the number of the bolt shown');
    const done = await box(page, '.go');
    assert.ok(done.y > set.bottom, 'what ends a bolt is not where the wrench was set');
    for (const n of ['2', '3', '4']) {
      await next(page);
      assert.equal(await number(page), n, 'torque: the number of the bolt shown');
      assert.equal((await focused(page)).tag, 'BUTTON', 'the focus stays on the button');
    }
    await tapAndRest(page, '.p-step .bar [data-set]');
    assert.equal(await number(page), '3', 'torque: the number of the bolt shown');
    // A reload in the middle: the same step, still alone.
    await reload(page);
    assert.equal(await number(page), '3', 'torque: the number of the bolt shown');
    assert.deepEqual(await alone(page), [], 'torque: what is shown beside the step');
    await next(page);
    await next(page);
    assert.equal(await at(page), 'set', 'the next pass does not begin by itself');
    assert.notEqual(await page.textContent('#torque .p-step h2'), first, 'torque: #torque .p-step h2: what is read there');
    assert.equal(
      await page.evaluate(() => document.activeElement.classList.contains('p-step')),
      true,
      'the focus is not lost with the button',
    );
    await wrenchSet(page);
    assert.equal(await number(page), '1', 'torque: the number of the bolt shown');
    await undo(page);
    assert.equal(await at(page), 'set', 'torque: what the step shown asks for');
    await undo(page);
    assert.equal(await number(page), '4', 'torque: the number of the bolt shown');
    await undo(page);
    assert.equal(await number(page), '3', 'torque: the number of the bolt shown');
    // All is shown again, the place is kept, and the plate takes no taps meanwhile.
    await tapAndRest(page, '.p-step [data-alone="no"]');
    assert.ok((await alone(page)).includes('#torque form'), 'torque: what is shown beside the step');
    assert.equal(await number(page), '3', 'torque: the number of the bolt shown');
    await bring(page);
    await tap(page, 50, 50);
    assert.equal((await drawn(page)).length, 4, 'torque: the bolts that are drawn');
    assert.deepEqual(await places(page), [], 'torque: the places of the bolts');
    await page.focus(bolt(0));
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('Delete');
    assert.equal((await drawn(page)).length, 4, 'torque: the bolts that are drawn');
    await tapAndRest(page, '.p-order [data-alone="yes"]');
    await reload(page);
    assert.equal(await number(page), '3', 'torque: the number of the bolt shown');
    assert.deepEqual(await alone(page), [], 'torque: what is shown beside the step');
  },
);

scene('in a job, too, the next bolt is shown alone after all was shown; the record says how far it is', { init: hurried }, async (page) => {
  await beginJob(page);
  await go(page, '#/torque');
  await put(page, 'torque', { torque: '9', 'pattern.count': '4' });
  await begin(page);
  await wrenchSet(page);
  await next(page);
  await tapAndRest(page, '.p-step [data-alone="no"]');
  await tapAndRest(page, '.p-order [data-alone="yes"]');
  await next(page);
  assert.equal(await number(page), '3', 'torque: the number of the bolt shown');
  assert.deepEqual(await alone(page), [], 'torque: what is shown beside the step');
  await next(page);
  const done = () => page.evaluate(() => document.querySelector('#handover .p-work').textContent);
  await go(page, '#/handover');
  await page.waitForFunction(() => /next bolt 4 of 4/.test(document.querySelector('#handover .p-work')?.textContent));
  await go(page, '#/torque');
  await tapAndRest(page, '.p-step .bar [data-set]');
  await go(page, '#/handover');
  await page.waitForFunction(() => /next bolt 3 of 4/.test(document.querySelector('#handover .p-work')?.textContent));
  assert.doesNotMatch(await done(), /bolt 4 of 4/);
});

scene('a tap too many skips no bolt and no change of torque', { at: pattern, init: hurried }, async (page) => {
  await page.tap('#torque .p-order .go');
  await page.touchscreen.tap(180, 450); // where the wrench would be said to be set: the same tap again
  assert.equal(await at(page), 'set', 'torque: what the step shown asks for');
  await rest(page);
  await wrenchSet(page);
  const { x, y, width, height } = await box(page, '.go');
  const again = async (...gaps) => {
    await page.touchscreen.tap(x + width / 2, y + height / 2);
    for (const gap of gaps) {
      await pass(page, gap);
      await page.touchscreen.tap(x + width / 2, y + height / 2);
    }
    await rest(page);
  };
  await again(60);
  assert.equal(await number(page), '2', 'torque: the number of the bolt shown');
  await again(150);
  assert.equal(await number(page), '3', 'torque: the number of the bolt shown');
  await again(300, 60, 60);
  assert.equal(await number(page), '4', 'torque: the number of the bolt shown');
  await again(60, 150); // the end of the pass: what comes in its place is not tapped either
  assert.equal(await at(page), 'set', 'torque: what the step shown asks for');
  assert.deepEqual(await alone(page), [], 'torque: what is shown beside the step');
  await wrenchSet(page);
  assert.equal(await number(page), '1', 'torque: the number of the bolt shown');
  // A key held down is one press.
  await page.focus('#torque .p-step .go');
  for (let n = 0; n < 4; n++) {
    await page.keyboard.down('Enter');
    await pass(page, 250);
  }
  await page.keyboard.up('Enter');
  assert.equal(await number(page), '2', 'torque: the number of the bolt shown');
  // What undoes is never held back.
  await rest(page);
  await page.tap('#torque .p-step .go');
  await undo(page);
  assert.equal(await number(page), '2', 'torque: the number of the bolt shown');
});

const stopped = [
  pattern,
  'printed_as=150lbf.in&adapter.wrench=12in&adapter.extension=3in',
  'bolts.0.x=50mm&bolts.0.y=50mm&bolts.0.length=35mm',
].join('&');
// measured runs in the page: where the parts of the step shown alone are, and how large what is read is.
function measured() {
  const part = document.querySelector('#torque .p-step');
  const one = (e) => {
    const { left, top, right, bottom, width, height } = e.getBoundingClientRect();
    return { what: e.className.baseVal ?? (e.className || e.tagName), x: left, y: top, right, bottom, width, height };
  };
  const undo = document.querySelector('#torque .undo');
  const font = (s) => parseFloat(getComputedStyle(part.querySelector(s) ?? part).fontSize);
  const root = document.documentElement;
  return {
    all: [...part.children, undo].map(one).filter((r) => r.height > 0),
    go: one(part.querySelector('.go, .ready')),
    drawing: part.querySelector('svg') && one(part.querySelector('svg')),
    stop: part.querySelector('.stop').getBoundingClientRect().height / (1.25 * font('.stop')),
    big: font('.big strong'),
    torque: font('.numbers strong, .set strong'),
    bolts: part.querySelector('svg .now text')?.getBoundingClientRect().height,
    over: [
      ...[part.scrollHeight - part.clientHeight, part.scrollWidth - part.clientWidth],
      ...[root.scrollHeight - innerHeight, root.scrollWidth - innerWidth],
    ],
  };
}

const meet = (a, b) => Math.min(a.right, b.right) - Math.max(a.x, b.x) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.y, b.y) > 1;

// fitsPlain checks a step on a screen with text as it is; kind is "set" or "bolt".
function fitsPlain(m, kind, name, width, height) {
  assert.deepEqual(m.over, [0, 0, 0, 0], `${name}: nothing is cut or scrolls`);
  for (const r of m.all) assert.ok(r.x >= 0 && r.y >= 0 && r.right <= width && r.bottom <= height, `${name}: ${JSON.stringify(r)}`);
  for (const [i, a] of m.all.entries()) {
    for (const b of m.all.slice(i + 1)) assert.ok(a.what === 'bar' || !meet(a, b), `${name}: ${a.what} and ${b.what} meet`);
  }
  assert.ok(m.stop < 3.9, `${name}: the warning takes ${m.stop} lines`); // with its padding
  if (kind === 'set') {
    assert.ok(m.torque >= 54 && m.go.bottom < height - 72, `${name}: ${m.torque}, ${JSON.stringify(m.go)}`);
    return;
  }
  assert.ok(height - m.go.bottom < 20 && m.go.height >= (height >= 600 ? 96 : 72), `${name}: ${JSON.stringify(m.go)}`);
  assert.ok(m.big >= 63 && m.torque >= 38, `${name}: ${m.big}, ${m.torque}`);
  const [wide, high] = [width > height ? 330 : 280, height < 400 ? 300 : 190];
  assert.ok(m.drawing.height > high && m.drawing.width > wide, `${name}: ${JSON.stringify(m.drawing)}`);
  assert.ok(m.bolts >= 20, `${name}: the number drawn is ${m.bolts} px high`);
}

// fits checks a step on several screens, with text as it is and doubled: then what is below the button may scroll.
async function fits(page, kind) {
  const font = (size) => page.evaluate((size) => (document.documentElement.style.fontSize = size), size).then(() => frame(page));
  for (const size of ['360 × 740', '360 × 600', '320 × 568', '740 × 360']) {
    const [width, height] = size.split(' × ').map(Number);
    const name = `${kind}, ${size}`;
    await page.setViewportSize({ width, height });
    await font('');
    fitsPlain(await page.evaluate(measured), kind, name, width, height);
    await font('36px');
    const { go, over } = await page.evaluate(measured);
    const seen = go.y >= 0 && go.bottom <= height && go.height >= 72 && go.x >= 0 && go.right <= width;
    assert.ok(seen, `${name}, doubled: ${JSON.stringify(go)}`);
    assert.deepEqual(over.slice(1), [0, 0, 0], `${name}, doubled`);
    assert.ok(kind === 'bolt' || go.bottom < height - 72, `${name}, doubled: not where a bolt is ended`);
  }
  await page.evaluate(() => (document.documentElement.style.fontSize = ''));
}

scene(
  'what to set and which bolt are large, what ends a bolt is always in view, on any screen',
  { at: stopped, init: hurried },
  async (page) => {
    await begin(page);
    await wrenchSet(page);
    for (let n = 0; n < 5; n++) await next(page);
    await fits(page, 'set');
    await wrenchSet(page);
    await next(page);
    await fits(page, 'bolt');
  },
);

scene(
  'step by step to the end, each bolt once in each pass; and the mode ends with what it shows',
  { at: `${pattern}&passes.0.kind=snug&passes.1.share=100%25`, init: hurried },
  async (page) => {
    await begin(page);
    const seen = [];
    while ((await at(page)) !== 'end') {
      if ((await at(page)) === 'set') {
        seen.push('set');
        await wrenchSet(page);
        continue;
      }
      seen.push(await number(page));
      assert.equal(await page.locator('#torque .p-step .small .now text:not(.len)').textContent(), seen.at(-1), 'the drawing shows it too');
      await next(page);
    }
    assert.deepEqual(seen, ['set', '1', '2', '3', '4', 'set', '1', '2', '3', '4']);
    assert.equal(
      await page.evaluate(() => document.activeElement.classList.contains('p-step')),
      true,
      'the focus is not lost with the button',
    );
    assert.equal(await page.evaluate(() => document.documentElement.scrollHeight), 740);
    for (let n = 0; n < 10; n++) await undo(page);
    assert.equal(await at(page), 'set', 'torque: what the step shown asks for');
    await undo(page); // before it was begun
    assert.ok((await alone(page)).includes('#torque form'), 'torque: what is shown beside the step');
    assert.equal(await page.locator('#torque .p-step').count(), 0, 'torque: #torque .p-step: how many there are');
    await reload(page);
    assert.ok((await alone(page)).includes('#torque form'), 'torque: what is shown beside the step');
  },
);

// locks notes what is asked of the screen; refused: nothing is granted.
const locks = (refused) => `
  globalThis.asked = []; globalThis.held = 0;
  Object.defineProperty(navigator, 'wakeLock', { value: { request: async (kind) => {
    asked.push(kind);
    if (${refused}) throw new DOMException('no', 'NotAllowedError');
    const lock = new EventTarget();
    held++;
    globalThis.loseIt = () => { held--; lock.dispatchEvent(new Event('release')); };
    lock.release = async () => loseIt();
    return lock;
  } } });`;
const awake = (page) => page.evaluate(() => [globalThis.asked.join(' '), globalThis.held]);

scene(
  'by keyboard, and on a wide screen, that cannot be kept on',
  { at: pattern, size: laptop, init: hurried + locks(true) },
  async (page) => {
    await page.focus('#torque .p-order .go');
    await page.keyboard.press('Enter');
    await rest(page);
    assert.deepEqual(await alone(page), [], 'torque: what is shown beside the step');
    await tabTo(page, (at) => at.tag === 'BUTTON', 2);
    await page.keyboard.press('Enter');
    await rest(page);
    assert.equal(await number(page), '1', 'torque: the number of the bolt shown');
    await tabTo(page, (at) => at.tag === 'BUTTON', 2);
    await page.keyboard.press('Space');
    await rest(page);
    assert.equal(await number(page), '2', 'torque: the number of the bolt shown');
    await page.keyboard.press('Enter');
    await rest(page);
    assert.equal(await number(page), '3', 'torque: the number of the bolt shown');
    await tabTo(page, (at) => at.do === 'undo', 6, 'Shift+Tab');
    await page.keyboard.press('Enter');
    assert.equal(await number(page), '2', 'torque: the number of the bolt shown');
    const width = await page.evaluate(() => document.querySelector('#torque .p-step').getBoundingClientRect().width);
    assert.ok(width > 600, `it has the width: ${width}`);
    assert.deepEqual(await awake(page), ['screen', 0], 'refused, and nothing is said of it');
    await page.focus('#torque .p-step [data-alone="no"]');
    await page.keyboard.press('Enter');
    assert.ok((await alone(page)).includes('#torque form'), 'torque: what is shown beside the step');
    assert.notEqual(await focused(page), null, 'torque: where the focus is');
  },
);

scene('the screen stays on while a step is shown alone', { at: pattern, init: hurried + locks(false) }, async (page) => {
  assert.deepEqual(await awake(page), ['', 0], 'torque: whether the screen is kept on');
  await begin(page);
  assert.deepEqual(await awake(page), ['screen', 1], 'torque: whether the screen is kept on');
  await wrenchSet(page);
  assert.deepEqual(await awake(page), ['screen', 1], 'once');
  // Another page was looked at meanwhile.
  await page.evaluate(() => {
    globalThis.loseIt();
    document.dispatchEvent(new Event('visibilitychange'));
  });
  assert.deepEqual(await awake(page), ['screen screen', 1], 'torque: whether the screen is kept on');
  await go(page, '#/');
  await page.waitForFunction(() => document.body.dataset.place === 'start' && globalThis.held === 0);
  await go(page, '#/torque');
  await page.waitForFunction(() => document.body.dataset.place === 'torque' && globalThis.held === 1);
  await tapAndRest(page, '.p-step [data-alone="no"]');
  assert.deepEqual(await awake(page), ['screen screen screen', 0], 'torque: whether the screen is kept on');
});
