// Makes elements of the trees that the core answers with: ["tag", {"name": "value"}, kid, …]. A text is a text whatever
// is in it. A "details" whose data-keep is in open is unfolded.
const SVG = 'http://www.w3.org/2000/svg';
const DRAWN = new Set(['svg', 'g', 'path', 'circle', 'rect', 'text', 'line']);
const OWN = ['data-value', 'data-keep', 'data-slot']; // what an element is for: one that is for something else is another

export function paint(tree, open = []) {
  if (typeof tree === 'string') return document.createTextNode(tree);
  const [tag, attributes, ...kids] = tree;
  const element = DRAWN.has(tag) ? document.createElementNS(SVG, tag) : document.createElement(tag);
  for (const name in attributes) element.setAttribute(name, attributes[name]);
  for (const kid of kids) element.append(paint(kid, open));
  if (open.includes(attributes['data-keep'])) element.open = true;
  return element;
}

// repaint makes of a node that shows a tree one that shows another, and returns it: the same node with what differs changed in
// it, or a new one in its place. A node that something else has changed, as a translator does, is made anew.
export function repaint(node, was, tree, open = []) {
  if (was === tree) return node;
  if (typeof tree === 'string' || typeof was === 'string' || !alike(was, tree) || node.childNodes.length !== was.length - 2) return anew(node, tree, open);
  const [before, after] = [was[1], tree[1]];
  for (const name in after) if (after[name] !== before[name]) node.setAttribute(name, after[name]);
  for (const name in before) if (!(name in after)) node.removeAttribute(name);
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

// alike says whether the element of one tree will do for another.
export const alike = (was, tree) => was[0] === tree[0] && OWN.every((name) => was[1][name] === tree[1][name]);

function anew(node, tree, open) {
  const made = paint(tree, open);
  node.replaceWith(made);
  return made;
}
