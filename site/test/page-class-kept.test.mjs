// A class's work is kept safe: a full device, no network, a tab that is killed; and late, double and changed hand-ins in the table.
// node --test site/test/page-class-kept.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { base, elsewhere, laptop, phone, ready, scene, serve, useBrowser } from './browser.mjs';
import {
  cards, choice, decide, decideOnFault, handInLink, handedIn, marked, pasting, point, requestOf, rested, sheet, teacher,
} from './class.mjs';
import { run } from './program.mjs';
import { answerText, field, go, headText, press, reload, says, shared, verdict, word } from './reader.mjs';

useBrowser({ desktop: true });

const full = () => {
  Storage.prototype.setItem = () => {
    throw new DOMException('full', 'QuotaExceededError');
  };
};

scene('a device that is full: what is lost is said, and the work is handed in all the same', { fresh: true, init: full, at: sheet },
  async (page) => {
    await page.fill(field('worksheet', 'name'), 'Ann');
    assert.equal(await page.textContent('#saved'), await word(page, 'work.unsaved.full'));
    assert.match(await word(page, 'work.unsaved.full'), /hand in before you close/);
    await decideOnFault(page, 'Ann');
    const ann = await handInLink(page);
    const [, link] = (await shared(page, 'copied')).split('\n');
    assert.equal(marked(sheet, link, 'tsv').split('\n')[1].split('\t')[0], 'Ann');
    await page.click('.works > summary');
    await page.click('.works [data-do="another"]');
    await says(page, 'said', 'works.unkept');
    assert.equal(await page.inputValue(field('worksheet', 'name')), '');
    await page.click('.works > summary');
    await page.click('.works [data-do="use"]');
    assert.equal((await handInLink(page)).split('&handed')[0], ann.split('&sum')[0], 'the first student’s is there while the page is');
    await reload(page);
    assert.equal(await page.inputValue(field('worksheet', 'name')), '', 'what was said to be lost is lost');
  });

scene('a tab that is killed: every tap was kept', { fresh: true, at: sheet }, async (page) => {
  const context = page.context();
  await page.fill(field('worksheet', 'name'), 'Ann');
  await page.tap(point('current_on'));
  await page.tap(choice('repair=harness'));
  const next = await context.newPage(); // the tab before it gets no chance to say farewell
  const session = await context.newCDPSession(page);
  session.send('Page.crash').catch(() => {});
  await page.waitForEvent('crash');
  assert.deepEqual(page.faults.splice(0), ['the page crashed'], 'as it should');
  await next.goto(`${base}${sheet}`);
  await ready(next);
  assert.match(await headText(next), /8\smin paid/);
  assert.ok(await next.isChecked(choice('repair=harness')), 'also what was only chosen');
  await next.tap(decide);
  assert.equal(await next.locator('#worksheet .p-decided').count(), 1);
});

elsewhere('without a network: link, name, work, hand-in, marks', () => serve(), { at: '#/worksheet' }, async (page, host) => {
  await says(page, 'offline', 'offline');
  await host.stop();
  await reload(page);
  await page.click('#worksheet .levels [data-set*="fault_high"]');
  const [, link] = (await shared(page, 'copied')).split('\n');
  await go(page, link.slice(link.indexOf('#')));
  await says(page, 'said', 'works.kept');
  await decideOnFault(page, 'Ann');
  assert.equal(await verdict(page), 'decided');
  const handed = await shared(page, 'copied');
  await reload(page);
  assert.equal(await verdict(page), 'decided', 'the work is there after a reload without a network');
  await page.click('.works > summary');
  await page.locator('.works [data-do="use"]', { hasText: 'Set out' }).click();
  await pasting(page, handed);
  await page.waitForSelector('.marks-table');
  assert.deepEqual((await cards(page))[0].slice(0, 2), marked(link, handed, 'tsv').split('\n')[1].split('\t').slice(0, 2));
});

const berlin = { locale: 'nl-NL', timezoneId: 'Europe/Berlin' }; // a comma in numbers, and no words of its own

// asked and decisions of somebody who has done all.
const asked = [{ test: 'resistance_component' }, { test: 'voltage_pin_on' }];
const answer = { value: 7.6, unit: 'ohm', condition: 'at_reference', decision: 'below', reason: 'lost_turns' };
const all = { asked, decisions: [{ repair: 'harness', after: 2 }, { question: 2, ...answer }] };

scene('a time to hand in is entered and read by the clock on the wall; late, double and changed ones are named', { ...berlin, at: teacher },
  async (page) => {
    const due = field('worksheet', 'due');
    assert.equal(await page.getAttribute(due, 'type'), 'datetime-local');
    await page.fill(due, '2026-11-30T09:00');
    assert.equal(await page.textContent('[id="worksheet-due-echo"]'), '2026-11-30 09:00 UTC+01:00');
    const [, link] = (await shared(page, 'copied')).split('\n');
    assert.equal(new URLSearchParams(link.split('?')[1]).get('due'), '2026-11-30T08:00Z');
    await reload(page);
    assert.equal(await page.inputValue(due), '2026-11-30T09:00');

    const of = (name, handed, more) => `${name}: ${base}${handedIn(link.slice(link.indexOf('#')), name, { ...all, ...more, handed })}`;
    const text = [
      of('Ann', '2026-11-30T08:00Z'),
      of('Bo', '2026-11-30T08:01Z'),
      'Bo: did you get it?',
      of('Bo', '2026-11-30T08:01Z'),
      of('ann', '2026-11-30T08:02Z', { asked: asked.slice(0, 1), decisions: [{ repair: 'component', after: 1 }] }),
      `Cem: ${handedIn(sheet.replace('level=2', 'level=3'), 'Cem', { ...all, handed: '2026-11-30T07:00Z' })}`,
      `Dora: ${handedIn(sheet, 'Dora', all)}`,
    ].join('\n');
    await pasting(page, text);
    await page.waitForSelector('.marks-table');
    const rows = await cards(page);
    const notes = rows.map((r) => r[6]);
    assert.deepEqual(rows.map((r) => r[0]), ['Ann', 'Bo', 'Bo', 'ann', 'Cem', 'Dora']);
    assert.deepEqual(notes.slice(0, 4), ['', 'late', 'the same again; late', 'handed in before, differs; late; not all decided']);
    assert.match(notes[4], /another sheet: Hand in until, Questions/);
    assert.match(notes[5], /another sheet: Hand in until; no time/);
    assert.deepEqual(rows.map((r) => r[7]).slice(0, 2), ['2026-11-30 09:00 UTC+01:00', '2026-11-30 09:01 UTC+01:00']);
    assert.match(marked(link, text, 'tsv'), /2026-11-30T08:01Z/, 'files have it in UTC, the same on every device');

    await go(page, link.slice(link.indexOf('#')));
    await says(page, 'said', 'works.kept');
    assert.match(await page.textContent('#worksheet .until'), /2026-11-30 09:00 UTC\+01:00$/);
  });

scene('a student elsewhere reads the time by another clock, and a time that is none is told', {
  locale: 'fr-CA', timezoneId: 'America/St_Johns', at: `${sheet}&due=2026-11-30T08:00Z&name=Zoé`,
}, async (page) => {
  assert.match(await page.textContent('#worksheet .until'), /2026-11-30 04:30 UTC−03:30$/);
  await go(page, `${teacher}&due=tomorrow`);
  await page.waitForSelector('[id="worksheet-due-note"]:not(:empty)');
  assert.match(await page.textContent('[id="worksheet-due-note"]'), /tomorrow/);
  await page.fill(field('worksheet', 'due'), '2026-07-01T08:00');
  assert.equal(await page.textContent('[id="worksheet-due-note"]'), '');
  assert.match(await page.textContent('[id="worksheet-due-echo"]'), /UTC−02:30$/);
});

scene('a student who writes a decimal comma, from the link to the marks', { ...berlin, at: sheet }, async (page) => {
  await decideOnFault(page, 'Jürgen Größe');
  assert.match(await page.textContent('#worksheet form'), /\d,\d\d\sΩ/);
  await page.fill(field('worksheet', 'value'), '7.62');
  for (const [key, word] of Object.entries({ ...answer, value: undefined })) if (word) await page.tap(choice(`${key}=${word}`));
  await page.tap(decide);
  assert.match(await answerText(page), /7,62\sΩ/);
  await rested(page);
  const handed = await shared(page, 'copied');
  assert.match(handed, /decisions\.1\.value=7\.62&/, 'a link has the point, whoever reads it');
  await go(page, teacher);
  await says(page, 'said', 'works.kept');
  await pasting(page, handed);
  await page.waitForSelector('.marks-table');
  const [row] = await cards(page);
  assert.equal(row[0], 'Jürgen Größe');
  assert.match(row[1], /^\d+,\d$/, 'marks in the reader’s notation');
});

const toPrint = `${teacher}&due=2026-11-30T08:00Z&words=Meters+and+clamps+only.`;

scene('on paper: a sheet for each name, one key for all, and nothing of the page', { fresh: true, at: toPrint }, async (page, t) => {
  await page.click('.tool > form > .more[data-keep="fine"] > summary');
  await page.fill(field('worksheet', 'students'), 'Ann\nBo\nCem');
  const file = join(mkdtempSync(join(tmpdir(), 'ohmwright-class-')), 'sheets.pdf');
  t.after(() => rmSync(dirname(file), { recursive: true }));
  await page.pdf({ path: file, format: 'A4' });
  const pages = execFileSync('pdftotext', ['-layout', file, '-']).toString().split('\f').slice(0, -1);
  assert.ok(pages.every((text) => text.trim() !== ''), 'no page is empty');
  const about = (of) => pages.findIndex((text) => text.includes(of));
  const starts = [about('Name: Ann'), about('Name: Bo'), about('Name: Cem'), about('Key, for the teacher')];
  assert.equal(new Set(starts).size, 4, `each begins on a page of its own: ${starts}`);
  assert.deepEqual(starts, [...starts].sort((a, b) => a - b));
  assert.ok(starts[0] === 0, 'nothing comes before the first sheet');
  const sheets = pages.slice(0, starts[3]).join('');
  for (const text of ['First hour', 'What would you mend?', '☐', 'Working:', '13.80 V', 'min']) assert.ok(sheets.includes(text), text);
  assert.doesNotMatch(sheets, /Right:|mended by|#\/worksheet/, 'a sheet does not hold its key');
  for (const name of ['Ann', 'Bo', 'Cem']) assert.ok(pages.slice(starts[3]).join('').includes(name), `${name} is in the key`);
});

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

for (const [name, size] of Object.entries({ phone, laptop })) {
  scene(`axe finds nothing in what a class sees, ${name}`, { size, at: '#/worksheet' }, async (page) => {
    await page.evaluate(axe);
    const check = async (state) => {
      const found = await page.evaluate(async () => {
        const runOnly = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
        const rules = { 'color-contrast': { enabled: false }, 'color-contrast-enhanced': { enabled: true } };
        const { violations } = await globalThis.axe.run(document, { runOnly, rules });
        return violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target.join(' ')).slice(0, 5).join(', ')}`);
      });
      assert.deepEqual(found, [], state);
    };
    await check('no sheet');
    await go(page, teacher);
    await says(page, 'said', 'works.opened');
    await pasting(page, Array.from({ length: 12 }, (_, i) => handedIn(sheet, `Student ${i}`, all)).join('\n'));
    await page.waitForSelector('.marks-table');
    await page.click('.p-ready > summary');
    await page.click('.paper-class > summary');
    await check('a sheet, its key, and marks');
    await go(page, sheet);
    await says(page, 'said', 'works.kept');
    await page.click('.works > summary');
    await page.fill(field('worksheet', 'name'), 'Ann');
    await page.click(point('current_on'));
    await page.click(choice('repair=harness'));
    await check('at work');
    await page.click(decide);
    await check('decided');
    await press(page, 'undo');
  });
}

scene('a question that is left half done is as it was once it is opened again', { at: sheet }, async (page) => {
  const open = (number) => page.tap(`#worksheet .questions-list li:nth-child(${number}) button`);
  const chosen = () => page.$$eval('#worksheet .p-choosing input:checked', (all) => all.map((e) => e.value));
  const figure = ['ohm', 'at_reference', 'below', 'lost_turns'];
  await page.fill(field('worksheet', 'name'), 'Ann');
  await page.tap(choice('repair=harness'));
  await open(2);
  assert.deepEqual(await chosen(), [], 'nothing of the first question');
  await page.fill(field('worksheet', 'value'), '7.62');
  for (const what of ['unit=ohm', 'condition=at_reference', 'decision=below', 'reason=lost_turns']) await page.tap(choice(what));
  await open(1);
  assert.deepEqual(await chosen(), ['harness']);
  await open(2);
  await reload(page);
  assert.equal(await page.inputValue(field('worksheet', 'value')), '7.62');
  assert.deepEqual(await chosen(), figure);
  await open(1);
  await page.tap(point('current_on'));
  await page.tap(decide);
  assert.equal(await page.inputValue(field('worksheet', 'value')), '7.62', 'the next question is gone on with');
  assert.deepEqual(await chosen(), figure);
  assert.match(await answerText(page), /harness/);
  await rested(page);
  await page.tap(decide);
  assert.equal(await verdict(page), 'decided');
  await rested(page);
  const [, link] = (await shared(page, 'copied')).split('\n');
  assert.doesNotMatch(link, /drafts/, 'what was put aside is not handed in');
});

// Work that was kept while there was one way of drawing says nothing of it: on the low side another fault would be hidden otherwise.
scene('work that was kept before there were two ways of drawing goes on with the fault that it had', {}, async (page) => {
  const of = '#/worksheet?v=1&role=student&questions.0.kind=fault_low&questions.0.level=3';
  const given = {
    role: 'student', name: 'Ann', 'questions.0.kind': 'fault_low', 'questions.0.level': '3', 'asked.0.test': 'insulation_harness',
  };
  const read = (drawing) => JSON.stringify({ ...requestOf(of), name: 'Ann', asked: [{ test: 'insulation_harness' }], drawing });
  const [first, second] = [1, 2].map((drawing) => run('worksheet', read(drawing)).response.result.questions[0]);
  assert.notEqual(first.readings[0].over, second.readings[0].over);
  await page.evaluate((text) => localStorage.setItem('ohmwright/worksheet', text),
    JSON.stringify({ v: 1, given, units: {}, names: {}, rows: { questions: 1, asked: 1 }, open: [] }));
  await go(page, '#/winding');
  await reload(page);
  await go(page, '#/worksheet');
  assert.match(await headText(page), /OL/, 'the wire is sound: it is open elsewhere');
  await page.tap(choice('repair=harness'));
  await page.tap(decide);
  await rested(page);
  assert.doesNotMatch(await handInLink(page), /drawing/, 'and the link stays as it was');
  await go(page, `${of}&drawing=2`);
  await page.fill(field('worksheet', 'name'), 'Ann');
  await page.tap(point('insulation_harness'));
  assert.doesNotMatch(await headText(page), /OL/, 'a new sheet hides another fault');
});
