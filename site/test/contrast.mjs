// The contrast of every text that is seen.
//
// The functions up to contrasts run in the page. They are written out there from their own texts, since a page takes one function.

// parse reads a colour as the browser gives it: red, green, blue, opacity; null for one of another kind.
function parse(c) {
  const m = /^rgba?\(([\d.]+),\s*([\d.]+),\s*([\d.]+)(?:,\s*([\d.]+))?\)$/.exec(c);
  if (!m) return null;
  return [Number(m[1]), Number(m[2]), Number(m[3]), m[4] === undefined ? 1 : Number(m[4])];
}

// over is a colour on a ground.
function over(top, below) {
  return [0, 1, 2].map((i) => top[i] * top[3] + below[i] * (1 - top[3])).concat(1);
}

// ratio is the contrast ratio of two colours: WCAG 2.2, relative luminance and contrast ratio as defined there.
function ratio(a, b) {
  const luminance = ([r, g, b]) => {
    const [R, G, B] = [r, g, b].map((v) => ((v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
    return 0.2126 * R + 0.7152 * G + 0.0722 * B;
  };
  const [x, y] = [luminance(a), luminance(b)].sort((p, q) => q - p);
  return (x + 0.05) / (y + 0.05);
}

// groundOf is what an element stands on. A ground that is no plain colour is mixed from what lies below it.
function groundOf(element) {
  const layers = [];
  for (let e = element; e; e = e.parentElement) {
    const c = parse(getComputedStyle(e).backgroundColor);
    if (c && c[3] > 0) layers.push(c);
    if (c && c[3] === 1) break;
  }
  let ground = [255, 255, 255, 1];
  for (const l of layers.reverse()) ground = over(l, ground);
  return ground;
}

// drawnGround is what a text in a drawing stands on: the shapes that contain its middle and come before it.
function drawnGround(element) {
  const svg = element.ownerSVGElement;
  let ground = groundOf(svg);
  const box = element.getBoundingClientRect();
  const inside = (shape, share) => {
    const p = svg.createSVGPoint();
    [p.x, p.y] = [box.x + box.width * share, box.y + box.height * 0.5];
    return shape.isPointInFill(p.matrixTransform(shape.getScreenCTM().inverse()));
  };
  for (const shape of svg.querySelectorAll('path, rect, circle')) {
    if (!(shape.compareDocumentPosition(element) & Node.DOCUMENT_POSITION_FOLLOWING)) continue;
    const fill = parse(getComputedStyle(shape).fill);
    if (!fill || fill[3] === 0) continue;
    if ([0.1, 0.5, 0.9].some((share) => inside(shape, share))) ground = over(fill, ground);
  }
  return ground;
}

// inkOn is the contrast of a colour on a ground; nothing where the element is not seen.
function inkOn(what, colour, ground, element) {
  let opacity = 1;
  for (let e = element; e; e = e.parentElement) opacity *= Number(getComputedStyle(e).opacity);
  if (opacity === 0) return [];
  return [{ what, ratio: ratio(over([colour[0], colour[1], colour[2], colour[3] * opacity], ground), ground) }];
}

function ofText(node) {
  const e = node.parentElement;
  const hidden = ['SCRIPT', 'STYLE', 'TEMPLATE', 'NOSCRIPT'].includes(e.tagName) || !e.checkVisibility({ visibilityProperty: true });
  if (!node.data.trim() || hidden) return [];
  const style = getComputedStyle(e);
  const drawn = e instanceof SVGElement;
  const colour = parse(drawn ? style.fill : style.color);
  if (!colour) return [{ what: `a colour that is not read: ${style.color}`, ratio: 0 }];
  const what = `${e.tagName.toLowerCase()}.${e.getAttribute('class') ?? ''} “${node.data.trim().slice(0, 30)}”`;
  return inkOn(what, colour, drawn ? drawnGround(e) : groundOf(e), e);
}

function ofInput(input) {
  if (!input.checkVisibility()) return [];
  if (input.value) return inkOn(`value of ${input.id}`, parse(getComputedStyle(input).color), groundOf(input), input);
  if (!input.placeholder) return [];
  const style = getComputedStyle(input, '::placeholder');
  const c = parse(style.color);
  return inkOn(`placeholder of ${input.id}`, [c[0], c[1], c[2], c[3] * Number(style.opacity)], groundOf(input), input);
}

function ofPart(e, part) {
  const style = getComputedStyle(e, part);
  if (!/^"[^"]*\S[^"]*"|counter/.test(style.content) || style.display === 'none' || !e.checkVisibility()) return [];
  const own = parse(style.backgroundColor);
  const ground = own && own[3] > 0 ? over(own, groundOf(e)) : groundOf(e);
  return inkOn(`${part} of ${e.tagName.toLowerCase()}.${e.getAttribute('class') ?? ''}`, parse(style.color), ground, e);
}

// contrasts are those of texts, of what is typed or stands in for it, and of what the style adds.
function contrasts() {
  const out = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let n = walker.nextNode(); n; n = walker.nextNode()) out.push(...ofText(n));
  for (const input of document.querySelectorAll('input[type="text"]')) out.push(...ofInput(input));
  for (const e of document.querySelectorAll('*')) out.push(...ofPart(e, '::before'), ...ofPart(e, '::after'));
  return out;
}

const functions = [parse, over, ratio, groundOf, drawnGround, inkOn, ofText, ofInput, ofPart, contrasts];

// measured is the contrast of every text that is seen, with what it stands on: [{what, ratio}].
export const measured = (page) => page.evaluate(`(() => { ${functions.join('\n')}\nreturn contrasts(); })()`);
