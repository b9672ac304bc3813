// The states of the page in the languages that have longer words than English: nothing broken, nothing cut, nothing out of view on a
// phone, with text as it is and doubled.
// node --test site/test/page-states-languages.test.mjs
import assert from 'node:assert/strict';
import { phone, scene, useBrowser } from './browser.mjs';
import { states } from './states.mjs';
import { brokenOrCut, lettersOf, overlapping, tooWide } from './widths.mjs';

useBrowser();

const { width } = phone.viewport;
// These have no words that are not in the state of the same tool that is filled in.
const known = [
  ...['winding, empty', 'circuit, empty', 'circuit, stopped', 'drive, empty'],
  ...['drive, a slider in the hand', 'trace, empty', 'torque, empty'],
];
const looked = Object.entries(states).filter(([name]) => !known.includes(name));
assert.equal(looked.length, Object.keys(states).length - known.length, 'a state left out that there is no more');
for (const locale of ['de-DE', 'es-ES', 'fr-FR']) {
  scene(`the states in ${locale}`, { locale, size: phone }, async (page) => {
    const letters = await lettersOf(page);
    const found = [];
    for (const [name, reach] of looked) {
      await reach(page);
      assert.equal(await page.evaluate(() => document.documentElement.lang), locale.slice(0, 2));
      for (const [size, said] of [[16, ''], [32, ', text doubled']]) {
        await letters(size);
        const wrong = [...(await page.evaluate(tooWide, width)), ...(await page.evaluate(brokenOrCut))];
        if (size === 16) wrong.push(...(await page.evaluate(overlapping)));
        found.push(...wrong.map((what) => `${name}${said}: ${what}`));
      }
      await letters(16);
    }
    assert.deepEqual(found, []);
  });
}
