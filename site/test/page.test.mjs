// The page as someone meets it first: the visit, its policy, a module that comes late or not at all.
// node --test site/test/page.test.mjs
import assert from 'node:assert/strict';
import { base, ready, scene, seenByProxy, useBrowser } from './browser.mjs';
import { answered, answerText, expected, field, go, headText, press, says, stored, type, word } from './reader.mjs';

useBrowser({ desktop: true });

// ---- the first visit

const violations = () => {
  globalThis.violations = [];
  addEventListener('securitypolicyviolation', (e) => globalThis.violations.push(`${e.violatedDirective} ${e.blockedURI}`));
};

let asked;
scene(
  'the first visit asks this origin alone, and all it asks for is there',
  {
    workers: true,
    init: violations,
    wait: false,
    route: async (page) => {
      asked = new Map();
      const context = page.context();
      context.on('request', (r) => asked.set(r.url(), null));
      context.on('response', (r) => asked.set(r.url(), r.status()));
      context.on('requestfailed', (r) => asked.set(r.url(), r.failure()?.errorText));
    },
  },
  async (page) => {
    await ready(page);
    await says(page, 'offline', 'offline');
    for (const tile of ['winding', 'loop', 'circuit', 'drive', 'trace', 'code', 'exercise']) {
      await page.goto(`${base}#/${tile}`);
      await press(page, 'demo');
      assert.equal(await answered(page), true, 'the tool shown: the form should be answered');
    }
    assert.ok(asked.size > 8, `only ${asked.size} requests seen`);
    // The browser asks for the page's icon when it likes.
    for (const end = Date.now() + 30_000; [...asked.values()].includes(null) && Date.now() < end; ) await page.waitForTimeout(50);
    for (const [url, status] of asked) {
      assert.ok(url.startsWith(base) || url.startsWith('blob:'), `${url} was asked for`);
      assert.equal(status, 200, url);
    }
    assert.deepEqual(await page.evaluate(() => globalThis.violations), []);
    // What the browser itself asks its maker for is not the page's doing.
    const own = /^(https?:\/\/)?([a-z-]+\.)*(googleapis|google|gvt1)\.com[:/]/;
    assert.deepEqual(
      seenByProxy.filter((url) => !own.test(url)),
      [],
    );
    assert.deepEqual(await page.context().cookies(), []);
  },
);

scene('the policy stands in header and page, without a hole', {}, async (page) => {
  const header = await page.evaluate(async () => (await fetch('./')).headers.get('content-security-policy'));
  const meta = await page.getAttribute('meta[http-equiv="Content-Security-Policy"]', 'content');
  for (const policy of [header, meta]) {
    assert.match(policy, /default-src 'none'/);
    // A script that makes a worker of its own text is itself let in by the policy.
    assert.doesNotMatch(policy.replace("worker-src 'self' blob:;", ''), /'unsafe-inline'|'unsafe-eval'|\*|https?:|data:|blob:/);
    assert.match(policy, /base-uri 'none'/);
    assert.match(policy, /form-action 'none'/);
  }
  assert.ok(header.startsWith(meta), 'the two agree');
});

scene(
  'the policy is enforced: no inline script, no eval, no foreign request',
  { init: violations, expects: /Content Security Policy|Content-Security-Policy/ },
  async (page) => {
    const tried = await page.evaluate(async () => {
      const script = document.createElement('script');
      script.textContent = 'globalThis.holed = true';
      document.body.append(script);
      const fetched = await fetch('https://example.invalid/').then(
        () => 'there',
        () => 'refused',
      );
      await new Promise((resolve) => setTimeout(resolve)); // reports come in a task of their own
      return { holed: Boolean(globalThis.holed), fetched, seen: globalThis.violations.length };
    });
    assert.deepEqual([tried.holed, tried.fetched], [false, 'refused']);
    assert.ok(tried.seen >= 2, `the browser should report two breaches of the policy or more, not ${tried.seen}`);
  },
);

scene('markup typed into a field stays text', { at: '#/winding' }, async (page) => {
  const text = '<img src=x onerror=alert(1)><script>alert(1)</script>&amp;"\'';
  await type(page, 'winding', 'reading', '13');
  await type(page, 'winding', 'at', '24');
  await type(page, 'winding', 'specs.0.min', '12');
  await page.fill(field('winding', 'specs.0.name'), text);
  assert.ok((await answerText(page)).includes(text), 'the tool shown: the answer');
  assert.equal(await page.locator('main img, main script').count(), 0, 'the tool shown: main img, main script: how many there are');
});

scene(
  'from one answer to the next only what differs is changed; what a translator wrote over is put right',
  { at: '#/winding?reading=6.9ohm&at=88degC&specs.0.min=5ohm&specs.0.max=5.6ohm' },
  async (page) => {
    const given = (reading) => ({ reading: `${reading} ohm`, at: '88 degC', 'specs.0.min': '5 ohm', 'specs.0.max': '5.6 ohm' });
    await page.waitForSelector('#winding .verdict');
    await page.evaluate(() => {
      for (const e of document.querySelectorAll('#winding .verdict, #winding .body .drawing')) e.seen = true;
    });
    await page.fill(field('winding', 'reading'), '6.8');
    assert.equal(await headText(page), (await expected(page, 'winding', given('6.8'))).head, 'the tool shown: the head of the answer');
    assert.deepEqual(
      await page.$$eval('#winding .verdict, #winding .body .drawing', (all) => all.map((e) => e.seen === true)),
      [true, true],
      'the same nodes',
    );
    // A translator puts elements where texts were, or writes into them.
    await page.evaluate(() => {
      const walk = document.createTreeWalker(document.querySelector('#winding .head'), NodeFilter.SHOW_TEXT);
      const texts = [];
      while (walk.nextNode()) texts.push(walk.currentNode);
      texts.forEach((text, i) => {
        const font = document.createElement('font');
        font.textContent = 'translated';
        if (i % 2) text.data = 'translated';
        else text.replaceWith(font);
      });
    });
    assert.match(await headText(page), /translated/);
    await page.fill(field('winding', 'reading'), '9.9');
    assert.equal(await headText(page), (await expected(page, 'winding', given('9.9'))).head, 'the tool shown: the head of the answer');
  },
);

// The module may come before or after the page's scripts; neither order may matter.
scene(
  'a glue that comes late does not break the page',
  {
    wait: false,
    at: '#/winding',
    route: async (page) => {
      let open;
      page.late = new Promise((resolve) => (open = resolve));
      page.letCome = open;
      await page.route('**/core.js*', async (route) => {
        await page.late;
        await route.continue();
      });
    },
  },
  async (page) => {
    await page.waitForFunction(() =>
      performance.getEntriesByType('resource').some((r) => /forms\.packed/.test(r.name) && r.responseEnd > 0),
    );
    await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 50))); // no condition says that nothing more will happen
    page.letCome();
    await ready(page);
  },
);

// moduleLate keeps the module back until the page's letCome is called.
const moduleLate = async (page) => {
  const late = new Promise((resolve) => (page.letCome = resolve));
  await page.route('**/ohmwright.packed*', async (route) => {
    await late;
    await route.continue();
  });
};

scene(
  'what is typed before the module came is answered when it comes',
  {
    wait: false,
    at: '#/winding',
    route: moduleLate,
  },
  async (page) => {
    await page.waitForSelector(field('winding', 'reading'));
    await type(page, 'winding', 'reading', '13');
    await type(page, 'winding', 'at', '24');
    assert.match(await stored(page, 'winding'), /"13"/);
    await says(page, 'coming', 'coming');
    page.letCome();
    await ready(page);
    assert.equal(await answered(page), true, 'the tool shown: the form should be answered');
    assert.equal(await page.inputValue(field('winding', 'reading')), '13', 'winding, field reading: what stands in it');
    assert.equal(await page.textContent('#coming'), '');
  },
);

for (const locale of ['en-GB', 'de-DE', 'es-ES', 'fr-FR']) {
  scene(`the page does not jump while the module comes: ${locale}`, { wait: false, locale, route: moduleLate }, async (page) => {
    await page.waitForFunction(() => document.body?.dataset.place !== undefined);
    // what stands in the header: nothing yet, that it comes, how much of it has come
    const tops = await page.evaluate(() => {
      const words = JSON.parse(document.getElementById('words').textContent);
      const kB = (1003).toLocaleString(navigator.language, { useGrouping: true });
      const at = document.getElementById('coming');
      return ['', words.coming, words['coming.of'].replace('{0}', kB).replace('{1}', kB)].map((text) => {
        at.textContent = text;
        return document.getElementById('main').getBoundingClientRect().top;
      });
    });
    assert.ok(await page.isVisible('#coming'), 'that it comes is said');
    assert.deepEqual(new Set(tops), new Set([tops[0]]), 'where what is below the header begins');
    page.letCome();
    await ready(page);
  });
}

// What a device keeps from before a link was tapped.
const former = () => {
  const state = { v: 1, given: { reading: '33' }, units: {}, names: {}, rows: { specs: 1 }, open: [] };
  localStorage.setItem('ohmwright/winding', localStorage.getItem('ohmwright/winding') ?? JSON.stringify(state));
};
const LINK = '#/winding?v=1&reading=6.90ohm&at=88degC&specs.0.min=5.0ohm&specs.1.max=6,1Ω&specs.1.name=50%25 row&measured_at=control_unit';

scene(
  'a link’s figures stand in the form before the module is there, and are kept once it has read them',
  { wait: false, fresh: true, at: LINK, route: moduleLate, init: former },
  async (page) => {
    const holds = async (path, text) => assert.equal(await page.inputValue(field('winding', path)), text, `winding, field ${path}`);
    await page.waitForFunction(() => document.querySelector('#winding-reading')?.value === '6.90');
    await holds('at', '88');
    await holds('specs.0.min', '5.0');
    await holds('specs.1.name', '50% row');
    assert.equal(await page.isChecked('#winding [data-path="measured_at"] input[value="control_unit"]'), true);
    await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 300))); // nothing says that nothing will be written
    assert.match(await stored(page, 'winding'), /"33"/, 'what is kept before the module has read the link');
    page.letCome();
    await ready(page);
    assert.equal(await answered(page), true, 'the tool shown: the form should be answered');
    await holds('reading', '6.90');
    await holds('specs.1.max', '6.1');
    assert.match(await stored(page, 'winding'), /"6.90"/);
    await press(page, 'undo');
    await holds('reading', '33');
  },
);

scene(
  'what is typed beside a link’s figures before the module is there stays, and undo leads back to before the link',
  { wait: false, fresh: true, at: LINK, route: moduleLate, init: former },
  async (page) => {
    await page.waitForFunction(() => document.querySelector('#winding-reading')?.value === '6.90');
    await type(page, 'winding', 'reading', '7.1');
    assert.match(await stored(page, 'winding'), /"7.1"/, 'what is typed is kept at once');
    page.letCome();
    await ready(page);
    for (const [path, text] of [['reading', '7.1'], ['at', '88'], ['specs.1.max', '6.1']]) {
      assert.equal(await page.inputValue(field('winding', path)), text, `winding, field ${path}`);
    }
    assert.match(await stored(page, 'winding'), /"7.1"/);
    await press(page, 'undo');
    assert.equal(await page.inputValue(field('winding', 'reading')), '6.90', 'after one step back: as the link has it');
    await press(page, 'undo');
    assert.equal(await page.inputValue(field('winding', 'reading')), '33', 'after two: as it was before the link');
  },
);

for (const [what, query] of [
  ['a later version', 'v=2&reading=7'],
  ['a row far out', 'v=1&reading=7&specs.999999.min=5'],
  ['no keys', 'v=1&<b>=7'],
]) {
  scene(
    `a link with ${what} waits for the module`,
    { wait: false, fresh: true, at: `#/winding?${query}`, route: moduleLate, init: former },
    async (page) => {
      await page.waitForFunction(() => document.querySelector('#winding-reading')?.value === '33');
      page.letCome();
      await ready(page);
    },
  );
}

scene(
  "an exercise's link shows nothing random while the module is on its way",
  { wait: false, at: '#/exercise?v=1&seed=class-7', route: moduleLate },
  async (page) => {
    await page.waitForFunction((at) => document.querySelector(at)?.value === 'class-7', field('exercise', 'seed'));
    page.letCome();
    await ready(page);
    assert.equal(await page.inputValue(field('exercise', 'seed')), 'class-7', 'exercise, field seed: what stands in it');
  },
);

scene(
  'who has scrolled before the module came stays there; another place is shown from its top',
  { wait: false, at: '#/winding', route: moduleLate },
  async (page) => {
    await page.waitForSelector(field('winding', 'reading'));
    const top = () => page.evaluate((at) => document.querySelector(at).getBoundingClientRect().top, field('winding', 'at'));
    await page.evaluate(() => scrollTo(0, 300));
    const before = await top();
    page.letCome();
    await ready(page);
    const moved = (await top()) - before; // what comes above moves nothing below; scrolling is in whole pixels
    assert.ok(Math.abs(moved) < 2, `winding, field at: it moved by ${moved} px on the screen when the module came`);
    await go(page, '#/loop');
    await page.waitForSelector(field('loop', 'supply'));
    assert.equal(await page.evaluate(() => scrollY), 0, 'how far the page is scrolled at another place');
  },
);

scene(
  'a module that does not come is told, and typing is still saved',
  {
    wait: false,
    at: '#/winding',
    expects: /./,
    route: (page) => page.route('**/ohmwright.packed*', (route) => route.fulfill({ status: 404 })),
  },
  async (page) => {
    await page.waitForSelector('#words', { state: 'attached' });
    await says(page, 'said', 'failed');
    await type(page, 'winding', 'reading', '13');
    assert.match(await stored(page, 'winding'), /"13"/);
  },
);

scene('the page says its name and its word keys', {}, async (page) => {
  assert.notEqual(await page.title(), '');
  for (const key of ['saved', 'unsaved.full', 'unsaved.forbidden', 'offline', 'offline.wrong', 'damaged', 'newer'])
    assert.ok(await word(page, key), key);
});
