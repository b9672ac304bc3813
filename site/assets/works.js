// Sheets of a class that wait on this device while another one is in the form: what other students have done, and what a teacher has set
// out. Nothing that somebody has done is replaced without being kept here. They are a shelf (see shelf.js) whose entries have, beside the
// form's texts, what they are: whose work on which sheet, and the line that says so.
import { emptyForm } from './state.js';

const OF = 'kept.of';
const WHOSE = 'kept.whose';
export const LINE = 'kept.line';

export class Works {
  // shelf() returns the entries, change(entries) keeps others and returns what went wrong; readLink and tell are app.js's.
  constructor(hooks) {
    Object.assign(this, hooks);
  }

  // find returns the work on a sheet that was kept last, of one student or of anybody.
  find(of, whose) {
    return this.shelf().findLast(({ given }) => given[OF] === of && (!whose || given[WHOSE] === whose));
  }

  // putAway keeps what a form holds, if it is anybody's. It returns what went wrong: it is kept in the page alone then.
  putAway(form) {
    form.settle();
    form.answer();
    if (!form.kept) return '';
    const { given, units } = form.last;
    return this.change([...this.shelf(), { given: { ...given, [OF]: form.of, [WHOSE]: form.whose, [LINE]: form.kept }, units }]);
  }

  // goOn puts kept work into the form, and keeps what was there.
  goOn(form, entry) {
    const { [OF]: of, [WHOSE]: whose, [LINE]: line, ...given } = entry.given;
    const fault = form.begun || form.of !== of || form.whose !== whose ? this.putAway(form) : '';
    form.become({ ...emptyForm(), given, units: entry.units });
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

  // met: somebody who has work on this sheet here has typed the name again.
  met(form) {
    const kept = !form.begun && form.of && form.whose && this.find(form.of, form.whose);
    if (kept) this.goOn(form, kept);
  }

  // replaced keeps what a form holds and puts something else in place; undo does not go back over that.
  replaced(form, key, put) {
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
