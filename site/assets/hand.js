// Sliders in the hand: what is moved is written into the field, and the drawing that it changes is kept in view meanwhile.
import { wide } from './shown.js';

const TURN = 8; // pixels that a finger goes along a slider before it is taken to move it

export class Hand {
  // form is the Form whose sliders these are.
  constructor(form) {
    this.form = form;
    this.touch = null; // the pointer that came down on a slider last: {unsure, from, x, y, at}
    this.moved = null; // the slider whose drawing is kept in view
    this.drawing = null; // that drawing
  }

  // listen: each time that a slider is taken into the hand is one step of undo. A finger that comes down on a slider may be about
  // to scroll the page: the number stays as it is until the finger goes along the slider, or up again.
  listen() {
    const { form } = this;
    const on = (name, act) => form.element.addEventListener(name, (e) => e.target.type === 'range' && act(e));
    on('pointerdown', ({ target, pointerType, clientX, clientY }) => {
      form.settle();
      form.run = null;
      this.touch = { unsure: pointerType === 'touch', from: target.value, x: clientX, y: clientY };
      if (document.activeElement !== target) document.activeElement.blur(); // a keyboard on the screen makes room
    });
    on('pointermove', ({ clientX, clientY }) => {
      const across = Math.abs(clientX - (this.touch?.x ?? clientX));
      if (this.touch?.unsure && across >= TURN && across > Math.abs(clientY - this.touch.y)) this.touch.unsure = false;
    });
    on('pointerup', ({ target }) => {
      if (!this.touch?.unsure) return;
      this.touch.unsure = false;
      if (this.touch.at === undefined) return;
      target.value = this.touch.at;
      this.slid(form.fields.around(target));
    });
    const elsewhere = ({ target }) => target !== this.moved && this.follow(null);
    document.addEventListener('pointerdown', elsewhere, true);
    form.section.addEventListener('focusin', elsewhere);
    for (const name of ['pointercancel', 'wheel']) form.section.addEventListener(name, () => this.follow(null), { passive: true });
  }

  // slid writes the number that a slider was moved to. The answer to it is worked out once for each frame.
  slid(field) {
    const { form } = this;
    if (this.touch?.unsure) {
      this.touch.at = field.slide.range.value;
      field.slide.range.value = this.touch.from;
      return;
    }
    form.hooks.hush();
    const run = `${field.path}:slide`;
    if (form.run !== run) form.settle();
    form.step(run, form.last);
    field.input.value = field.slide.write();
    field.element.classList.add('touched');
    form.fields.stand(field);
    this.follow(field.slide.range);
    form.settleNextFrame();
  }

  // follow keeps the drawing in view that a slider changes. On a narrow screen, if it would not be seen, it is fixed above or below
  // the slider, wherever there is more room; on a wide one the answer is scrolled to it. null: no slider is moved any more.
  follow(range) {
    const { body } = this.form;
    const live = body.querySelector(':scope > .live');
    if (range && this.moved === range && this.drawing === live) return;
    this.moved = range;
    this.drawing = live;
    if (!live) return;
    if (!range) this.letGo(live);
    else if (!live.dataset.beside) this.bringIntoView(live, range);
  }

  // keepInView does so for the drawing of a new answer.
  keepInView() {
    if (this.moved) this.follow(this.moved);
  }

  letGo(live) {
    if (!live.dataset.beside) return;
    delete live.dataset.beside;
    this.form.body.style.removeProperty('padding-top');
  }

  bringIntoView(live, range) {
    const { body, section } = this.form;
    const strip = section.querySelector('.strip').getBoundingClientRect().bottom;
    const { top, bottom, height } = live.getBoundingClientRect();
    if (top >= strip && bottom <= innerHeight) return;
    if (wide.matches) {
      body.scrollTop += top - body.getBoundingClientRect().top;
      return;
    }
    const at = range.getBoundingClientRect();
    const above = at.top - strip;
    const below = innerHeight - at.bottom;
    section.style.setProperty('--strip', `${strip}px`);
    section.style.setProperty('--room', `${Math.max(above, below)}px`);
    body.style.paddingTop = `${height}px`;
    live.dataset.beside = above > below ? 'above' : 'below';
  }
}
