// What a tap on a button of a form, or of its answer, does.
import { showWord } from './fields.js';
import { putFile } from './file.js';
import { entryOf, isEmpty, nameCard, openCard, picked } from './lists.js';
import { addRow, cleared } from './rows.js';
import { lookAt } from './shown.js';
import { randomText } from './state.js';

const AGAIN = 700; // milliseconds: a tap that comes sooner may be the same one again, on what has come in its place

// once holds back a tap that comes too soon after a button that is meant once (data-once: for so many milliseconds), or after one
// that puts something else in its own place. Undo is never held back.
export function once(form, e) {
  if (e.target.closest('.undo')) return;
  if (e.timeStamp < form.rest) {
    e.preventDefault();
    e.stopPropagation();
    return;
  }
  const { once, alone } = e.target.closest('[data-once], [data-alone]')?.dataset ?? {};
  form.rest = once || alone ? e.timeStamp + (Number(once) || AGAIN) : 0;
}

// tap does what was tapped.
export function tap(form, e) {
  form.settle();
  const find = (selector) => e.target.closest(selector);
  if (find('.head, [data-skip]')) {
    e.preventDefault();
    return lookAt(form.shown.start());
  }
  if (form.plates?.click(e)) return;
  const pen = find('[data-pen]');
  if (pen) return form.plates?.take(pen);
  const pressed = find('[data-set], [data-alone]');
  if (pressed) return press(form, pressed);
  const carry = find('[data-carry]');
  if (carry) return form.hooks.carry(carry.dataset.carry, JSON.parse(carry.dataset.given), form.tool);
  const way = find('[data-go]');
  if (way) return goTo(form, form.fields.at(way.dataset.go));
  const point = find('[data-pick]');
  if (point) return pick(form, point.dataset.pick, point.dataset.value, 'again' in point.dataset);
  const key = find('[data-put]');
  if (key) return put(form, key);
  const button = find('[data-do]');
  if (!button) return;
  const act = acts[button.dataset.do];
  if (act) act(form, button, button.closest('fieldset.list'));
  else form.hooks.command(button.dataset.do, form);
}

// goTo unfolds a field and goes into it.
function goTo(form, { element, input, card }) {
  if (card?.matches('.picked')) form.lists.unfold(card);
  for (let details = element.closest('details'); details; details = details.parentElement.closest('details')) details.open = true;
  input.focus({ preventScroll: true });
  element.scrollIntoView({ block: 'center' });
}

const rowOf = (button) => Number(button.closest('.card').dataset.row);

// acts are the buttons of a form, by their data-do; what is not here is no single form's (see command in app.js).
const acts = {
  add: addCard,
  unfold: (form, button) => openCard(form.lists, button.closest('.card')),
  next: (form, button) => down(form, form.fields.around(button)),
  again: (form, button, list) => pick(form, list.dataset.list, picked(button.closest('.card')).value, true),
  remove: (form, button, list) => form.removeRow(list, rowOf(button)),
  keep: (form, button, list) => form.shelf.keepRow(list.dataset.list, rowOf(button)),
  'keep-vehicle': (form, button) => form.shelf.keepVehicle(button.closest('.vehicles')),
  use(form, button, list) {
    const { entry, shelf } = form.shelf.entryOf(button);
    if (shelf === 'works') form.hooks.works.goOn(form, entry);
    else if (list) form.shelf.useRow(list.dataset.list, entry);
    else form.shelf.useVehicle(button.closest('.vehicles'), entry);
  },
  forget: (form, button) => form.shelf.forget(button),
  another: (form) => form.hooks.works.another(form),
  rename(form, button) {
    button.closest('details').open = false;
    form.hooks.works.rename(form);
  },
  'copy-table': (form) => form.marks.copy(),
  'save-table': (form) => form.marks.save(),
  fresh(form) {
    const { field, clears } = form.fields.fresh();
    const state = cleared(form.snapshot(), clears);
    form.replace({ ...state, given: { ...state.given, [field.path]: randomText() } });
  },
  away(form, button) {
    const { path, input } = form.fields.around(button);
    putFile(form, path, '', '');
    form.hooks.tell('file.away');
    input.focus();
  },
};

function addCard(form, button, list) {
  const before = form.snapshot();
  const after = form.lists.cards(list).length < form.lists.most(list) && addRow(before, list.dataset.list);
  if (!after) return form.hooks.tell('most');
  form.step(null, before);
  form.lists.fit(list, after.rows[list.dataset.list]);
  form.fields.showUnits();
  form.changed();
  form.lists.cards(list).at(-1).querySelector('input').focus(); // whoever hears of it reads what is kept
}

// down goes from a reading to the one below it, and makes the row that is missing. From the last row, or from an empty one behind the
// others, it goes to the top of the next column, and from the last column to whatever is behind the list.
export function down(form, field) {
  const list = field.element.closest('fieldset.list');
  const columns = (card) => [...card.querySelectorAll('[data-down] > .entry > input')];
  const column = columns(field.card).indexOf(field.input);
  const row = Number(field.card.dataset.row);
  const cards = form.lists.cards(list);
  if (row + 1 < cards.length) return columns(cards[row + 1])[column].focus();
  if (column === 0 && field.input.value.trim() !== '' && row + 1 < form.lists.most(list)) return addCard(form, null, list);
  const next = columns(cards[0])[column + 1] ?? inputBehind(form, list);
  if (next) next.focus();
  else field.input.blur();
  if (row === 0 || !isEmpty(field.card)) return;
  form.lists.cut(list, row);
  form.changed();
}

// inputBehind returns the next input that is shown behind a part of the form.
const inputBehind = (form, part) =>
  inputsOf(form).find((input) => part.compareDocumentPosition(input) & Node.DOCUMENT_POSITION_FOLLOWING && !part.contains(input));

// inputsOf returns the texts of a form that are shown.
export const inputsOf = (form) =>
  [...form.element.querySelectorAll('input[type="text"], .lines')].filter((input) => input.offsetParent !== null);

// press does what a button of the answer says: sets fields, and shows a part of the answer alone, or all of it again.
function press(form, button) {
  const { set, alone } = button.dataset;
  const { shown } = form;
  const part = button.closest('.body > *, .slot > *');
  const { at } = part.dataset;
  if (alone) shown.alone = alone === 'yes';
  if (shown.alone) form.hooks.hush();
  if (set) form.set(JSON.parse(set));
  else {
    form.save(); // what is hidden loses the focus, and whoever hears of that reads what is kept
    shown.spread();
  }
  if (alone) {
    const to = shown.alonePart() ?? form.section.querySelector('[data-alone="yes"]');
    if (to) lookAt(to);
  } else if (!button.isConnected || part.dataset.at !== at) {
    // The button is gone, or the part shows another of its views (data-at): that is read from its top.
    part.scrollTop = 0;
    lookAt(part.isConnected ? part : form.body, { block: 'nearest' });
  }
}

// pick goes to the last row that was opened for a value, or opens one; again: opens another one.
function pick(form, name, value, again = false) {
  const list = form.lists.named(name);
  const cards = form.lists.cards(list);
  let card = cards.findLast((c) => !c.hidden && picked(c)?.value === value);
  // A row that was opened before and is still empty will do for another reading.
  if (!card || (again && !isEmpty(card))) {
    const before = form.snapshot();
    if (!addRow(before, name)) return form.hooks.tell('most');
    form.step(null, before);
    card = form.lists.add(list);
    card.querySelector(`input[value="${CSS.escape(value)}"]`).checked = true;
    nameCard(card);
    form.changed();
  }
  offerSame(form, card, value);
  if (entryOf(card)) openCard(form.lists, card); // where there is nothing to fill in the point that was tapped keeps the focus
}

// offerSame puts a key beside an empty reading that is called like a field of the form: what that field holds need not be typed again.
function offerSame(form, card, name) {
  const entry = card.querySelector('.f-reading > .entry');
  entry?.querySelector('.same')?.remove();
  const field = form.fields.at(name);
  const text = field?.input.value.trim();
  if (!entry || !text || !isEmpty(card)) return;
  const unit = form.fields.unitOf(field);
  const sign = entry.querySelector(`.units input[value="${CSS.escape(unit)}"]`)?.nextElementSibling.textContent ?? unit;
  const key = Object.assign(document.createElement('button'), { type: 'button', className: 'key same' });
  key.dataset.put = text;
  key.dataset.unit = unit;
  key.textContent = form.hooks.word('same', `${text}\u00a0${sign}`);
  entry.append(key);
}

const MINUS = /^\s*[-\u2212]/;

// put writes what a key beside a field says, such as OL; the key ± changes the sign.
function put(form, key) {
  const field = form.fields.around(key);
  const { element, input } = field;
  const text = key.dataset.put;
  const card = key.closest('.card.picked');
  if (input.value === text) {
    if (card) form.lists.unfold(card); // the word that was chosen already
    return;
  }
  form.step();
  if (text === 'sign') {
    input.value = MINUS.test(input.value) ? input.value.replace(MINUS, '') : `\u2212${input.value}`;
    input.focus();
  } else {
    input.value = text;
    const radio = field.radios.find(({ value }) => value === key.dataset.unit);
    if (radio) radio.checked = true;
    showWord(field);
    if (card) form.lists.unfold(card);
  }
  element.classList.add('touched');
  form.changed();
}
