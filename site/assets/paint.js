// Makes elements of the trees that the core answers with: ["tag", {"name": "value"}, kid, …]. A text is a text whatever
// is in it.
const SVG = 'http://www.w3.org/2000/svg';
const DRAWN = new Set(['svg', 'g', 'path', 'circle', 'rect', 'text', 'line']);

// paint makes an element. What is folded in a "details" is made when it is first unfolded, unless its data-keep is in
// open; fill() makes it at once.
export function paint(tree, open = []) {
  if (typeof tree === 'string') return document.createTextNode(tree);
  const [tag, attributes, ...kids] = tree;
  const element = DRAWN.has(tag) ? document.createElementNS(SVG, tag) : document.createElement(tag);
  for (const name in attributes) element.setAttribute(name, attributes[name]);
  if (tag !== 'details') {
    for (const kid of kids) element.append(paint(kid, open));
    return element;
  }
  const [summary, ...folded] = kids;
  element.append(paint(summary));
  element.fill = () => {
    element.append(...folded.splice(0).map((kid) => paint(kid, open)));
  };
  element.addEventListener('toggle', element.fill, { once: true });
  if (open.includes(attributes['data-keep'])) {
    element.fill();
    element.open = true;
  }
  return element;
}
