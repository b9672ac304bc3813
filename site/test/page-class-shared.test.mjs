// A phone that a class shares: whose work it is, and a name that was mistyped. A figure that cannot be read, and the time in the link to
// hand in.
// node --test site/test/page-class-shared.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { choice, decide, handInLink, point, rested, sheet } from './class.mjs';
import { field, go, headText, note, press, reload, says, verdict } from './reader.mjs';

useBrowser();

const name = field('worksheet', 'name');
const value = field('worksheet', 'value');
const settled = '#worksheet .p-settled';
const rename = `${settled} [data-do="rename"]`;
const tests = ['current_on', 'resistance_component', 'resistance_unit'];
const waiting = (page) => page.$$eval('#worksheet .works .kept:not([hidden]) [data-do="use"]', (all) => all.map((e) => e.textContent));
const taken = (page) => page.locator('#worksheet .point.taken').count();
const readings = (page) => page.$$eval('#worksheet .readings-list li', (all) => all.map((e) => e.textContent));
const figured = sheet.replace(/questions\.0[^&]*&questions\.0[^&]*&/, '').replaceAll('questions.1', 'questions.0');

async function named(page, whose, asked = tests) {
  await page.tap(name);
  await page.keyboard.type(whose);
  for (const test of asked) await page.tap(point(test));
}

async function renaming(page) {
  if (!(await page.isVisible(rename))) await page.tap(`${settled} summary`);
  await page.tap(rename);
}

async function corrected(page, whose) {
  await renaming(page);
  assert.equal(await page.evaluate(() => document.activeElement.id), 'worksheet-name', 'the field is there, and gone into');
  await page.keyboard.type(whose); // over what is selected
  assert.ok(await page.isVisible(name), 'it stays while it is typed in');
  await page.keyboard.press('Tab');
}

scene('who opens the class’s link on another one’s phone sees whose work it is, and types over nothing', { at: sheet }, async (page) => {
  await named(page, 'Anna');
  const paid = await readings(page);
  assert.equal(paid.length, 3);
  await go(page, '#/');
  await page.waitForSelector('#start:not([hidden])');
  await go(page, sheet);
  await says(page, 'said', 'continued');
  assert.ok(!(await page.isVisible(name)), 'there is no field to type over');
  assert.match(await page.textContent(settled), /^Anna/);
  await page.tap(`${settled} [data-do="another"]`);
  await says(page, 'said', 'works.another');
  await page.keyboard.type('Ben');
  await page.keyboard.press('Tab');
  assert.equal(await taken(page), 0, 'nobody else’s minutes');
  assert.deepEqual(await waiting(page), ['First hour: Anna, decided 0 of 2']);
  await page.tap(point('voltage_pin_on'));
  await page.tap(`${settled} [data-do="another"]`);
  await page.keyboard.type('anna');
  await page.keyboard.press('Tab');
  await says(page, 'said', 'continued');
  assert.deepEqual(await readings(page), paid, 'her work is as it was');
  assert.deepEqual(await waiting(page), ['First hour: Ben, decided 0 of 2']);
});

scene('a name that nothing hangs on is typed over like any text', { at: sheet }, async (page) => {
  await named(page, 'Anna', []);
  assert.ok(!(await page.isVisible(settled)));
  await page.fill(name, 'Ben');
  await page.tap(point('current_on'));
  assert.match(await page.textContent(settled), /^Ben/);
  assert.deepEqual(await waiting(page), []);
});

scene('a mistyped name is corrected: paid is paid, the readings are the new name’s, undo goes back', { at: sheet }, async (page) => {
  await named(page, 'Ana');
  await page.tap(choice('repair=harness'));
  const before = await readings(page);
  await corrected(page, 'Anna');
  await says(page, 'said', 'works.renamed');
  assert.match(await page.textContent(settled), /^Anna/);
  assert.match(await headText(page), /\smin paid/);
  const after = await readings(page);
  assert.equal(after.length, 3, 'asked for once is asked for');
  assert.notDeepEqual(after, before, 'another name has another circuit');
  assert.equal(await page.isChecked(choice('repair=harness')), false, 'which the former readings do not accuse');
  assert.deepEqual(await waiting(page), ['First hour: Ana, decided 0 of 2'], 'it may have been another student: nothing is lost');
  await press(page, 'undo');
  assert.match(await page.textContent(settled), /^Ana(?!n)/);
  assert.deepEqual(await readings(page), before);
  assert.ok(await page.isChecked(choice('repair=harness')));
  assert.deepEqual(await waiting(page), [], 'it is in one place');
  await page.tap(choice('repair=component'));
  await page.tap(decide);
  await rested(page);
  assert.equal(await page.locator(rename).count(), 0, 'decided is decided');
  assert.match(await page.textContent(settled), /^Ana/);
  await reload(page);
  assert.ok(!(await page.isVisible(name)));
});

scene('a correction that is none changes nothing; nor does an emptied name', { at: sheet }, async (page) => {
  await named(page, 'Anna');
  const before = await readings(page);
  for (const typed of ['Anna', 'ANNA ', '']) {
    await renaming(page);
    if (typed === '') await page.keyboard.press('Delete');
    await page.keyboard.type(typed);
    await page.keyboard.press('Tab');
    await page.waitForSelector(settled);
    assert.deepEqual(await readings(page), before, `“${typed}”`);
    assert.deepEqual(await waiting(page), [], `“${typed}”`);
  }
  assert.match(await page.textContent(settled), /^ANNA/);
});

scene('a correction to a name that has work here goes on with that work', { at: sheet }, async (page) => {
  await named(page, 'Ben', ['voltage_pin_on']);
  const ben = await readings(page);
  await page.tap(`${settled} [data-do="another"]`);
  await named(page, 'Anna');
  const anna = await readings(page);
  await corrected(page, 'Ben');
  await says(page, 'said', 'continued');
  assert.deepEqual(await readings(page), ben);
  assert.deepEqual(await waiting(page), ['First hour: Anna, decided 0 of 2']);
  await page.click('.works > summary');
  await page.tap('#worksheet .works [data-do="use"]');
  assert.deepEqual(await readings(page), anna);
});

scene('a name that is left for a moment while it is corrected, and typed twice, keeps each one’s work', { at: sheet }, async (page) => {
  await named(page, 'Anna');
  const anna = await readings(page);
  await renaming(page);
  await page.evaluate(() => document.activeElement.blur()); // as where another window comes to the front
  await renaming(page);
  const done = async (whose) => {
    await page.fill(name, whose);
    await page.dispatchEvent(name, 'change'); // without leaving the field
  };
  await done('Ben');
  await says(page, 'said', 'works.renamed');
  await done('Cem');
  assert.deepEqual(await waiting(page), ['First hour: Anna, decided 0 of 2', 'First hour: Ben, decided 0 of 2']);
  await done('Anna');
  await says(page, 'said', 'continued');
  assert.deepEqual(await readings(page), anna);
  assert.deepEqual(await waiting(page), ['First hour: Ben, decided 0 of 2', 'First hour: Cem, decided 0 of 2']);
});

scene('a figure alone is work too, and follows from the name', { at: figured }, async (page) => {
  await named(page, 'Ana', []);
  await page.tap(value);
  await page.keyboard.type('6.9');
  for (const what of ['unit=ohm', 'condition=at_reference']) await page.tap(choice(what));
  await corrected(page, 'Anna');
  await says(page, 'said', 'works.renamed');
  assert.equal(await page.inputValue(value), '', 'a figure from other figures');
  assert.ok(await page.isChecked(choice('unit=ohm')), 'what does not follow from the name stays');
  await press(page, 'undo');
  assert.equal(await page.inputValue(value), '6.9');
});

const unclear = [
  ['en-GB', '6,948', /6\.948.*6948/], ['de-DE', '6.948', /6,948.*6948/], ['en-GB', '6.9 O', /no number.*unit is chosen below/],
  ['en-GB', '6.9 N', /no number/], ['en-GB', '6.9 N.m', /N·m.*Ω/], ['fr-FR', '6,9,4', /6,9,4/],
];
for (const [locale, typed, says] of unclear) {
  scene(`the sheet stays where a figure cannot be read: ${typed}, ${locale}`, { at: figured, locale }, async (page) => {
    await named(page, 'Anna', []);
    await page.tap(choice('unit=ohm'));
    await page.tap(value);
    const top = () => page.$eval('#worksheet-value', (e) => Math.round(e.getBoundingClientRect().top));
    const at = await top();
    for (const key of typed) {
      await page.keyboard.type(key);
      assert.equal(await page.evaluate(() => document.activeElement.id), 'worksheet-value', `the focus stays: ${key}`);
      assert.ok(await page.isVisible('#worksheet .p-question'), 'and what is given');
      assert.equal(await top(), at, 'and the place');
    }
    assert.match(await note(page, 'worksheet', 'value'), says);
    assert.ok(await page.isChecked(choice('unit=ohm')));
    assert.ok(await page.isVisible(settled), 'and whose it is');
    assert.equal(await verdict(page), 'open');
    for (const what of ['condition=at_reference', 'decision=below', 'reason=lost_turns']) await page.tap(choice(what));
    assert.equal(await page.locator(decide).count(), 0, 'it is no figure to decide with');
    await page.fill(value, '7');
    assert.equal(await note(page, 'worksheet', 'value'), '');
    await page.tap(decide);
    assert.equal(await verdict(page), 'decided');
  });
}

for (const [locale, typed] of [['en-GB', '7.62 Ω'], ['en-GB', '7.62 ohm'], ['de-DE', '7,62Ω']]) {
  scene(`a unit behind the figure is the unit: ${typed}, ${locale}`, { at: figured, locale }, async (page) => {
    await named(page, 'Anna', []);
    await page.tap(value);
    await page.keyboard.type(typed);
    assert.ok(await page.isChecked(choice('unit=ohm')));
    await page.tap(choice('unit=V'));
    assert.match(await note(page, 'worksheet', 'value'), /\sV\b/, 'one or the other');
    await page.tap(choice('unit=ohm'));
    for (const what of ['condition=at_reference', 'decision=below', 'reason=lost_turns']) await page.tap(choice(what));
    await page.tap(decide);
    assert.match(await handInLink(page), /decisions\.0\.value=7\.62&decisions\.0\.unit=ohm&/);
  });
}

const clocked = { at: `${sheet}&name=Ann&due=2030-01-01T08:00Z` };
const reached = {
  'pressed on': (page) => page.dispatchEvent('#worksheet .p-hand_in a', 'pointerdown'),
  'gone to with the keyboard': (page) => page.focus('#worksheet .p-hand_in a'),
  'asked for its menu': (page) => page.click('#worksheet .p-hand_in a', { button: 'right' }),
};
for (const [how, reach] of Object.entries(reached)) {
  scene(`the link to hand in has the time once it is ${how}`, clocked, async (page) => {
    await page.clock.install({ time: new Date('2029-12-31T10:00Z') });
    await page.tap(choice('repair=harness'));
    await page.tap(decide);
    await rested(page);
    await reach(page);
    assert.match(await handInLink(page), /&handed=2029-12-31T10:00Z&sum=[0-9a-f]{8}$/);
    await page.clock.setFixedTime(new Date('2029-12-31T10:25Z'));
    await page.evaluate(() => document.activeElement.blur());
    await reach(page);
    assert.match(await handInLink(page), /&handed=2029-12-31T10:25Z&sum=[0-9a-f]{8}$/, 'the time of the last copy');
  });
}
