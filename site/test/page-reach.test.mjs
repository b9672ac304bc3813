// Who can use the page, and with what: keyboard, screen reader, sun, small screens, large text, paper, a thumb.
// node --test site/test/page-reach.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { answered, answerText, beside, choose, codes, field, focused, frame, headText, laptop, note, phone, press, rowVerdicts, scene, shows, tabTo, type, useBrowser, verdict, visit } from './browser.mjs';

useBrowser();

const fill = async (page, tool, texts) => {
  for (const [path, text] of Object.entries(texts)) await type(page, tool, path, text);
};
const plain = { reading: '13', at: '24', 'specs.0.min': '12', 'specs.0.max': '14.5' };

// ---- the states that all of these are held to

const states = {
  start: async (page) => goto(page, '#/'),
  'winding, empty': async (page) => goto(page, '#/winding'),
  'winding, filled': async (page) => {
    await goto(page, '#/winding');
    await press(page, 'demo');
    await page.click('[data-row="0"] [data-do="keep"]');
    await unfoldAll(page);
  },
  'winding, with faults': async (page) => {
    await goto(page, '#/winding?reading=abc&at=12V&specs.0.min=9ohm&specs.0.max=5ohm&colour=red&known_good.reading=5ohm&reference=-900degC&loom=1ohm');
    await page.waitForFunction(() => document.querySelector('#winding form > ul').children.length > 0);
    await unfoldAll(page);
  },
  'loop, filled': async (page) => {
    await goto(page, '#/loop');
    await press(page, 'demo');
    await unfoldAll(page);
  },
  'circuit, empty': async (page) => goto(page, '#/circuit'),
  'circuit, half way': async (page) => {
    await goto(page, `${circuit}&readings.0.test=voltage_pin_off&readings.0.value=0V`);
    await page.waitForSelector('#circuit .p-next');
    await page.click('#circuit .point[data-value="current_on"]');
    await unfoldAll(page);
  },
  'circuit, decided': async (page) => {
    await goto(page, '#/circuit');
    await press(page, 'demo');
  },
  'circuit, surprised, with faults': async (page) => {
    await goto(page, `${circuit}&readings.0.test=resistance_component&readings.0.value=OL&readings.1.test=current_on&readings.1.value=2.5A&readings.2.test=voltage_pin_on&readings.2.value=OL&costs.hour=-1`);
    await page.waitForSelector('#circuit .verdict[data-verdict="again"]');
  },
  'exercise, hidden': async (page) => {
    await goto(page, '#/exercise?v=1&seed=bench+1&asked.0.test=current_on');
    await page.waitForSelector('#exercise .point.taken');
    await unfoldAll(page);
  },
  'exercise, answered': async (page) => {
    await goto(page, '#/exercise?v=1&seed=bench+1&asked.0.test=current_on&answer=harness');
    await page.waitForSelector('#exercise .verdict[data-verdict="missed"]');
  },
  'drive, empty': async (page) => goto(page, '#/drive'),
  'drive, filled': async (page) => {
    await goto(page, '#/drive');
    await press(page, 'demo');
    await unfoldAll(page);
  },
  'drive, a slider in the hand': async (page) => {
    await goto(page, '#/drive');
    await press(page, 'demo');
    await page.focus('[id="drive-duty-slide"]');
    await page.keyboard.press('ArrowRight');
    await frame(page);
  },
  'trace, empty': async (page) => goto(page, '#/trace'),
  'trace, filled': async (page) => {
    await goto(page, '#/trace');
    await press(page, 'demo');
    await unfoldAll(page);
  },
  'torque, empty': async (page) => goto(page, '#/torque'),
  'torque, filled': async (page) => {
    await goto(page, torque);
    await unfoldAll(page);
  },
  'torque, with faults': async (page) => {
    await goto(page, '#/torque?v=1&torque=-10N.m&adapter.wrench=12in&adapter.extension=12in&adapter.angle=180deg&fastener.thread=M6.5&table=M6+10+N.m+98+in-lb%0AM8+9+N.m%0AM6+12+N.m&bolts.0.x=abc&bolts.0.y=20');
    await page.waitForSelector('#torque .card.placed .wrong');
    await unfoldAll(page);
  },
  'torque, half way, alone': async (page) => {
    await goto(page, `${torque.replace('89lbf.in', '98lbf.in')}&bolts.0.x=50mm&bolts.0.y=50mm&bolts.0.length=35mm`);
    await page.evaluate(() => {
      // A tap that comes too soon counts for the one before it: by this clock none does.
      const { get } = Object.getOwnPropertyDescriptor(Event.prototype, 'timeStamp');
      let later = 0;
      Object.defineProperty(Event.prototype, 'timeStamp', { configurable: true, get() { return get.call(this) + (later += 1000); } });
      for (const button of ['.p-order .go', '.p-step .ready', '.p-step .go']) document.querySelector(`#torque ${button}`).click();
    });
    await page.waitForSelector('#torque.alone .p-step .stop');
  },
  'code, filled': async (page) => {
    await goto(page, '#/code');
    await press(page, 'demo');
  },
};

const torque = '#/torque?v=1&torque=10N.m&printed_as=89lbf.in&adapter.wrench=12in&adapter.extension=3in&wrench.max=150lbf.in&wrench.graduation=5lbf.in&fastener.thread=M6&fastener.class=8.8&fastener.into=aluminium&fastener.engagement=12mm&pattern.count=12';
const circuit = '#/circuit?v=1&side=high&return=case&supply=13.8V&spec.min=5.0ohm&spec.max=5.6ohm&code_kind=low';

async function goto(page, hash) {
  await page.evaluate((h) => (location.hash = h), hash);
  const place = /^#\/(\w*)/.exec(hash)[1] || 'start';
  await page.waitForFunction((p) => document.body.dataset.place === p && !location.hash.includes('?'), place);
}

const unfoldAll = (page) => page.evaluate(async () => {
  for (const d of document.querySelectorAll('main > section:not([hidden]) details')) d.open = true;
  // What lies off the screen has its size once it was seen (content-visibility); until then its parts seem to overlap.
  for (const part of document.querySelectorAll('main > section:not([hidden]) .body > *')) {
    part.scrollIntoView();
    await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));
  }
  scrollTo(0, 0);
  document.getElementById('said').textContent = ''; // what was said goes by itself; here at once
});

const looks = ['light', 'dark', 'sun'];
const look = (page, name) => page.evaluate((name) => {
  const radio = document.querySelector(`input[name="look"][value="${name}"]`);
  radio.click();
  document.activeElement?.blur();
}, name);

// ---- keyboard

for (const [name, size] of [['phone', phone], ['laptop', laptop]]) {
  scene(`from the first load to a verdict by keyboard alone, on a ${name}`, { size }, async (page) => {
    await tabTo(page, (at) => at.href === '#/winding');
    await page.keyboard.press('Enter');
    await page.waitForSelector(field('winding', 'reading'));
    await tabTo(page, (at) => at.id === 'winding-reading', 8);
    await page.keyboard.type('13');
    await page.keyboard.press('Enter');
    assert.equal((await focused(page)).id, 'winding-at');
    await page.keyboard.type('75.2');
    await tabTo(page, (at) => at.name === 'winding-at-unit');
    await page.keyboard.press('ArrowRight');
    assert.equal(await page.isChecked('input[name="winding-at-unit"][value="degF"]'), true);
    await tabTo(page, (at) => at.id === 'winding-specs.0.min');
    await page.keyboard.type('12');
    await page.keyboard.press('Enter');
    assert.equal((await focused(page)).id, 'winding-specs.0.max');
    await page.keyboard.type('14.5');
    assert.equal(await verdict(page), 'within');
    await tabTo(page, (at) => at.tag === 'SUMMARY');
    await page.keyboard.press('Space');
    await tabTo(page, (at) => at.id === 'winding-specs.0.nominal', 3);
    await tabTo(page, (at) => at.do === 'undo', 60, 'Shift+Tab');
    await page.keyboard.press('Space');
    assert.equal(await page.inputValue(field('winding', 'specs.0.max')), '');
  });
}

scene('the skip link leads to the answer', { at: '#/winding' }, async (page) => {
  await tabTo(page, (at) => at.href === '#winding-answer');
  assert.equal(await page.isVisible('[data-skip]'), true);
  await page.keyboard.press('Enter');
  assert.equal((await focused(page)).id, 'winding-answer');
  assert.match(page.url(), /#\/winding$/, 'the place stays');
});

scene('Enter goes through all fields and stays in the form', { at: '#/winding' }, async (page) => {
  await page.focus(field('winding', 'reading'));
  const order = ['winding-reading'];
  for (let n = 0; n < 6; n++) {
    await page.keyboard.press('Enter');
    order.push((await focused(page))?.id);
  }
  assert.deepEqual(order.slice(0, 7), ['winding-reading', 'winding-at', 'winding-leads', 'winding-specs.0.name', 'winding-specs.0.min', 'winding-specs.0.max', 'winding-specs.0.at']);
  await page.keyboard.press('Enter');
  assert.match(page.url(), /#\/winding$/);
});

scene('a row added, removed or used leaves the focus somewhere', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', plain);
  await page.focus('#winding [data-do="add"]');
  await page.keyboard.press('Enter');
  assert.equal((await focused(page)).id, 'winding-specs.1.name');
  await page.focus('[data-row="1"] [data-do="remove"]');
  await page.keyboard.press('Enter');
  assert.notEqual(await focused(page), null, 'after a row was removed the focus is lost');
});

// ---- the screen reader's tree

scene('the screen reader’s tree, in every state', {}, async (page) => {
  const client = await page.context().newCDPSession(page);
  await client.send('Accessibility.enable');
  await client.send('DOM.enable');
  for (const [name, reach] of Object.entries(states)) {
    await reach(page);
    await treeHolds(page, client, name).catch((e) => {
      e.message = `${name}: ${e.message}`;
      throw e;
    });
  }
});

async function treeHolds(page, client, name) {
  const { nodes } = await client.send('Accessibility.getFullAXTree');
  const seen = nodes.filter((n) => !n.ignored);
  const of = (...roles) => seen.filter((n) => roles.includes(n.role?.value));
  for (const node of of('textbox', 'radio', 'button', 'link', 'img', 'radiogroup', 'group', 'checkbox', 'navigation', 'region', 'form')) {
    if (node.role.value === 'group' && !node.name?.value) {
      // A part that opens has its name on its summary; any other group needs one.
      const { node: element } = await client.send('DOM.describeNode', { backendNodeId: node.backendDOMNodeId });
      if (element.nodeName === 'DETAILS') continue;
    }
    assert.ok(node.name?.value?.trim(), `${node.role.value} without a name: ${JSON.stringify(node.backendDOMNodeId)}`);
  }
  assert.equal(of('heading').filter((n) => n.properties.some((p) => p.name === 'level' && p.value.value === 1)).length, 1, 'one main heading');
  for (const landmark of ['banner', 'main', 'contentinfo']) assert.equal(of(landmark).length, landmark !== 'main' && name.endsWith(', alone') ? 0 : 1, landmark);
  // Hint, echo and fault are the description.
  const described = new Map();
  for (const node of of('textbox')) {
    const { node: element } = await client.send('DOM.describeNode', { backendNodeId: node.backendDOMNodeId });
    const id = element.attributes[element.attributes.indexOf('id') + 1];
    described.set(id, { text: node.description?.value ?? '', invalid: node.properties.find((p) => p.name === 'invalid')?.value.value });
  }
  const want = await page.$$eval('main > section:not([hidden]) input[type="text"]', (all) =>
    all.filter((i) => i.checkVisibility()).map((i) => ({ id: i.id, parts: ['how', 'echo', 'note'].map((p) => document.getElementById(`${i.id}-${p}`)?.textContent.trim() ?? ''), above: [...document.querySelectorAll('.group > .how, .vehicles > .how')].some((how) => how.textContent && how.parentElement.contains(i)) })));
  for (const { id, parts, above } of want) {
    const got = described.get(id);
    assert.ok(got, `${id} is not in the tree`);
    assert.notEqual(parts[0] || above, '', `${id} has no hint`); // a number among its like has that of its group
    for (const part of parts) assert.ok(got.text.replace(/\s+/g, ' ').includes(part.replace(/\s+/g, ' ')), `${id}: “${got.text}” lacks “${part}”`);
    assert.equal(got.invalid === 'true', parts[2] !== '', `${id}: marked as wrong`);
  }
  if (name.startsWith('winding') || name.startsWith('loop')) assert.ok(want.length > 4);
}

scene('the head is a polite status, fields that are needed say so, drawings have words', { at: '#/winding' }, async (page) => {
  const head = page.locator('#winding [role="status"]').first();
  assert.equal(await head.getAttribute('aria-live'), 'polite');
  assert.ok(await head.getAttribute('aria-label'));
  assert.equal(await page.getAttribute(field('winding', 'reading'), 'aria-required'), 'true');
  await fill(page, 'winding', plain);
  const drawings = await page.$$eval('#winding-answer svg', (all) => all.map((s) => [s.getAttribute('role'), s.getAttribute('aria-label'), s.getAttribute('aria-hidden')]));
  assert.ok(drawings.length >= 3);
  for (const [role, label, hidden] of drawings) assert.ok(hidden === 'true' || (role === 'img' && label), `${role} ${label}`);
  assert.ok(drawings.some(([, label]) => label && label.includes('13')), 'the drawing tells the reading');
  // The rows say their verdict in words.
  assert.ok((await page.$$eval('#winding-answer li[data-verdict]', (all) => all.every((li) => /\p{L}{3}/u.test(li.textContent)))));
});

scene('a tool that opens takes the reader to it', {}, async (page) => {
  await page.click('a[href="#/winding"]');
  await page.waitForSelector(field('winding', 'reading'));
  assert.ok(await page.evaluate(() => document.activeElement !== document.body && document.querySelector('#winding').contains(document.activeElement)), 'the focus stays behind on a hidden link');
});

// ---- axe

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const check = (page) =>
  page.evaluate(async () => {
    const { violations } = await globalThis.axe.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
      rules: { 'color-contrast-enhanced': { enabled: true }, 'target-size': { enabled: true } },
      resultTypes: ['violations'],
    });
    return violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target.join(' ')).slice(0, 5).join(', ')}`);
  });

// The states are gone through on one page: a page for each would take longer to start than to look at. The looks differ in colours
// alone, which are held to more than axe asks for below: on a wide page one will do.
for (const [sizeName, size, shownIn] of [['360x740', phone, looks], ['1280x800', laptop, ['light']]]) {
  scene(`axe finds nothing in any state, ${sizeName}, in ${shownIn.join(', ')}`, { size }, async (page) => {
    await page.evaluate(axe);
    for (const [name, reach] of Object.entries(states)) {
      await reach(page);
      for (const l of shownIn) {
        await look(page, l);
        assert.deepEqual(await check(page), [], `${name}, ${l}`);
      }
    }
  });
}

// ---- contrast, by our own reckoning

// measured is the contrast of every text that is seen, with what it stands on. WCAG 2.2, relative luminance and contrast
// ratio as defined there. A ground that is no plain colour is mixed from what lies below it.
const measured = (page) =>
  page.evaluate(() => {
    const parse = (c) => {
      const m = /^rgba?\(([\d.]+),\s*([\d.]+),\s*([\d.]+)(?:,\s*([\d.]+))?\)$/.exec(c);
      if (!m) return null;
      return [Number(m[1]), Number(m[2]), Number(m[3]), m[4] === undefined ? 1 : Number(m[4])];
    };
    const over = (top, below) => [0, 1, 2].map((i) => top[i] * top[3] + below[i] * (1 - top[3])).concat(1);
    const luminance = ([r, g, b]) => {
      const [R, G, B] = [r, g, b].map((v) => ((v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
      return 0.2126 * R + 0.7152 * G + 0.0722 * B;
    };
    const ratio = (a, b) => {
      const [x, y] = [luminance(a), luminance(b)].sort((p, q) => q - p);
      return (x + 0.05) / (y + 0.05);
    };
    const groundOf = (element) => {
      const layers = [];
      for (let e = element; e; e = e.parentElement) {
        const c = parse(getComputedStyle(e).backgroundColor);
        if (c && c[3] > 0) layers.push(c);
        if (c && c[3] === 1) break;
      }
      let ground = [255, 255, 255, 1];
      for (const l of layers.reverse()) ground = over(l, ground);
      return ground;
    };
    // Below a text in a drawing lie shapes: those that contain its middle and come before it.
    const drawnGround = (element) => {
      const svg = element.ownerSVGElement;
      let ground = groundOf(svg);
      const box = element.getBoundingClientRect();
      for (const shape of svg.querySelectorAll('path, rect, circle')) {
        if (!(shape.compareDocumentPosition(element) & Node.DOCUMENT_POSITION_FOLLOWING)) continue;
        const fill = parse(getComputedStyle(shape).fill);
        if (!fill || fill[3] === 0) continue;
        for (const [fx, fy] of [[0.1, 0.5], [0.5, 0.5], [0.9, 0.5]]) {
          const p = svg.createSVGPoint();
          [p.x, p.y] = [box.x + box.width * fx, box.y + box.height * fy];
          if (shape.isPointInFill(p.matrixTransform(shape.getScreenCTM().inverse()))) {
            ground = over(fill, ground);
            break;
          }
        }
      }
      return ground;
    };
    const faint = (element) => {
      let o = 1;
      for (let e = element; e; e = e.parentElement) o *= Number(getComputedStyle(e).opacity);
      return o;
    };
    const out = [];
    const note = (what, colour, ground, element) => {
      const o = faint(element);
      if (o === 0) return;
      const ink = over([colour[0], colour[1], colour[2], colour[3] * o], ground);
      out.push({ what, ratio: ratio(ink, ground) });
    };
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let n = walker.nextNode(); n; n = walker.nextNode()) {
      const e = n.parentElement;
      if (!n.data.trim() || ['SCRIPT', 'STYLE', 'TEMPLATE', 'NOSCRIPT'].includes(e.tagName) || !e.checkVisibility({ visibilityProperty: true })) continue;
      const style = getComputedStyle(e);
      const drawn = e instanceof SVGElement;
      const colour = parse(drawn ? style.fill : style.color);
      if (!colour) {
        out.push({ what: `a colour that is not read: ${style.color}`, ratio: 0 });
        continue;
      }
      note(`${e.tagName.toLowerCase()}.${e.getAttribute('class') ?? ''} “${n.data.trim().slice(0, 30)}”`, colour, drawn ? drawnGround(e) : groundOf(e), e);
    }
    for (const input of document.querySelectorAll('input[type="text"]')) {
      if (!input.checkVisibility()) continue;
      if (input.value) note(`value of ${input.id}`, parse(getComputedStyle(input).color), groundOf(input), input);
      else if (input.placeholder) {
        const style = getComputedStyle(input, '::placeholder');
        const c = parse(style.color);
        note(`placeholder of ${input.id}`, [c[0], c[1], c[2], c[3] * Number(style.opacity)], groundOf(input), input);
      }
    }
    for (const e of document.querySelectorAll('*')) {
      for (const part of ['::before', '::after']) {
        const style = getComputedStyle(e, part);
        if (!/^"[^"]*\S[^"]*"|counter/.test(style.content) || style.display === 'none' || !e.checkVisibility()) continue;
        const own = parse(style.backgroundColor);
        note(`${part} of ${e.tagName.toLowerCase()}.${e.getAttribute('class') ?? ''}`, parse(style.color), own && own[3] > 0 ? over(own, groundOf(e)) : groundOf(e), e);
      }
    }
    return out;
  });

test('the contrast reckoned is right where it is known', async () => {
  const page = await visit({});
  await page.evaluate(() => {
    document.body.replaceChildren();
    for (const [ink, ground] of [['#000000', '#ffffff'], ['#767676', '#ffffff'], ['#595959', '#ffffff'], ['rgba(0, 0, 0, 0.5)', '#ffffff']]) {
      const p = document.createElement('p');
      p.textContent = 'text';
      p.style.color = ink;
      p.style.background = ground;
      document.body.append(p);
    }
  });
  const got = (await measured(page)).map((m) => m.ratio);
  await page.context().close();
  // 21 by definition; #767676 and #595959 on white are the well-known first greys above 4.5 and 7; half black is #808080, 3.95 (rounded to 8 bits).
  assert.ok(Math.abs(got[0] - 21) < 1e-9 && Math.abs(got[1] - 4.54) < 0.01 && Math.abs(got[2] - 7.0) < 0.01 && Math.abs(got[3] - 3.98) < 0.06, JSON.stringify(got));
});

scene('every text has a contrast of 7:1 in each look', {}, async (page) => {
  const low = [];
  for (const [name, reach] of Object.entries(states)) {
    await reach(page);
    for (const l of looks) {
      await look(page, l);
      const all = await measured(page);
      assert.ok(all.length > 10);
      for (const m of all) if (m.ratio < 7) low.push(`${l}, ${name}: ${m.what}: ${m.ratio.toFixed(2)}`);
    }
  }
  assert.deepEqual([...new Set(low)], []);
});

scene('the verdicts of each kind have a contrast of 7:1, and differ without colour', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', plain);
  const shapes = new Map();
  const low = [];
  for (const reading of ['13', '9', '19', '12.2', 'OL', '', 'abc']) {
    await type(page, 'winding', 'reading', reading);
    const kind = await verdict(page);
    shapes.set(kind, await page.evaluate(() => {
      const head = document.querySelector('#winding [role="status"]');
      return { word: head.querySelector('strong').textContent, drawing: head.querySelector('svg').innerHTML };
    }));
    for (const l of looks) {
      await look(page, l);
      for (const m of await measured(page)) if (m.ratio < 7) low.push(`${l}, ${kind}: ${m.what}: ${m.ratio.toFixed(2)}`);
    }
  }
  assert.deepEqual([...new Set(low)], []);
  assert.ok(shapes.size >= 6);
  assert.equal(new Set([...shapes.values()].map((s) => s.drawing)).size, shapes.size);
  assert.equal(new Set([...shapes.values()].map((s) => s.word)).size, shapes.size);
});

scene('“as device” follows the device', { colorScheme: 'dark' }, async (page) => {
  const ground = () => page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
  const dark = await ground();
  await page.emulateMedia({ colorScheme: 'light' });
  assert.notEqual(await ground(), dark);
  await look(page, 'dark');
  assert.equal(await ground(), dark);
});

// ---- targets, widths

scene('what is tapped is 56 px high', {}, async (page) => {
  const small = [];
  for (const [name, reach] of Object.entries(states)) {
    await reach(page);
    const found = await page.evaluate(() => {
      const out = [];
      const all = document.querySelectorAll('button, a[href], summary, input[type="text"], label:has(> input[type="radio"]), label:has(> input[type="checkbox"]), select, textarea');
      let n = 0;
      for (const e of all) {
        if (!e.checkVisibility()) continue;
        const r = e.getBoundingClientRect();
        if (r.right <= 0 || r.width <= 1) continue; // waits off the screen for the focus
        n++;
        if (r.height < 56 || r.width < 44) out.push(`${e.tagName.toLowerCase()} ${e.id || e.dataset.do || e.dataset.put || e.textContent.trim().slice(0, 20)}: ${r.width.toFixed(1)} × ${r.height.toFixed(1)}`);
      }
      return n > 3 ? out : ['nothing was looked at'];
    });
    small.push(...found.map((f) => `${name}: ${f}`));
  }
  assert.deepEqual(small, []);
});

for (const width of [320, 360, 412]) {
  for (const grown of [false, true]) {
    scene(`no sideways scrolling at ${width} px${grown ? ', text doubled' : ''}`, { size: { ...phone, viewport: { width, height: 740 } } }, async (page) => {
      const wide = [];
      for (const [name, reach] of Object.entries(states)) {
        await page.evaluate(() => (document.documentElement.style.fontSize = ''));
        await reach(page);
        if (grown) await page.evaluate(() => (document.documentElement.style.fontSize = `${2 * parseFloat(getComputedStyle(document.documentElement).fontSize)}px`));
        const out = await page.evaluate(() => {
          const w = document.documentElement.clientWidth;
          const over = [...document.querySelectorAll('body *')]
            .filter((e) => e.checkVisibility() && !(e instanceof SVGElement && e.ownerSVGElement) && getComputedStyle(e).clipPath === 'none')
            .filter((e) => { const r = e.getBoundingClientRect(); return r.width > 1 && r.left > -500 && (r.right > w + 0.5 || r.left < -0.5); })
            .map((e) => `${e.tagName.toLowerCase()}.${e.getAttribute('class') ?? ''}#${e.id} “${e.textContent.trim().slice(0, 20)}” to ${e.getBoundingClientRect().right.toFixed(0)}`);
          return { scroll: Math.max(document.documentElement.scrollWidth, document.body.scrollWidth), w, inner: innerWidth, over: over.slice(0, 4) };
        });
        if (out.scroll > width || out.inner > width || out.over.length > 0) wide.push(`${name}: ${out.scroll} of ${width}: ${out.over.join(' | ')}`);
      }
      assert.deepEqual(wide, []);
    });
  }
}

scene('with text doubled the answer leaves room to type', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', plain);
  await page.evaluate(() => (document.documentElement.style.fontSize = '36px'));
  await page.focus(field('winding', 'specs.0.max'));
  const strip = await page.evaluate(() => document.querySelector('#winding [role="status"]').parentElement.getBoundingClientRect().height);
  assert.ok(strip < 740 / 2, `the strip takes ${strip} of 740 px`);
});

scene('the answer stays in view while typing', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', plain);
  for (const path of ['reading', 'at', 'specs.0.max', 'specs.0.at']) {
    await page.focus(field('winding', path));
    const seen = await page.evaluate((id) => {
      const head = document.querySelector('#winding [role="status"]').getBoundingClientRect();
      const input = document.getElementById(id).getBoundingClientRect();
      return { head: head.top >= 0 && head.bottom <= innerHeight, input: input.top >= head.bottom && input.bottom <= innerHeight };
    }, `winding-${path}`);
    assert.deepEqual(seen, { head: true, input: true }, path);
  }
});

// ---- paper

scene('paper has the reading, the verdict, the rows and the working, and no buttons', { at: '#/winding', size: laptop }, async (page) => {
  await press(page, 'demo');
  const [head, rows] = [await headText(page), await page.$$eval('#winding-answer li[data-verdict] strong', (all) => all.map((s) => s.textContent))];
  // The working is made when it is first opened.
  await page.click('#winding-answer details > summary');
  await page.waitForSelector('#winding-answer ol li');
  const steps = await page.$$eval('#winding-answer ol li code', (all) => all.map((c) => c.textContent));
  await page.reload();
  await page.waitForSelector('#winding-answer li[data-verdict]');
  const buttons = await page.$$eval('button', (all) => all.map((b) => b.textContent.trim()).filter((t) => t.length > 4));
  assert.ok(steps.length > 4 && rows.length === 2 && buttons.length > 4);
  const folded = await page.$$eval('#winding details', (all) => all.map((d) => d.open));
  await page.emulateMedia({ media: 'print' });
  const pdf = await page.pdf({ format: 'A4' });
  const directory = mkdtempSync(join(tmpdir(), 'ohmwright-paper-'));
  let text;
  try {
    writeFileSync(join(directory, 'paper.pdf'), pdf);
    text = execFileSync('pdftotext', ['-layout', join(directory, 'paper.pdf'), '-'], { encoding: 'utf8' });
  } finally {
    rmSync(directory, { recursive: true });
  }
  const tight = (s) => s.replace(/[\s\u00a0]+/g, '');
  const printed = tight(text);
  assert.ok(printed.includes('6.90'), 'the reading as typed');
  assert.ok(printed.includes('88'), 'its temperature');
  for (const strong of await page.$$eval('#winding [role="status"] strong, #winding [role="status"] strong + span', (all) => all.map((e) => e.textContent))) assert.ok(printed.includes(tight(strong)), `${strong} of ${head}`);
  for (const row of rows) assert.ok(printed.includes(tight(row)), row);
  // A line may break within a formula: it is looked for without its spaces; a row of the page may break it in two.
  const missing = steps.filter((s) => !printed.includes(tight(s)));
  assert.ok(missing.length <= steps.length / 4, `not printed: ${missing.join(' | ')}`);
  for (const b of buttons) assert.ok(!printed.includes(tight(b)), `a button is printed: ${b}`);
  assert.equal(await page.locator('button:visible').count(), 0);
  await page.emulateMedia({ media: 'screen' });
  assert.deepEqual(await page.$$eval('#winding details', (all) => all.map((d) => d.open)), folded, 'and all is folded again');
});

scene('paper of the loaded test', { at: '#/loop', size: laptop }, async (page) => {
  await press(page, 'demo');
  const pdf = await page.pdf({ format: 'A4' });
  const directory = mkdtempSync(join(tmpdir(), 'ohmwright-paper-'));
  try {
    writeFileSync(join(directory, 'paper.pdf'), pdf);
    const printed = execFileSync('pdftotext', ['-layout', join(directory, 'paper.pdf'), '-'], { encoding: 'utf8' }).replace(/[\s\u00a0]+/g, '');
    for (const typed of ['13.2', '1.65', '5.3', 'R=V/I']) assert.ok(printed.includes(typed), typed);
  } finally {
    rmSync(directory, { recursive: true });
  }
});

// ---- a thumb

const tapIn = async (page, tool, path, text) => {
  await page.tap(field(tool, path));
  await page.keyboard.type(text);
};

scene('the whole winding job by tap', {}, async (page) => {
  await page.tap('a[href="#/winding"]');
  await tapIn(page, 'winding', 'reading', '6.90');
  await tapIn(page, 'winding', 'at', '190.4');
  await page.tap('#winding label:has(input[name="winding-at-unit"][value="degF"])'); // 190.4 degF is 88 degC
  await tapIn(page, 'winding', 'leads', '0.30');
  await tapIn(page, 'winding', 'specs.0.min', '5.0');
  await tapIn(page, 'winding', 'specs.0.max', '5.6');
  assert.equal(await verdict(page), 'undecided'); // (6.90 − 0.30) × 254.5/322.5 = 5.21, known to a few tenths
  await page.tap('#winding [data-do="add"]');
  await tapIn(page, 'winding', 'specs.1.name', 'another');
  await tapIn(page, 'winding', 'specs.1.min', '7');
  assert.deepEqual(await rowVerdicts(page), ['undecided', 'below']);
  await page.tap('[data-row="1"] [data-do="remove"]');
  assert.deepEqual(await rowVerdicts(page), ['undecided']);
  await page.tap('#winding details[data-keep="fine"] > summary');
  await page.tap('#winding details[data-keep="meter"] > summary');
  await tapIn(page, 'winding', 'meter.percent', '0.5');
  await tapIn(page, 'winding', 'meter.resolution', '0.01');
  assert.equal(await verdict(page), 'within');
  await page.tap('#winding [role="status"]');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'winding-answer');
  await page.tap('#winding-answer details > summary');
  await page.waitForSelector('#winding-answer ol li');
  await page.tap('#winding [data-path="reading"] [data-put="OL"]');
  assert.equal(await verdict(page), 'open');
  await page.tap('#winding [data-do="undo"]');
  assert.equal(await verdict(page), 'within');
  await page.tap('#winding [data-do="clear"]');
  assert.equal(await answered(page), false);
  await page.tap('header a');
  await page.waitForSelector('#start:not([hidden])');
});

scene('the whole loaded test by tap', {}, async (page) => {
  await page.tap('a[href="#/loop"]');
  await tapIn(page, 'loop', 'supply', '13.2');
  await tapIn(page, 'loop', 'current', '1.65');
  await tapIn(page, 'loop', 'winding', '5.3');
  assert.equal(await verdict(page), 'unwanted');
  await tapIn(page, 'loop', 'winding_temperature', '88');
  assert.equal(await verdict(page), 'unwanted'); // 13.2 − 1.65 × (5.3 × 322.5/254.5 + 0.15) = 1.87 V
  await shows(page, 1.8708);
  await page.tap('#loop details[data-keep="fine"] > summary');
  await page.tap('#loop label:has(input[name="loop-driver-unit"][value="V"])');
  await tapIn(page, 'loop', 'driver', '0.3');
  await shows(page, 1.8183); // 13.2 − 1.65 × 6.7161 − 0.3 V
});

// ---- the loaded test

scene('each verdict of the loaded test', { at: '#/loop' }, async (page) => {
  await fill(page, 'loop', { supply: '13.2', winding: '5.3', winding_temperature: '20', limit: '0.5' });
  // The loop of 13.2 V and I has 13.2/I ohm; the winding and the driver 5.45 ohm of them. Lost: 13.2 − 5.45 I volts.
  for (const [current, kinds, lost] of [['1.65', ['unwanted'], 4.2075], ['2.4', ['undecided'], 0.12], ['3', ['below', 'too_much']]]) {
    await type(page, 'loop', 'current', current);
    assert.ok(kinds.includes(await verdict(page)), `${current} A: ${await verdict(page)}`);
    if (lost) await shows(page, lost);
    assert.equal((await codes(page)).includes('too_much'), kinds.includes('too_much'));
  }
  await fill(page, 'loop', { current: '2.4', limit: '1' });
  assert.equal(await verdict(page), 'clean');
  assert.deepEqual((await codes(page)).filter((c) => c === 'undecided' || c === 'temperature_assumed'), []);
  await fill(page, 'loop', { winding_temperature: '' });
  assert.ok((await codes(page)).includes('temperature_assumed'));
  // A finer clamp settles what was undecided.
  await fill(page, 'loop', { limit: '0.5', 'meter.percent': '0.1', 'meter.counts': '1' });
  assert.equal(await verdict(page), 'clean');
  await choose(page, 'loop-current-unit', 'mA');
  await type(page, 'loop', 'current', '2400');
  assert.equal(await answered(page), true);
  assert.match(await headText(page), /0\.1/);
});

scene('winding or specification, not both, not neither', { at: '#/loop' }, async (page) => {
  await fill(page, 'loop', { supply: '13.2', current: '1.65' });
  assert.equal(await answered(page), false);
  await fill(page, 'loop', { 'spec.min': '5.0', 'spec.max': '5.6' });
  assert.equal(await verdict(page), 'unwanted');
  const bySpec = await headText(page);
  await fill(page, 'loop', { winding: '5.3' });
  assert.equal(await answered(page), false);
  assert.notEqual(await page.textContent('[data-note="spec"]'), '');
  await fill(page, 'loop', { 'spec.min': '', 'spec.max': '' });
  assert.equal(await verdict(page), 'unwanted');
  assert.notEqual(await headText(page), bySpec, 'the width of the band counts as doubt');
  assert.equal((await headText(page)).split(' ± ')[0], bySpec.split(' ± ')[0]);
});

scene('a driver that takes more than the supply is told', { at: '#/loop' }, async (page) => {
  await fill(page, 'loop', { supply: '13.2', current: '1.65', winding: '5.3' });
  await type(page, 'loop', 'driver', '14');
  await choose(page, 'loop-driver-unit', 'V');
  await beside(page, 'loop', 'driver', 'conflict', { supply: '13.2 V', current: '1.65 A', winding: '5.3 ohm', driver: '14 V' });
  await type(page, 'loop', 'supply', '13.2 A');
  await beside(page, 'loop', 'supply', 'unit', { supply: '13.2 A', current: '1.65 A', winding: '5.3 ohm', driver: '14 V' });
  await fill(page, 'loop', { supply: '13.2', driver: '0.3' });
  assert.equal(await note(page, 'loop', 'driver'), '');
  assert.equal(await verdict(page), 'unwanted');
  assert.notEqual(await answerText(page), '');
});
