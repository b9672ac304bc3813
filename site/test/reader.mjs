// What a reader does on the page, and what can be read there.
import assert from 'node:assert/strict';
import { ready } from './browser.mjs';

// word is what scripts say under a key.
export const word = (page, key) => page.evaluate((k) => JSON.parse(document.getElementById('words').textContent)[k], key);

// says waits until an element of the page says a key's words.
export async function says(page, id, key) {
  const text = await word(page, key);
  assert.ok(text, `the page has no words for the key ${key}`);
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

// tapIn types into a field where a thumb left it, at what stands there.
export const tapIn = async (page, tool, path, text) => {
  await page.tap(field(tool, path));
  await page.keyboard.type(text);
};

// unfold opens whatever an element is folded away in, by its summaries, or by the line that a card with a reading is folded to.
export async function unfold(page, selector) {
  for (;;) {
    const folded = page.locator(`details:not([open])`).filter({ has: page.locator(selector) });
    if ((await folded.count()) === 0) break;
    await folded.first().locator(':scope > summary').click();
  }
  await openCard(page, page.locator('.card.picked').filter({ has: page.locator(selector) }));
}

// openCard opens a card that is folded to a line, if it is. A tap that comes at once does not count.
export async function openCard(page, card) {
  const line = card.locator('.card-line:visible');
  if ((await line.count()) === 0) return;
  await line.click();
  await page.waitForTimeout(350);
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
    const head = document.querySelector('main > section:not([hidden]) .head').firstElementChild;
    return head ? (head.dataset.verdict ?? /\bv-(\w+)/.exec(head.className)?.[1]) : '';
  });

export const answered = (page) => page.evaluate(() => document.querySelector('main > section:not([hidden])').dataset.answered === 'yes');

// headText and answerText are what is read at the head and in the answer.
export const headText = (page) => page.evaluate(() => document.querySelector('main > section:not([hidden]) .head').textContent);
export const answerText = (page) => page.evaluate(() => document.querySelector('main > section:not([hidden]) [role="region"]').textContent);

// note is what stands beside a field; echo what was read of it.
export const note = (page, tool, path) => page.evaluate((id) => document.getElementById(id).textContent, `${tool}-${path}-note`);
export const echo = (page, tool, path) => page.evaluate((id) => document.getElementById(id).textContent, `${tool}-${path}-echo`);

// rowVerdicts are the verdicts of the rows, in order.
export const rowVerdicts = (page) =>
  page.$$eval('main > section:not([hidden]) [role="region"] li[data-verdict]', (all) => all.map((e) => e.dataset.verdict));

// warned are the codes of the warnings shown.
export const codes = (page) =>
  page.$$eval('main > section:not([hidden]) :is([role="region"], .slot) li[data-code]', (all) => all.map((e) => e.dataset.code));

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

export const opened = (page) =>
  page.evaluate(() =>
    [...document.querySelectorAll('main > section:not([hidden]) form details[open][data-keep]')].map((d) => d.dataset.keep),
  );

// stored is what the device keeps under a key.
export const stored = (page, key) => page.evaluate((k) => localStorage.getItem(`ohmwright/${k}`), key);

// told is a form as the core reads it: keys and texts in turn, each ended by U+0000.
export const told = (given) =>
  Object.entries(given)
    .flat()
    .map((text) => `${text}\0`)
    .join('');

// expected asks the core for what it has to say to a form: {head, notes: {field: [code, text]}}.
export const expected = (page, tool, given) =>
  page.evaluate(
    async ([tool, form]) => {
      const reply = JSON.parse((await globalThis.ohmwright).answer(tool, form, document.documentElement.lang, navigator.language));
      const text = (tree) => (typeof tree === 'string' ? tree : tree.slice(2).map(text).join(''));
      return { head: text(reply.head), notes: Object.fromEntries(reply.notes.map((n) => [n.field, [n.code, n.text]])) };
    },
    [tool, told(given)],
  );

// beside checks that a field has a fault of a code beside it, worded as the core words it, and that it is marked.
export async function beside(page, tool, path, code, given) {
  const { notes } = await expected(page, tool, given);
  const name = `${tool}, field ${path}`;
  assert.equal(notes[path]?.[0], code, `${name}: the core should tell the fault ${code} of it, and tells ${JSON.stringify(notes)}`);
  assert.equal(await note(page, tool, path), notes[path][1], `${name}: the page should tell beside it what the core tells`);
  assert.equal(await page.getAttribute(field(tool, path), 'aria-invalid'), 'true', `${name}: it should be marked as wrong`);
  assert.ok(await page.isVisible(`[id="${tool}-${path}-note"]`), `${name}: what is told beside it should be seen`);
}

// shows checks that the number before the "±" at the head is a value, to the last figure shown; however many are shown.
export async function shows(page, want) {
  const text = await headText(page);
  const m = /([-\u2212]?\d+(?:[.,](\d+))?) ± /.exec(text);
  assert.ok(m, `the head should show a number with its uncertainty, and shows “${text}”`);
  const got = Number(m[1].replace('\u2212', '-').replace(',', '.'));
  assert.ok(
    Math.abs(got - want) <= 0.5001 * 10 ** -(m[2]?.length ?? 0),
    `the head should show ${want} before the “±”, and shows “${text}”`,
  );
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
      x: r.x,
      y: r.y,
      width: r.width,
      height: r.height,
      middle: r.y + r.height / 2,
      said: range.ariaValueText,
      unset: range.classList.contains('unset'),
      value: Number(range.value),
      along: (range.value - range.min) / (range.max - range.min),
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
    const hit = document.elementFromPoint(
      Math.min(innerWidth - 1, Math.max(0, r.x + r.width / 2)),
      Math.min(innerHeight - 1, Math.max(0, r.y + Math.min(r.height / 2, 28))),
    );
    return {
      id: e.id,
      tag: e.tagName,
      do: e.dataset.do,
      set: e.tagName === 'BUTTON' && e.dataset.set,
      point: e.dataset.value,
      name: e.name,
      value: e.value,
      href: e.getAttribute('href'),
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

// quiet puts the page's message away, as one who has read it.
export const quiet = (page) => page.evaluate(() => document.getElementById('said').click());

// go changes the place as a link within the page does.
export const go = (page, hash) => page.evaluate((h) => (location.hash = h), hash);

// reload loads the page again, and waits until it answers.
export const reload = async (page) => {
  await page.reload();
  await ready(page);
};

// shared is the link that "share" copies; key is what the page says of it.
export const shared = async (page, key = 'copied') => {
  await page.context().grantPermissions(['clipboard-read', 'clipboard-write'], { origin: new URL(page.url()).origin });
  await press(page, 'share');
  await says(page, 'said', key);
  return page.evaluate(() => navigator.clipboard.readText());
};

// fill types into several fields of a tool: {path: text}.
export const fill = async (page, tool, texts) => {
  for (const [path, text] of Object.entries(texts)) await type(page, tool, path, text);
};
