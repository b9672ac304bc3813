// One tool's form: what its fields hold, what the core answers to it, and how both are shown. It words nothing.
import { paint } from './paint.js';
import { emptyForm, joined } from './state.js';

const UNDO_DEPTH = 60;

export class Form {
  // hooks: core() → the module or null; say(key); save(form) → ""; rows: the kept rows.
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
    this.form.addEventListener('input', (e) => this.input(e));
    this.form.addEventListener('focusout', (e) => this.left(e));
    this.form.addEventListener('keydown', (e) => this.key(e));
    this.form.addEventListener('toggle', () => this.saveNow(), true);
    this.form.addEventListener('submit', (e) => e.preventDefault());
    section.addEventListener('click', (e) => this.click(e));
  }

  // ---- what the fields hold

  fields(root = this.form) {
    return [...root.querySelectorAll('.field[data-path]')];
  }

  // unitOf is the symbol of the unit chosen for a field.
  unitOf(field) {
    const from = field.dataset.unitFrom;
    if (from) return this.unitOf(this.field(from));
    const chosen = field.querySelector('.units input:checked');
    return chosen ? chosen.value : field.querySelector('.unit')?.dataset.unit ?? '';
  }

  field(path) {
    return this.form.querySelector(`.field[data-path="${CSS.escape(path)}"]`);
  }

  inputOf(field) {
    return field.querySelector(':scope > .entry > input');
  }

  snapshot() {
    const form = emptyForm();
    for (const field of this.fields()) {
      const path = field.dataset.path;
      if (field.dataset.shape === 'choice') {
        const chosen = field.querySelector(':scope > .segments input:checked');
        if (chosen && !('default' in chosen.dataset)) form.given[path] = chosen.value;
        continue;
      }
      const text = this.inputOf(field).value;
      if (text !== '') form.given[path] = text;
      const first = field.querySelector('.units input');
      const unit = field.querySelector('.units input:checked');
      if (first && unit && !unit.defaultChecked) form.units[path] = unit.value;
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
        if (row >= n) n = Math.min(row + 1, 1000);
      }
      list.querySelector('.cards').replaceChildren();
      for (let i = 0; i < n; i++) this.addCard(list);
    }
    for (const field of this.fields()) {
      const path = field.dataset.path;
      const value = form.given[path];
      if (field.dataset.shape === 'choice') {
        for (const radio of field.querySelectorAll(':scope > .segments input')) {
          radio.checked = value === undefined ? 'default' in radio.dataset : radio.value === value;
        }
        this.deepen(field);
        continue;
      }
      this.inputOf(field).value = value ?? '';
      for (const radio of field.querySelectorAll('.units input')) {
        radio.checked = form.units[path] === undefined ? radio.defaultChecked : radio.value === form.units[path];
      }
      field.classList.toggle('touched', value !== undefined);
    }
    for (const details of this.form.querySelectorAll('details[data-keep]')) {
      details.open = form.open.includes(details.dataset.keep) || (details.matches('.group') && !details.closest('.more') && this.holds(details));
    }
    this.units();
  }

  // holds says whether something was entered inside, so that it must not be hidden.
  holds(details) {
    return this.fields(details).some((f) => (f.dataset.shape === 'choice' ? !f.querySelector('[data-default]:checked') : this.inputOf(f).value !== ''));
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
      else if (unit && field.dataset.shape !== 'choice' && this.unitOf(field) !== unit && this.inputOf(field)) this.inputOf(field).value = `${text} ${unit}`;
    }
    return unplaced;
  }

  // collect is the form as the core wants it, and where each row stands on the page: empty rows are not sent.
  collect() {
    const given = {};
    const places = {};
    for (const list of this.form.querySelectorAll('fieldset.list')) {
      const name = list.dataset.list;
      let sent = 0;
      list.querySelectorAll('.card').forEach((card, shown) => {
        if (!this.holds(card)) return;
        places[`${name}.${sent}`] = `${name}.${shown}`;
        this.collectFrom(card, given, (path) => path.replace(`${name}.${shown}.`, `${name}.${sent}.`));
        sent++;
      });
    }
    this.collectFrom(this.form, given, (path) => path, (field) => !field.closest('.card'));
    return { given, places };
  }

  collectFrom(root, given, rename, which = () => true) {
    for (const field of this.fields(root)) {
      if (!which(field)) continue;
      const path = rename(field.dataset.path);
      if (field.dataset.shape === 'choice') {
        const chosen = field.querySelector(':scope > .segments input:checked');
        if (chosen && !('default' in chosen.dataset) && !chosen.dataset.deep) given[path] = chosen.value;
        continue;
      }
      const deep = field.closest('.deep');
      if (deep?.hidden) continue;
      const text = this.inputOf(field).value;
      if (deep || text.trim() !== '') given[path] = joined(text, this.unitOf(field));
    }
  }

  // ---- what happens

  input(e) {
    const field = e.target.closest('.field');
    if (!field) return;
    const key = `${field.dataset.path}:${e.target.type}`;
    if (this.edited !== key) this.remember(this.last);
    this.edited = key;
    if (field.dataset.shape === 'choice') this.deepen(field);
    if (e.target.type === 'radio') this.units();
    field.classList.add('touched');
    this.changed();
  }

  // remember makes a state one that undo comes back to.
  remember(form) {
    if (!form) return;
    this.past.push(form);
    if (this.past.length > UNDO_DEPTH) this.past.shift();
  }

  undo() {
    const form = this.past.pop();
    if (!form) return false;
    this.restore(form);
    this.edited = null;
    this.changed();
    return true;
  }

  // replace puts another state in place of this one, as one step of undo.
  replace(form) {
    this.remember(this.snapshot());
    this.edited = null;
    this.restore(form);
    this.changed();
  }

  left(e) {
    const field = e.target.closest?.('.field');
    if (!field || field.classList.contains('touched')) return;
    // Passing through without typing is no fault; leaving what is needed empty is told once something else was entered.
    if (e.target.matches('[aria-required]') && this.fields().some((f) => f.classList.contains('touched'))) {
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
    const field = button.closest('.field');
    const input = this.inputOf(field);
    this.remember(this.snapshot());
    this.edited = null;
    if (button.dataset.put === 'sign') {
      input.value = /^\s*[-\u2212]/.test(input.value) ? input.value.replace(/^\s*[-\u2212]/, '') : `\u2212${input.value}`;
      input.focus();
    } else {
      input.value = button.dataset.put;
    }
    field.classList.add('touched');
    this.changed();
  }

  // deepen shows the field that a choice opens.
  deepen(field) {
    const chosen = field.querySelector(':scope > .segments input:checked');
    for (const deep of field.querySelectorAll(':scope > .deep')) deep.hidden = deep.dataset.for !== chosen?.value;
  }

  // units writes the unit beside the fields that take another's.
  units() {
    for (const field of this.form.querySelectorAll('.field[data-unit-from]')) {
      const radio = this.field(field.dataset.unitFrom)?.querySelector('.units input:checked');
      field.querySelector('.unit').textContent = radio ? radio.nextElementSibling.textContent : this.field(field.dataset.unitFrom)?.querySelector('.unit')?.textContent ?? '';
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
    this.hooks.localise(card);
    this.units();
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
    this.last = this.snapshot();
    this.saveNow();
    this.answer();
  }

  saveNow() {
    if (this.last) this.hooks.save(this.tool, (this.last = this.snapshot()));
  }

  answer() {
    const core = this.hooks.core();
    if (!core) return;
    const { given, places } = this.collect();
    const reply = this.hooks.ask(() => core.answer(this.tool, JSON.stringify(given), this.hooks.locale));
    if (!reply) return;
    this.link = reply.link ?? '';
    this.show(reply, places);
  }

  show(reply, places) {
    const placed = (path) => {
      const m = /^([a-z_]+\.\d+)(.*)$/.exec(path);
      return m && places[m[1]] ? places[m[1]] + m[2] : path;
    };
    if (reply.head) this.head.replaceChildren(paint(reply.head));
    const open = [...this.body.querySelectorAll('details[open]')].map((d) => d.dataset.keep);
    this.body.replaceChildren(...(reply.body ?? []).map(paint));
    for (const d of this.body.querySelectorAll('details')) d.open = open.includes(d.dataset.keep);
    this.section.dataset.answered = reply.answered ? 'yes' : 'no';
    if (reply.answered) performance.mark('answered'); // for make bench
    this.notes(reply.notes ?? reply.errors ?? [], placed);
    const echoes = new Map(Object.entries(reply.echo ?? {}).map(([path, text]) => [placed(path), text]));
    for (const field of this.fields()) {
      const echo = field.querySelector(':scope > .echo');
      if (echo) echo.textContent = echoes.get(field.dataset.path) ?? '';
    }
  }

  // notes puts each fault beside its field; what has no field stands above the form.
  notes(notes, placed) {
    const beside = new Map();
    const loose = [];
    for (const n of notes) {
      const path = placed(n.field);
      const field = this.field(path);
      const group = this.form.querySelector(`[data-note="${CSS.escape(path)}"]`);
      if (field) {
        const quiet = n.code === 'missing' && !field.classList.contains('touched') && !field.closest('.deep') && !this.begun(field);
        if (!quiet) beside.set(path, [...(beside.get(path) ?? []), n.text ?? n.message]);
      } else if (group) beside.set(path, [...(beside.get(path) ?? []), n.text ?? n.message]);
      else loose.push(n.text ?? n.message);
    }
    for (const field of this.fields()) {
      const texts = beside.get(field.dataset.path);
      field.querySelector(':scope > .note').textContent = texts ? texts.join(' ') : '';
      field.classList.toggle('wrong', Boolean(texts));
      const input = this.inputOf(field);
      if (input) input.setAttribute('aria-invalid', texts ? 'true' : 'false');
      // What is wrong must be seen, wherever it is folded away.
      for (let d = texts && field.closest('details'); d; d = d.parentElement.closest('details')) d.open = true;
    }
    for (const note of this.form.querySelectorAll('[data-note]')) note.textContent = (beside.get(note.dataset.note) ?? []).join(' ');
    const list = this.form.querySelector('.form-notes');
    list.replaceChildren(...loose.concat(this.stray ?? []).map((text) => Object.assign(document.createElement('li'), { textContent: text })));
  }

  // begun says whether the row or group that a field belongs to has something in it, left behind by the reader.
  begun(field) {
    const part = field.closest('.card, .group');
    return Boolean(part) && this.holds(part) && !part.contains(document.activeElement);
  }
}
