// The page as a reader meets it first: the visit, typing, verdicts, faults beside their fields, the reader's notation.
// node --test site/test/page.test.mjs
import assert from 'node:assert/strict';
import {
  answered, answerText, base, beside, choose, codes, echo, expected, field, headText, held, note, press, ready, rowVerdicts, says, scene, seenByProxy, shows, stored, type,
  useBrowser, verdict, word,
} from './browser.mjs';

useBrowser();

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
      assert.equal(await answered(page), true);
    }
    assert.ok(asked.size > 8, `only ${asked.size} requests seen`);
    for (const [url, status] of asked) {
      assert.ok(url.startsWith(base) || url.startsWith('blob:'), `${url} was asked for`);
      assert.equal(status, 200, url);
    }
    assert.deepEqual(await page.evaluate(() => globalThis.violations), []);
    // What the browser itself asks its maker for is not the page's doing.
    const own = /^(https?:\/\/)?([a-z-]+\.)*(googleapis|google|gvt1)\.com[:/]/;
    assert.deepEqual(seenByProxy.filter((url) => !own.test(url)), []);
    assert.deepEqual(await page.context().cookies(), []);
  },
);

scene('the policy stands in header and page, without a hole', {}, async (page) => {
  const header = await page.evaluate(async () => (await fetch('./')).headers.get('content-security-policy'));
  const meta = await page.getAttribute('meta[http-equiv="Content-Security-Policy"]', 'content');
  for (const policy of [header, meta]) {
    assert.match(policy, /default-src 'none'/);
    assert.doesNotMatch(policy, /'unsafe-inline'|'unsafe-eval'|\*|https?:|data:|blob:/);
    assert.match(policy, /base-uri 'none'/);
    assert.match(policy, /form-action 'none'/);
  }
  assert.ok(header.startsWith(meta), 'the two agree');
});

scene('the policy is enforced: no inline script, no eval, no foreign request', { init: violations, expects: /Content Security Policy|Content-Security-Policy/ }, async (page) => {
  const tried = await page.evaluate(async () => {
    const script = document.createElement('script');
    script.textContent = 'globalThis.holed = true';
    document.body.append(script);
    const fetched = await fetch('https://example.invalid/').then(() => 'there', () => 'refused');
    await new Promise((resolve) => setTimeout(resolve)); // reports come in a task of their own
    return { holed: Boolean(globalThis.holed), fetched, seen: globalThis.violations.length };
  });
  assert.deepEqual([tried.holed, tried.fetched], [false, 'refused']);
  assert.ok(tried.seen >= 2);
});

scene('markup typed into a field stays text', { at: '#/winding' }, async (page) => {
  const text = '<img src=x onerror=alert(1)><script>alert(1)</script>&amp;"\'';
  await type(page, 'winding', 'reading', '13');
  await type(page, 'winding', 'at', '24');
  await type(page, 'winding', 'specs.0.min', '12');
  await page.fill(field('winding', 'specs.0.name'), text);
  assert.ok((await answerText(page)).includes(text));
  assert.equal(await page.locator('main img, main script').count(), 0);
});

scene('from one answer to the next only what differs is changed; what a translator wrote over is put right', { at: '#/winding?reading=6.9ohm&at=88degC&specs.0.min=5ohm&specs.0.max=5.6ohm' }, async (page) => {
  const given = (reading) => ({ reading: `${reading} ohm`, at: '88 degC', 'specs.0.min': '5 ohm', 'specs.0.max': '5.6 ohm' });
  await page.waitForSelector('#winding .verdict');
  await page.evaluate(() => {
    for (const e of document.querySelectorAll('#winding .verdict, #winding .body .drawing')) e.seen = true;
  });
  await page.fill(field('winding', 'reading'), '6.8');
  assert.equal(await headText(page), (await expected(page, 'winding', given('6.8'))).head);
  assert.deepEqual(await page.$$eval('#winding .verdict, #winding .body .drawing', (all) => all.map((e) => e.seen === true)), [true, true], 'the same nodes');
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
  assert.equal(await headText(page), (await expected(page, 'winding', given('9.9'))).head);
});

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
      await page.route('**/core.js', async (route) => {
        await page.late;
        await route.continue();
      });
    },
  },
  async (page) => {
    // The form's templates are in the page, so all other scripts have come when the others have answered.
    await page.waitForFunction(() => performance.getEntriesByType('resource').filter((r) => /(app|form|state|paint|offline)\.js$/.test(r.name) && r.responseEnd > 0).length >= 5);
    await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 50))); // no condition says that nothing more will happen
    page.letCome();
    await ready(page);
  },
);

scene(
  'what is typed before the module came is answered when it comes',
  {
    wait: false,
    at: '#/winding',
    route: async (page) => {
      page.late = new Promise((resolve) => (page.letCome = resolve));
      await page.route('**/ohmwright.wasm', async (route) => {
        await page.late;
        await route.continue();
      });
    },
  },
  async (page) => {
    await page.waitForSelector(field('winding', 'reading'));
    await type(page, 'winding', 'reading', '13');
    await type(page, 'winding', 'at', '24');
    assert.match(await stored(page, 'winding'), /"13"/);
    page.letCome();
    await ready(page);
    assert.equal(await answered(page), true);
    assert.equal(await page.inputValue(field('winding', 'reading')), '13');
  },
);

scene(
  'a module that does not come is told, and typing is still saved',
  { wait: false, at: '#/winding', expects: /./, route: (page) => page.route('**/ohmwright.wasm', (route) => route.fulfill({ status: 404 })) },
  async (page) => {
    await page.waitForSelector('#words', { state: 'attached' });
    await says(page, 'said', 'failed');
    await type(page, 'winding', 'reading', '13');
    assert.match(await stored(page, 'winding'), /"13"/);
  },
);

// ---- typing

scene('the answer follows every keystroke', { at: '#/winding' }, async (page) => {
  assert.equal(await verdict(page), 'waiting');
  assert.equal(await answered(page), false);
  const given = {};
  const heads = [];
  for (const [path, unit, text] of [['at', 'degC', '24'], ['reading', 'ohm', '13.25'], ['specs.0.min', 'ohm', '12'], ['specs.0.max', 'ohm', '14.5']]) {
    for (let n = 1; n <= text.length; n++) {
      await page.locator(field('winding', path)).press(text[n - 1]);
      given[path] = `${text.slice(0, n)} ${unit}`;
      const head = await headText(page);
      assert.equal(head, (await expected(page, 'winding', given)).head, JSON.stringify(given));
      heads.push(head);
    }
  }
  assert.ok(new Set(heads).size >= 5, `the head took few forms: ${JSON.stringify(heads)}`);
  assert.equal(await verdict(page), 'within');
  await page.focus(field('winding', 'reading'));
  await page.keyboard.press('End');
  for (let n = 0; n < 4; n++) await page.keyboard.press('Backspace');
  assert.equal(await page.inputValue(field('winding', 'reading')), '1');
  assert.equal(await verdict(page), 'below');
});

const row = async (page, i, min, max) => {
  await type(page, 'winding', `specs.${i}.min`, min);
  await type(page, 'winding', `specs.${i}.max`, max);
};
const reads = async (page, reading, at = '24') => {
  await type(page, 'winding', 'reading', reading);
  await type(page, 'winding', 'at', at);
};

scene('each kind of verdict', { at: '#/winding' }, async (page) => {
  await reads(page, '13');
  // No row: a corrected value, and no verdict on it.
  assert.equal(await answered(page), true);
  assert.deepEqual(await rowVerdicts(page), []);
  await shows(page, 12.799); // 13 × 254.5/258.5
  await row(page, 0, '12', '14.5');
  // 13 ohm at 24 degC is 12.799 ohm at 20 degC (234.5 rule), 4 standard uncertainties inside 12 to 14.5.
  for (const [reading, kind] of [['13', 'within'], ['9', 'below'], ['19', 'above'], ['12.2', 'undecided']]) {
    await type(page, 'winding', 'reading', reading);
    assert.equal(await verdict(page), kind, reading);
    assert.deepEqual(await rowVerdicts(page), [kind], reading);
  }
  await type(page, 'winding', 'reading', '13');
  await press(page, 'add');
  await row(page, 1, '16', '18');
  assert.equal(await verdict(page), 'disagree');
  assert.deepEqual(await rowVerdicts(page), ['within', 'below']);
  assert.ok((await codes(page)).includes('rows_disagree'));
  await page.click('[data-path="reading"] [data-put="OL"]');
  assert.equal(await verdict(page), 'open');
  assert.deepEqual(await rowVerdicts(page), ['above', 'above']);
});

scene('a hot winding is judged at the temperature of its row', { at: '#/winding' }, async (page) => {
  // A row of 5.0 to 5.6 ohm at 20 degC: 6.6 ohm at 88 degC is 6.6 × 254.5/322.5 = 5.21 ohm.
  await reads(page, '6.6', '88');
  await row(page, 0, '4.6', '5.9');
  assert.equal(await verdict(page), 'within');
  await shows(page, 5.208);
  await type(page, 'winding', 'at', '20');
  assert.equal(await verdict(page), 'above');
});

scene('OL, 0 and the sign have buttons, and the echo says what was read', { at: '#/winding' }, async (page) => {
  await type(page, 'winding', 'at', '24');
  await page.click('[data-path="reading"] [data-put="OL"]');
  assert.equal(await page.inputValue(field('winding', 'reading')), 'OL');
  assert.equal(await verdict(page), 'open');
  const open = await echo(page, 'winding', 'reading');
  await page.click('[data-path="reading"] [data-put="0"]');
  assert.equal(await page.inputValue(field('winding', 'reading')), '0');
  const short = await echo(page, 'winding', 'reading');
  assert.ok(open && short && open !== short && !/^[\d\s.Ω]*$/.test(open + short), `${open} / ${short}`);
  assert.equal(await answered(page), true);
  assert.ok((await codes(page)).includes('near_zero'));
  await type(page, 'winding', 'reading', '13');
  const warm = await headText(page);
  await page.click('[data-path="at"] [data-put="sign"]');
  assert.match(await page.inputValue(field('winding', 'at')), /^[-\u2212]24$/);
  assert.notEqual(await headText(page), warm);
  await page.click('[data-path="at"] [data-put="sign"]');
  assert.equal(await page.inputValue(field('winding', 'at')), '24');
  assert.equal(await headText(page), warm);
});

scene('units are chosen beside the number', { at: '#/winding' }, async (page) => {
  await reads(page, '13', '75.2');
  await choose(page, 'winding-at-unit', 'degF');
  // 75.2 degF is 24 degC exactly.
  const head = await headText(page);
  assert.equal(head, (await expected(page, 'winding', { reading: '13 ohm', at: '24 degC' })).head);
  assert.match(await echo(page, 'winding', 'at'), /24\s*°C/);
  await choose(page, 'winding-at-unit', 'degC');
  assert.notEqual(await headText(page), head);
  await type(page, 'winding', 'reading', '0.013');
  await choose(page, 'winding-reading-unit', 'kohm');
  await type(page, 'winding', 'at', '24');
  assert.equal((await headText(page)).replace(/ ± .*/, ''), head.replace(/ ± .*/, ''));
  assert.match(await echo(page, 'winding', 'reading'), /13\s*Ω/);
  // A unit that is typed wins over the one chosen.
  await type(page, 'winding', 'reading', '13 ohm');
  assert.equal(await headText(page), head);
  // The most of a row takes the unit of its least.
  assert.equal(await page.locator('[data-path="specs.0.max"] .unit').textContent(), 'Ω');
});

scene('two in series, a loom, another metal, a driver: what is folded counts', { at: '#/winding' }, async (page) => {
  await reads(page, '26', '24');
  await choose(page, 'winding-arrangement', 'series');
  await type(page, 'winding', 'arrangement.series', '2');
  await shows(page, 12.799); // 26/2 × 254.5/258.5
  await choose(page, 'winding-material', 'aluminium');
  await shows(page, 12.794); // 13 × 248/252
  await choose(page, 'winding-measured_at', 'control_unit');
  await type(page, 'winding', 'loom', '1');
  await shows(page, 12.302); // 12.5 × 248/252
  await type(page, 'winding', 'supply', '13.8');
  await type(page, 'winding', 'driver_limit', '1');
  const shown = await page.$$eval('#winding-answer p[data-verdict]', (all) => all.map((p) => p.dataset.verdict));
  assert.deepEqual(shown, ['no']);
  await type(page, 'winding', 'known_good.reading', '13');
  await type(page, 'winding', 'known_good.at', '24');
  assert.equal(await page.$$eval('#winding-answer p[data-verdict]', (all) => all.length), 2);
});

// ---- faults

scene('a reading that is none is told beside the field, and nothing is lost', { at: '#/winding' }, async (page) => {
  await reads(page, '13');
  await row(page, 0, '12', '14.5');
  for (const [text, code] of [['-', 'syntax'], ['abc', 'syntax'], ['12 V', 'unit'], ['1,250', 'ambiguous'], ['-5', 'range'], ['1e400', 'range'], ['13 furlong', 'unit'], ['..', 'syntax']]) {
    await type(page, 'winding', 'reading', text);
    const unit = /[\d.,]$/.test(text) ? ' ohm' : '';
    await beside(page, 'winding', 'reading', code, { reading: text + unit, at: '24 degC', 'specs.0.min': '12 ohm', 'specs.0.max': '14.5 ohm' });
    assert.equal(await page.inputValue(field('winding', 'reading')), text);
    assert.equal(await page.inputValue(field('winding', 'at')), '24');
    assert.equal(await answered(page), false, text);
    assert.equal(await verdict(page), 'refused', text);
    assert.equal(await answerText(page), '', `${text}: an answer of before may not stay`);
  }
  await type(page, 'winding', 'reading', '1,250');
  const both = await note(page, 'winding', 'reading');
  assert.ok(/\b1\.250?\b/.test(both) && /\b1250\b/.test(both), both);
  await type(page, 'winding', 'reading', '13');
  assert.equal(await note(page, 'winding', 'reading'), '');
  assert.equal(await page.getAttribute(field('winding', 'reading'), 'aria-invalid'), 'false');
  assert.equal(await verdict(page), 'within');
});

scene('a needed field left empty is told once something else was entered', { at: '#/winding' }, async (page) => {
  await page.focus(field('winding', 'reading'));
  await page.focus(field('winding', 'at'));
  assert.equal(await note(page, 'winding', 'reading'), '', 'passing through is no fault');
  await page.keyboard.type('24');
  assert.equal(await note(page, 'winding', 'reading'), '', 'not there yet is no fault');
  await page.focus(field('winding', 'reading'));
  await page.focus(field('winding', 'leads'));
  await beside(page, 'winding', 'reading', 'missing', { at: '24 degC' });
  await type(page, 'winding', 'reading', '13');
  assert.equal(await note(page, 'winding', 'reading'), '');
  // Emptied again, it is told at once.
  await page.fill(field('winding', 'reading'), '');
  await beside(page, 'winding', 'reading', 'missing', { at: '24 degC' });
});

scene('leads above the reading, a temperature where copper has no resistance', { at: '#/winding' }, async (page) => {
  await reads(page, '5');
  await type(page, 'winding', 'leads', '6');
  await beside(page, 'winding', 'leads', 'conflict', { reading: '5 ohm', at: '24 degC', leads: '6 ohm' });
  assert.equal(await answered(page), false);
  await type(page, 'winding', 'leads', '0.3');
  await type(page, 'winding', 'at', '-240');
  await beside(page, 'winding', 'at', 'range', { reading: '5 ohm', at: '-240 degC', leads: '0.3 ohm' });
  await type(page, 'winding', 'at', '24');
  assert.equal(await answered(page), true);
});

scene('one bad row of three: the others are judged, and the bad one is named', { at: '#/winding' }, async (page) => {
  await reads(page, '13');
  await row(page, 0, '12', '14.5');
  await press(page, 'add');
  await row(page, 1, '15', '11');
  await press(page, 'add');
  await row(page, 2, '16', '18');
  const given = { reading: '13 ohm', at: '24 degC', 'specs.0.min': '12 ohm', 'specs.0.max': '14.5 ohm', 'specs.1.min': '15 ohm', 'specs.1.max': '11 ohm', 'specs.2.min': '16 ohm', 'specs.2.max': '18 ohm' };
  await beside(page, 'winding', 'specs.1.min', 'conflict', given);
  assert.deepEqual(await rowVerdicts(page), ['within', 'below']);
  assert.equal(await verdict(page), 'disagree');
  // The first thing in the answer says what was left out: row 2.
  const first = await page.evaluate(() => document.querySelector('#winding-answer').firstElementChild.textContent);
  assert.match(first, /\b2\b/);
  assert.doesNotMatch(first, /\b[13]\b/);
  await type(page, 'winding', 'specs.1.max', '16');
  assert.deepEqual(await rowVerdicts(page), ['within', 'below', 'below']);
});

scene('an empty row between others is no fault, and faults find their row', { at: '#/winding' }, async (page) => {
  await reads(page, '13');
  await press(page, 'add');
  await press(page, 'add');
  await row(page, 2, '16', 'x');
  assert.notEqual(await note(page, 'winding', 'specs.2.max'), '');
  assert.equal(await note(page, 'winding', 'specs.0.min') + (await note(page, 'winding', 'specs.1.min')), '');
  assert.match(await page.evaluate(() => document.querySelector('#winding-answer').firstElementChild.textContent), /\b3\b/, 'the row is named as it is numbered on the page');
});

const manyRows = (n) => `#/winding?v=1&reading=13ohm&at=24degC${Array.from({ length: n }, (_, i) => `&specs.${i}.min=12ohm&specs.${i}.max=${14 + i / 100}ohm`).join('')}`;

scene('60 rows are judged', { at: manyRows(60) }, async (page) => {
  assert.equal((await rowVerdicts(page)).length, 60);
  assert.equal(await verdict(page), 'within');
});

scene('61 rows: told, and the reading still answered', { at: manyRows(60) }, async (page) => {
  await press(page, 'add');
  await row(page, 60, '12', '15');
  assert.equal(await answered(page), true);
  assert.equal((await held(page)).rows, 61);
  const told = await page.textContent('[data-note="specs"]');
  assert.match(told, /61/);
  assert.match(told, /60/);
  await press(page, 'undo');
  await press(page, 'undo');
  await press(page, 'undo');
  assert.equal((await held(page)).rows, 60);
  assert.equal((await rowVerdicts(page)).length, 60);
});

const paste = (page, path, text) =>
  page.evaluate(
    ([id, text]) => {
      const input = document.getElementById(id);
      input.focus();
      document.execCommand('insertText', false, text); // as a paste does: one input event, and the browser's own undo
    },
    [`winding-${path}`, text],
  );

scene('64 KiB pasted into a number is told, kept, and undone', { at: '#/winding' }, async (page) => {
  await reads(page, '13');
  await page.fill(field('winding', 'leads'), '');
  await paste(page, 'leads', '7'.repeat(65536));
  assert.equal((await page.inputValue(field('winding', 'leads'))).length, 65536);
  const told = (await note(page, 'winding', 'leads')) + (await page.textContent('#winding form > ul'));
  assert.notEqual(told, '');
  await says(page, 'saved', 'saved');
  await press(page, 'undo');
  assert.equal(await page.inputValue(field('winding', 'leads')), '');
  assert.equal(await answered(page), true);
});

scene('64 KiB pasted into the name of a row is told there, and the rest is answered', { at: '#/winding' }, async (page) => {
  await reads(page, '13');
  await row(page, 0, '12', '14.5');
  await press(page, 'add');
  await row(page, 1, '12', '14.5');
  await paste(page, 'specs.1.name', 'long '.repeat(13108));
  assert.equal(await answered(page), true, 'the first row needs nothing of the second');
  assert.notEqual(await note(page, 'winding', 'specs.1.name'), '');
});

scene('a known good part half filled: told, and the rest answered', { at: '#/winding' }, async (page) => {
  await reads(page, '13');
  await row(page, 0, '12', '14.5');
  await type(page, 'winding', 'known_good.reading', '12.5');
  assert.equal(await answered(page), true);
  assert.equal(await verdict(page), 'within');
  assert.equal(await note(page, 'winding', 'known_good.at'), '', 'still at it');
  await page.focus(field('winding', 'leads'));
  await page.keyboard.type('0.1');
  await beside(page, 'winding', 'known_good.at', 'missing', { reading: '13 ohm', at: '24 degC', leads: '0.1 ohm', 'known_good.reading': '12.5 ohm' });
  assert.equal(await verdict(page), 'within');
  await type(page, 'winding', 'known_good.at', '24');
  assert.equal(await page.$$eval('#winding-answer p[data-verdict]', (all) => all.length), 1);
});

scene('a fault in a folded part opens it', { at: '#/winding?v=1&reading=13ohm&at=24degC&reference=-300degC' }, async (page) => {
  assert.ok(await page.isVisible(field('winding', 'reference')));
  assert.notEqual(await note(page, 'winding', 'reference'), '');
  assert.equal(await answered(page), true, 'the reference is not needed for the rest');
});

// ---- the reader's notation

scene('a reader who writes a decimal comma', { at: '#/winding', locale: 'de-DE' }, async (page) => {
  assert.equal(await page.getAttribute(field('winding', 'meter.resolution'), 'placeholder'), '0,1');
  await reads(page, '6,9', '88');
  await row(page, 0, '5,0', '5,6');
  await shows(page, 5.4451); // 6.9 × 254.5/322.5
  assert.match(await headText(page), /\d,\d+ ± 0,\d+/);
  assert.doesNotMatch(await headText(page), /\d\.\d/);
  assert.doesNotMatch((await answerText(page)).replace(/\d+\.\d+\.\d+/g, ''), /\d\.\d\d?\s*Ω/);
  assert.match(await echo(page, 'winding', 'reading'), /6,9/);
  // A point is read too, where it has one reading only.
  const head = await headText(page);
  await type(page, 'winding', 'reading', '6.9');
  assert.equal(await headText(page), head);
  await type(page, 'winding', 'reading', '1.250');
  const told = await note(page, 'winding', 'reading');
  assert.ok(/\b1[.,]250?\b/.test(told) && /\b1250\b/.test(told), told);
  assert.equal(await answered(page), false);
  await type(page, 'winding', 'reading', '1,250');
  assert.equal(await answered(page), true);
  const before = await held(page);
  await page.reload();
  await ready(page);
  assert.deepEqual(await held(page), before);
  assert.equal(await page.inputValue(field('winding', 'reading')), '1,250');
  assert.equal(await answered(page), true);
});

scene('an example shows the reader’s comma, and a link opened does', { at: '#/winding', locale: 'de-DE' }, async (page) => {
  await press(page, 'demo');
  assert.equal(await page.inputValue(field('winding', 'reading')), '6,90');
  const here = await headText(page);
  await page.evaluate(() => (location.hash = '#/winding?reading=9.750ohm&at=24degC'));
  await page.waitForFunction(() => document.getElementById('winding-reading').value === '9,750');
  assert.equal(await answered(page), true);
  assert.notEqual(await headText(page), here);
});

for (const locale of ['ar-EG', 'hi-IN', 'fr-FR', 'de-CH', 'fa-IR']) {
  scene(`placeholders of ${locale} can be typed, and mean the default`, { at: '#/winding', locale }, async (page) => {
    await reads(page, '13');
    await row(page, 0, '12', '14.5');
    await type(page, 'winding', 'known_good.reading', '13');
    await type(page, 'winding', 'known_good.at', '24');
    const before = await headText(page);
    assert.equal(before, (await expected(page, 'winding', { reading: '13 ohm', at: '24 degC', 'specs.0.min': '12 ohm', 'specs.0.max': '14.5 ohm' })).head);
    assert.match(before, /[a-z]{3}/i, 'a language without words of its own has the English ones');
    assert.doesNotMatch(before + (await answerText(page)), /\b(winding|sheet|caution|source)\.[a-z_]+/, 'no key stands where words should');
    const faults = await page.evaluate(() => {
      const wrong = [];
      const inputs = [...document.querySelectorAll('#winding input[type="text"][data-default]')];
      for (const input of inputs) {
        input.value = input.placeholder;
        input.dispatchEvent(new Event('input', { bubbles: true }));
        const told = document.getElementById(`${input.id}-note`).textContent;
        if (told || !/[0-9]/.test(input.placeholder)) wrong.push(`${input.id}: ${input.placeholder}: ${told}`);
      }
      return inputs.length > 5 ? wrong : ['too few fields'];
    });
    assert.deepEqual(faults, []);
    assert.equal(await headText(page), before);
  });
}

scene('the page says its name and its word keys', {}, async (page) => {
  assert.notEqual(await page.title(), '');
  for (const key of ['saved', 'unsaved.full', 'unsaved.forbidden', 'offline', 'offline.not', 'damaged', 'newer']) assert.ok(await word(page, key), key);
});
