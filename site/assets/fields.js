// What a form's fields hold: found on the page, written, read as a state (see state.js), and collected for the core.
import { Clock } from './clock.js';
import { FileText } from './file.js';
import { Lists, areBlank, nameCard } from './lists.js';
import { behindHeld, countRows } from './rows.js';
import { Slide } from './slide.js';
import { emptyForm, joined } from './state.js';

export class Fields {
  constructor(form, hooks) {
    this.form = form;
    this.hooks = hooks;
    this.lists = new Lists(form, hooks.localise, () => (this.found = this.paths = this.seen = null));
    this.made = new WeakMap(); // by element: its FileText, Clock or Slide
    this.values = {}; // the numbers that the core read from the fields that have sliders, in the contract's units
  }

  // all returns the fields; they are looked up again only after a card came or went.
  all() {
    this.found ??= [...this.form.querySelectorAll('.field[data-path]')].map((element) => this.find(element));
    return this.found;
  }

  // places returns what else is looked at at every keystroke; like the fields, it is looked up again only after a card came or went.
  places() {
    const all = (selector) => [...this.form.querySelectorAll(selector)];
    const foldOf = (fold) => ({
      line: fold.querySelector(':scope > summary small'),
      fields: this.all().filter((field) => fold.contains(field.element) && !field.held),
    });
    this.seen ??= {
      picked: all('.card.picked').map((card) => this.pickedOf(card)), // the cards that a tap in the answer opened
      folds: all('.fold').map(foldOf), // the parts that can be folded, each with its line and its fields
      notes: all('[data-note]'), // where notes stand that belong to no single field
      stay: all('[data-stays]').map((part) => part.dataset.stays), // the paths of what stays once it is given
    };
    return this.seen;
  }

  pickedOf(card) {
    const find = (selector) => card.querySelector(selector);
    return {
      card,
      inputs: [...card.querySelectorAll('.entry > input')],
      reading: this.all().find((field) => field.card === card && field.element.matches('.f-reading')),
      name: find('.picked-name'),
      expected: find('.picked-expected'),
      own: this.all().filter((field) => field.card === card && field.element.closest('.more')), // what it was taken at, if that is its own
      line: find('.card-line').children,
    };
  }

  find(element) {
    const choice = element.dataset.shape === 'choice';
    return {
      element,
      path: element.dataset.path,
      choice,
      input: this.inputOf(element),
      slide: this.slideOf(element),
      radios: [...element.querySelectorAll(choice ? ':scope > .segments input' : ':scope > .entry > .units input')],
      words: [...element.querySelectorAll(':scope > .entry > .spoken > .key')],
      unit: element.querySelector(':scope > .entry > .unit'),
      unitFrom: element.dataset.unitFrom,
      echo: element.querySelector(':scope > .echo'),
      note: element.querySelector(':scope > .note'),
      card: element.closest('.card'),
      deep: element.closest('.deep'),
      part: element.closest('.card, .group'),
      held: element.closest('[data-held]') !== null,
      lines: element.querySelector(':scope > .entry > .lines') !== null,
    };
  }

  inputOf(element) {
    const input = element.querySelector(':scope > .entry > :is(input, .lines)');
    const make = { file: () => new FileText(element, this.hooks.locale), time: () => new Clock(input) }[element.dataset.shape];
    if (!make) return input;
    if (!this.made.has(element)) this.made.set(element, make());
    return this.made.get(element);
  }

  slideOf(element) {
    const range = element.querySelector(':scope > .slide > input');
    if (range && !this.made.has(range)) this.made.set(range, new Slide(range, this.hooks.number));
    return range && this.made.get(range);
  }

  // at returns the first field that has a path.
  at(path) {
    this.paths ??= new Map([...this.all()].reverse().map((field) => [field.path, field]));
    return this.paths.get(path);
  }

  // around returns the field that an element is in.
  around(element) {
    return this.at(element.closest('.field')?.dataset.path);
  }

  // files returns the fields that hold a file's text.
  files() {
    return this.all().filter((field) => field.input instanceof FileText);
  }

  // fresh returns the field that takes a random text, where the form has one, and the names of the fields that such a text clears.
  fresh() {
    const button = this.form.querySelector('[data-do="fresh"]');
    return button && { field: this.around(button), clears: button.dataset.clears.split(' ') };
  }

  // begun returns how many rows the lists of a new form have: one, where rows are not made by a tap in the answer.
  begun() {
    const lists = this.form.querySelectorAll('fieldset.list:not([data-pick-by], [data-plated], [data-held])');
    return Object.fromEntries([...lists].map((list) => [list.dataset.list, 1]));
  }

  // ---- units

  // unitOf returns the symbol of the unit that a field's number is in.
  unitOf(field) {
    if (field.unitFrom) return this.unitOf(this.at(field.unitFrom));
    return chosen(field)?.value ?? field.unit?.dataset.unit ?? '';
  }

  // showUnits writes the unit beside the fields that take another field's, and lays out the sliders in the units chosen.
  showUnits() {
    for (const field of this.all()) {
      if (field.unitFrom) field.unit.textContent = signOf(this.at(field.unitFrom));
      if (field.slide) this.stand(field);
    }
  }

  // stand puts a field's slider where its number is; an empty field shows the number that it is taken for, in its unit.
  stand(field) {
    const { slide, input } = field;
    slide.use(this.unitOf(field));
    const start = input.dataset.default && slide.start();
    if (start && input.placeholder !== start) input.placeholder = start;
    slide.stand(input.value, this.values[field.path], signOf(field), this.hooks.word('unset'));
  }

  // ---- as a state

  // read returns the state of the fields, without what is unfolded.
  read() {
    const state = emptyForm();
    for (const field of this.all()) {
      const on = chosen(field);
      if (field.choice) {
        if (on && !('default' in on.dataset)) state.given[field.path] = on.value;
        continue;
      }
      if (field.input.value !== '') state.given[field.path] = field.input.value;
      if (field.input.name && field.input instanceof FileText) state.names[field.path] = field.input.name;
      if (on && !on.defaultChecked) state.units[field.path] = on.value;
    }
    for (const list of this.lists.all()) state.rows[list.dataset.list] = this.lists.cards(list).length;
    return state;
  }

  // opened names what is unfolded.
  opened() {
    return [...this.form.querySelectorAll('details[open][data-keep]')].map((details) => details.dataset.keep);
  }

  restore(state) {
    for (const list of this.lists.all()) {
      // A card is as good as any other: what a row holds is written into it. The open one stays open, and so does one that someone is in.
      const count = countRows(state, list.dataset.list);
      const cards = this.lists.cards(list);
      const open = cards.length === count ? cards.find((card) => card.matches('.open')) : null;
      this.lists.unfold(list.contains(document.activeElement) ? document.activeElement.closest('.card') : open, list);
      this.lists.fit(list, count);
    }
    for (const field of this.all()) write(field, state.given[field.path], state.units[field.path], state.names[field.path]);
    for (const card of this.form.querySelectorAll('.card.picked')) nameCard(card);
    for (const details of this.form.querySelectorAll('details[data-keep]')) {
      const group = details.matches('.group') && !details.closest('.more');
      details.open = state.open.includes(details.dataset.keep) || 'need' in details.dataset || (group && this.holds(details));
    }
    this.showUnits();
  }

  // open puts a link's fields, {key: {text, unit}}, in place of what is there. It returns those that have no place, [key, text].
  open(fields) {
    const state = emptyForm();
    for (const [path, { text, unit }] of Object.entries(fields)) {
      const dot = path.lastIndexOf('.');
      const above = path.slice(0, Math.max(0, dot));
      const word = CSS.escape(path.slice(dot + 1));
      const choice = this.form.querySelector(`.field.choice[data-path="${CSS.escape(above)}"] input[value="${word}"]`);
      if (choice) state.given[above] = choice.value;
      state.given[path] = text;
      if (unit) state.units[path] = unit;
    }
    this.restore(state);
    const unplaced = [];
    for (const [path, { text, unit }] of Object.entries(fields)) {
      const field = this.at(path);
      if (!field) unplaced.push([path, text]);
      // A unit that the form does not offer stays with the text.
      else if (unit && !field.choice && this.unitOf(field) !== unit) field.input.value = `${text} ${unit}`;
    }
    return unplaced;
  }

  // openTexts puts a link's texts, {key: text}, in place of what is there, as far as that can be done without the core.
  openTexts(texts) {
    for (const key in texts) this.makeRow(key);
    const fields = Object.entries(texts).map(([key, text]) => {
      const field = this.at(key);
      const [value, unit] = field ? this.parted(field, text) : [text];
      return [key, { text: value, unit }];
    });
    this.open(Object.fromEntries(fields));
  }

  // gained reports whether something was given, since a state, that stays once it is given.
  gained({ given }) {
    const { stay } = this.places();
    if (stay.length === 0) return false;
    const now = Object.entries(this.read().given);
    return now.some(([key, text]) => text !== given[key] && stay.some((path) => key === path || key.startsWith(`${path}.`)));
  }

  // holds reports whether something was entered inside a part of the form, so that it must not be hidden.
  holds(part) {
    return this.all().some((field) => part.contains(field.element) && filled(field));
  }

  // collect returns the texts that the core is asked with. Rows keep their numbers; empty rows are left out.
  collect() {
    const given = {};
    const cards = new Set(this.all().filter((field) => field.card && filled(field)).map((field) => field.card));
    for (const { card, inputs } of this.places().picked) if (areBlank(inputs)) cards.delete(card);
    for (const field of this.all()) {
      if (field.card && !cards.has(field.card)) continue;
      const text = this.asked(field);
      if (text !== undefined) given[field.path] = text;
    }
    return given;
  }

  // told is what the fields hold as the core reads it: keys and texts in turn, each ended by U+0000, which no field holds.
  told() {
    return Object.entries(this.collect())
      .flat()
      .map((text) => `${text.replaceAll('\0', '')}\0`)
      .join('');
  }

  // asked returns a field's text as the core wants it, or undefined if it is left out.
  asked(field) {
    if (field.choice) {
      const on = chosen(field);
      return on && !('default' in on.dataset) && !on.dataset.deep ? on.value : undefined;
    }
    if (field.deep?.hidden) return undefined;
    const text = field.input.value;
    if (!(field.input instanceof Element)) return text === '' ? undefined : text;
    if (field.lines && text.trim() !== '') return text; // where a line begins may matter
    return field.deep || text.trim() !== '' ? joined(text, this.unitOf(field)) : undefined;
  }

  // ---- single texts, written as a link writes them

  // set gives fields their texts, {key: text}, "" for none. A key may make its row; the key of a list or a group stands for all
  // that is in it, and empties it.
  set(keys) {
    for (const key in keys) this.makeRow(key);
    for (const [key, text] of Object.entries(keys)) {
      const field = this.at(key);
      if (field) write(field, ...this.parted(field, text));
      else for (const inside of this.all()) if (inside.path.startsWith(`${key}.`)) write(inside);
    }
    this.trim();
    this.showUnits();
  }

  // has reports whether a field holds a text as set would write it.
  has(key, text) {
    const field = this.at(key);
    if (!field) return text === '';
    if (field.choice) return (chosen(field)?.value ?? '') === text;
    const [value, unit] = this.parted(field, text);
    return field.input.value === (value ?? '') && (unit === undefined || this.unitOf(field) === unit);
  }

  // makeRow makes the row that a key is in, if its list may have it.
  makeRow(key) {
    const [name, row] = key.split('.');
    const list = this.lists.named(name);
    if (!list) return;
    const n = Math.min(Number(row) + 1, this.lists.most(list));
    if (n > this.lists.cards(list).length) this.lists.fit(list, n);
  }

  // trim takes away the last rows of a plate that hold nothing: nobody sees them.
  trim() {
    for (const list of this.lists.plated()) this.lists.cut(list, behindHeld(this.read(), list.dataset.list));
  }

  // parted splits a text for a field: the number as the reader writes it, and the unit if the form offers it.
  parted(field, text) {
    if (text === '') return [undefined];
    const [, number, unit] = (field.input?.inputMode === 'decimal' && /^([-\u2212]?[\d.]+)\s*(.*)$/.exec(text)) || [];
    if (number === undefined) return [text];
    const offered = unit === '' || unit === field.unit?.dataset.unit || field.radios.some((radio) => radio.value === unit);
    return [number.replace('.', this.hooks.mark()) + (offered ? '' : ` ${unit}`), offered && unit !== '' ? unit : undefined];
  }
}

// chosen returns the radio button that is on: of a choice, or of a field's units.
export const chosen = (field) => field.radios.find((radio) => radio.checked);

// signOf returns the unit chosen for a field, as it is written for a reader.
export const signOf = (field) => (chosen(field)?.nextElementSibling ?? field.unit)?.textContent ?? '';

// filled reports whether something was entered in a field.
export function filled(field) {
  if (!field.choice) return field.input.value !== '';
  const on = chosen(field);
  return on !== undefined && !('default' in on.dataset);
}

// write puts a text into a field, and chooses the unit beside it. undefined is what stands there before anything is entered.
function write(field, value, unit, name = '') {
  if (field.choice) {
    for (const radio of field.radios) radio.checked = value === undefined ? 'default' in radio.dataset : radio.value === value;
    showDeep(field);
    return;
  }
  if (field.input instanceof FileText) field.input.set(value ?? '', name);
  else field.input.value = value ?? '';
  showWord(field);
  for (const radio of field.radios) radio.checked = unit === undefined ? radio.defaultChecked : radio.value === unit;
  field.element.classList.toggle('touched', value !== undefined);
}

// showWord marks the key of the word that a field holds.
export function showWord(field) {
  for (const key of field.words) key.ariaPressed = String(key.dataset.put === field.input.value);
}

// showDeep shows the field that the choice made opens.
export function showDeep(field) {
  const on = chosen(field);
  for (const deep of field.element.querySelectorAll(':scope > .deep')) deep.hidden = deep.dataset.for !== on?.value;
}
