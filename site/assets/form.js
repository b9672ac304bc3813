// One tool's form: what its fields hold, what the core answers to it, and how both are shown. It words nothing.
import { paint } from './paint.js';
import { MOST_ROWS, emptyForm, joined } from './state.js';

const UNDO_DEPTH = 60;

export class Form {
  // hooks are what app.js does for every form: core() → the module or null, ask, save, tell, localise, command, and the kept
  // rows: rows(), keepRow, forgetRow, changeRows.
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
    this.stray = []; // what was wrong with the link that the form was opened from
    this.form.addEventListener('input', (e) => this.input(e));
    this.form.addEventListener('focusout', (e) => this.left(e));
    this.form.addEventListener('keydown', (e) => this.key(e));
    this.form.addEventListener('toggle', () => this.last && this.saveNow(), true);
    this.form.addEventListener('submit', (e) => e.preventDefault());
    section.addEventListener('click', (e) => this.click(e));
    this.body.addEventListener(
      'toggle',
      (e) => {
        if (e.target.open && e.target.dataset.keep === 'working' && !this.whole) this.answer(true);
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
      input: element.querySelector(':scope > .entry > input'),
      radios: [...element.querySelectorAll(element.dataset.shape === 'choice' ? ':scope > .segments input' : ':scope > .entry > .units input')],
      unit: element.querySelector(':scope > .entry > .unit'),
      unitFrom: element.dataset.unitFrom,
      echo: element.querySelector(':scope > .echo'),
      note: element.querySelector(':scope > .note'),
      card: element.closest('.card'),
      deep: element.closest('.deep'),
      part: element.closest('.card, .group'),
    }));
    return this.found;
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
      if (on && !on.defaultChecked) form.units[field.path] = on.value;
    }
    for (const list of this.form.querySelectorAll('fieldset.list')) {
      form.rows[list.dataset.list] = list.querySelectorAll('.card').length;
    }
    form.open = [...this.form.querySelectorAll('details[open][data-keep]')].map((d) => d.dataset.keep);
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
      list.querySelector('.cards').replaceChildren();
      this.found = null;
      for (let i = 0; i < n; i++) this.addCard(list);
    }
    for (const field of this.fields()) {
      const value = form.given[field.path];
      if (field.choice) {
        for (const radio of field.radios) radio.checked = value === undefined ? 'default' in radio.dataset : radio.value === value;
        this.deepen(field);
        continue;
      }
      field.input.value = value ?? '';
      const unit = form.units[field.path];
      for (const radio of field.radios) radio.checked = unit === undefined ? radio.defaultChecked : radio.value === unit;
      field.element.classList.toggle('touched', value !== undefined);
    }
    for (const details of this.form.querySelectorAll('details[data-keep]')) {
      details.open = form.open.includes(details.dataset.keep) || (details.matches('.group') && !details.closest('.more') && this.holds(details));
    }
    this.units();
  }

  // holds says whether something was entered inside, so that it must not be hidden.
  holds(part) {
    return this.fields().some((f) => part.contains(f.element) && (f.choice ? !('default' in (this.chosen(f)?.dataset ?? {})) : f.input.value !== ''));
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

  // collect is the form as the core wants it; rows keep their numbers, empty ones are not sent.
  collect() {
    const given = {};
    const empty = new Set([...this.form.querySelectorAll('.card')].filter((card) => !this.holds(card)));
    for (const field of this.fields()) {
      if (field.card && empty.has(field.card)) continue;
      if (field.choice) {
        const on = this.chosen(field);
        if (on && !('default' in on.dataset) && !on.dataset.deep) given[field.path] = on.value;
        continue;
      }
      if (field.deep?.hidden) continue;
      const text = field.input.value;
      if (field.deep || text.trim() !== '') given[field.path] = joined(text, this.unitOf(field));
    }
    return given;
  }

  // ---- what happens

  input(e) {
    const field = this.field(e.target.closest('.field')?.dataset.path);
    if (!field) return;
    const key = `${field.path}:${e.target.type}`;
    if (this.edited !== key) this.remember(this.last);
    this.edited = key;
    if (field.choice) this.deepen(field);
    if (e.target.type === 'radio') this.units();
    field.element.classList.add('touched');
    this.changed();
  }

  // remember makes a state one that undo comes back to.
  remember(form) {
    if (form) this.push({ form, stray: this.stray });
  }

  // rememberRows does the same for the kept rows.
  rememberRows(rows) {
    this.push({ rows });
    this.edited = null;
  }

  push(step) {
    this.past.push(step);
    if (this.past.length > UNDO_DEPTH) this.past.shift();
  }

  undo() {
    const step = this.past.pop();
    if (!step) return false;
    this.edited = null;
    if (step.rows) this.hooks.changeRows(step.rows);
    else {
      this.stray = step.stray;
      this.restore(step.form);
      this.changed();
    }
    return true;
  }

  // replace puts another state in place of this one, as one step of undo.
  replace(form) {
    this.remember(this.snapshot());
    this.edited = null;
    this.stray = [];
    this.restore(form);
    this.changed();
  }

  left(e) {
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
    const inputs = [...this.form.querySelectorAll('input[type="text"]')].filter((i) => i.offsetParent !== null);
    const next = inputs[inputs.indexOf(e.target) + 1];
    if (next) next.focus();
    else e.target.blur();
  }

  click(e) {
    if (e.target.closest('.head, [data-skip]')) {
      e.preventDefault();
      this.body.scrollIntoView();
      return this.body.focus({ preventScroll: true });
    }
    const put = e.target.closest('[data-put]');
    if (put) return this.put(put);
    const button = e.target.closest('[data-do]');
    if (!button) return;
    const list = button.closest('fieldset.list');
    switch (button.dataset.do) {
      case 'add':
        this.remember(this.snapshot());
        this.edited = null;
        this.addCard(list).querySelector('input').focus();
        this.units();
        this.changed();
        break;
      case 'remove':
        this.removeCard(button.closest('.card'), list);
        break;
      case 'keep':
        this.hooks.keepRow(this.cutRow(this.snapshot(), list.dataset.list, Number(button.closest('.card').dataset.row)));
        break;
      case 'use':
        this.useRow(list, this.hooks.rows()[Number(button.closest('li').dataset.kept)]);
        break;
      case 'forget':
        this.hooks.forgetRow(Number(button.closest('li').dataset.kept));
        break;
      default:
        this.hooks.command(button.dataset.do, this);
    }
  }

  put(button) {
    const { element, input } = this.field(button.closest('.field').dataset.path);
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

  // units writes the unit beside the fields that take another's.
  units() {
    for (const field of this.fields()) {
      if (!field.unitFrom) continue;
      const from = this.field(field.unitFrom);
      field.unit.textContent = (this.chosen(from)?.nextElementSibling ?? from.unit)?.textContent ?? '';
    }
  }

  // ---- rows

  addCard(list) {
    const cards = list.querySelector('.cards');
    const i = cards.children.length;
    const holder = document.createElement('div');
    // The template is this page's own; only the row's number is put in.
    holder.innerHTML = list.querySelector('template').innerHTML.replaceAll(`${list.dataset.list}.#`, `${list.dataset.list}.${i}`);
    const card = holder.firstElementChild;
    card.dataset.row = i;
    card.querySelector('.row-number').textContent = i + 1;
    cards.append(card);
    this.found = null;
    this.hooks.localise(card);
    return card;
  }

  removeCard(card, list) {
    const name = list.dataset.list;
    const gone = Number(card.dataset.row);
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
    this.replace({ ...form, given: move(form.given), units: move(form.units), rows: { ...form.rows, [name]: form.rows[name] - 1 } });
    (list.querySelectorAll('.card')[Math.max(0, gone - 1)]?.querySelector('input') ?? list.querySelector('[data-do="add"]')).focus();
    this.hooks.tell('removed');
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

  showKept(rows) {
    for (const list of this.form.querySelectorAll('fieldset.list')) {
      const kept = list.querySelector('.kept');
      kept.hidden = rows.length === 0;
      kept.querySelector('ul').replaceChildren(
        ...rows.map((row, i) => {
          const item = list.querySelector('template.kept-row').content.cloneNode(true).firstElementChild;
          item.dataset.kept = i;
          const g = row.given;
          const u = row.units.min ?? this.form.querySelector('[data-path$=".min"] .units input')?.value ?? '';
          item.querySelector('[data-do="use"]').textContent = [g.name, g.nominal ? `${g.nominal} ± ${g.tolerance ?? ''} %` : `${g.min ?? ''}–${g.max ?? ''}`, u === 'ohm' ? 'Ω' : u].filter(Boolean).join(' ');
          return item;
        }),
      );
    }
  }

  // ---- answers

  changed() {
    this.saveNow();
    this.answer();
  }

  saveNow() {
    this.last = this.snapshot();
    this.hooks.save(this.tool, this.last);
  }

  // answer asks the core. The working is asked for only where it is unfolded, or on paper.
  answer(whole = this.body.querySelector('[data-keep="working"][open]') !== null) {
    const core = this.hooks.core();
    if (!core) return;
    this.whole = whole;
    const given = this.collect();
    const reply = this.hooks.ask(() => core.answer(this.tool, JSON.stringify(given), document.documentElement.lang, this.hooks.locale, whole ? '' : 'brief'));
    if (!reply) return;
    this.link = reply.link ?? '';
    this.show(reply);
  }

  show(reply) {
    if (reply.head) this.head.replaceChildren(paint(reply.head));
    this.paintBody(reply.body ?? []);
    this.section.dataset.answered = reply.answered ? 'yes' : 'no';
    if (reply.answered) performance.mark('answered'); // for make bench
    const beside = this.place(reply.notes ?? reply.errors ?? []);
    for (const field of this.fields()) {
      if (field.echo) setText(field.echo, reply.echo?.[field.path] ?? '');
      const texts = beside.get(field.path);
      setText(field.note, texts ? texts.map((n) => n.text).join(' ') : '');
      field.note.dataset.code = texts ? texts.map((n) => n.code).join(' ') : '';
      field.element.classList.toggle('wrong', Boolean(texts));
      if (field.input && field.input.ariaInvalid !== String(Boolean(texts))) field.input.ariaInvalid = String(Boolean(texts));
      // What is wrong must be seen, wherever it is folded away.
      for (let d = texts && field.element.closest('details'); d; d = d.parentElement.closest('details')) d.open = true;
    }
    for (const note of this.form.querySelectorAll('[data-note]')) setText(note, (beside.get(note.dataset.note) ?? []).map((n) => n.text).join(' '));
  }

  // paintBody makes the parts of the answer anew that are not as they were.
  paintBody(trees) {
    const before = this.parts ?? [];
    const open = [...this.body.querySelectorAll('details[open]')].map((d) => d.dataset.keep);
    this.parts = trees.map((tree) => {
      const text = JSON.stringify(tree);
      return before.find((p) => p.text === text) ?? { text, node: paint(tree, open) };
    });
    // Those that are as they were stay where they are, and are not laid out again.
    const kept = new Set(this.parts.map((p) => p.node));
    for (const node of [...this.body.children]) if (!kept.has(node)) node.remove();
    this.parts.forEach(({ node }, i) => {
      if (this.body.children[i] !== node) this.body.insertBefore(node, this.body.children[i] ?? null);
    });
  }

  // place finds for each fault the field it stands beside; what has no field is shown above the form.
  place(notes) {
    const beside = new Map();
    const loose = [...this.stray];
    for (const { field: path, code, text, message } of notes) {
      const field = this.field(path);
      const note = { code, text: text ?? message };
      if (!field && !this.form.querySelector(`[data-note="${CSS.escape(path)}"]`)) loose.push(note.text);
      else if (!field || !this.quiet(field, note)) beside.set(path, [...(beside.get(path) ?? []), note]);
    }
    this.form.querySelector('.form-notes').replaceChildren(...loose.map((text) => Object.assign(document.createElement('li'), { textContent: text })));
    return beside;
  }

  // quiet says whether a missing value is not yet worth telling: the reader has not been there.
  quiet(field, note) {
    if (note.code !== 'missing' || field.element.classList.contains('touched') || field.deep) return false;
    return !(field.part && this.holds(field.part) && !field.part.contains(document.activeElement));
  }
}

// setText leaves an element alone that says it already.
function setText(element, text) {
  if (element.textContent !== text) element.textContent = text;
}
