// Sheets of a class that wait on this device while another one is in the form: what other students have done, and what a teacher has set
// out. Nothing that somebody has done is replaced without being kept here. They are a shelf (see shelf.js) whose entries have, beside the
// form's texts, what they are: whose work on which sheet, and the line that says so.
import { emptyForm } from './state.js';

const NAME = 'name'; // the field that says whose work it is
const OF = 'kept.of';
const WHOSE = 'kept.whose';
export const LINE = 'kept.line';

export class Works {
  // shelf() returns the entries, change(entries) keeps others and returns what went wrong; readLink and tell are app.js's.
  constructor(hooks) {
    Object.assign(this, hooks);
    this.former = null; // while a name is being corrected: what was there, see entered
  }

  // find returns the work on a sheet that was kept last, of one student or of anybody.
  find(of, whose) {
    return this.shelf().findLast(({ given }) => given[OF] === of && (!whose || given[WHOSE] === whose));
  }

  // putAway keeps what a form holds, if it is anybody's. It returns what went wrong: it is kept in the page alone then.
  putAway(form) {
    form.settle();
    form.answer();
    return form.kept ? this.change([...this.shelf(), entryOf(form)]) : '';
  }

  // goOn puts kept work into the form, and keeps what was there.
  goOn(form, entry) {
    this.former = null;
    const { [OF]: of, [WHOSE]: whose, [LINE]: line, ...given } = entry.given;
    const fault = form.begun || form.of !== of || form.whose !== whose ? this.putAway(form) : '';
    form.become({ ...emptyForm(), given: asBefore(given), units: entry.units });
    const left = this.change(this.shelf().filter((other) => other !== entry));
    this.told(fault || left, 'continued');
  }

  // opened opens a link of a sheet, and returns whether it did; key is that of a message, if there is to be one. Who has work on that sheet
  // here goes on; what was in the form is kept.
  opened(form, { of, whose, fields }, notes, key) {
    if (!form.marks) return false;
    form.answer();
    if (of && of === form.of && (!whose || whose === form.whose)) {
      this.tell('continued');
      return true;
    }
    const kept = of && this.find(of, whose);
    if (kept) this.goOn(form, kept);
    else this.replaced(form, form.kept ? 'works.kept' : key && 'works.opened', () => form.open(fields, notes));
    return true;
  }

  // another clears the sheet for the next student.
  another(form) {
    const { fields } = this.readLink(form.of);
    this.replaced(form, 'works.another', () => form.open(fields, []));
    [...form.element.querySelectorAll('input[type="text"]')].find((input) => input.offsetParent)?.focus();
  }

  // cleared empties the form, and returns whether there was something to keep.
  cleared(form) {
    if (!form.marks) return false;
    form.answer();
    if (!form.kept) return false;
    this.replaced(form, 'works.kept', () => form.become({ ...emptyForm(), rows: form.fields.begun() }));
    return true;
  }

  // met: a name was typed. Somebody who has work on this sheet here goes on with it.
  met(form) {
    if (this.former) return this.renamed(form);
    const kept = !form.begun && form.of && form.whose && this.find(form.of, form.whose);
    if (kept) this.goOn(form, kept);
  }

  // rename shows the field for a name that work hangs on, to be corrected. The style shows it as long as it has the focus.
  rename(form) {
    const { element, input } = form.fields.at(NAME);
    element.classList.add('naming');
    input.focus({ preventScroll: true });
    input.select();
    element.classList.remove('naming');
    element.scrollIntoView({ block: 'nearest' });
  }

  // entered: what is there as that field is gone into is what was there under the former name. The button for it says which fields another
  // name empties: what they hold followed from the former one's figures.
  entered(form, target) {
    const button = form.begun && form.section.querySelector('[data-do="rename"]');
    if (!button || target !== form.fields.at(NAME).input) return;
    const clears = button.dataset.clears.split(' ').map((path) => [path, '']);
    this.former = { entry: entryOf(form), state: form.last, clears: Object.fromEntries(clears) };
  }

  // renamed: work goes on under another name, with what was asked for. What was there under the former one is kept all the same: it may be
  // another student who typed. Whoever has work here under the new name goes on with that.
  renamed(form) {
    const { entry, state, clears } = this.former;
    this.former = null;
    const own = form.whose && form.whose !== entry.given[WHOSE] && this.find(form.of, form.whose);
    if (own || !form.whose) form.become(state); // work without a name would be nobody's
    if (own) this.goOn(form, own);
    else if (form.whose !== entry.given[WHOSE]) {
      form.set(clears, form.run);
      this.told(this.change([...this.shelf(), entry]), 'works.renamed');
    }
    this.entered(form, document.activeElement); // it may be typed again without the field being left
  }

  // left: the field for the name was left as it was.
  left(form) {
    if (this.former && !form.element.querySelector(':focus')) this.former = null;
  }

  // back: undo has brought work back that was put away.
  back(form) {
    const now = form.kept && JSON.stringify(entryOf(form));
    const others = this.shelf().filter((entry) => JSON.stringify(entry) !== now);
    if (others.length < this.shelf().length) this.change(others);
  }

  // replaced keeps what a form holds and puts something else in place; undo does not go back over that.
  replaced(form, key, put) {
    this.former = null;
    const fault = this.putAway(form);
    put();
    form.forgetPast();
    this.told(fault, key);
    form.section.scrollIntoView();
  }

  told(fault, key) {
    if (fault || key) this.tell(fault ? 'works.unkept' : key, Boolean(fault));
  }
}

// asBefore returns what was kept of a sheet. A student's has its way of drawing, as the link that it came from has had since there are two;
// what was kept before that is drawn in the first.
export const asBefore = (given) => (given.role === 'student' ? { drawing: '1', ...given } : given);

// entryOf is the work that a form holds, as an entry of the shelf.
const entryOf = ({ last: { given, units }, of, whose, kept }) => ({
  given: { ...given, [OF]: of, [WHOSE]: whose, [LINE]: kept },
  units,
});
