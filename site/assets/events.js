// What happens to a form: typing, going from field to field, folding, tapping.
import { showDeep } from './fields.js';
import { FileText, take } from './file.js';
import { stampHandedIn } from './share.js';
import { wide } from './shown.js';
import { down, inputsOf, once, tap } from './taps.js';

const LONG = 50_000; // characters of a file: so long a text is not answered at each keystroke

// listen makes a form hear what happens on the page.
export function listen(form) {
  const { element, section } = form;
  element.addEventListener('input', (e) => typed(form, e));
  element.addEventListener('change', (e) => settled(form, e));
  element.addEventListener('focusout', (e) => left(form, e));
  element.addEventListener('focusin', (e) => entered(form, e));
  element.addEventListener('keydown', (e) => onward(form, e));
  element.addEventListener('toggle', () => form.last && form.save(), true);
  element.addEventListener('submit', (e) => e.preventDefault());
  section.addEventListener('click', (e) => once(form, e), true);
  section.addEventListener('keydown', (e) => e.repeat && e.target.closest('[data-once]') && e.preventDefault());
  section.addEventListener('click', (e) => tap(form, e));
  // The link to hand in can be copied or dragged off the page as well: whoever is about to has the time in it.
  for (const name of ['pointerdown', 'focusin', 'contextmenu', 'copy']) {
    section.addEventListener(name, ({ target }) => target.closest?.('.p-hand_in a') && stampHandedIn(form));
  }
  wide.addEventListener('change', () => form.shown.spread());
  form.body.addEventListener('toggle', ({ target }) => target.open && 'lazy' in target.dataset && form.unfolded(), true);
}

function typed(form, e) {
  const field = form.fields.around(e.target);
  if (!field || field.input instanceof FileText) return;
  if (e.target === field.slide?.range) return form.hand.slid(field);
  form.hooks.typing(form);
  form.settleFrame();
  form.step(`${field.path}:${e.target.type}`, form.last);
  if (field.choice) showDeep(field);
  if (e.target.type === 'radio') form.fields.showUnits();
  if (!field.element.matches('.touched')) field.element.classList.add('touched');
  if (!form.fields.files().some((f) => f.input.value.length > LONG)) return form.changed('hasty');
  // A long text takes a moment to answer: it is done once the typing pauses.
  form.save();
  form.settleAfterPause();
}

// settled takes the file that was picked, or what was typed where a text can be pasted. Anything else is answered now: a slider
// that is let go is.
function settled(form, { target }) {
  const field = target.closest('.f-file') && form.fields.around(target);
  if (!field) {
    form.settle();
    form.hooks.settled(form);
  } else if (target.type === 'file') take(form, field, target.files[0]);
  else if (target.value.trim() !== '') take(form, field, target.value);
}

// left: passing through a field without typing is no fault. That a needed one was left empty is told once something else was
// entered.
function left(form, { target }) {
  form.hooks.left(form);
  const field = target.closest?.('.field');
  if (!field || field.classList.contains('touched')) return;
  if (!target.matches('[aria-required]') || !form.element.querySelector('.touched')) return;
  field.classList.add('touched');
  form.answer();
}

// entered: a row that is folded opens once the focus comes into it. A key that a finger is on stays where it is: the row opens when
// the key has been pressed (see put).
function entered(form, { target }) {
  form.hooks.works.entered(form, target);
  const card = target.closest('.card:is(.picked, .placed)');
  if (card?.matches('.placed')) form.plates.openCard(card);
  if (!card?.matches('.picked') || !target.matches('.entry > input, .spoken > .key:focus-visible')) return;
  form.lists.unfold(card);
  target.scrollIntoView({ block: 'nearest' });
}

// onward: Enter goes on to the next field, as the key of a phone's keypad says; in a list that is typed down its rows, to the next row.
function onward(form, e) {
  if (e.key !== 'Enter' || e.target.tagName !== 'INPUT' || e.target.type !== 'text') return;
  e.preventDefault();
  const field = form.fields.around(e.target);
  if (field?.element.matches('[data-down]')) return down(form, field);
  const inputs = inputsOf(form);
  const next = inputs[inputs.indexOf(e.target) + 1];
  if (!next) return e.target.blur();
  next.focus();
  if (document.activeElement === e.target) form.hooks.settled(form); // the next one is folded away: the focus stays, but this one is done
}
