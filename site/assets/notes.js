// What the core says about single fields, shown beside them: what is wrong, and how a number was understood.
import { Clock, told } from './clock.js';
import { chosen, filled, signOf } from './fields.js';
import { picked } from './lists.js';
import { setText } from './paint.js';

const LONG = 400; // characters of a note that may not fit into its box, which then scrolls

// tellFolds writes on the line of each part of a form that can be folded what is entered in it.
function tellFolds(form) {
  for (const { line, fields } of form.fields.places().folds) setText(line, fields.filter(filled).map(toldOf).join(' · '));
}

// toldOf is what a field holds: a word or a bare count needs the field's name beside it.
function toldOf(field) {
  const name = field.element.querySelector(':scope > :is(legend, label)').textContent;
  if (field.choice) return `${name}: ${chosen(field).nextElementSibling.textContent}`;
  const sign = signOf(field);
  const text = field.input.value.trim();
  return sign && /\d/.test(text) ? `${text} ${sign}` : field.element.dataset.shape === 'number' ? `${name}: ${text}` : text;
}

// nameLine writes on the line that a card with a reading is folded to what was read, and where.
function nameLine({ reading, own, name, line: [named, value] }) {
  const word = reading?.words.find((key) => key.dataset.put === reading.input.value && !key.hidden);
  setText(named, name.textContent);
  setText(value, word ? word.textContent : reading ? [reading, ...own.filter(filled)].map(toldOf).join(' · ') : '');
}

// showNotes shows beside a form's fields what a reply says about them.
export function showNotes(form, reply) {
  const beside = placed(form, reply.notes ?? reply.errors ?? []);
  for (const field of form.fields.all()) showBeside(form, field, reply.echo?.[field.path] ?? '', beside.get(field.path));
  const places = form.fields.places();
  for (const one of places.picked) {
    const point = form.section.querySelector(`.point[data-value="${CSS.escape(picked(one.card)?.value ?? '')}"]`);
    setText(one.expected, point?.dataset.expected ?? '');
    nameLine(one);
  }
  tellFolds(form);
  const touched = form.element.querySelector('.touched') !== null;
  for (const note of places.notes) {
    // That a whole part is missing is said only once something else was entered.
    const notes = (beside.get(note.dataset.note) ?? []).filter((n) => touched || n.code !== 'missing');
    setText(note, textOf(notes));
  }
}

const textOf = (notes) => notes.map((note) => note.text).join(' ');

// showBeside leaves a field alone whose words stay: there may be hundreds of fields.
function showBeside(form, field, echo, notes) {
  if (field.slide) form.fields.stand(field);
  const clock = field.input instanceof Clock;
  if (!notes && !clock && field.said === echo) return;
  field.said = notes || clock ? null : echo;
  if (field.echo) setText(field.echo, clock ? told(field.input.value) : echo);
  const code = (notes ?? []).map((note) => note.code).join(' ');
  setText(field.note, textOf(notes ?? []));
  if (field.note.dataset.code !== code) field.note.dataset.code = code;
  const wrong = notes !== undefined;
  field.element.classList.toggle('wrong', wrong);
  if (field.input && field.input.ariaInvalid !== String(wrong)) field.input.ariaInvalid = String(wrong);
  // What is wrong must be seen: whatever it is folded away in is opened.
  for (let details = wrong && field.element.closest('details'); details; details = details.parentElement.closest('details')) {
    details.open = true;
  }
}

// placed sorts notes by the path of what they stand beside, as lists of {code, text}. Notes that have no such place are shown
// above the form.
function placed(form, notes) {
  const beside = new Map();
  const loose = [...form.stray];
  for (const { field: at, code, text, message } of notes) {
    const path = seenAt(form.fields, at);
    const field = form.fields.at(path);
    const note = { code, text: text ?? message };
    const own = form.element.querySelector(`[data-note="${CSS.escape(path)}"]:not([data-held] *)`);
    if ((!field || field.held) && !own) loose.push(note.text);
    else if (!field || !isEarly(form.fields, field, note)) beside.set(path, [...(beside.get(path) ?? []), note]);
  }
  const list = form.element.querySelector('.form-notes');
  const before = [...list.children].map((li) => li.textContent);
  if (before.join('\n') !== loose.join('\n')) list.replaceChildren(...loose.map(item));
  return beside;
}

function item(text) {
  const item = Object.assign(document.createElement('li'), { textContent: text });
  if (text.length > LONG) item.tabIndex = 0; // it scrolls within itself
  return item;
}

// seenAt returns the path beside which a note can be seen: the choice that a row was opened for is hidden, so that a note about it
// stands beside the row's input, or above the list if the row has none.
function seenAt(fields, path) {
  const field = fields.at(path);
  if (!field?.card?.matches('.picked') || !field.choice) return path;
  return fields.all().find((other) => other.card === field.card && other.input)?.path ?? path.split('.')[0];
}

// isEarly reports whether it is too early to say that a value is missing: the reader has not been there yet.
function isEarly(fields, field, note) {
  if (note.code !== 'missing' || field.element.classList.contains('touched') || field.deep) return false;
  return !(field.part && fields.holds(field.part) && !field.part.contains(document.activeElement));
}
