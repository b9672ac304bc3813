// Places on a plate that is drawn in the answer: tapped, or walked to with the arrow keys. Each place is a row of a list in the form.
//
// The answer's <svg data-plate="LIST" data-window="x0 y0 x1 y1" data-inner="x0 y0 x1 y1" data-step="5" data-fill=""> shows the part of
// the plate that is its window; y runs upwards there. It is drawn in the rectangle inner, in units of the viewBox. A place is a
// <g data-bolt="ROW" data-at="x y">. Places that are no rows yet, as those of a pattern, become rows when the keys in data-fill are set.
// Beside the plate may be pens, <button data-pen='{"KEY":"TEXT"}'>: while one is in the hand, a tap on a place writes these keys into
// its row, or takes them off again.
import { freeRow } from './rows.js';
import { paint, setText } from './paint.js';
import { lookAt } from './shown.js';

const FINGER = 22; // pixels: a tap within them is meant for the place there
const DRIFT = 8; // pixels: a pointer that went farther was no tap
const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

export class Plates {
  // form is the Form whose places these are.
  constructor(form) {
    this.form = form;
    this.tap = null; // the pointer that came down on a plate and has not moved since
    this.cross = null; // where the arrow keys have walked to: {list, at}
    this.pen = null; // the pen in the hand: {list, keys}, keys as the button has them
    this.marked = new Map(); // by list: what its rows were named and marked for, see markOpen
    for (const list of form.lists.plated()) {
      // While the rows are in view, the plate stays in view too.
      new IntersectionObserver(([entry]) => form.section.classList.toggle('placing', entry.isIntersecting)).observe(list);
    }
    const on = (name, act) => form.section.addEventListener(name, act);
    on('pointerdown', (e) => this.down(e));
    on('pointermove', ({ pointerId, clientX, clientY }) => {
      if (this.tap?.id === pointerId && Math.hypot(clientX - this.tap.x, clientY - this.tap.y) > DRIFT) this.tap = null;
    });
    on('pointercancel', () => (this.tap = null));
    on('keydown', (e) => this.key(e));
    on('focusin', ({ target }) => target.matches('[data-plate]:focus-visible') && this.walk(target, [0, 0], false));
    on('focusout', ({ target, relatedTarget }) => {
      if (!target.matches('[data-plate]') || relatedTarget === target) return;
      this.lift();
      this.cross = null;
    });
  }

  down(e) {
    const plate = e.target.closest('[data-plate]');
    this.tap = plate && e.isPrimary && e.button === 0 ? { id: e.pointerId, x: e.clientX, y: e.clientY } : null;
  }

  // find returns the plate of a list, if the answer has one.
  find(list) {
    return this.partOf(list)?.node.querySelector('[data-plate]');
  }

  partOf(list) {
    return this.form.shown.parts.find(({ slot, node }) => slot === list && node.querySelector('[data-plate]'));
  }

  // click returns true if a click was a plate's. A click that no pointer made, as by a screen reader, does the same as Enter.
  click(e) {
    const plate = e.target.closest('[data-plate]');
    const { tap } = this;
    this.tap = null;
    if (!plate) return false;
    const own = e.target.closest('[data-bolt]');
    if (!tap) {
      if (e.detail === 0) this.enter(plate, own);
      return true;
    }
    const near = nearest(plate, e, own);
    if (near) this.use(plate, near, false);
    else this.place(plate, snapped(plate, seenAt(plate, e)), false);
    return true;
  }

  key(e) {
    const plate = e.target.closest('[data-plate]');
    if (!plate || e.ctrlKey || e.altKey || e.metaKey) return;
    const bolt = e.target.closest('[data-bolt]');
    const step = STEPS[e.key];
    if (step && bolt) this.move(plate, bolt, step);
    else if (step) this.walk(plate, step, true);
    else if ((e.key === 'Enter' || e.key === ' ') && !e.repeat) this.enter(plate, bolt);
    else if ((e.key === 'Delete' || e.key === 'Backspace') && bolt) this.takeAway(plate, bolt);
    else return;
    e.preventDefault();
  }

  // enter does what a tap on the place does, or makes a place where the cross is.
  enter(plate, bolt) {
    const { at } = this.crossOn(plate);
    const there = bolt ?? boltAt(plate, at);
    if (there) this.use(plate, there, true);
    else this.place(plate, at, true);
  }

  // ---- pens

  // take takes a pen into the hand, or puts it down.
  take(button) {
    const list = this.listOf(button);
    const keys = button.dataset.pen;
    this.pen = this.pen?.list === list && this.pen.keys === keys ? null : { list, keys };
    this.markPens();
  }

  listOf(button) {
    return button.parentElement.closest(':has([data-plate])').querySelector('[data-plate]').dataset.plate;
  }

  // markPens shows which pen is in the hand, as the answer is painted without that. A pen that is gone from the answer is let go.
  markPens() {
    let held = false;
    for (const button of this.form.section.querySelectorAll('[data-pen]')) {
      const own = this.pen?.keys === button.dataset.pen && this.pen.list === this.listOf(button);
      held ||= own;
      if (button.ariaPressed !== String(own)) button.ariaPressed = String(own);
    }
    if (!held) this.pen = null;
  }

  // penFor returns the keys of the pen in the hand, if it is one for the list.
  penFor(list) {
    return this.pen?.list === list ? JSON.parse(this.pen.keys) : null;
  }

  // mark writes the pen's keys into a place's row, or empties them if the row has them already; spoken: it is said what the place
  // is now.
  mark(plate, bolt, pen, spoken) {
    if (locked(plate)) return;
    const { list, fill } = dataOf(plate);
    const row = bolt.dataset.bolt;
    const keys = Object.entries(pen).map(([key, text]) => [`${list}.${row}.${key}`, text]);
    const has = keys.every(([key, text]) => (fill ? fill[key] === text : this.form.fields.has(key, text)));
    const texts = Object.fromEntries(keys.map(([key, text]) => [key, has ? '' : text]));
    this.steady(plate, () => this.form.set({ ...fill, ...texts }));
    if (!spoken) return;
    const marked = this.find(list)?.querySelector(`[data-bolt="${CSS.escape(row)}"]`);
    this.form.hooks.say(marked?.getAttribute('aria-label') ?? '', 'cross');
  }

  // ---- what is done to places

  // use does what a place is tapped for.
  use(plate, bolt, spoken) {
    const pen = this.penFor(plate.dataset.plate);
    if (pen) this.mark(plate, bolt, pen, spoken);
    else this.open(plate, bolt);
  }

  // open shows the row of a place. Places that are no rows yet become rows first.
  open(plate, bolt) {
    const { list: name, fill } = dataOf(plate);
    if (fill && locked(plate)) return;
    if (fill) this.form.set(fill);
    const card = this.form.lists.cards(this.form.lists.named(name))[Number(bolt.dataset.bolt)];
    if (!card) return;
    this.openCard(card);
    lookAt(card, { block: 'nearest' });
  }

  openCard(card) {
    this.form.lists.unfold(card);
    this.markOpen();
  }

  // markOpen gives each row the name that its place has in the drawing, and marks the place whose row is shown; all that only where
  // drawing, rows or the row that is shown are others than before.
  markOpen() {
    for (const list of this.form.lists.plated()) {
      const cards = this.form.lists.cards(list);
      const part = this.partOf(list.dataset.list);
      const now = [part?.tree, part?.node, this.form.fields.all(), cards.findIndex((card) => card.matches('.open'))];
      if (this.marked.get(list)?.every((one, i) => one === now[i])) continue;
      this.marked.set(list, now);
      const unplaced = new Set(cards);
      for (const place of part?.node.querySelectorAll('[data-bolt]') ?? []) {
        const card = cards[place.dataset.bolt];
        const current = card?.matches('.open') ? 'true' : null;
        if (place.ariaCurrent !== current) place.ariaCurrent = current;
        if (!card) continue;
        unplaced.delete(card);
        setText(card.querySelector('.placed-name'), place.getAttribute('aria-label'));
      }
      for (const card of unplaced) setText(card.querySelector('.placed-name'), '');
    }
  }

  // place makes a place; spoken: that is said.
  place(plate, at, spoken) {
    if (locked(plate)) return;
    const there = boltAt(plate, at);
    if (there) return this.use(plate, there, spoken);
    const { list, fill } = dataOf(plate);
    this.steady(plate, () => {
      if (this.addRow(list, fill ?? {}, { ...this.texts(at), ...this.penFor(list) }) && spoken) this.say('placed', at);
    });
  }

  // addRow writes texts into the first row that holds nothing; keys are what else is to be set. It returns false if the list is full.
  addRow(name, keys, texts) {
    const { form } = this;
    const list = form.lists.named(name);
    const row = freeRow({ given: { ...form.snapshot().given, ...keys } }, name);
    if (row >= form.lists.most(list)) {
      form.hooks.tell('most');
      return false;
    }
    form.lists.unfold(null, list);
    form.set({ ...keys, ...Object.fromEntries(Object.entries(texts).map(([key, text]) => [`${name}.${row}.${key}`, text])) });
    return true;
  }

  // move moves a place by a step; a run of them is one step of undo.
  move(plate, bolt, [x, y]) {
    if (locked(plate)) return;
    const { list, fill, step } = dataOf(plate);
    const row = bolt.dataset.bolt;
    const from = placeOf(bolt);
    const at = inWindow(plate, [from[0] + x * step, from[1] + y * step]);
    const axis = x ? 'x' : 'y'; // the other stays as it was written
    this.steady(plate, () => this.form.set({ ...fill, [`${list}.${row}.${axis}`]: this.texts(at)[axis] }, `${list}.${row}:move`));
    this.say('cross', at);
  }

  takeAway(plate, bolt) {
    if (locked(plate)) return;
    const { list, fill } = dataOf(plate);
    if (fill) this.form.set(fill);
    this.form.removeRow(this.form.lists.named(list), Number(bolt.dataset.bolt), fill !== null);
  }

  // steady does something and keeps the plate where it is on the screen, even if the answer above it is now longer or shorter: the
  // next tap is already on its way there.
  steady(plate, act) {
    const top = () => this.find(plate.dataset.plate)?.getBoundingClientRect().top;
    const before = top();
    act();
    const moved = top() - before;
    if (!moved) return;
    const { body } = this.form;
    if (getComputedStyle(body).overflowY === 'auto' && body.contains(plate)) body.scrollTop += moved;
    else scrollBy(0, moved);
  }

  // texts returns the fields of a place, in the contract's unit, as a link writes them.
  texts([x, y]) {
    return { x: plain(x), y: plain(y) };
  }

  // ---- the cross

  crossOn(plate) {
    const { list, window: [x0, y0, x1, y1] } = dataOf(plate);
    if (this.cross?.list !== list) this.cross = { list, at: snapped(plate, [(x0 + x1) / 2, (y0 + y1) / 2], [0, 0]) };
    return this.cross;
  }

  // walk moves the cross by a step; spoken: it is said where it is now, or which place is there.
  walk(plate, [x, y], spoken) {
    const { step } = dataOf(plate);
    const cross = this.crossOn(plate);
    // Places that are off the steps are not passed by.
    if (x) cross.at = snapped(plate, [cross.at[0] + x * step, cross.at[1]], [0.5, null]);
    if (y) cross.at = snapped(plate, [cross.at[0], cross.at[1] + y * step], [null, 0.5]);
    this.lay();
    const there = boltAt(plate, cross.at);
    if (spoken && there) this.form.hooks.say(there.getAttribute('aria-label'), 'cross');
    else if (spoken) this.say('cross', cross.at);
  }

  // say says a place, in the reader's numbers.
  say(key, at) {
    this.form.hooks.say(this.form.hooks.word(key, ...at.map((v) => this.form.hooks.number(v, { maximumFractionDigits: 2 }))), key);
  }

  // lay draws the cross where it is, and lift takes it away, as the answer is painted without it.
  lay() {
    this.lift();
    const plate = document.activeElement;
    if (!this.cross || plate.dataset?.plate !== this.cross.list) return;
    const [x, y] = drawnAt(plate, this.cross.at);
    const [x0, y0, x1, y1] = dataOf(plate).inner;
    const d = `M${x0} ${y}H${x1}M${x} ${y0}V${y1}M${x - 12} ${y - 12}h24v24h-24z`;
    this.drawn = paint(['g', { class: 'reticle' }, ['path', { d }]]);
    this.drawn.dataset.cross = this.cross.at.map(plain).join(' ');
    plate.append(this.drawn);
  }

  lift() {
    this.drawn?.remove();
    this.drawn = null;
  }
}

const numbers = (text) => text.trim().split(/[\s,]+/).map(Number);
const locked = (plate) => plate.dataset.locked === 'yes';

// plain writes a coordinate as a link does: it returns a text.
const plain = (v) => String(Number(v.toFixed(4)));

function dataOf(plate) {
  const { plate: list, window, inner, step, fill } = plate.dataset;
  const [x0, ya, x1, yb] = numbers(inner);
  return {
    list,
    window: numbers(window),
    inner: [x0, Math.min(ya, yb), x1, Math.max(ya, yb)],
    step: Number(step),
    fill: fill ? JSON.parse(fill) : null,
  };
}

// drawnAt returns where a place is drawn, in units of the viewBox; placeFrom returns the place that is drawn there.
function drawnAt(plate, [x, y]) {
  const { window: [wx0, wy0, wx1, wy1], inner: [x0, y0, x1, y1] } = dataOf(plate);
  return [x0 + ((x - wx0) / (wx1 - wx0)) * (x1 - x0), y1 - ((y - wy0) / (wy1 - wy0)) * (y1 - y0)];
}

function placeFrom(plate, [x, y]) {
  const { window: [wx0, wy0, wx1, wy1], inner: [x0, y0, x1, y1] } = dataOf(plate);
  return [wx0 + ((x - x0) / (x1 - x0)) * (wx1 - wx0), wy0 + ((y1 - y) / (y1 - y0)) * (wy1 - wy0)];
}

// seenAt returns the place under a pointer, in the window.
function seenAt(plate, { clientX, clientY }) {
  const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(plate.getScreenCTM().inverse());
  return inWindow(plate, placeFrom(plate, [x, y]));
}

function inWindow(plate, [x, y]) {
  const [x0, y0, x1, y1] = dataOf(plate).window;
  return [Math.min(Math.max(x, x0), x1), Math.min(Math.max(y, y0), y1)];
}

// placeOf returns where a place is.
const placeOf = (bolt) => numbers(bolt.dataset.at);

const boltsOn = (plate) => [...plate.querySelectorAll('[data-bolt]')];

// boltAt returns the place that lies exactly there, if there is one.
function boltAt(plate, at) {
  return boltsOn(plate).find((bolt) => {
    const [x, y] = placeOf(bolt);
    return plain(x) === plain(at[0]) && plain(y) === plain(at[1]);
  });
}

// nearest returns the place that a tap is meant for: the nearest one within a finger's width, or the one that was hit.
function nearest(plate, { clientX, clientY }, own) {
  const ctm = plate.getScreenCTM();
  let [best, least] = [own, own ? Infinity : FINGER];
  for (const bolt of boltsOn(plate)) {
    const { x, y } = new DOMPoint(...drawnAt(plate, placeOf(bolt))).matrixTransform(ctm);
    const far = Math.hypot(x - clientX, y - clientY);
    if (far <= least) [best, least] = [bolt, far];
  }
  return best;
}

// snapped moves a place onto the grid of steps, or in line with another place if one is near enough: within says for each axis how
// many steps away it may be. null leaves the axis as it is.
function snapped(plate, at, within = [0.5, 0.5]) {
  const { step } = dataOf(plate);
  const others = boltsOn(plate).map((bolt) => placeOf(bolt));
  return inWindow(plate, at.map((v, axis) => {
    if (within[axis] === null) return v;
    let [best, least] = [Math.round(v / step) * step, within[axis] * step];
    for (const other of others) {
      const far = Math.abs(other[axis] - v);
      if (far <= least) [best, least] = [other[axis], far];
    }
    return best;
  }));
}
