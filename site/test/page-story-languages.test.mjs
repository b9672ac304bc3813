// The technician's story in German and Spanish and the class in French, on phones whose browsers are in these languages: from the first
// tap to the printed page, and from the teacher's link to the marks. What is tapped is found by its words, numbers are typed with a
// comma, and no word of English is left.
// node --test site/test/page-story-languages.test.mjs
import assert from 'node:assert/strict';
import { base, elsewhere, scene, serve, useBrowser, visit } from './browser.mjs';
import { cards, choice, decide, figured, handIn, marked, pasting, point, rested, setOut } from './class.mjs';
import { kept } from './jobs.mjs';
import { run } from './program.mjs';
import { field, headText, reload, says, shared } from './reader.mjs';
import { spoken } from './spoken.mjs';
import { condemnations } from './stories.mjs';
import { condemnedToPaper } from './technician.mjs';
import { Thumb } from './touch.mjs';

useBrowser({ desktop: true });

// seen is what can be read on the screen: header, tool and footer, without what is marked as being in another language.
const seen = (page) =>
  page.evaluate(() => {
    const texts = [];
    const walk = (node) => {
      if (node.nodeType === Node.TEXT_NODE) texts.push(node.data);
      if (node.nodeType !== Node.ELEMENT_NODE || node.matches('[lang]:not(html), script, style, template, .address')) return;
      for (const name of ['aria-label', 'title', 'placeholder', 'alt']) texts.push(node.getAttribute(name) ?? '');
      node.childNodes.forEach(walk);
    };
    for (const part of document.querySelectorAll('header, footer, #said, #heard, main > section:not([hidden])')) walk(part);
    return texts.join(' ');
  });

// What is in no language: a name of this program, the end of a file's name, and a circuit's name, which is the contract's.
const names = ['Ohmwright', 'ohmwright-job.json', run('code', '{"code":"P0962"}').response.result.circuit];

// told plays story one as a reader of a language does.
async function told(page, language, t) {
  assert.equal(await page.evaluate(() => document.documentElement.lang), language);
  const thumb = new Thumb(page, language);
  const story = condemnations[language];
  const typed = [...Object.values(story.facts), ...story.rows, ...Object.values(story.work), ...names];
  const see = async (tool) => {
    await kept(page);
    assert.deepEqual(thumb.speaks.english(await seen(page), typed), [], `${tool}: words of English on the screen`);
  };
  const { taken, text } = await condemnedToPaper(thumb, story, see);
  assert.deepEqual(taken, ['winding_temperature'], 'the page asks for what it asks for in English');
  assert.deepEqual(thumb.speaks.english(text, typed), [], 'words of English on paper');
  assert.doesNotMatch(text.replace(/\d+\.\d+\.\d{4}/g, ''), /\d\.\d/, 'a decimal point on paper');
  t.diagnostic(`${language}: ${thumb.figures}`);
}

const patience = 300_000; // for a whole story on a busy machine: on an idle one it takes some seconds

const spanish = { at: '', locale: 'es-ES', timeout: patience };
scene('in Spanish: code low, read hot, to one printed page', spanish, (page, t) => told(page, 'es', t));

elsewhere(
  'in German, without a network after the first visit: code low, read hot, to one printed page',
  () => serve(),
  { at: '', locale: 'de-DE', timeout: patience },
  async (page, host, t) => {
    await says(page, 'offline', 'offline');
    await page.context().setOffline(true);
    await host.stop();
    await reload(page);
    await told(page, 'de', t);
  },
);

// ---- the class

// works is a student who asks for a reading, decides on the harness, gives a figure, and hands in. Returned are what stands below the
// part whose reading was asked for, and what is handed in.
async function works(page, language, name, figure) {
  const { speaks } = new Thumb(page, language);
  await page.tap(field('worksheet', 'name'));
  await page.keyboard.type(name);
  await page.tap(point('current_on'));
  await page.waitForSelector(`${point('current_on')}.taken`);
  const read = (await page.textContent(point('current_on'))).trim();
  await reload(page);
  const repair = await page.$eval(choice('repair=harness'), (radio) => radio.labels[0].textContent.trim());
  assert.equal(repair, speaks.say('worksheet.repair=harness'));
  await page.tap(choice('repair=harness'));
  await page.tap(decide);
  await rested(page);
  await figured(page, speaks.number(figure));
  return { read, handed: await handIn(page) };
}

const numbersIn = (text) => text.replaceAll(',', '.').match(/\d+(?:\.\d+)?/g);

// workIn is what a hand-in holds, but for the minute in which it was handed in, and the sum that it ends in.
const workIn = (link) => [...new URLSearchParams(new URL(link).hash.split('?')[1])].filter(([key]) => !['handed', 'sum'].includes(key));

const title = 'a class in French, from the link to the marks; the link answers the same in English';
scene(title, { at: '#/worksheet', locale: 'fr-FR', timeout: patience }, async (page) => {
  const french = spoken('fr');
  const thumb = new Thumb(page, 'fr');
  const noEnglish = async (page, what, ...typed) => {
    const found = french.english(await seen(page), ['Ohmwright', ...typed]);
    assert.deepEqual(found, [], `${what}: words of English on the screen`);
  };
  await setOut(page, (...at) => thumb.press(...at));
  await noEnglish(page, 'the teacher’s sheet');
  const [line, link] = (await shared(page, 'copied')).split('\n');
  assert.ok(line.includes(french.say('worksheet.ready.title.fault_high')), line);
  assert.doesNotMatch(link, /language/, 'a link is in no language');
  const at = link.slice(link.indexOf('#'));
  const pupils = [];
  try {
    for (const [language, locale, name] of [['fr', 'fr-FR', 'Chloé'], ['en', 'en-GB', 'Chloé'], ['fr', 'fr-CA', 'Zoé']]) {
      const pupil = await visit({ base, at, locale });
      pupils.push(pupil);
      assert.equal(await pupil.evaluate(() => document.documentElement.lang), language);
      Object.assign(pupil, await works(pupil, language, name, '7.49'));
      if (language === 'fr') await noEnglish(pupil, 'a student’s sheet', name);
    }
    const [chloe, other] = pupils;
    assert.match(chloe.read, /^\d+,\d+\s*A$/);
    assert.equal(other.read, chloe.read.replace(',', '.'), 'the same figures for the same name');
    assert.deepEqual(numbersIn(await headText(other)), numbersIn(await headText(chloe)), 'and the same marks for the same work');
    const links = pupils.map((pupil) => pupil.handed.split('\n').at(-1));
    assert.deepEqual(workIn(links[1]), workIn(links[0]), 'what is handed in is in no language');
    const chat = [pupils[0], pupils[2]].map((pupil) => pupil.handed).join('\nBonjour\n');
    await pasting(page, chat);
    await page.waitForSelector('.marks-table');
    const rows = await cards(page);
    assert.deepEqual(rows.map((row) => row[0]), ['Chloé', 'Zoé']);
    const table = marked(link, chat, 'tsv').split('\n').slice(1, -1).map((row) => row.split('\t'));
    assert.deepEqual(rows.map((row) => numbersIn(row[1])), table.map((row) => numbersIn(row[1])), 'as the command line marks them');
    assert.equal(Number(numbersIn(rows[0][1])[0]), Number(numbersIn(await headText(chloe))[0]), 'and as the student was told');
    await noEnglish(page, 'the table of marks', 'Chloé', 'Zoé');
    for (const pupil of pupils) assert.deepEqual(pupil.faults, []);
  } finally {
    for (const pupil of pupils) await pupil.context().close();
  }
});
