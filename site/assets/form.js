// One tool's form: what its fields hold, what the core answers to it, and how both are shown. It words nothing.
import { FileText, readFile } from './file.js';
import { alike, paint, repaint } from './paint.js';
import { Plates } from './plate.js';
import { Slide } from './slide.js';
import { MOST_ROWS, emptyForm, joined } from './state.js';

const UNDO_DEPTH = 300; // forty bolts in four passes are 160 steps
const LONG = 50_000; // characters of a file that are gone through while typing
const LONG_NOTE = 400; // characters of a note that may not be seen at once
const PAUSE = 250; // milliseconds without typing
const TURN = 8; // how far a finger goes along a slider before it is taken to move it, in pixels
const ALONE = 'alone'; // among what is unfolded: a part of the answer is shown alone
const AGAIN = 700; // milliseconds: a tap that comes sooner may be the same one again, on what has come in its place
const wide = matchMedia('(min-width: 60rem)'); // as in style.css

export class Form {
  // hooks are what app.js does for every form: core() → the module or null, ask, save, say, tell, hush, word, number, localise, command,
  // carry, aloneChanged, and what is kept for later on a shelf, rows or vehicles: shelf(name), changeShelf(name, entries, said).
  constructor(section, hooks) {
    this.section = section;
    this.tool = section.dataset.tool;
    this.form = section.querySelector('form');
    this.head = section.querySelector('.head');
    this.body = section.querySelector('.body');
    this.hooks = hooks;
    this.past = [];
    this.edited = null; // the field of the running edit: one undo step
    this.link = '';
    this.left = []; // what the link is without, being too long for one
    this.values = {}; // what was read of the fields that have sliders, in the contract's units
    this.inputs = new WeakMap(); // of fields: what stands for an input in one with a file, and what is beside one, its slider
    this.stray = []; // what was wrong with the link that the form was opened from
    this.alone = false; // a part of the answer is shown, and nothing else
    this.paper = false; // it is being printed
    this.rest = 0; // until when a tap is taken for one before it
    this.form.addEventListener('input', (e) => this.input(e));
    this.form.addEventListener('change', (e) => this.settled(e));
    this.form.addEventListener('focusout', (e) => this.leave(e));
    this.form.addEventListener('focusin', (e) => {
      const card = e.target.closest('.card:is(.picked, .placed)');
      if (card?.matches('.placed')) this.showRow(card);
      if (!card?.matches('.picked') || !e.target.matches('.entry > input')) return;
      this.unfold(card);
      e.target.scrollIntoView({ block: 'nearest' });
    });
    this.form.addEventListener('keydown', (e) => this.key(e));
    this.form.addEventListener('toggle', () => this.last && this.saveNow(), true);
    this.form.addEventListener('submit', (e) => e.preventDefault());
    section.addEventListener('click', (e) => this.once(e), true);
    section.addEventListener('keydown', (e) => e.repeat && e.target.closest('[data-once]') && e.preventDefault());
    section.addEventListener('click', (e) => this.click(e));
    wide.addEventListener('change', () => this.spread());
    this.hold();
    if (section.querySelector('.f-file')) this.takeFiles();
    for (const list of section.querySelectorAll('[data-plated]')) {
      this.plates ??= new Plates(this);
      // As long as the rows are in view, the plate stays so.
      new IntersectionObserver(([entry]) => section.classList.toggle('placing', entry.isIntersecting)).observe(list);
    }
    this.body.addEventListener(
      'toggle',
      (e) => {
        if (e.target.open && 'lazy' in e.target.dataset && !this.whole) this.answer(true);
      },
      true,
    );
  }

  // ---- what the fields hold

  // fields are the form's fields, looked up once until a row comes or goes.
  fields() {
    this.found ??= [...this.form.querySelectorAll('.field[data-path]')].map((element) => ({
      element,
      path: element.dataset.path,
      choice: element.dataset.shape === 'choice',
      input: this.inputOf(element),
      slide: this.slideOf(element),
      radios: [...element.querySelectorAll(element.dataset.shape === 'choice' ? ':scope > .segments input' : ':scope > .entry > .units input')],
      unit: element.querySelector(':scope > .entry > .unit'),
      unitFrom: element.dataset.unitFrom,
      echo: element.querySelector(':scope > .echo'),
      note: element.querySelector(':scope > .note'),
      card: element.closest('.card'),
      deep: element.closest('.deep'),
      part: element.closest('.card, .group'),
      held: element.closest('[data-held]') !== null,
    }));
    return this.found;
  }

  // inputOf is what holds a field's text, slideOf the slider beside it: each is made once for an element.
  inputOf(element) {
    if (element.dataset.shape !== 'file') return element.querySelector(':scope > .entry > :is(input, .lines)');
    if (!this.inputs.has(element)) this.inputs.set(element, new FileText(element, this.hooks.locale));
    return this.inputs.get(element);
  }

  slideOf(element) {
    const range = element.querySelector(':scope > .slide > input');
    if (range && !this.inputs.has(range)) this.inputs.set(range, new Slide(range, this.hooks.number));
    return range && this.inputs.get(range);
  }

  // files are the fields that hold a file's text.
  files() {
    return this.fields().filter((field) => field.input instanceof FileText);
  }

  field(path) {
    return this.fields().find((f) => f.path === path);
  }

  // chosen is the radio that is on: of a choice, or of the units.
  chosen(field) {
    return field.radios.find((r) => r.checked);
  }

  // unitOf is the symbol of the unit chosen for a field.
  unitOf(field) {
    if (field.unitFrom) return this.unitOf(this.field(field.unitFrom));
    return this.chosen(field)?.value ?? field.unit?.dataset.unit ?? '';
  }

  snapshot() {
    const form = emptyForm();
    for (const field of this.fields()) {
      const on = this.chosen(field);
      if (field.choice) {
        if (on && !('default' in on.dataset)) form.given[field.path] = on.value;
        continue;
      }
      if (field.input.value !== '') form.given[field.path] = field.input.value;
      if (field.input.name && field.input instanceof FileText) form.names[field.path] = field.input.name;
      if (on && !on.defaultChecked) form.units[field.path] = on.value;
    }
    for (const list of this.form.querySelectorAll('fieldset.list')) {
      form.rows[list.dataset.list] = list.querySelectorAll('.card').length;
    }
    form.open = [...this.form.querySelectorAll('details[open][data-keep]')].map((d) => d.dataset.keep);
    if (this.alone) form.open.push(ALONE);
    return form;
  }

  restore(form) {
    for (const list of this.form.querySelectorAll('fieldset.list')) {
      const name = list.dataset.list;
      let n = form.rows[name] ?? 0;
      for (const key of Object.keys(form.given)) {
        const row = key.startsWith(`${name}.`) ? Number(key.split('.')[1]) : -1;
        if (row >= n) n = Math.min(row + 1, MOST_ROWS);
      }
      // A row is as good as another: what it holds is written into it.
      this.unfold(null, list);
      this.cutCards(list, n);
      while (this.cardsOf(list).length < n) this.addCard(list);
    }
    for (const field of this.fields()) this.write(field, form.given[field.path], form.units[field.path], form.names[field.path]);
    this.alone = form.open.includes(ALONE);
    for (const card of this.form.querySelectorAll('.card.picked')) this.nameCard(card);
    for (const details of this.form.querySelectorAll('details[data-keep]')) {
      details.open = form.open.includes(details.dataset.keep) || 'need' in details.dataset || (details.matches('.group') && !details.closest('.more') && this.holds(details));
    }
    this.units();
  }

  // write puts a text into a field, and a unit beside it; undefined: what is there where nothing was entered.
  write(field, value, unit, name = '') {
    if (field.choice) {
      for (const radio of field.radios) radio.checked = value === undefined ? 'default' in radio.dataset : radio.value === value;
      this.deepen(field);
      return;
    }
    if (field.input instanceof FileText) field.input.set(value ?? '', name);
    else field.input.value = value ?? '';
    for (const radio of field.radios) radio.checked = unit === undefined ? radio.defaultChecked : radio.value === unit;
    field.element.classList.toggle('touched', value !== undefined);
  }

  // holds says whether something was entered inside, so that it must not be hidden.
  holds(part) {
    return this.fields().some((f) => part.contains(f.element) && this.filled(f));
  }

  // filled says whether something was entered in a field.
  filled(field) {
    if (!field.choice) return field.input.value !== '';
    const on = this.chosen(field);
    return on !== undefined && !('default' in on.dataset);
  }

  // full are the rows in which something was entered.
  full() {
    return new Set(this.fields().filter((field) => field.card && this.filled(field)).map((field) => field.card));
  }

  // opened puts a link's fields into the form.
  opened(fields) {
    const form = emptyForm();
    const unplaced = [];
    for (const [path, { text, unit }] of Object.entries(fields)) {
      const parts = path.split('.');
      const above = parts.slice(0, -1).join('.');
      const choice = this.form.querySelector(`.field.choice[data-path="${CSS.escape(above)}"] input[value="${CSS.escape(parts.at(-1))}"]`);
      if (choice) form.given[above] = choice.value;
      form.given[path] = text;
      if (unit) form.units[path] = unit;
    }
    this.restore(form);
    for (const [path, { text, unit }] of Object.entries(fields)) {
      const field = this.field(path);
      if (!field) unplaced.push([path, text]);
      // A unit that the form does not offer stays with the text.
      else if (unit && !field.choice && this.unitOf(field) !== unit) field.input.value = `${text} ${unit}`;
    }
    return unplaced;
  }

  // add puts a link's fields into the form beside what is there, as one step of undo: its rows behind the last that holds something.
  add(fields) {
    const form = this.snapshot();
    const rows = Object.fromEntries([...this.form.querySelectorAll('fieldset.list')].map((list) => [list.dataset.list, [...list.querySelectorAll('.card')].findLastIndex((card) => this.holds(card)) + 1]));
    for (const [path, { text, unit }] of Object.entries(fields)) {
      const [top, row, ...rest] = path.split('.');
      if (top in rows && rest.length && rows[top] + Number(row) >= MOST_ROWS) continue;
      const key = top in rows && rest.length ? [top, rows[top] + Number(row), ...rest].join('.') : path;
      if (top in rows && rest.length) form.rows[top] = Math.max(form.rows[top], rows[top] + Number(row) + 1);
      form.given[key] = text;
      if (unit) form.units[key] = unit;
      else delete form.units[key];
    }
    this.replace(form);
  }

  // collect is the form as the core wants it; rows keep their numbers, empty ones are not sent.
  collect() {
    const given = {};
    const full = this.full();
    for (const card of full) if (card.matches('.picked') && this.empty(card)) full.delete(card);
    for (const field of this.fields()) {
      if (field.card && !full.has(field.card)) continue;
      if (field.choice) {
        const on = this.chosen(field);
        if (on && !('default' in on.dataset) && !on.dataset.deep) given[field.path] = on.value;
        continue;
      }
      if (field.deep?.hidden) continue;
      const text = field.input.value;
      if (field.input instanceof FileText) {
        if (text !== '') given[field.path] = text;
        continue;
      }
      if (field.input.matches('.lines') && text.trim() !== '') given[field.path] = text; // where a line begins may matter
      else if (field.deep || text.trim() !== '') given[field.path] = joined(text, this.unitOf(field));
    }
    return given;
  }

  // ---- what happens

  // once holds back what is tapped too soon after a button that is meant once (data-once: for so many milliseconds), or that puts
  // something else in its own place. What undoes is never held back.
  once(e) {
    if (e.target.closest('.undo')) return;
    if (e.timeStamp < this.rest) {
      e.preventDefault();
      e.stopPropagation();
      return;
    }
    const { once, alone } = e.target.closest('[data-once], [data-alone]')?.dataset ?? {};
    this.rest = once || alone ? e.timeStamp + (Number(once) || AGAIN) : 0;
  }

  input(e) {
    const field = this.field(e.target.closest('.field')?.dataset.path);
    if (!field || field.input instanceof FileText) return;
    if (e.target === field.slide?.range) return this.slid(field);
    if (this.frame !== undefined) this.settle();
    const key = `${field.path}:${e.target.type}`;
    if (this.edited !== key) this.remember(this.last);
    this.edited = key;
    if (field.choice) this.deepen(field);
    if (e.target.type === 'radio') this.units();
    field.element.classList.add('touched');
    if (!this.files().some((f) => f.input.value.length > LONG)) return this.changed();
    // A long text takes a moment each time: it is gone through once the typing pauses.
    this.saveNow();
    clearTimeout(this.pause);
    this.pause = setTimeout(() => this.settle(), PAUSE);
  }

  // remember makes a state one that undo comes back to.
  remember(form) {
    if (form) this.push({ form, stray: this.stray });
  }

  // changeShelf changes what is kept for later, as a step of undo where something goes.
  changeShelf(name, entries, said) {
    const before = this.hooks.shelf(name);
    if (before.some((entry) => !entries.includes(entry))) {
      this.push({ shelf: name, entries: before });
      this.edited = null;
    }
    this.hooks.changeShelf(name, entries, said);
  }

  push(step) {
    this.past.push(step);
    if (this.past.length > UNDO_DEPTH) this.past.shift();
  }

  undo() {
    const step = this.past.pop();
    if (!step) return false;
    this.edited = null;
    if (step.shelf) this.hooks.changeShelf(step.shelf, step.entries);
    else {
      this.stray = step.stray;
      this.restore(step.form);
      this.changed();
    }
    return true;
  }

  // replace puts another state in place of this one, as one step of undo; same: as part of the one before.
  replace(form, same = false) {
    if (!same) this.remember(this.snapshot());
    this.edited = null;
    this.stray = [];
    this.restore(form);
    this.changed();
  }

  // set gives fields their texts, under flat keys and as links write them, "" for none; as one step of undo, or as part of a
  // run of them. A key may make its row; that of a list or a group stands for all that is in it.
  set(keys, run = null) {
    this.settle();
    if (run === null || this.edited !== run) this.remember(this.last);
    this.edited = run;
    for (const key in keys) this.makeRow(key);
    for (const [key, text] of Object.entries(keys)) {
      const field = this.field(key);
      if (field) this.write(field, ...this.parted(field, text));
      else for (const inside of this.fields()) if (inside.path.startsWith(`${key}.`)) this.write(inside);
    }
    this.trim();
    this.units();
    this.changed();
  }

  // has says whether a field holds a text as set would write it.
  has(key, text) {
    const field = this.field(key);
    if (!field) return text === '';
    if (field.choice) return (this.chosen(field)?.value ?? '') === text;
    const [value, unit] = this.parted(field, text);
    return field.input.value === (value ?? '') && (unit === undefined || this.unitOf(field) === unit);
  }

  // makeRow makes the row that a key is in.
  makeRow(key) {
    const [name, row] = key.split('.');
    const list = this.list(name);
    for (let n = Math.min(Number(row) + 1, this.most(list)); list && this.cardsOf(list).length < n; ) this.addCard(list);
  }

  // parted is a text as a link writes it, for a field: a number in the reader's notation, and its unit if the form offers it.
  parted(field, text) {
    if (text === '') return [undefined];
    const [, number, unit] = (field.input?.inputMode === 'decimal' && /^([-\u2212]?[\d.]+)\s*(.*)$/.exec(text)) || [];
    if (number === undefined) return [text];
    const own = this.hooks.number(0.5, {}).charAt(1);
    const offered = unit === '' || unit === field.unit?.dataset.unit || field.radios.some((radio) => radio.value === unit);
    return [number.replace('.', own) + (offered ? '' : ` ${unit}`), offered && unit !== '' ? unit : undefined];
  }

  // press does what a button of the answer says: sets fields, and shows a part of the answer alone or all of it again.
  press(button) {
    const { set, alone } = button.dataset;
    const part = button.closest('.body > *, .slot > *');
    const { at } = part.dataset;
    if (alone) this.alone = alone === 'yes';
    if (this.alone) this.hooks.hush();
    if (set) this.set(JSON.parse(set));
    else {
      this.spread();
      this.saveNow();
    }
    if (alone) {
      const to = this.alonePart() ?? this.section.querySelector('[data-alone="yes"]');
      if (to) this.lookAt(to);
    } else if (!button.isConnected || part.dataset.at !== at) {
      // It was not to be pressed again, or the part now shows something else (data-at), which begins at its top.
      part.scrollTop = 0;
      this.lookAt(part.isConnected ? part : this.body, { block: 'nearest' });
    }
  }

  // alonePart is what is shown alone, if anything is.
  alonePart() {
    return this.alone ? (this.parts ?? []).find((part) => 'data-alone-part' in part.tree[1])?.node : undefined;
  }

  leave(e) {
    const field = e.target.closest?.('.field');
    if (!field || field.classList.contains('touched')) return;
    // Passing through without typing is no fault; leaving what is needed empty is told once something else was entered.
    if (e.target.matches('[aria-required]') && this.form.querySelector('.touched')) {
      field.classList.add('touched');
      this.answer();
    }
  }

  // Enter goes on to the next field, as a keypad's key does.
  key(e) {
    if (e.key !== 'Enter' || e.target.tagName !== 'INPUT' || e.target.type !== 'text') return;
    e.preventDefault();
    const inputs = [...this.form.querySelectorAll('input[type="text"], .lines')].filter((i) => i.offsetParent !== null);
    const next = inputs[inputs.indexOf(e.target) + 1];
    if (next) next.focus();
    else e.target.blur();
  }

  click(e) {
    this.settle();
    if (e.target.closest('.head, [data-skip]')) {
      e.preventDefault();
      const wrong = this.head.querySelector('[data-verdict="refused"]') && this.form.querySelector('.wrong');
      return this.lookAt(this.alonePart() ?? (wrong || (this.form.querySelector('.slot:not(:empty)') ?? this.body)));
    }
    if (this.plates?.click(e)) return;
    const pen = e.target.closest('[data-pen]');
    if (pen) return this.plates?.take(pen);
    const pressed = e.target.closest('[data-set], [data-alone]');
    if (pressed) return this.press(pressed);
    const carry = e.target.closest('[data-carry]');
    if (carry) return this.hooks.carry(carry.dataset.carry, JSON.parse(carry.dataset.given));
    const pick = e.target.closest('[data-pick]');
    if (pick) return this.pick(pick.dataset.pick, pick.dataset.value, 'again' in pick.dataset);
    const put = e.target.closest('[data-put]');
    if (put) return this.put(put);
    const button = e.target.closest('[data-do]');
    if (!button) return;
    const list = button.closest('fieldset.list');
    switch (button.dataset.do) {
      case 'add':
        if (list.querySelectorAll('.card').length >= MOST_ROWS) return this.hooks.tell('most');
        this.remember(this.snapshot());
        this.edited = null;
        this.addCard(list).querySelector('input').focus();
        this.units();
        this.changed();
        break;
      case 'fresh':
        this.fresh(this.field(button.closest('.field').dataset.path), button.dataset.clears.split(' '));
        break;
      case 'away': {
        const { path, input } = this.field(button.closest('.field').dataset.path);
        this.putFile(path, '', '');
        this.hooks.tell('file.away');
        input.focus();
        break;
      }
      case 'again':
        this.pick(list.dataset.list, this.picked(button.closest('.card')).value, true);
        break;
      case 'remove':
        this.removeCard(button.closest('.card'), list);
        break;
      case 'keep':
        this.changeShelf('rows', [...this.hooks.shelf('rows'), this.cutRow(this.snapshot(), list.dataset.list, Number(button.closest('.card').dataset.row))], 'kept');
        break;
      case 'keep-vehicle':
        this.keepVehicle(button.closest('.vehicles'));
        break;
      case 'use':
        if (list) this.useRow(list, this.kept(button).entry);
        else this.useVehicle(button.closest('.vehicles'), this.kept(button).entry);
        break;
      case 'forget': {
        const { name, entry } = this.kept(button);
        this.changeShelf(name, this.hooks.shelf(name).filter((e) => e !== entry), 'forgotten');
        break;
      }
      default:
        this.hooks.command(button.dataset.do, this);
    }
  }

  lookAt(part, how = true) {
    if (!part.matches('button')) part.tabIndex = -1;
    part.scrollIntoView(how);
    part.focus({ preventScroll: true });
  }

  // ---- lists whose rows are told apart by a choice: a row is opened for one of its values

  // pick goes to the last row of a value, or makes one; afresh makes one in any case.
  pick(name, value, afresh = false) {
    const list = this.form.querySelector(`fieldset.list[data-list="${CSS.escape(name)}"]`);
    const cards = [...list.querySelectorAll('.card')];
    let card = cards.findLast((c) => this.picked(c)?.value === value);
    // A row opened before and still empty will do for another reading.
    if (!card || (afresh && !this.empty(card))) {
      if (cards.length >= MOST_ROWS) return this.hooks.tell('most');
      this.remember(this.snapshot());
      this.edited = null;
      card = this.addCard(list);
      const choice = card.querySelector(`input[value="${CSS.escape(value)}"]`);
      choice.checked = true;
      this.nameCard(card);
      this.changed();
    }
    const input = card.querySelector('.entry > input');
    if (!input) return; // nothing to fill in: the point that was tapped keeps the focus
    this.unfold(card);
    input.focus({ preventScroll: true });
    card.scrollIntoView({ block: 'nearest' });
  }

  // unfold shows all of one row, and of the others what was read.
  unfold(card, list = card.closest('.list')) {
    for (const other of this.cardsOf(list)) other.classList.toggle('open', other === card);
  }

  // empty says whether a row that was opened for a choice has nothing filled in.
  empty(card) {
    const inputs = [...card.querySelectorAll('.entry > input')];
    return inputs.length > 0 && inputs.every((input) => input.value.trim() === '');
  }

  // picked is the choice that a row is for.
  picked(card) {
    return card.querySelector('input[data-how]:checked');
  }

  // nameCard writes what a row is for, and leaves it the units of that.
  nameCard(card) {
    const choice = this.picked(card);
    if (!choice) return;
    card.querySelector('.picked-name').textContent = choice.nextElementSibling.textContent;
    card.querySelector('.picked-how').textContent = choice.dataset.how;
    const kind = card.querySelector(`.units input[value="${CSS.escape(choice.dataset.unit)}"]`)?.dataset.kind;
    for (const unit of card.querySelectorAll('.units input')) unit.parentElement.hidden = unit.dataset.kind !== kind;
    const units = [...card.querySelectorAll('.units input')];
    if (!units.some((unit) => unit.checked && !unit.parentElement.hidden)) for (const unit of units) unit.checked = unit.value === choice.dataset.unit;
    for (const key of card.querySelectorAll('[data-put="OL"]')) key.hidden = choice.dataset.unit !== 'ohm';
  }

  // freshButton is what fills in a random text, where the form has such a field.
  freshButton() {
    return this.form.querySelector('[data-do="fresh"]');
  }

  // begun are the rows of a form that nothing was entered in: one, where none is opened by a tap.
  begun() {
    return Object.fromEntries([...this.form.querySelectorAll('fieldset.list:not([data-pick-by], [data-plated])')].map((list) => [list.dataset.list, 1]));
  }

  // fresh puts a random text into a field, and lets others begin anew.
  fresh(field, clears) {
    const form = this.snapshot();
    for (const key of Object.keys(form.given)) if (clears.includes(key.split('.')[0])) delete form.given[key];
    for (const name of clears) if (name in form.rows) form.rows[name] = 0;
    form.given[field.path] = randomText();
    this.replace(form);
  }

  put(button) {
    const { element, input } = this.field(button.closest('.field').dataset.path);
    if (input.value === button.dataset.put) return;
    this.remember(this.snapshot());
    this.edited = null;
    if (button.dataset.put === 'sign') {
      input.value = /^\s*[-\u2212]/.test(input.value) ? input.value.replace(/^\s*[-\u2212]/, '') : `\u2212${input.value}`;
      input.focus();
    } else {
      input.value = button.dataset.put;
    }
    element.classList.add('touched');
    this.changed();
  }

  // deepen shows the field that a choice opens.
  deepen(field) {
    const on = this.chosen(field);
    for (const deep of field.element.querySelectorAll(':scope > .deep')) deep.hidden = deep.dataset.for !== on?.value;
  }

  // units writes the unit beside the fields that take another's, and lays sliders out in theirs.
  units() {
    for (const field of this.fields()) {
      if (field.unitFrom) field.unit.textContent = this.signOf(this.field(field.unitFrom));
      if (field.slide) this.stand(field);
    }
  }

  // signOf is the unit chosen for a field, as it is read.
  signOf(field) {
    return (this.chosen(field)?.nextElementSibling ?? field.unit)?.textContent ?? '';
  }

  // ---- sliders

  // stand puts a field's slider where its number is, and lets an empty field say what it is taken for in its unit.
  stand(field) {
    const { slide, input } = field;
    slide.use(this.unitOf(field));
    if (input.dataset.default) input.placeholder = slide.start() || input.placeholder;
    slide.stand(input.value, this.values[field.path], this.signOf(field), this.hooks.word('unset'));
  }

  // slid writes the number where a slider was moved to. What follows from it is worked out once for each frame.
  slid(field) {
    if (this.hand?.unsure) {
      this.hand.at = field.slide.range.value;
      field.slide.range.value = this.hand.from;
      return;
    }
    this.hooks.hush();
    const key = `${field.path}:slide`;
    if (this.edited !== key) {
      this.settle();
      this.remember(this.last);
    }
    this.edited = key;
    field.input.value = field.slide.write();
    field.element.classList.add('touched');
    this.stand(field);
    this.follow(field.slide.range);
    this.frame ??= requestAnimationFrame(() => this.settle());
  }

  // settle works out what a slider moved to or what was typed, if that was not done yet.
  settle() {
    if (this.frame === undefined && this.pause === undefined) return;
    cancelAnimationFrame(this.frame);
    clearTimeout(this.pause);
    this.frame = this.pause = undefined;
    this.changed();
  }

  // hold takes sliders into the hand: each time is one step of undo, and what follows stays in view until the hand goes elsewhere.
  // A finger that comes down on a slider may be about to scroll: until it goes along the slider, or up again, nothing has moved.
  hold() {
    const slides = (e) => e.target.type === 'range';
    const on = (name, act) => this.form.addEventListener(name, (e) => slides(e) && act(e));
    on('pointerdown', ({ target, pointerType, clientX, clientY }) => {
      this.settle();
      this.edited = null;
      this.hand = { unsure: pointerType === 'touch', from: target.value, x: clientX, y: clientY };
      if (document.activeElement !== target) document.activeElement.blur(); // a keyboard on the screen makes room
    });
    on('pointermove', ({ clientX, clientY }) => {
      const across = Math.abs(clientX - (this.hand?.x ?? clientX));
      if (this.hand?.unsure && across >= TURN && across > Math.abs(clientY - this.hand.y)) this.hand.unsure = false;
    });
    on('pointerup', ({ target }) => {
      if (!this.hand?.unsure) return;
      this.hand.unsure = false;
      if (this.hand.at === undefined) return;
      target.value = this.hand.at;
      this.slid(this.field(target.closest('.field').dataset.path));
    });
    const elsewhere = ({ target }) => target !== this.moved && this.follow(null);
    document.addEventListener('pointerdown', elsewhere, true);
    this.section.addEventListener('focusin', elsewhere);
    for (const name of ['pointercancel', 'wheel']) this.section.addEventListener(name, () => this.follow(null), { passive: true });
  }

  // follow keeps the drawing that follows a slider in view while it is moved: on a narrow screen, where it would not be seen,
  // above or below the slider, wherever there is more room; on a wide one by scrolling the answer. null: nothing is moved.
  follow(range) {
    const live = this.body.querySelector(':scope > .live');
    if (range && this.moved === range && this.following === live) return;
    this.moved = range;
    this.following = live;
    if (!live || (!range && !live.dataset.beside)) return;
    if (!range) {
      delete live.dataset.beside;
      this.body.style.removeProperty('padding-top');
      return;
    }
    if (live.dataset.beside) return;
    const strip = this.head.parentElement.getBoundingClientRect().bottom;
    const { top, bottom, height } = live.getBoundingClientRect();
    if (top >= strip && bottom <= innerHeight) return;
    if (wide.matches) {
      this.body.scrollTop += top - this.body.getBoundingClientRect().top;
      return;
    }
    const at = range.getBoundingClientRect();
    const above = at.top - strip;
    const below = innerHeight - at.bottom;
    this.section.style.setProperty('--strip', `${strip}px`);
    this.section.style.setProperty('--room', `${Math.max(above, below)}px`);
    this.body.style.paddingTop = `${height}px`;
    live.dataset.beside = above > below ? 'above' : 'below';
  }

  // ---- files

  // takeFiles takes what is picked, dropped anywhere on the page, or pasted, while this question is shown.
  takeFiles() {
    const target = (e) => this.field(e.target.closest?.('.f-file')?.dataset.path) ?? this.files()[0];
    const dropping = (on) => this.section.classList.toggle('dropping', on);
    const on = (name, act) => document.addEventListener(name, (e) => !this.section.hidden && e.dataTransfer.types.includes('Files') && act(e));
    for (const name of ['dragenter', 'dragover'])
      on(name, (e) => {
        e.preventDefault();
        e.dataTransfer.dropEffect = 'copy';
        dropping(true);
      });
    on('dragleave', (e) => e.relatedTarget ?? dropping(false));
    on('drop', (e) => {
      e.preventDefault();
      dropping(false);
      this.take(target(e), e.dataTransfer.files[0]);
    });
    document.addEventListener('paste', (e) => {
      if (this.section.hidden || e.target.closest?.('input, textarea:not(.paste)')) return;
      const [file] = e.clipboardData.files;
      const text = e.clipboardData.getData('text/plain');
      if (!file && !text) return;
      e.preventDefault();
      this.take(target(e), file ?? text);
    });
  }

  // settled takes the file picked, or what was written where a text can be pasted; a slider let go is answered at once.
  settled({ target }) {
    const field = this.field(target.closest('.f-file')?.dataset.path);
    if (!field) this.settle();
    else if (target.type === 'file') this.take(field, target.files[0]);
    else if (target.value.trim() !== '') this.take(field, target.value);
  }

  // take puts the text of a file, or a text, into a field.
  async take(field, from) {
    if (!from) return;
    const turn = (this.turn = {});
    let text = from;
    try {
      if (from instanceof File) text = await readFile(from);
    } catch {
      return this.hooks.tell('file.unread');
    }
    if (turn !== this.turn) return; // another came after it
    if (text === '') return this.hooks.tell('file.empty');
    this.putFile(field.path, text, from.name ?? '');
    this.settle();
    // What is wrong with it is said at its place, and not covered by good news.
    if (!this.field(field.path).element.classList.contains('wrong')) this.hooks.tell('file.taken');
  }

  // putFile puts a text and its name into a field, as one step of undo.
  putFile(path, text, name) {
    this.settle();
    this.remember(this.snapshot());
    this.edited = null;
    const { input, element } = this.field(path);
    input.set(text, name);
    element.classList.add('touched');
    this.changed();
  }

  // ---- rows

  // list is a list by its name, cardsOf its rows, most how many it may have.
  list(name) {
    return this.form.querySelector(`fieldset.list[data-list="${CSS.escape(name)}"]`);
  }

  cardsOf(list) {
    return list.querySelector('.cards').children;
  }

  most(list) {
    return Math.min(MOST_ROWS, list?.dataset.most ?? MOST_ROWS);
  }

  // cutCards takes the rows away that are more than n.
  cutCards(list, n) {
    const cards = this.cardsOf(list);
    if (cards.length > n) this.found = null;
    while (cards.length > n) cards[cards.length - 1].remove();
  }

  // trim takes the last rows away that hold nothing, where rows are places: nobody sees them.
  trim() {
    for (const list of this.form.querySelectorAll('[data-plated]')) {
      const full = this.full();
      this.cutCards(list, [...this.cardsOf(list)].findLastIndex((card) => full.has(card)) + 1);
    }
  }

  addCard(list) {
    const cards = list.querySelector('.cards');
    const i = cards.children.length;
    const holder = document.createElement('div');
    // The template is this page's own; only the row's number is put in.
    holder.innerHTML = list.querySelector('template').innerHTML.replaceAll(`${list.dataset.list}.#`, `${list.dataset.list}.${i}`);
    const card = holder.firstElementChild;
    card.dataset.row = i;
    const number = card.querySelector('.row-number');
    if (number) number.textContent = i + 1;
    cards.append(card);
    this.found = null;
    this.hooks.localise(card);
    return card;
  }

  // removeCard takes a row away; same: as part of the step of undo before.
  removeCard(card, list, same = false) {
    const name = list.dataset.list;
    const gone = Number(card.dataset.row);
    const point = this.picked(card)?.value;
    const form = this.snapshot();
    const move = (texts) =>
      Object.fromEntries(
        Object.entries(texts).flatMap(([key, value]) => {
          const [top, row, ...rest] = key.split('.');
          if (top !== name || rest.length === 0) return [[key, value]];
          if (Number(row) === gone) return [];
          return [[[top, Number(row) > gone ? row - 1 : row, ...rest].join('.'), value]];
        }),
      );
    this.replace({ ...form, given: move(form.given), units: move(form.units), rows: { ...form.rows, [name]: form.rows[name] - 1 } }, same);
    this.hooks.tell('plated' in list.dataset ? 'away' : 'removed');
    if ('plated' in list.dataset) return this.plateOf(name)?.focus();
    // On to the row before, to what makes a new one, or to the point that this one was opened from.
    const before = list.querySelectorAll('.card')[Math.max(0, gone - 1)]?.querySelector('.entry > input');
    (before ?? list.querySelector('[data-do="add"]') ?? this.section.querySelector(`[data-pick="${CSS.escape(name)}"][data-value="${CSS.escape(point ?? '')}"]`))?.focus();
  }

  // ---- rows that are places on a plate in the answer

  plateOf(name) {
    return (this.parts ?? []).find((part) => part.slot === name && part.node.querySelector('[data-plate]'))?.node.querySelector('[data-plate]');
  }

  // openRow shows a row, and of its list no other.
  openRow(name, row) {
    const card = this.cardsOf(this.list(name))[row];
    if (!card) return;
    this.showRow(card);
    this.lookAt(card, { block: 'nearest' });
  }

  showRow(card) {
    this.unfold(card);
    this.markOpen();
  }

  // addRow makes a row of texts, or fills one that is empty, beside what else is to be set; false: there is no room for it.
  addRow(name, keys, texts) {
    const list = this.list(name);
    const rows = new Set(Object.keys(keys).filter((key) => key.startsWith(`${name}.`)).map((key) => Number(key.split('.')[1])));
    const full = this.full();
    [...this.cardsOf(list)].forEach((card, i) => full.has(card) && rows.add(i));
    let row = 0;
    while (rows.has(row)) row++;
    if (row >= this.most(list)) {
      this.hooks.tell('most');
      return false;
    }
    this.unfold(null, list);
    this.set({ ...keys, ...Object.fromEntries(Object.entries(texts).map(([key, text]) => [`${name}.${row}.${key}`, text])) });
    return true;
  }

  // takeRow takes a row away, once what else is to be set is.
  takeRow(name, row, keys) {
    const more = Object.keys(keys).length > 0;
    if (more) this.set(keys);
    this.removeCard(this.cardsOf(this.list(name))[row], this.list(name), more);
  }

  // markOpen names the row shown as the drawing does, and marks its place there.
  markOpen() {
    for (const list of this.form.querySelectorAll('[data-plated]')) {
      const cards = this.cardsOf(list);
      const unplaced = new Set(cards);
      for (const place of this.plateOf(list.dataset.list)?.querySelectorAll('[data-bolt]') ?? []) {
        const card = cards[place.dataset.bolt];
        const current = card?.matches('.open') ? 'true' : null;
        if (place.ariaCurrent !== current) place.ariaCurrent = current;
        if (!card) continue;
        unplaced.delete(card);
        setText(card.querySelector('.placed-name'), place.dataset.name ?? place.getAttribute('aria-label'));
      }
      for (const card of unplaced) setText(card.querySelector('.placed-name'), '');
    }
  }

  // cutRow takes one row out of a state, under keys of its own.
  cutRow(form, name, row) {
    const cut = (texts) =>
      Object.fromEntries(
        Object.entries(texts)
          .filter(([key]) => key.startsWith(`${name}.${row}.`))
          .map(([key, value]) => [key.slice(`${name}.${row}.`.length), value]),
      );
    return { given: cut(form.given), units: cut(form.units) };
  }

  useRow(list, row) {
    const name = list.dataset.list;
    const form = this.snapshot();
    const cards = [...list.querySelectorAll('.card')];
    let at = cards.findIndex((c) => !this.holds(c));
    if (at < 0) at = cards.length;
    for (const [key, value] of Object.entries(row.given)) form.given[`${name}.${at}.${key}`] = value;
    for (const [key, value] of Object.entries(row.units)) form.units[`${name}.${at}.${key}`] = value;
    form.rows[name] = Math.max(form.rows[name] ?? 0, at + 1);
    this.replace(form);
  }

  // kept is the shelf and the entry that a button stands for.
  kept(button) {
    const { shelf: name } = button.closest('.kept').dataset;
    return { name, entry: this.hooks.shelf(name)[Number(button.closest('li').dataset.kept)] };
  }

  showKept(name, entries) {
    for (const kept of this.form.querySelectorAll(`.kept[data-shelf="${name}"]`)) {
      kept.hidden = entries.length === 0;
      kept.querySelector('ul').replaceChildren(
        ...entries.map((entry, i) => {
          const item = kept.parentElement.querySelector(':scope > template.kept-row').content.cloneNode(true).firstElementChild;
          item.dataset.kept = i;
          item.querySelector('[data-do="use"]').textContent = name === 'rows' ? this.nameOfRow(entry) : entry.given.name;
          return item;
        }),
      );
    }
  }

  nameOfRow({ given: g, units }) {
    const u = units.min ?? this.form.querySelector('[data-path$=".min"] .units input')?.value ?? '';
    return [g.name, g.nominal ? `${g.nominal} ± ${g.tolerance ?? ''} %` : `${g.min ?? ''}–${g.max ?? ''}`, u === 'ohm' ? 'Ω' : u].filter(Boolean).join(' ');
  }

  // ---- what holds for a vehicle: kept under its name, and used again

  // ofVehicle are the texts of a form that hold for the vehicle and not for one job.
  ofVehicle(part, texts) {
    const tops = part.dataset.keeps.split(' ');
    return Object.fromEntries(Object.entries(texts).filter(([key]) => tops.includes(key.split('.')[0])));
  }

  keepVehicle(part) {
    const input = part.querySelector('input');
    const name = input.value.trim();
    if (!name) return input.focus();
    const form = this.snapshot();
    const entry = { given: { ...this.ofVehicle(part, form.given), name }, units: this.ofVehicle(part, form.units) };
    this.changeShelf('vehicles', [...this.hooks.shelf('vehicles').filter((e) => e.given.name !== name), entry], 'kept.vehicle');
  }

  useVehicle(part, { given, units }) {
    const form = this.snapshot();
    for (const texts of [form.given, form.units]) for (const key in this.ofVehicle(part, texts)) delete texts[key];
    Object.assign(form.given, this.ofVehicle(part, given));
    Object.assign(form.units, this.ofVehicle(part, units));
    this.replace(form);
    part.querySelector('input').value = given.name;
    this.hooks.tell('used.vehicle');
  }

  // ---- answers

  changed() {
    this.saveNow();
    this.answer();
  }

  saveNow() {
    this.last = this.snapshot();
    const files = this.files();
    const unkept = this.hooks.save(this.tool, this.last, files.map((f) => f.path));
    for (const { path, element } of files) element.querySelector('.unkept').hidden = !unkept.includes(path);
  }

  // answer asks the core. What is folded is asked for only where it is unfolded, or on paper.
  answer(whole = this.body.querySelector('[data-lazy][open]') !== null) {
    const core = this.hooks.core();
    if (!core) return;
    this.whole = whole;
    const given = this.collect();
    const reply = this.hooks.ask(() => core.answer(this.tool, JSON.stringify(given), document.documentElement.lang, this.hooks.locale, whole ? '' : 'brief'));
    if (!reply) return;
    this.link = reply.link ?? '';
    this.left = reply.left ?? [];
    this.values = reply.values ?? {};
    this.show(reply);
  }

  show(reply) {
    if (reply.head) this.paintHead(reply.head);
    this.paintBody(reply.body ?? []);
    this.section.dataset.answered = reply.answered ? 'yes' : 'no';
    if (reply.answered) performance.mark('answered'); // for make bench
    if (this.alone && !this.alonePart()) {
      this.alone = false;
      this.saveNow();
    }
    const beside = this.place(reply.notes ?? reply.errors ?? []);
    for (const field of this.fields()) {
      if (field.echo) setText(field.echo, reply.echo?.[field.path] ?? '');
      if (field.slide) this.stand(field);
      const texts = beside.get(field.path);
      setText(field.note, texts ? texts.map((n) => n.text).join(' ') : '');
      setData(field.note, 'code', texts ? texts.map((n) => n.code).join(' ') : '');
      field.element.classList.toggle('wrong', Boolean(texts));
      if (field.input && field.input.ariaInvalid !== String(Boolean(texts))) field.input.ariaInvalid = String(Boolean(texts));
      // What is wrong must be seen, wherever it is folded away.
      for (let d = texts && field.element.closest('details'); d; d = d.parentElement.closest('details')) d.open = true;
    }
    for (const card of this.form.querySelectorAll('.card.picked')) {
      const point = this.section.querySelector(`.point[data-value="${CSS.escape(this.picked(card)?.value ?? '')}"]`);
      setText(card.querySelector('.picked-expected'), point?.dataset.expected ?? '');
    }
    if (this.plates) this.markOpen();
    this.plates?.markPens();
    const touched = this.form.querySelector('.touched') !== null;
    for (const note of this.form.querySelectorAll('[data-note]')) {
      // A part that is missing is told once something else was entered.
      const texts = (beside.get(note.dataset.note) ?? []).filter((n) => touched || n.code !== 'missing');
      setText(note, texts.map((n) => n.text).join(' '));
    }
  }

  paintHead(tree) {
    if (this.headTree && this.head.firstChild) repaint(this.head.firstChild, this.headTree, tree);
    else this.head.replaceChildren(paint(tree));
    this.headTree = tree;
  }

  // paintBody makes of the parts of the answer what they are now; what is as it was is left alone. A part may have its place
  // in the form.
  paintBody(trees) {
    const before = this.parts ?? [];
    const open = [...this.section.querySelectorAll('.body details[open], .slot details[open]')].map((d) => d.dataset.keep);
    const focused = this.focusedPoint();
    this.plates?.lift();
    this.parts = trees.map((tree) => {
      const at = before.findIndex((p) => alike(p.tree, tree) && p.tree[1].class === tree[1].class);
      if (at < 0) return { tree, node: paint(tree, open), slot: tree[1]['data-slot'] };
      const [part] = before.splice(at, 1);
      return { ...part, tree, node: repaint(part.node, part.tree, tree, open) };
    });
    this.spread(focused);
    this.plates?.lay();
    if (this.moved) this.follow(this.moved);
  }

  // focusedPoint is the point in the answer that has the focus, and the place it is in.
  focusedPoint() {
    const point = document.activeElement;
    if (point.dataset?.value === undefined) return undefined;
    const { value, bolt } = point.dataset;
    return { as: bolt === undefined ? `[data-value="${CSS.escape(value)}"]` : `[data-plate] [data-bolt="${CSS.escape(bolt)}"]`, place: point.closest('.slot, .body') };
  }

  // print lays everything out for paper, or for the screen again.
  print(paper) {
    this.paper = paper;
    if (paper) this.answer(true);
    else this.spread();
  }

  // spread puts the parts in their places. On a wide screen the answer stands beside the form, and all of it together; a part
  // that is shown alone does so on any. Paper is narrow.
  spread(focused = this.focusedPoint()) {
    const alone = this.alonePart() !== undefined;
    this.section.classList.toggle('alone', alone);
    this.hooks.aloneChanged();
    const slots = [...this.form.querySelectorAll('.slot')];
    const at = (part) => (!this.paper && (wide.matches || alone) ? undefined : slots.find((slot) => slot.dataset.slot === part.slot)) ?? this.body;
    for (const place of [...slots, this.body]) this.fill(place, (this.parts ?? []).filter((part) => at(part) === place).map((part) => part.node));
    if (focused?.place && !focused.place.contains(document.activeElement)) focused.place.querySelector(focused.as)?.focus();
  }

  // fill leaves those that are as they were where they are: they are not laid out again, and keep the focus.
  fill(place, nodes) {
    const kept = new Set(nodes);
    for (const node of [...place.children]) if (!kept.has(node)) node.remove();
    nodes.forEach((node, i) => {
      if (place.children[i] !== node) place.insertBefore(node, place.children[i] ?? null);
    });
  }

  // place finds for each fault the field it stands beside; what has no field is shown above the form.
  place(notes) {
    const beside = new Map();
    const loose = [...this.stray];
    for (const { field: at, code, text, message } of notes) {
      const path = this.seen(at);
      const field = this.field(path);
      const note = { code, text: text ?? message };
      if ((!field || field.held) && !this.form.querySelector(`[data-note="${CSS.escape(path)}"]:not([data-held] *)`)) loose.push(note.text);
      else if (!field || !this.quiet(field, note)) beside.set(path, [...(beside.get(path) ?? []), note]);
    }
    this.form.querySelector('.form-notes').replaceChildren(
      ...loose.map((text) => {
        const item = Object.assign(document.createElement('li'), { textContent: text });
        if (text.length > LONG_NOTE) item.tabIndex = 0; // it scrolls within itself
        return item;
      }),
    );
    return beside;
  }

  // seen is where a note for a path can be seen: what a row was opened for has no field of its own to look at.
  seen(path) {
    const field = this.field(path);
    if (!field?.card?.matches('.picked') || !field.choice) return path;
    return this.fields().find((f) => f.card === field.card && f.input)?.path ?? path.split('.')[0];
  }

  // quiet says whether a missing value is not yet worth telling: the reader has not been there.
  quiet(field, note) {
    if (note.code !== 'missing' || field.element.classList.contains('touched') || field.deep) return false;
    return !(field.part && this.holds(field.part) && !field.part.contains(document.activeElement));
  }
}

// randomText is a number of five digits as a text: chance comes in here alone, the core has none.
export const randomText = () => String(10000 + (crypto.getRandomValues(new Uint32Array(1))[0] % 90000));

// setText and setData leave an element alone that says it already.
export function setText(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

function setData(element, name, text) {
  if (element.dataset[name] !== text) element.dataset[name] = text;
}
