// What is heard, and what the window is called. An answer changes at every keystroke; a screen reader is told of it once nothing has
// changed for a moment, and only of what is new: the reading as it was understood, what is wrong beside fields, and the verdict.
import { isNothing } from './facts.js';

const SETTLED = 900; // milliseconds without an answer
const GONE = 10_000; // milliseconds after which the words go: who reads on to the end of the page has met them in their places
const MOST = 3; // faults that are read out at once

export class Heard {
  // word(key, …) words, titleOf(place) names a place, job() the open job, '' if there is none.
  constructor({ word, titleOf, job }) {
    Object.assign(this, { word, titleOf, job });
    this.element = document.getElementById('heard');
    this.home = document.title;
    this.told = [];
  }

  // placed is told that another place is shown: with a tool's form, or with none.
  placed(place, form) {
    Object.assign(this, { place, form, told: [] });
    clearTimeout(this.timer);
    this.name();
  }

  // answered is told that a form has another answer.
  answered(form) {
    if (form !== this.form) return;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.settle(), SETTLED);
  }

  settle() {
    this.name();
    const lines = linesOf(this.form);
    const news = lines.filter(({ text }) => !this.told.includes(text));
    this.told = lines.map(({ text }) => text);
    if (news.length > 0) this.say(...news.flatMap(({ name, text }) => [name, text].filter(Boolean)));
  }

  // say has texts read out.
  say(...texts) {
    const lines = texts.map((text) => Object.assign(document.createElement('p'), { textContent: text }));
    this.element.replaceChildren(...lines);
    clearTimeout(this.quiet);
    this.quiet = setTimeout(() => this.element.replaceChildren(), GONE);
  }

  // name gives the window its title: the verdict, the tool, the open job, the program.
  name() {
    const { home, place, form } = this;
    const verdict = form?.section.querySelector('.verdict:not([data-verdict="waiting"]) .word')?.textContent;
    const program = document.getElementById('home-name').dataset.name;
    const parts = [verdict, place && this.titleOf(place), this.job()].filter(Boolean);
    document.title = parts.length > 0 ? parts.concat(program).reduceRight((rest, part) => this.word('title', part, rest)) : home;
  }
}

// linesOf returns what there is to hear of a form, as {text, name}: how the field that is typed in was understood, what is wrong, with
// the name of its field unless the reader is in it, and the verdict. A form in which nothing was entered has nothing to say.
function linesOf({ section, element, last }) {
  if (!last || isNothing(last.given)) return [];
  const here = document.activeElement?.closest('.field');
  const echo = here && element.contains(here) ? here.querySelector(':scope > .echo')?.textContent : '';
  const faults = [...element.querySelectorAll('.note, .form-notes li')].filter((note) => note.textContent && note.checkVisibility());
  const nameOf = (field) => (field === here ? '' : field?.querySelector(':scope > :is(label, legend, .label)')?.textContent);
  const head = [...section.querySelectorAll('.verdict-text > *')].map((part) => part.textContent).filter(Boolean);
  return [
    { text: echo },
    ...faults.slice(0, MOST).map((note) => ({ text: note.textContent, name: nameOf(note.closest('.field')) })),
    { text: head.join(' ') },
  ].filter(({ text }) => text);
}
