// A screen reader's path of each main task: what is found by its role and name alone, in this order, what is heard on the way, and where
// the focus goes. Nothing here knows how the page looks.
// node --test site/test/page-paths.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { handedIn, sheet, teacher } from './class.mjs';
import { begin, kept } from './jobs.mjs';
import { go, headText } from './reader.mjs';

useBrowser();

// tree is what stands in the accessibility tree of a part of the page, a line for each thing: role "name".
const tree = async (page, selector = 'main') => {
  const lines = (await page.locator(selector).ariaSnapshot()).split('\n');
  return lines.map((line) => line.trim().replace(/^- /, '').replace(/^'(.*)':?$/, '$1'));
};

// inOrder checks that things stand in a tree in an order. Each is a pattern of a line.
function inOrder(lines, ...wanted) {
  let at = -1;
  for (const want of wanted) {
    const next = lines.findIndex((line, i) => i > at && want.test(line));
    assert.ok(next > at, `${want} should come after line ${at} “${lines[at] ?? ''}” of:\n${lines.join('\n')}`);
    at = next;
  }
}

// press finds a thing by its role and name, and presses it from the keyboard.
async function press(page, role, name) {
  const it = page.getByRole(role, { name }).first();
  await it.focus();
  await page.keyboard.press('Enter');
}

const type = async (page, name, text) => {
  await page.getByRole('textbox', { name }).first().focus();
  await page.keyboard.type(text);
};

// hears waits until something is read out that matches.
const hears = (page, pattern) =>
  page.waitForFunction(([source, flags]) => new RegExp(source, flags).test(document.getElementById('heard').textContent), [
    pattern.source,
    pattern.flags,
  ]);

// hearsHead waits until a head is read out, whatever stands between its words.
const hearsHead = (page, head) => {
  const bare = head.replaceAll(/\s/g, '');
  return page.waitForFunction((bare) => document.getElementById('heard').textContent.replaceAll(/\s/g, '').includes(bare), bare);
};

const focusedName = (page) => page.evaluate(() => document.activeElement.labels?.[0]?.textContent ?? document.activeElement.textContent);
const called = (page, pattern) => page.waitForFunction(([source]) => new RegExp(source, 'u').test(document.title), [pattern.source]);

scene('a reading of a winding, to the verdict', {}, async (page) => {
  inOrder(
    await tree(page, 'body'),
    ...[/^banner/, /^link "Ohmwright/, /^main/, /heading "Where do you stand\?" \[level=1\]/, /^link "I have a code/],
  );
  await press(page, 'link', /^Ohms, temperature|^A winding/);
  await called(page, /^Winding – Ohmwright$/);
  assert.equal(await focusedName(page), 'Winding', 'the focus is on the title of the tool');
  inOrder(
    await tree(page),
    ...[/heading "Winding" \[level=1\]/, /group "Verdict"/, /button "Undo"/, /form "Winding"/, /link "Skip to the answer"/],
    ...[/textbox "Resistance reading"/, /radiogroup "Unit of “Resistance reading”"/, /textbox "Winding temperature"/],
    ...[/group "Specification rows"/, /textbox "Minimum"/, /textbox "Maximum"/, /button "Share link"/, /region "Answer"/],
  );
  await type(page, 'Resistance reading', '6.9');
  await type(page, 'Winding temperature', '88');
  await type(page, 'Minimum', '5.0');
  await type(page, 'Maximum', '5.6');
  await hears(page, /Plausible.*Ω/);
  await called(page, /^Plausible – Winding – Ohmwright$/);
  await press(page, 'link', 'Skip to the answer');
  assert.equal(await page.evaluate(() => document.activeElement.getAttribute('role')), 'region');
  inOrder(await tree(page, '[role="region"]:visible'), /img ".*6\.[0-9].*Ω/, /heading .*\[level=2\]/);
});

scene('a code, to its circuit', { at: '#/code' }, async (page) => {
  await type(page, /code/i, 'P0962');
  await hears(page, /\p{L}{4}/u);
  await called(page, / – Trouble code – Ohmwright$|^.+ – .+ – Ohmwright$/);
  const lines = await tree(page);
  inOrder(lines, /heading .*\[level=1\]/, /group "Verdict"/, /textbox/, /region "Answer"/, /button "/);
  const way = page.locator('main > section:not([hidden]) [data-carry="circuit"]').first();
  await press(page, 'button', await way.textContent());
  await page.waitForSelector('#circuit:not([hidden])');
  await page.waitForFunction(() => document.activeElement.closest('#circuit h1'));
});

scene('a circuit, to the decision', { at: '#/circuit' }, async (page) => {
  const demo = await page.getAttribute('#circuit', 'data-demo');
  const readings = [...demo.matchAll(/&readings\.\d+\.test=(\w+)&readings\.\d+\.value=([^&]*)/g)];
  const [pair, test, value] = readings.find(([, test]) => test === 'resistance_component');
  await go(page, demo.replace(pair, ''));
  await page.waitForSelector('#circuit .point.taken');
  inOrder(
    await tree(page),
    ...[/heading .*\[level=1\]/, /group "Verdict"/, /img ".*%/, /group "Test points"/, /button ".*(, next|, not taken), \d+ min"/],
  );
  await press(page, 'button', await page.getAttribute(`#circuit .point[data-value="${test}"]`, 'aria-label'));
  await page.waitForFunction(() => document.activeElement.matches('.card.picked input'));
  const named = await page.evaluate(() => [document.activeElement.closest('fieldset.card').querySelector('legend').textContent,
    document.getElementById(document.activeElement.getAttribute('aria-describedby').split(' ')[0]) !== null]);
  assert.deepEqual(named, ['Ohms at the component', true], 'where the focus is, and that it says how to take the reading');
  await page.keyboard.type(parseFloat(decodeURIComponent(value)).toString());
  await page.waitForSelector('#circuit .verdict.v-mend');
  await hears(page, /Ω.*Replace the component/);
  await called(page, /^Replace the component – .+ – Ohmwright$/);
});

scene('torque, step by step', { at: '#/torque?v=1&torque=10N.m&pattern.count=4' }, async (page) => {
  inOrder(await tree(page), /heading "Torque/, /group "Verdict"/, /textbox "Torque"/, /region "Answer"/);
  await press(page, 'button', await page.textContent('#torque .p-order .go'));
  await page.waitForSelector('#torque.alone .p-step');
  const lines = await tree(page);
  inOrder(lines, /heading .*\[level=1\]/, /group "Verdict"/, /button "Undo"/, /heading .*\[level=2\]/, /button/);
  assert.ok(!lines.some((line) => /textbox/.test(line)), 'nothing but the step is in the tree');
  await page.waitForTimeout(800); // a second tap on the same place is held back
  await press(page, 'button', await page.textContent('#torque .p-step .ready'));
  await page.waitForSelector('#torque .p-step[data-at="bolt"]');
  const first = await headText(page);
  await hearsHead(page, first);
  await page.waitForTimeout(800);
  await press(page, 'button', await page.textContent('#torque .p-step .go'));
  const second = await headText(page);
  assert.notEqual(second, first);
  await hearsHead(page, second);
});

scene("a job's handover", {}, async (page) => {
  await begin(page, 'Tarn 24');
  inOrder(
    await tree(page),
    ...[/heading "Jobs" \[level=1\]/, /form "This job"/, /textbox "Vehicle or machine"/, /textbox "Complaint"/, /button "Close job"/],
  );
  await type(page, 'Complaint', 'Harsh shift when warm');
  await kept(page);
  await go(page, '#/handover');
  await page.waitForSelector('#handover-answer .record, #handover-answer .p-work');
  await called(page, / – Tarn 24 – Ohmwright$/);
  inOrder(await tree(page), /heading .*\[level=1\]/, /group "Verdict"/, /button "Print"/, /region "Answer"/);
  assert.match((await tree(page)).join('\n'), /Harsh shift when warm/, 'what was entered once stands in the record');
});

scene("a student's sheet", { at: sheet }, async (page) => {
  await page.getByRole('textbox', { name: /name/i }).first().focus();
  await page.keyboard.type('Bo');
  await page.waitForSelector('#worksheet .point');
  inOrder(await tree(page), /heading .*\[level=1\]/, /group "Verdict"/, /textbox ".*name/i, /group "Test points"/, /radio "/, /button/);
  await press(page, 'button', await page.getAttribute('#worksheet .point[data-value="current_on"]', 'aria-label'));
  await hears(page, /A/);
  const taken = await page.getAttribute('#worksheet .point[data-value="current_on"]', 'aria-label');
  assert.match(taken, /\d\sA/, 'the point says what was read there');
  await page.getByRole('radio', { name: /harness/ }).first().focus();
  await page.keyboard.press('Space');
  await press(page, 'button', await page.textContent('#worksheet .decide'));
  await page.waitForSelector('#worksheet .p-decided, #worksheet [data-asks="figure"]');
});

scene('marking', { at: teacher }, async (page) => {
  await page.locator('.marking > summary').focus();
  await page.keyboard.press('Enter');
  await page.getByRole('textbox', { name: 'Chat or mailbox' }).focus();
  await page.keyboard.insertText(handedIn(sheet, 'Ann', { asked: [{ test: 'current_on' }], decisions: [{ repair: 'harness', after: 1 }] }));
  await page.waitForSelector('.marks-table tbody tr');
  inOrder(
    await tree(page),
    ...[/textbox "Chat or mailbox"/, /button "Copy for a spreadsheet"/, /status/, /group "Marks of the class"/, /table/, /row/],
    /rowheader|cell/,
  );
});
