// What stands on paper.
// node --test site/test/page-paper.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { laptop, scene, useBrowser } from './browser.mjs';
import { go, headText, press, quiet } from './reader.mjs';
import { alone, hurried, long, rest } from './torque.mjs';

useBrowser();

// tight is a text without its spaces: a line may break anywhere.
const tight = (s) => s.replace(/[\s\u00a0]+/g, '');

// printed is what stands on paper: its pages, its text, the words' places in points, and how dark a place is (0 to 255), in points.
async function printed(page) {
  const directory = mkdtempSync(join(tmpdir(), 'ohmwright-paper-'));
  const file = join(directory, 'paper.pdf');
  const run = (program, ...args) => execFileSync(program, args, { maxBuffer: 1 << 26 });
  try {
    writeFileSync(file, await page.pdf({ format: 'A4' }));
    const pages = Number(/Pages:\s+(\d+)/.exec(run('pdfinfo', file))[1]);
    const words = [
      ...`${run('pdftotext', '-bbox', '-l', '1', file, '-')}`.matchAll(
        /<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)"[^>]*>([^<]*)</g,
      ),
    ].map(([, x0, y0, x1, y1, word]) => ({ word, x: (Number(x0) + Number(x1)) / 2, y: (Number(y0) + Number(y1)) / 2 }));
    const raster = run('pdftoppm', '-gray', '-r', '72', '-l', '1', '-singlefile', file);
    const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(raster.subarray(0, 40).toString('latin1'));
    const width = Number(head[1]);
    const texts = `${run('pdftotext', '-layout', file, '-')}`.split('\f').map(tight);
    return { pages, words, texts, text: texts.join(''), grey: (x, y) => raster[head[0].length + Math.round(y) * width + Math.round(x)] };
  } finally {
    rmSync(directory, { recursive: true });
  }
}

// ---- the winding and the loaded test

scene(
  'paper has the reading, the verdict, the rows and the working, and no buttons',
  { at: '#/winding', size: laptop, fresh: true },
  async (page) => {
    await press(page, 'demo');
    const [head, rows] = [
      await headText(page),
      await page.$$eval('#winding-answer li[data-verdict] strong', (all) => all.map((s) => s.textContent)),
    ];
    // The working is made when it is first opened.
    await page.click('#winding-answer details > summary');
    await page.waitForSelector('#winding-answer ol li');
    const steps = await page.$$eval('#winding-answer ol li code', (all) => all.map((c) => c.textContent));
    await page.reload();
    await page.waitForSelector('#winding-answer li[data-verdict]');
    const buttons = await page.$$eval('button', (all) => all.map((b) => b.textContent.trim()).filter((t) => t.length > 4));
    assert.ok(
      steps.length > 4 && rows.length === 2 && buttons.length > 4,
      `winding: ${steps.length} steps, ${rows.length} rows, ${buttons.length} buttons on the screen are not what the example has`,
    );
    const folded = await page.$$eval('#winding details', (all) => all.map((d) => d.open));
    await page.emulateMedia({ media: 'print' });
    const { text } = await printed(page);
    assert.ok(text.includes('6.90'), 'the reading as typed');
    assert.ok(text.includes('88'), 'its temperature');
    for (const strong of await page.$$eval('#winding .head strong, #winding .head strong + span', (all) =>
      all.map((e) => e.textContent),
    ))
      assert.ok(text.includes(tight(strong)), `${strong} of ${head}`);
    for (const row of rows) assert.ok(text.includes(tight(row)), row);
    // A line may break within a formula: it is looked for without its spaces; a row of the page may break it in two.
    const missing = steps.filter((s) => !text.includes(tight(s)));
    assert.ok(missing.length <= steps.length / 4, `not printed: ${missing.join(' | ')}`);
    for (const b of buttons) assert.ok(!text.includes(tight(b)), `a button is printed: ${b}`);
    assert.equal(await page.locator('button:visible').count(), 0, 'the tool shown: button:visible: how many there are');
    await page.emulateMedia({ media: 'screen' });
    assert.deepEqual(await page.$$eval('#winding details', (all) => all.map((d) => d.open)), folded, 'and all is folded again');
  },
);

scene('paper of the loaded test', { at: '#/loop', size: laptop }, async (page) => {
  await press(page, 'demo');
  const { text } = await printed(page);
  for (const typed of ['13.2', '1.65', '5.3', 'R=V/I']) assert.ok(text.includes(typed), `the loaded test: ${typed} is not printed`);
});

// ---- torque

const plate = [
  [10, 90, 35],
  [50, 95, 35],
  [90, 90, 35],
  [90, 50, 60],
  [90, 10, 60],
  [50, 5, 35],
  [10, 10, 35],
  [10, 50, 60],
  [50, 50, 35],
];
const sheet = [
  '#/torque?v=1',
  ...plate.map(([x, y, length], i) => `bolts.${i}.x=${x}mm&bolts.${i}.y=${y}mm&bolts.${i}.length=${length}mm`),
  ...[3, 8].map((i) => `bolts.${i}.kept=yes`),
].join('&');

scene(
  'one sheet to hang beside the bench: the numbered drawing with what is not to be undone, passes to tick, lines to fill in',
  { at: sheet },
  async (page) => {
    const rows = await page.$$eval('#torque .p-order li', (all) => all.map((li) => [...li.children].map((c) => c.textContent)));
    const lines = await page.$$eval('#torque .paper li', (all) => all.map((li) => li.textContent));
    assert.ok(rows.length >= 4 && lines.length === 3, `torque: ${rows.length} rows of the order and ${lines.length} lines to fill in`);
    assert.equal(await page.isVisible('#torque .paper'), false, 'on paper alone');
    const paper = await printed(page);
    assert.equal(paper.pages, 1);
    for (const cell of [...rows.flat(), ...lines]) assert.ok(paper.text.includes(tight(cell)), `${cell} is not printed`);
    // Where the drawing is on paper follows from two of its numbers; all nine bolts are there, black on white.
    const marks = await page.$$eval('#torque [data-plate] [data-bolt]', (all) =>
      all.sort((a, b) => a.dataset.bolt - b.dataset.bolt).map((b) => b.querySelector('text:not(.len)')?.textContent),
    );
    const named = (row) => paper.words.filter((w) => w.word === marks[row]);
    const pairs = named(6).flatMap((a) => named(2).map((b) => [a, b])); // 10, 10 and 90, 90
    const [a, b] =
      pairs.find(([a, b]) => Math.abs((b.x - a.x) / (a.y - b.y) - 1) < 0.03) ?? assert.fail(`no drawing: ${JSON.stringify(pairs)}`);
    const across = (b.x - a.x) / 80;
    const up = (a.y - b.y) / 80;
    assert.ok(across * 100 > (80 / 25.4) * 72, `${across} points a mm`);
    const dark = (x, y) => {
      let n = 0;
      for (let dx = -7; dx <= 7; dx++)
        for (let dy = -7; dy <= 7; dy++) if (paper.grey(a.x + (x - 10) * across + dx, a.y - (y - 10) * up + dy) < 100) n++;
      return n;
    };
    for (const [x, y] of plate) assert.ok(dark(x, y) > 15, `the bolt at ${x}, ${y}: ${dark(x, y)}`);
    for (const [x, y] of [
      [30, 30],
      [70, 70],
      [50, 25],
    ])
      assert.ok(dark(x, y) <= 3, `nothing at ${x}, ${y}: ${dark(x, y)}`);
  },
);

scene(
  'paper in the middle of it: the torque in all units, no step, no buttons, two pages at most',
  { at: sheet.replace('v=1&', 'v=1&torque=10N.m&'), size: laptop, init: hurried },
  async (page) => {
    await page.click('#torque .p-order .go');
    await rest(page);
    await page.click('#torque .p-step .ready');
    await rest(page);
    await page.click('#torque .p-step .go');
    await quiet(page);
    await page.focus('#torque .p-step .go');
    const step = await page.$eval('#torque .p-step', (part) => [...part.querySelectorAll('button, .big span')].map((e) => e.textContent));
    const buttons = await page.$$eval('#torque button', (all) =>
      all
        .filter((b) => !b.closest('.units-list'))
        .map((b) => b.textContent)
        .filter((t) => t.length > 4),
    );
    const head = await headText(page);
    const rows = await page.$$eval('#torque .p-order li', (all) => all.map((li) => [...li.children].map((c) => c.textContent)));
    const paper = await printed(page);
    assert.ok(paper.pages <= 2, `${paper.pages} pages`);
    for (const cell of [...rows.flat(), '88.51']) assert.ok(paper.text.includes(tight(cell)), `${cell} is not printed`);
    for (const b of [...buttons, ...step, head]) assert.ok(!paper.text.includes(tight(b)), `printed: ${b}`);
    // What hangs beside the bench is one sheet.
    const ends = await page.evaluate(() =>
      ['[data-list="bolts"] > legend', '.paper li:last-child'].map((s) =>
        document.querySelector(`#torque ${s}`).textContent.replace(/\s+/g, ''),
      ),
    );
    assert.ok(
      paper.texts.some((text) => ends.every((end) => text.includes(end))),
      'drawing and passes are on one page',
    );
    assert.ok(paper.text.indexOf('88.51') < paper.text.indexOf(ends[0]), 'the torque stands before the bolts');
    assert.deepEqual(await alone(page), [], 'on the screen it goes on alone');
    assert.equal(await page.evaluate(() => document.activeElement.classList.contains('go')), true, 'with the focus where it was');
    // A long one is printed to its end.
    await go(page, long);
    await page.waitForFunction(() => history.state?.own !== undefined && document.querySelector('#torque .units-list .set'));
    const whole = await printed(page);
    const steps = await page.$$eval('#torque .working li .what', (all) => all.map((e) => e.textContent.replace(/\s+/g, '')));
    assert.ok(
      steps.length > 8 && whole.pages > 2,
      `torque: ${steps.length} steps on ${whole.pages} pages: the long question should take more`,
    );
    for (const s of steps) assert.ok(whole.text.includes(s), `not printed: ${s}`);
  },
);
