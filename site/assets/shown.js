// The answer as it is shown: the head (the verdict, in the strip that stays in view) and the parts of the body. On a narrow
// screen some parts stand in slots in the form, beside what they belong to. A part can be shown alone, with all else hidden.
import { alike, paint, repaint } from './paint.js';

export const wide = matchMedia('(min-width: 60rem)'); // as in style.css

export class Shown {
  // form is the Form whose answer this is.
  constructor(form) {
    this.form = form;
    this.section = form.section;
    this.head = this.section.querySelector('.head');
    this.body = this.section.querySelector('.body');
    this.slots = [...this.section.querySelectorAll('form .slot')];
    this.parts = []; // {tree, node, slot}
    this.alone = false; // a part is shown alone
    this.paper = false; // the page is being printed
    this.isOurs = true; // nothing else has written into the answer since it was painted, such as a translator
    this.watch = new MutationObserver(() => (this.isOurs = false));
    for (const place of [this.head, this.body, ...this.slots]) {
      this.watch.observe(place, { subtree: true, childList: true, characterData: true });
    }
  }

  paintHead(tree) {
    if (this.headTree && this.head.firstChild) repaint(this.head.firstChild, this.headTree, tree);
    else this.head.replaceChildren(paint(tree));
    this.headTree = tree;
  }

  // paintBody changes the parts into those of a new answer. Parts that stay the same are left alone.
  paintBody(trees) {
    const before = [...this.parts];
    const unfolded = this.unfolded();
    const focused = this.focusedPoint();
    this.form.plates?.lift();
    this.parts = trees.map((tree) => {
      const at = before.findIndex((part) => alike(part.tree, tree) && part.tree[1].class === tree[1].class);
      if (at < 0) return { tree, node: paint(tree, unfolded), slot: tree[1]['data-slot'] };
      const [part] = before.splice(at, 1);
      return { ...part, tree, node: repaint(part.node, part.tree, tree, unfolded) };
    });
    this.spread(focused);
    this.form.plates?.lay();
    this.form.hand.keepInView();
    this.watch.takeRecords(); // of what was written here
    this.isOurs = true;
  }

  // stands reports whether the answer stands on the page as it was painted.
  stands() {
    this.isOurs &&= this.watch.takeRecords().length === 0;
    return this.isOurs;
  }

  // unfolded returns a function that returns what is unfolded in the answer. It looks when it is first called: most answers put nothing
  // new in place of what is there.
  unfolded() {
    let open = null;
    const look = () => [...this.section.querySelectorAll('.body details[open], .slot details[open]')];
    return () => (open ??= look().map((details) => details.dataset.keep));
  }

  // focusedPoint describes the point of the answer that has the focus: a selector for it, and the slot or body that it is in.
  focusedPoint() {
    const point = document.activeElement;
    if (point.dataset?.value === undefined) return undefined;
    const { value, bolt } = point.dataset;
    const selector = bolt === undefined ? `[data-value="${CSS.escape(value)}"]` : `[data-plate] [data-bolt="${CSS.escape(bolt)}"]`;
    return { selector, place: point.closest('.slot, .body') };
  }

  // alonePart returns the part that is shown alone, if there is one.
  alonePart() {
    return this.alone ? this.parts.find((part) => 'data-alone-part' in part.tree[1])?.node : undefined;
  }

  // spread puts the parts where they belong. On a wide screen the answer stands beside the form, all of it together; so does a
  // part that is shown alone, on any screen. Paper is narrow.
  spread(focused = this.focusedPoint()) {
    const alone = this.alonePart() !== undefined;
    if (this.section.classList.contains('alone') !== alone) {
      this.section.classList.toggle('alone', alone);
      this.form.hooks.aloneChanged();
    }
    const together = !this.paper && (wide.matches || alone);
    const nodes = new Map([...this.slots, this.body].map((place) => [place, []]));
    for (const { slot, node } of this.parts) {
      nodes.get((together ? undefined : this.slots.find((place) => place.dataset.slot === slot)) ?? this.body).push(node);
    }
    for (const [place, inside] of nodes) fill(place, inside);
    if (focused?.place && !focused.place.contains(document.activeElement)) focused.place.querySelector(focused.selector)?.focus();
  }

  // start returns what to look at first: what is wrong if the question was refused, or else the answer.
  start() {
    const wrong = this.head.querySelector('[data-verdict="refused"]') && this.section.querySelector('form .wrong');
    const first = this.parts.find((part) => 'data-first' in part.tree[1])?.node;
    return this.alonePart() ?? (wrong || first || (this.slots.find((slot) => slot.firstChild) ?? this.body));
  }
}

// fill puts nodes into a place. Those that stand there in the right order are not moved: so they need no new layout, and keep
// the focus.
function fill(place, nodes) {
  if (place.childElementCount === nodes.length && nodes.every((node, i) => place.children[i] === node)) return;
  const kept = new Set(nodes);
  for (const node of [...place.children]) if (!kept.has(node)) node.remove();
  nodes.forEach((node, i) => {
    if (place.children[i] !== node) place.insertBefore(node, place.children[i] ?? null);
  });
}

// lookAt scrolls to an element and gives it the focus. The strip, which is as tall as its words, does not cover it.
export function lookAt(element, how = true) {
  const strip = element.closest('main > section')?.querySelector('.strip');
  if (strip) document.documentElement.style.scrollPaddingTop = `max(6.5rem, ${strip.offsetHeight + 4}px)`;
  if (!element.matches('button')) element.tabIndex = -1;
  element.scrollIntoView(how);
  element.focus({ preventScroll: true });
}
