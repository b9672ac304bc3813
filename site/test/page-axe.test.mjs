// What axe finds in every state of the page, and the contrast of every text there, which axe does not measure in drawings.
// node --test site/test/page-axe.test.mjs
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { laptop, phone, scene, useBrowser } from './browser.mjs';
import { measured } from './contrast.mjs';
import { forced, look, looks, states } from './states.mjs';

useBrowser();

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

// color-contrast-enhanced asks for more than color-contrast of the same texts, so that one of the two says all.
const everything = {
  runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
  rules: { 'color-contrast': { enabled: false }, 'color-contrast-enhanced': { enabled: true }, 'target-size': { enabled: true } },
  resultTypes: ['violations', 'passes'],
};
// The rules that a colour can break.
const colours = {
  runOnly: { type: 'rule', values: ['color-contrast-enhanced', 'link-in-text-block'] },
  resultTypes: ['violations'],
};

// check runs axe without the forms that are not shown: a page that has been through many states has five times as many elements hidden
// as shown, and axe looks at each. They are back in their places afterwards.
const check = (page, options) =>
  page.evaluate(async (options) => {
    const away = [...document.querySelectorAll('main > section[hidden]')].map((section) => [section, document.createComment('')]);
    for (const [section, place] of away) section.replaceWith(place);
    const { violations, passes } = await globalThis.axe.run(document, options);
    for (const [section, place] of away) place.replaceWith(section);
    const where = (v) => v.nodes.map((n) => n.target.join(' ')).slice(0, 5);
    return passes.length > 0 ? violations.map((v) => `${v.id}: ${where(v).join(', ')}`) : ['axe looked at nothing'];
  }, options);

// covered runs in the page, in forced colours: texts on a ground that is not the page's, behind which a browser puts the page's own ground
// and so hides them.
function covered() {
  const ground = (e) => getComputedStyle(e).backgroundColor;
  const clear = ['rgba(0, 0, 0, 0)', ground(document.documentElement)];
  const worded = (e) => [...e.childNodes].some((n) => n.data?.trim());
  const texts = [...document.querySelectorAll('body *')].filter((e) => worded(e) && e.checkVisibility());
  const on = (e) => (!e || !clear.includes(ground(e)) ? e : on(e.parentElement));
  const hidden = texts.filter((e) => !(e instanceof SVGElement) && on(e) && getComputedStyle(e).forcedColorAdjust === 'auto');
  return hidden.map((e) => `${e.tagName.toLowerCase()}.${e.className} “${e.textContent.trim().slice(0, 30)}”`);
}

// The states are gone through on one page: a page for each would take longer to start than to look at. Looks differ in colours alone, so
// that all but the first are held to what a colour can break. On a wide page one look will do.
for (const [sizeName, size, shownIn] of [
  ['360x740', phone, [...looks, forced]],
  ['1280x800', laptop, ['light']],
]) {
  scene(`axe finds nothing in any state, ${sizeName}, in ${shownIn.join(', ')}`, { size, timeout: 300_000, fresh: true }, async (page) => {
    await page.evaluate(axe);
    const low = new Set();
    for (const [name, reach] of Object.entries(states)) {
      await page.emulateMedia({ forcedColors: 'none', colorScheme: 'light' });
      await reach(page);
      for (const l of shownIn) {
        await look(page, l);
        assert.deepEqual(await check(page, l === 'light' ? everything : colours), [], `${name}, ${l}: axe should find nothing`);
        if (size === laptop) continue;
        const all = await measured(page);
        assert.ok(all.length > 10, `${name}, ${l}: more than ten texts should be seen, not ${all.length}`);
        for (const m of all) if (m.ratio < 7) low.add(`${l}, ${name}: ${m.what}: ${m.ratio.toFixed(2)}`);
        if (l === forced) for (const what of await page.evaluate(covered)) low.add(`${l}, ${name}: ${what} is covered`);
      }
    }
    assert.deepEqual([...low], [], 'every text has a contrast of 7:1 in each look, and is seen');
  });
}
