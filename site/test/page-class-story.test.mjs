// A class from the link to the marks, on phones: a teacher and three students, of whom one taps, one has the keyboard and a screen reader,
// and one writes a decimal comma. They reload, tap the link again, and lose the network.
// node --test site/test/page-class-story.test.mjs
import assert from 'node:assert/strict';
import { elsewhere, serve, useBrowser, visit } from './browser.mjs';
import { cards, choice, decide, figured, handIn, heard, marked, pasting, point, rested, setOut } from './class.mjs';
import { field, go, headText, reload, says, shared } from './reader.mjs';
import { Thumb } from './touch.mjs';

useBrowser({ desktop: true });

async function byTouch(page, hash) {
  await page.tap(field('worksheet', 'name'));
  await page.keyboard.type('Ann');
  await page.tap(point('resistance_component'));
  await reload(page);
  await page.tap(point('voltage_pin_on'));
  await go(page, '#/');
  await page.waitForSelector('#start:not([hidden])');
  await go(page, hash); // the link once more
  await says(page, 'said', 'continued');
  assert.match(await headText(page), /20\smin paid/);
  await page.tap(choice('repair=harness'));
  await page.tap(decide);
  await rested(page);
  await figured(page, '7.62');
  return handIn(page);
}

async function byKeyboard(page) {
  const there = (selector) => page.evaluate((s) => document.activeElement.matches(s), selector);
  const tab = async (selector) => {
    for (let i = 0; i < 80 && !(await there(selector)); i++) await page.keyboard.press('Tab');
    assert.ok(await there(selector), `Tab leads to ${selector}`);
  };
  await tab('#worksheet-name');
  await page.keyboard.type('Bo');
  await tab('.point[data-value="current_on"]');
  await page.keyboard.press('Space');
  await page.waitForFunction(() => document.getElementById('heard').textContent.includes('paid'));
  const said = (await heard(page)).filter((n) => n.role === 'status').map((n) => n.text);
  assert.ok(said.some((text) => /\d\sA\s.*8\smin paid/.test(text)), `the reading is heard before its minutes: ${said}`);
  const choose = async (name, downs) => {
    await tab(`input[name="worksheet-choose-${name}"]`);
    await page.keyboard.press('Space');
    for (let i = 0; i < downs; i++) await page.keyboard.press('ArrowDown');
  };
  await choose('repair', 2);
  assert.equal(await page.locator('.p-decided').count(), 0);
  await tab('.decide');
  await page.keyboard.press('Enter');
  await rested(page);
  assert.equal(await page.locator('.p-decided').count(), 1);
  await page.focus('#worksheet-value'); // what had the focus is gone
  await page.keyboard.type('7.5');
  for (const [name, downs] of [['unit', 0], ['condition', 0], ['decision', 1], ['reason', 1]]) await choose(name, downs);
  await tab('.decide');
  await page.keyboard.press('Enter');
  return handIn(page);
}

async function withComma(page) {
  await page.fill(field('worksheet', 'name'), 'Jürgen');
  await page.tap(point('current_on'));
  await reload(page);
  await page.tap(choice('repair=component'));
  await page.tap(decide);
  await rested(page);
  await figured(page, '7,49');
  return handIn(page);
}

elsewhere('a teacher and three students, from the link to the marks', () => serve(), { at: '#/worksheet' }, async (page, host) => {
  await setOut(page, (...at) => new Thumb(page).press(...at));
  const [, link] = (await shared(page, 'copied')).split('\n');
  const hash = link.slice(link.indexOf('#'));
  await says(page, 'offline', 'offline');

  const students = [];
  for (const [locale, work] of [['en-GB', byTouch], ['en-GB', byKeyboard], ['de-DE', withComma]]) {
    students.push({ work, page: await visit({ base: host.base, workers: true, at: hash, locale, expects: /ERR_|Failed to/ }) });
  }
  try {
    const chat = [];
    for (const student of students) {
      await says(student.page, 'offline', 'offline');
      if (student.work === withComma) await host.stop(); // from here on nobody has a network
      chat.push(await student.work(student.page, hash));
    }
    await reload(page);
    await pasting(page, `Good morning!\n${chat.join('\nHere is mine:\n')}\nSee you`);
    await page.waitForSelector('.marks-table');
    const rows = await cards(page);
    assert.deepEqual(rows.map((r) => r[0]), ['Ann', 'Bo', 'Jürgen']);
    const table = marked(link, chat.join('\n'), 'tsv').split('\n').slice(1, -1).map((line) => line.split('\t'));
    assert.deepEqual(rows.map((r) => r.slice(0, 7)), table.map((r) => r.slice(0, 7)), 'as the command line marks them');
    for (const student of students) {
      const own = rows[students.indexOf(student)][1];
      assert.equal(/[\d.,]+/.exec(await headText(student.page))[0].replace(',', '.'), String(Number(own)), 'and as the student was told');
      assert.deepEqual(student.page.faults, []);
    }
  } finally {
    for (const student of students) await student.page.context().close();
  }
});
