// The markup of the tools' forms. It stays text until a form is shown: there are a dozen, and parsing them all delays the first answer.

// parsed parses this page's own markup.
function parsed(text) {
  const holder = document.createElement('template');
  holder.innerHTML = text;
  return holder.content;
}

class Markup {
  constructor(script) {
    this.script = script;
    this.title = script.title;
    this.jobless = 'jobless' in script.dataset;
  }

  // made returns a new element from this page's own markup.
  made() {
    return parsed(this.script.textContent).firstElementChild;
  }
}

// markupsOf returns those of a text by the tool's name.
export function markupsOf(text) {
  return new Map([...parsed(text).children].map((script) => [script.dataset.tool, new Markup(script)]));
}

// dress adds the tools' style to the page's. As one rule of a sheet that is here it needs no leave of any policy.
export function dress(style) {
  const own = document.querySelector('link[rel="stylesheet"], head > style');
  const add = () => own.sheet.insertRule(`@media all{${style}}`, own.sheet.cssRules.length);
  if (own.sheet) add();
  else own.addEventListener('load', add);
}
