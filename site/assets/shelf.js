// What a reader keeps on the device to use it again: rows of a list, and what holds for a vehicle under the vehicle's name. The
// shelves "rows", "vehicles" and "works" (see works.js) are shared by all forms; an entry is {given, units}.
import { cutRow, freeRow, putRow } from './rows.js';
import { MOST_ROWS, readRows, writeRows } from './state.js';
import { LINE } from './works.js';

// The shelves as the device keeps them, for all forms of the page.
export class Shelves {
  // forms are those made so far, by tool.
  constructor(keep, forms, tell) {
    Object.assign(this, { keep, forms, tell });
    this.entries = { rows: [], vehicles: [], works: [] };
  }

  load() {
    for (const name in this.entries) this.read(name);
  }

  // read reads a shelf anew, if there is one of that name.
  read(name) {
    if (!(name in this.entries)) return false;
    this.entries[name] = this.keep.load(name, readRows).rows;
    for (const form of this.forms.values()) form.shelf.show(name, this.entries[name]);
    return true;
  }

  // change keeps other entries for later; key is that of the message, if there is one. It returns what went wrong.
  change(name, entries, key) {
    this.entries[name] = entries;
    const fault = this.keep.save(name, writeRows(entries));
    for (const form of this.forms.values()) form.shelf.show(name, entries);
    if (key) this.tell(key);
    return fault;
  }

  showIn(form) {
    for (const name in this.entries) form.shelf.show(name, this.entries[name]);
  }
}

export class Shelf {
  // form is the Form that is filled from the shelves.
  constructor(form) {
    this.form = form;
    this.hooks = form.hooks;
  }

  // show lists the entries of a shelf wherever the form offers them.
  show(name, entries) {
    for (const kept of this.form.element.querySelectorAll(`.kept[data-shelf="${name}"]`)) {
      const { content } = kept.parentElement.querySelector(':scope > template.kept-row');
      const items = entries.map((entry, i) => {
        const item = content.cloneNode(true).firstElementChild;
        item.dataset.kept = i;
        const { given } = entry;
        item.querySelector('[data-do="use"]').textContent = name === 'rows' ? this.nameOfRow(entry) : (given[LINE] ?? given.name);
        return item;
      });
      kept.hidden = entries.length === 0;
      kept.querySelector('ul').replaceChildren(...items);
    }
  }

  nameOfRow({ given, units }) {
    const unit = units.min ?? this.form.element.querySelector('[data-path$=".min"] .units input')?.value ?? '';
    const range = given.nominal ? `${given.nominal} ± ${given.tolerance ?? ''} %` : `${given.min ?? ''}–${given.max ?? ''}`;
    return [given.name, range, unit === 'ohm' ? 'Ω' : unit].filter(Boolean).join(' ');
  }

  // entryOf returns the entry that a button stands for, and the name of its shelf.
  entryOf(button) {
    const { shelf } = button.closest('.kept').dataset;
    return { shelf, entry: this.hooks.shelf(shelf)[Number(button.closest('li').dataset.kept)] };
  }

  forget(button) {
    const { shelf, entry } = this.entryOf(button);
    this.change(shelf, this.hooks.shelf(shelf).filter((other) => other !== entry), 'forgotten');
  }

  // change puts other entries on a shelf. If one of those before goes, that is a step of undo. said is the key of the message.
  change(name, entries, said) {
    const before = this.hooks.shelf(name);
    if (before.some((entry) => !entries.includes(entry))) this.form.push({ shelf: name, entries: before });
    this.hooks.changeShelf(name, entries, said);
  }

  keepRow(list, row) {
    this.change('rows', [...this.hooks.shelf('rows'), cutRow(this.form.snapshot(), list, row)], 'kept');
  }

  // useRow writes a kept row into the first row of a list that holds nothing.
  useRow(list, entry) {
    const state = this.form.snapshot();
    const row = freeRow(state, list);
    if (row >= MOST_ROWS) return this.hooks.tell('most');
    this.form.replace(putRow(state, list, row, entry));
  }

  keepVehicle(part) {
    const input = part.querySelector('input');
    const name = input.value.trim();
    if (!name) return input.focus();
    const entry = vehicleIn(this.form.snapshot(), part.dataset.keeps.split(' '), name);
    const others = this.hooks.shelf('vehicles').filter((other) => other.given.name !== name);
    this.change('vehicles', [...others, entry], 'kept.vehicle');
  }

  useVehicle(part, entry) {
    this.form.replace(withVehicle(this.form.snapshot(), part.dataset.keeps.split(' '), entry));
    part.querySelector('input').value = entry.given.name;
    this.hooks.tell('used.vehicle');
  }
}

// under returns the texts of the fields, groups and lists that have one of some names; besides returns all others.
const pick = (texts, wanted) => Object.fromEntries(Object.entries(texts).filter(([key]) => wanted(key.split('.')[0])));
const under = (texts, names) => pick(texts, (top) => names.includes(top));
const besides = (texts, names) => pick(texts, (top) => !names.includes(top));

// vehicleIn returns what a state says of the vehicle, as an entry. names are those of the fields that hold for it, and not for one
// job alone.
export function vehicleIn({ given, units }, names, name) {
  return { given: { ...under(given, names), name }, units: under(units, names) };
}

// withVehicle puts another vehicle in place of the one in a state.
export function withVehicle(state, names, { given, units }) {
  return {
    ...state,
    given: { ...besides(state.given, names), ...under(given, names) },
    units: { ...besides(state.units, names), ...under(units, names) },
  };
}
