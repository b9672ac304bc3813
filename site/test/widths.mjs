// What a page does in a narrow window: texts that are cut or broken, and what makes it scroll sideways.

// lettersOf returns what sets the size of letters, as a reader does in the browser: in px, 16 if nobody has.
export async function lettersOf(page) {
  const client = await page.context().newCDPSession(page);
  await client.send('Page.enable');
  return (standard) => client.send('Page.setFontSizes', { fontSizes: { standard } });
}

// brokenOrCut runs in the page: words of labels, buttons, headings and verdicts that go over a line's end, and texts that are cut off.
export function brokenOrCut() {
  const hidden = (e) => !e.checkVisibility({ visibilityProperty: true }) || e.closest('.unseen, svg') || isClipped(e);
  const isClipped = (e) => e && (getComputedStyle(e).clipPath !== 'none' || isClipped(e.parentElement));
  const named = 'button, label, legend, summary, h1, h2, h3, #home-name, .button, .tile, .door, .choices a, .verdict, .echo, th';
  const out = new Set();
  for (const e of document.querySelectorAll(named)) {
    if (hidden(e)) continue;
    const texts = document.createTreeWalker(e, NodeFilter.SHOW_TEXT);
    for (let node = texts.nextNode(); node; node = texts.nextNode()) {
      if (hidden(node.parentElement)) continue;
      // A word may break at a soft hyphen; the hyphen that is then drawn counts for what follows it.
      for (const word of node.data.matchAll(/[^\s\u00a0\u00ad/–-]+/g)) {
        const range = document.createRange();
        range.setStart(node, word.index + (node.data[word.index - 1] === '\u00ad' ? 1 : 0));
        range.setEnd(node, word.index + word[0].length);
        const lines = new Set([...range.getClientRects()].filter((r) => r.width > 0).map((r) => Math.round(r.top)));
        if (lines.size > 1) out.add(`${e.tagName.toLowerCase()}.${e.className}: “${word[0]}” is broken, in “${node.data}”`);
      }
    }
  }
  for (const e of document.querySelectorAll(`${named}, #home-name, p, span, strong, small, li`)) {
    if (hidden(e) || e.textContent.trim() === '' || getComputedStyle(e).display === 'inline') continue;
    const { overflowX, overflowY } = getComputedStyle(e);
    const wide = overflowX !== 'auto' && e.scrollWidth > e.clientWidth + 2;
    const cut = wide || (overflowY === 'hidden' && e.scrollHeight > e.clientHeight + 2);
    const framed = e.matches('button, .button, .tile, .door, .verdict, span, strong') || overflowX === 'hidden';
    if (cut && framed) out.add(`${e.tagName.toLowerCase()}.${e.className}#${e.id}: “${e.textContent.trim().slice(0, 40)}” is cut`);
  }
  return [...out];
}

// tooWide runs in the page: what makes it wider than the screen.
export function tooWide(width) {
  const drawn = (e) => e instanceof SVGElement && e.ownerSVGElement;
  const over = [...document.querySelectorAll('body *')]
    .filter((e) => e.checkVisibility() && !drawn(e) && getComputedStyle(e).clipPath === 'none')
    .filter((e) => {
      const r = e.getBoundingClientRect();
      return r.width > 1 && r.left > -500 && (r.right > document.documentElement.clientWidth + 0.5 || r.left < -0.5);
    })
    .map((e) => {
      const name = `${e.tagName.toLowerCase()}.${e.getAttribute('class') ?? ''}#${e.id}`;
      return `${name} “${e.textContent.trim().slice(0, 20)}” to ${e.getBoundingClientRect().right.toFixed(0)}`;
    });
  const scroll = Math.max(document.documentElement.scrollWidth, document.body.scrollWidth);
  if (scroll <= width && innerWidth <= width && over.length === 0) return [];
  return [`${scroll} of ${width}: ${over.slice(0, 4).join(' | ')}`];
}

// overlapping runs in the page: labels of a drawing that lie on each other or reach out of it.
export function overlapping() {
  const out = [];
  for (const drawing of document.querySelectorAll('svg.drawing')) {
    if (!drawing.checkVisibility()) continue;
    const frame = drawing.getBoundingClientRect();
    const labels = [...drawing.querySelectorAll('text')].filter((t) => t.checkVisibility() && t.textContent.trim() !== '');
    const placed = labels.map((t) => ({ text: t.textContent, box: t.getBoundingClientRect() }));
    for (const [i, { text, box }] of placed.entries()) {
      if (box.left < frame.left - 1.5 || box.right > frame.right + 1.5) out.push(`“${text}” reaches out of its drawing`);
      for (const other of placed.slice(i + 1)) {
        const across = Math.min(box.right, other.box.right) - Math.max(box.left, other.box.left);
        const down = Math.min(box.bottom, other.box.bottom) - Math.max(box.top, other.box.top);
        if (across > 2 && down > 4) out.push(`“${text}” lies on “${other.text}”`);
      }
    }
  }
  return [...new Set(out)];
}
