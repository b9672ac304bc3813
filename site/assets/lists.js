// A form's lists as they stand on the page: a fieldset for each list, and in it a card for each row. The cards of a list that
// has data-pick-by are opened by a tap on a point in the answer and named by the choice that was tapped.
import { MOST_ROWS } from './state.js';

export class Lists {
  // localise(card) writes the numbers in a new card as the reader does; changed() is called when a card comes or goes.
  constructor(form, localise, changed) {
    this.form = form;
    this.localise = localise;
    this.changed = changed;
  }

  all() {
    return [...this.form.querySelectorAll('fieldset.list')];
  }

  names() {
    return this.all().map((list) => list.dataset.list);
  }

  // plated returns the lists whose rows are places on a plate.
  plated() {
    return this.form.querySelectorAll('[data-plated]');
  }

  named(name) {
    return this.form.querySelector(`fieldset.list[data-list="${CSS.escape(name)}"]`);
  }

  cards(list) {
    return [...list.querySelectorAll('.cards > .card')];
  }

  // most returns how many rows a list may have.
  most(list) {
    return Math.min(MOST_ROWS, list.dataset.most ?? MOST_ROWS);
  }

  // fit gives a list so many cards: the last ones go, or empty ones come behind them.
  fit(list, n) {
    this.cut(list, n);
    for (let i = this.cards(list).length; i < n; i++) this.add(list);
  }

  cut(list, n) {
    const cards = this.cards(list);
    if (cards.length > n) this.changed();
    for (const card of cards.slice(n)) card.remove();
  }

  add(list) {
    const cards = list.querySelector('.cards');
    const row = this.cards(list).length;
    const holder = document.createElement('div');
    // The template is this page's own; only the row's number is put in.
    holder.innerHTML = list.querySelector('template').innerHTML.replaceAll(`${list.dataset.list}.#`, `${list.dataset.list}.${row}`);
    const card = holder.firstElementChild;
    card.dataset.row = row;
    const number = card.querySelector('.row-number');
    if (number) number.textContent = row + 1;
    cards.append(card);
    this.changed();
    this.localise(card);
    return card;
  }

  // unfold shows all of one card, and only a summary of the others; null: a summary of each.
  unfold(card, list = card.closest('.list')) {
    for (const other of this.cards(list)) other.classList.toggle('open', other === card);
    const more = card?.querySelector('.more'); // what it was taken at is seen, if that is its own
    if (more?.querySelector('.entry > input:not(:placeholder-shown)')) more.open = true;
  }
}

// picked returns the choice that a card was opened for.
export const picked = (card) => card.querySelector('input[data-how]:checked');

// isEmpty reports whether a card that was opened for a choice has fields, and nothing is filled in.
export const isEmpty = (card) => areBlank([...card.querySelectorAll('.entry > input')]);

export const areBlank = (inputs) => inputs.length > 0 && inputs.every((input) => input.value.trim() === '');

// entryOf returns where a card's reading is put in: its input, or the first of its words; null if it has nothing to fill in.
export const entryOf = (card) => card.querySelector('.spoken > .key:not([hidden])') ?? card.querySelector('.entry > input');

// startOf returns where a card is gone into: the line that it is folded to, or else where its reading is put in.
export const startOf = (card) => {
  const line = card.querySelector('.card-line');
  return line?.offsetParent ? line : entryOf(card);
};

// openCard unfolds a card and goes to where its reading is put in.
export function openCard(lists, card) {
  lists.unfold(card);
  entryOf(card)?.focus({ preventScroll: true });
  card.scrollIntoView({ block: 'nearest' });
}

// nameCard writes what a card was opened for, and shows only the units, keys and words that go with it.
export function nameCard(card) {
  const choice = picked(card);
  card.hidden = Boolean(card.querySelector('.field[data-path$=".aside"] input')?.value); // read on another winding: see windings.js
  if (!choice) return;
  card.querySelector('.picked-name').textContent = choice.nextElementSibling.textContent;
  card.querySelector('.picked-how').textContent = choice.dataset.how;
  const entry = card.querySelector('.f-reading > .entry');
  if (!entry) return;
  entry.querySelector('.same')?.remove(); // it was offered to what stood here before
  const words = choice.dataset.words?.split(' ') ?? [];
  entry.classList.toggle('in-words', words.length > 0);
  for (const key of entry.querySelectorAll('.spoken > .key')) key.hidden = !words.includes(key.dataset.put);
  const units = [...entry.querySelectorAll('.units input')];
  const kind = units.find((unit) => unit.value === choice.dataset.unit)?.dataset.kind;
  for (const unit of units) unit.parentElement.hidden = unit.dataset.kind !== kind;
  if (!units.some((unit) => unit.checked && !unit.parentElement.hidden)) {
    for (const unit of units) unit.checked = unit.value === choice.dataset.unit;
  }
  for (const key of entry.querySelectorAll('.key[data-kind]')) key.hidden = key.dataset.kind !== kind;
}
