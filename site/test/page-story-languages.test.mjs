// The technician's story in German and Spanish and the class in French, on phones whose browsers are in these languages: from the first
// tap to the printed page, and from the teacher's link to the marks. What is tapped is found by its words, numbers are typed with a
// comma, and no word of English is left.
// node --test site/test/page-story-languages.test.mjs
import assert from 'node:assert/strict';
import { elsewhere, scene, serve, useBrowser } from './browser.mjs';
import { kept } from './jobs.mjs';
import { run } from './program.mjs';
import { reload, says } from './reader.mjs';
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
  assert.doesNotMatch(text, /\d\.\d/, 'a decimal point on paper');
  t.diagnostic(`${language}: ${thumb.figures}`);
}

scene('in Spanish: code low, read hot, to one printed page', { at: '', locale: 'es-ES' }, (page, t) => told(page, 'es', t));
