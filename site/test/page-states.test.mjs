// Every state of the page: the screen reader’s tree, targets for a thumb, widths.
// node --test site/test/page-states.test.mjs
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { phone, scene, useBrowser } from './browser.mjs';
import { states } from './states.mjs';
import { brokenOrCut, lettersOf, tooWide } from './widths.mjs';

useBrowser();

// The states are gone through once at each width, since it takes longer to get to a state than to look at it. What a check finds
// there is gathered here, and told by a test of its own: {check: ["state: what is wrong"]}.
const found = {};
const walked = {};

for (const width of [320, 360, 412]) {
  scene(`every state is reached at ${width} px`, { size: { ...phone, viewport: { width, height: 740 } }, fresh: true }, async (page) => {
    const letters = await lettersOf(page);
    const checks = { ...widthChecks(width, letters), ...(width === phone.viewport.width && (await reachChecks(page))) };
    for (const check in checks) found[check] = [];
    walked[width] = [];
    for (const [name, reach] of Object.entries(states)) {
      await reach(page);
      for (const [check, look] of Object.entries(checks)) found[check].push(...(await look(page, name)).map((what) => `${name}: ${what}`));
      await letters(16);
      walked[width].push(name);
    }
  });
}

// told is a test that a check found nothing in any state.
function told(check, width) {
  test(check, () => {
    assert.deepEqual(walked[width], Object.keys(states), `${check}: every state should have been looked at, at ${width} px`);
    assert.deepEqual(found[check], [], `${check}: nothing should be wrong in any state`);
  });
}

// ---- the screen reader's tree, targets

told('the screen reader’s tree, in every state', phone.viewport.width);
told('what is tapped is 56 px high', phone.viewport.width);

async function reachChecks(page) {
  const client = await page.context().newCDPSession(page);
  await client.send('Accessibility.enable');
  await client.send('DOM.enable');
  const tree = (page, name) =>
    treeHolds(page, client, name).then(
      () => [],
      (e) => [e.message],
    );
  return { 'the screen reader’s tree, in every state': tree, 'what is tapped is 56 px high': (page) => page.evaluate(smallTargets) };
}

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
  assert.equal(
    of('heading').filter((n) => n.properties.some((p) => p.name === 'level' && p.value.value === 1)).length,
    1,
    'one main heading',
  );
  for (const landmark of ['banner', 'main', 'contentinfo'])
    assert.equal(of(landmark).length, landmark !== 'main' && name.endsWith(', alone') ? 0 : 1, landmark);
  // Hint, echo and fault are the description.
  const described = new Map();
  for (const node of of('textbox')) {
    const { node: element } = await client.send('DOM.describeNode', { backendNodeId: node.backendDOMNodeId });
    const id = element.attributes[element.attributes.indexOf('id') + 1];
    described.set(id, { text: node.description?.value ?? '', invalid: node.properties.find((p) => p.name === 'invalid')?.value.value });
  }
  const want = await page.$$eval('main > section:not([hidden]) input[type="text"]', (all) =>
    all
      .filter((i) => i.checkVisibility())
      .map((i) => ({
        id: i.id,
        parts: ['how', 'echo', 'note'].map((p) => document.getElementById(`${i.id}-${p}`)?.textContent.trim() ?? ''),
        above: [...document.querySelectorAll('.group > .how, .vehicles > .how')].some(
          (how) => how.textContent && how.parentElement.contains(i),
        ),
      })),
  );
  for (const { id, parts, above } of want) {
    const got = described.get(id);
    assert.ok(got, `${id} is not in the tree`);
    assert.notEqual(parts[0] || above, '', `${id} has no hint`); // a number among its like has that of its group
    for (const part of parts)
      assert.ok(got.text.replace(/\s+/g, ' ').includes(part.replace(/\s+/g, ' ')), `${id}: “${got.text}” lacks “${part}”`);
    assert.equal(got.invalid === 'true', parts[2] !== '', `${id}: marked as wrong`);
  }
  if (name.startsWith('winding') || name.startsWith('loop')) assert.ok(want.length > 4);
}

// smallTargets runs in the page: what is tapped there and is too small for a thumb.
function smallTargets() {
  const tapped = [
    ...['button', 'a[href]', 'summary', 'input[type="text"]', 'select', 'textarea'],
    ...['radio', 'checkbox'].map((type) => `label:has(> input[type="${type}"])`),
  ];
  const out = [];
  let n = 0;
  for (const e of document.querySelectorAll(tapped.join(', '))) {
    if (!e.checkVisibility()) continue;
    const r = e.getBoundingClientRect();
    if (r.right <= 0 || r.width <= 1) continue; // waits off the screen for the focus
    n++;
    const name = e.id || e.dataset.do || e.dataset.put || e.textContent.trim().slice(0, 20);
    if (r.height < 56 || r.width < 44) out.push(`${e.tagName.toLowerCase()} ${name}: ${r.width.toFixed(1)} × ${r.height.toFixed(1)}`);
  }
  return n > 3 ? out : ['nothing was looked at'];
}

// ---- widths

for (const width of [320, 360, 412]) for (const check in widthChecks(width)) told(check, width);

// widthChecks are the checks of a width, with text as it is and doubled. The doubled text stays until the next state. At 360 px doubled
// text breaks no word; 320 px are what is left of 1280 at 400 %.
function widthChecks(width, letters) {
  return {
    [`no sideways scrolling at ${width} px`]: (page) => page.evaluate(tooWide, width),
    ...(width === 320 && { 'no word is broken at 320 px, which is 1280 px at 400 %': (page) => page.evaluate(brokenOrCut) }),
    ...(width === 360 && { 'what is seen on a button is in its name': (page) => page.evaluate(namedOtherwise) }),
    [`no sideways scrolling at ${width} px, text doubled`]: async (page) => {
      const size = () => page.evaluate(() => parseFloat(getComputedStyle(document.body).fontSize));
      const before = await size();
      await letters(32);
      const after = await size();
      return after === 2 * before ? page.evaluate(tooWide, width) : [`letters that the reader sets to 32 px: ${before} px became ${after}`];
    },
    ...(width === 360 && { 'no word is broken and nothing is cut at 360 px, text doubled': (page) => page.evaluate(brokenOrCut) }),
  };
}

// namedOtherwise runs in the page: what is pressed and has a name that lacks the words seen on it, which are what is said to a device
// that listens (WCAG 2.2, 2.5.3). A sign such as × is no word.
function namedOtherwise() {
  const plain = (text) => text.replace(/[\s\u00a0\u202f\u2011]+/g, ' ').trim().toLowerCase();
  const out = [];
  for (const e of document.querySelectorAll('button[aria-label], a[aria-label], summary[aria-label]')) {
    if (!e.checkVisibility()) continue;
    const before = /^"([^"]*)"/.exec(getComputedStyle(e, '::before').content)?.[1] ?? '';
    const seen = plain(`${before} ${e.innerText ?? ''}`);
    if (/[\p{L}\p{N}]/u.test(seen) && !plain(e.ariaLabel).includes(seen)) out.push(`“${seen}” is called “${e.ariaLabel}”`);
  }
  return out;
}
