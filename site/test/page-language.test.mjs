// A site with several languages: a reader gets the files of one, the browser's, a link's or the one that was chosen, offline too. The
// second language here is the pseudo-language: English sentences lengthened and between ⟦ and ⟧, so that what is English still is found.
// node --test site/test/page-language.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { ready, useBrowser, visit } from './browser.mjs';
import { explained } from './explain.mjs';
import { startHost } from './host.mjs';
import { english, englishOnPaper, PSEUDO, runIn } from './pseudo.mjs';
import { field, go, type, verdict } from './reader.mjs';
import { make } from './versions.mjs';

useBrowser({ desktop: true });

const LINK = '#/winding?v=1&reading=13ohm&at=24degC&specs.0.min=12ohm';

let directory;
before(() => {
  directory = make(join(mkdtempSync(join(tmpdir(), 'ohmwright-language-')), 'site'), '--pseudo');
});
after(() => rmSync(join(directory, '..'), { recursive: true, force: true }));

// play is a test on a host of its own, in a browser whose language is locale.
function play(name, { locale = 'en-GB', at = '', workers = false }, act) {
  test(name, { timeout: 120_000 }, async (t) => {
    const host = await startHost(directory);
    t.after(() => host.stop());
    const page = await visit({ base: host.base, at, locale, workers, expects: /ERR_|Failed to (load|fetch|update)/ });
    try {
      await act(page, host).catch(async (e) => {
        throw await explained(e, page);
      });
      assert.deepEqual(page.faults, []);
    } finally {
      await page.context().close();
    }
  });
}

const languageOf = (page) => page.evaluate(() => document.documentElement.lang);
const file = (page) => page.evaluate(() => location.pathname.split('/').at(-1));
const isKept = (page) => page.waitForFunction(() => document.getElementById('offline').dataset.state === 'yes');
const kept = (page) =>
  page.evaluate(async () => {
    const [name] = await caches.keys();
    return (await (await caches.open(name)).keys()).map(({ url }) => url.split('/').at(-1));
  });
const tap = (page, tag) => page.click(`label:has(input[name="language"][value="${tag}"])`);
const became = async (page, tag) => {
  await page.waitForFunction((tag) => document.documentElement.lang === tag, tag);
  await ready(page);
};

play('a reader gets the page of the browser’s language, and nothing of a third', { locale: 'de-AT' }, async (page, host) => {
  assert.equal(await languageOf(page), 'de');
  assert.equal(await file(page), 'de.html');
  for (const name of ['es.packed', 'en-xa.packed', 'es.html', 'en-xa.html']) assert.equal(host.asked.get(name), undefined, name);
});

play('a reader of whose languages there is none gets the page of the host', { locale: 'ja' }, async (page, host) => {
  assert.equal(await languageOf(page), 'en');
  assert.equal(await file(page), '');
  assert.equal(host.asked.get('de.packed'), undefined);
});

play('a link opens in the reader’s language, whichever it was made in', { locale: PSEUDO, at: LINK }, async (page, host) => {
  assert.equal(await languageOf(page), PSEUDO);
  assert.equal(await file(page), 'en-xa.html');
  assert.equal(await page.inputValue(field('winding', 'reading')), '13');
  assert.equal(await verdict(page), 'within');
  assert.equal(host.asked.get('en-xa.packed'), 1);
});

play('the address of another language’s page leads to the reader’s own', { at: `en-xa.html${LINK}` }, async (page) => {
  assert.equal(await languageOf(page), 'en');
  assert.equal(await verdict(page), 'within');
});

play('a language is chosen on the page, kept, and goes with a link', { at: LINK }, async (page, host) => {
  const shared = async () => {
    await page.evaluate(() => {
      const writeText = async (text) => (globalThis.copied = text);
      Object.defineProperty(navigator, 'clipboard', { value: { writeText } });
    });
    await page.click('section:not([hidden]) [data-do="share"]');
    await page.waitForFunction(() => globalThis.copied);
    return page.evaluate(() => globalThis.copied);
  };
  const plain = await shared();
  assert.ok(plain.startsWith(`${host.base}#/winding?`), plain);
  assert.doesNotMatch(plain, /language/);
  await tap(page, PSEUDO);
  await became(page, PSEUDO);
  assert.equal(await verdict(page), 'within', 'what was typed is still there');
  assert.equal(await page.isChecked(`input[name="language"][value="${PSEUDO}"]`), true);
  assert.equal(await shared(), `${plain}&language=${PSEUDO}`);
  await page.goto(host.base);
  await became(page, PSEUDO);
  await tap(page, 'en');
  await became(page, 'en');
  await page.reload();
  await became(page, 'en');
});

play('a link with a language is shown in it, here and after a reload', { at: `${LINK}&language=${PSEUDO}` }, async (page) => {
  assert.equal(await languageOf(page), PSEUDO);
  assert.equal(await verdict(page), 'within');
  assert.equal(await page.textContent('section:not([hidden]) .form-notes'), '', 'the key is no field');
  await page.reload();
  await became(page, PSEUDO);
  assert.equal(await page.evaluate(() => localStorage.getItem('ohmwright/language')), null, 'nobody chose it for this device');
});

play('offline the start address opens in the language in use', { locale: PSEUDO, workers: true }, async (page, host) => {
  await isKept(page);
  const files = await kept(page);
  assert.ok(files.includes('en-xa.html') && files.includes('en-xa.packed') && files.includes('en-xa.webmanifest'), files.join());
  assert.ok(!files.includes('') && !files.includes('forms.packed') && !files.includes('manifest.webmanifest'), files.join());
  await host.stop();
  await page.goto(host.base);
  await became(page, PSEUDO);
  await go(page, '#/winding');
  await type(page, 'winding', 'reading', '13');
});

play('offline, a language that is not here is not gone to, and that is said', { workers: true }, async (page, host) => {
  await isKept(page);
  const files = await kept(page);
  assert.ok(!files.some((name) => name.startsWith('en-xa')), files.join());
  await page.reload();
  await ready(page);
  await host.stop();
  await tap(page, PSEUDO);
  await page.waitForFunction(() => document.getElementById('said').dataset.said === 'language.away');
  assert.equal(await languageOf(page), 'en');
  assert.equal(await page.isChecked('input[name="language"][value="en"]'), true);
});

play('a language that was chosen while connected is kept', { workers: true }, async (page, host) => {
  await isKept(page);
  await tap(page, PSEUDO);
  await became(page, PSEUDO);
  await isKept(page);
  await host.stop();
  await page.goto(host.base);
  await became(page, PSEUDO);
});

// textsIn returns all texts within a value.
const textsIn = (value) => (typeof value === 'object' && value !== null ? Object.values(value).flatMap(textsIn) : [String(value)]);

play('no English is left on the first screen', { locale: PSEUDO }, async (page) => {
  assert.deepEqual(await english(page), []);
  await go(page, '#/jobs');
  assert.deepEqual(await english(page), []);
});

// openWorking opens the working of an answer, which is made when it is first opened; the class's sheet and some records have none.
async function openWorking(page, tool) {
  const summary = page.locator(`[id="${tool}"] .p-working > summary`);
  if ((await summary.count()) === 0) return;
  await summary.click();
  await page.waitForSelector(`[id="${tool}"] .p-working li`);
}

// Texts that are no language's: names of units and of standards, what somebody typed, and what stands in a recording.
play('no English is left in any form, nor in the answer of its example', { locale: PSEUDO }, async (page) => {
  const tools = await page.evaluate(async () => JSON.parse((await globalThis.ohmwright).tools()).map(({ tool }) => tool));
  assert.ok(tools.length > 10);
  const left = {};
  const bent = {};
  let within = 0;
  for (const tool of tools) {
    await go(page, `#/${tool}`);
    await page.waitForFunction((tool) => document.body.dataset.place === tool, tool);
    const described = await page.evaluate(async (tool) => JSON.parse((await globalThis.ohmwright).describe(tool)).example, tool);
    const typed = textsIn(described).filter((text) => text.length > 4).sort((a, b) => b.length - a.length);
    const form = await english(page);
    await page.click(`[id="${tool}"] [data-do="demo"]`);
    await page.waitForFunction((tool) => document.getElementById(tool).dataset.answered === 'yes', tool);
    await openWorking(page, tool);
    const said = [...new Set([...form, ...(await english(page, typed))])];
    if (said.length > 0) left[tool] = said;
    const { nested, wrong } = await runIn(page, tool);
    within += nested;
    if (wrong.length > 0) bent[tool] = wrong;
  }
  assert.deepEqual(left, {});
  assert.deepEqual(bent, {}, 'words that are put into a sentence are set off in it');
  assert.ok(within > 100, `${within} sentences with words within`);
  await page.evaluate(() => (document.getElementById('said').textContent = 'Plain English ⟦in·⟧'));
  assert.ok((await english(page)).includes('Plain English'), 'this test finds what it looks for');
});

// What is printed of each example, and of the class: its sheets and the key.
play('no English is left on paper', { locale: PSEUDO }, async (page) => {
  for (const [tool, least] of Object.entries({ winding: 40, torque: 40, circuit: 40, handover: 40 })) {
    await go(page, `#/${tool}`);
    await page.waitForFunction((tool) => document.body.dataset.place === tool, tool);
    const described = await page.evaluate(async (tool) => JSON.parse((await globalThis.ohmwright).describe(tool)).example, tool);
    await page.click(`[id="${tool}"] [data-do="demo"]`);
    await page.waitForFunction((tool) => document.getElementById(tool).dataset.answered === 'yes', tool);
    const typed = textsIn(described).filter((text) => text.length > 3).sort((a, b) => b.length - a.length);
    const { found, texts } = await englishOnPaper(page, ['Ohmwright', ...typed]);
    assert.deepEqual(found, [], tool);
    assert.ok(texts >= least, `${tool}: ${texts} texts on paper`);
  }
  await go(page, '#/worksheet?v=1&heading=H1&words=W1&questions.0.kind=fault_high&questions.1.kind=hot_winding');
  await page.waitForSelector('#worksheet .sample');
  await page.click('#worksheet > form > .more[data-keep="fine"] > summary');
  await page.fill(field('worksheet', 'students'), 'Ann\nBo');
  const { found, texts } = await englishOnPaper(page);
  assert.deepEqual(found, []);
  assert.ok(texts > 100, `the class: ${texts} texts on paper`);
  await go(page, '#/code');
  await page.waitForSelector('#code:not([hidden])');
  for (const [part, text] of [['h1', 'Printed'], ['form > .bar', 'Unprinted']]) {
    await page.$eval(`#code > ${part}`, (e, text) => e.append(text), text);
  }
  assert.deepEqual((await englishOnPaper(page)).found, ['Printed'], 'this test finds what it looks for, on paper alone');
});

play('no English is left in what is said of a wrong value', { locale: PSEUDO }, async (page) => {
  const wrong = ['??', '1,250 ohm', '-1e9 V', '5', '7 N.m', '99999999999999999 ohm', 'x'.repeat(9000)];
  const { left, notes } = await page.evaluate(async (wrong) => {
    const module = await globalThis.ohmwright;
    const [left, all] = [new Set(), []];
    for (const { tool } of JSON.parse(module.tools())) {
      for (const path of Object.keys(JSON.parse(module.describe(tool)).request.properties)) {
        for (const text of wrong) {
          const reply = JSON.parse(module.answer(tool, `${path}\0${text}\0`, '', 'en', ''));
          if (!reply.notes) throw new Error(`${tool} ${path} ${text}: ${JSON.stringify(reply)}`);
          all.push(...reply.notes.map((note) => note.text));
        }
      }
    }
    for (const text of all) if (!/^(⟦.*⟧[ ]?)+$/s.test(text)) left.add(text);
    return { left: [...left], notes: all.length };
  }, wrong);
  assert.ok(notes > 200, `${notes} notes`);
  assert.deepEqual(left, []);
});

test('no English is left in what describe says', { timeout: 60_000 }, async () => {
  const host = await startHost(directory);
  const page = await visit({ base: host.base, locale: PSEUDO });
  const left = await page.evaluate(async () => {
    const module = await globalThis.ohmwright;
    const found = [];
    const walk = (value, path) => {
      if (typeof value === 'object' && value !== null) for (const [key, inner] of Object.entries(value)) walk(inner, `${path}.${key}`);
      else if (/\.(title|description)$/.test(path) && !/^⟦.*⟧$/.test(value)) found.push(`${path}: ${value}`);
    };
    for (const { tool } of JSON.parse(module.tools())) walk(JSON.parse(module.describe(tool)), tool);
    return found;
  });
  await page.context().close();
  await host.stop();
  assert.deepEqual(left, []);
});
