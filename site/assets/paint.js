// Makes elements of the trees that the core answers with: ["tag", {"name": "value"}, kid, …]. A text stays a text: nothing in
// it becomes markup. A "details" whose data-keep is in open() is unfolded, and a "time" is written by the reader's clock.
import { told } from './clock.js';

const SVG = 'http://www.w3.org/2000/svg';
const DRAWN = new Set(['svg', 'g', 'path', 'circle', 'rect', 'text', 'line']);
const OWN = ['data-value', 'data-keep', 'data-slot']; // say what an element is for; two that differ in them are never the same one

const none = () => [];

export function paint(tree, open = none) {
  if (typeof tree === 'string') return document.createTextNode(tree);
  const [tag, attributes, ...kids] = tree;
  const element = DRAWN.has(tag) ? document.createElementNS(SVG, tag) : document.createElement(tag);
  for (const name in attributes) element.setAttribute(name, attributes[name]);
  for (const kid of kids) element.append(paint(kid, open));
  if (tag === 'details' && open().includes(attributes['data-keep'])) element.open = true;
  if (tag === 'time') element.textContent = told(attributes.datetime);
  return element;
}

// repaint changes a node that shows one tree (was) into one that shows another, and returns it: the same node, changed where the
// trees differ, or a new one in its place. A node that something else has changed, such as a translator, is replaced.
export function repaint(node, was, tree, open = none) {
  if (was === tree && typeof tree !== 'string') return node; // a text comes here only if something else stands in its place
  if (typeof tree === 'string' || typeof was === 'string' || !alike(was, tree)) return anew(node, tree, open);
  if (tree[0] === 'time' && was[1].datetime === tree[1].datetime) return node;
  if (tree[0] === 'time' || node.childNodes.length !== was.length - 2) return anew(node, tree, open);
  if ('data-late' in tree[1] && was[1]['data-code'] === tree[1]['data-code']) late(was, tree);
  const [before, after] = [was[1], tree[1]];
  for (const name in after) if (after[name] !== before[name]) node.setAttribute(name, after[name]);
  for (const name in before) if (!(name in after)) node.removeAttribute(name);
  if (node.type === 'radio') node.checked = 'checked' in tree[1]; // once someone has chosen, the attribute no longer says so
  let kid = node.firstChild;
  for (let i = 2; i < tree.length; i++) {
    if (i >= was.length) {
      node.append(paint(tree[i], open));
      continue;
    }
    const next = kid.nextSibling;
    if (typeof tree[i] === 'string' && kid.nodeType === Node.TEXT_NODE && kid.data === was[i]) {
      if (tree[i] !== was[i]) kid.data = tree[i];
    } else {
      repaint(kid, was[i], tree[i], open);
    }
    kid = next;
  }
  for (let i = tree.length; i < was.length; i++) node.lastChild.remove();
  return node;
}

// late makes a tree whose kids follow a moment later keep those that are shown.
function late(was, tree) {
  tree.splice(2, tree.length, ...was.slice(2));
}

// alike reports whether the element of one tree can be changed into that of another.
export const alike = (was, tree) => was[0] === tree[0] && OWN.every((name) => was[1][name] === tree[1][name]);

function anew(node, tree, open) {
  const made = paint(tree, open);
  node.replaceWith(made);
  return made;
}

// setText writes a text into an element, unless it stands there already. A text in place of another leaves the node: a new one would
// make the browser work out anew what depends on whether the element is empty.
export function setText(element, text) {
  const { firstChild } = element;
  if (firstChild?.nodeType === Node.TEXT_NODE && !firstChild.nextSibling && text !== '') {
    if (firstChild.data !== text) firstChild.data = text;
  } else if (element.textContent !== text) element.textContent = text;
}
