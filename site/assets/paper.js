// Paper shows everything: what is folded is opened for printing, and folded again after it.

// layOutForPaper lays out for printing what is shown; form() returns the form of the tool that is, if any.
export function layOutForPaper(form) {
  let folded = [];
  let focus = null;
  window.addEventListener('beforeprint', () => {
    focus = document.activeElement;
    form()?.print(true);
    const filled = '.entry > :is(input, .lines):not(:placeholder-shown)';
    folded = [...document.querySelectorAll('main > section:not([hidden]) details:not([open])')];
    folded = folded.filter((details) => details.closest('.body') || details.querySelector(filled));
    for (const d of folded) d.open = true;
  });
  window.addEventListener('afterprint', () => {
    for (const d of folded) d.open = false;
    form()?.print(false);
    focus?.focus({ preventScroll: true });
  });
}
