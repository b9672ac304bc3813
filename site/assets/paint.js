// Makes elements of the trees that the core answers with: ["tag", {"name": "value"}, kid, …]. A text is a text whatever
// is in it. A "details" whose data-keep is in open is unfolded.
const SVG = 'http://www.w3.org/2000/svg';
const DRAWN = new Set(['svg', 'g', 'path', 'circle', 'rect', 'text', 'line']);

export function paint(tree, open = []) {
  if (typeof tree === 'string') return document.createTextNode(tree);
  const [tag, attributes, ...kids] = tree;
  const element = DRAWN.has(tag) ? document.createElementNS(SVG, tag) : document.createElement(tag);
  for (const name in attributes) element.setAttribute(name, attributes[name]);
  for (const kid of kids) element.append(paint(kid, open));
  if (open.includes(attributes['data-keep'])) element.open = true;
  return element;
}
