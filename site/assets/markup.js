// The markup of the tools' forms, and their style. It stays text until a form is shown: there are a dozen, and parsing them all delays the
// first answer.

// A Markup is a tool's form: its title, whether it takes part in no job, and its elements as a text.
class Markup {
  constructor(tool, title, jobless, text) {
    Object.assign(this, { tool, title, jobless, text });
  }

  // whole is the text with the ids of fields in it: "~" stands for that of the field that it is in (see packed.go).
  whole() {
    let id = '~';
    return this.text.replace(/ data-(?:path|list)="([^"]*)"|~/g, (found, path) => {
      if (path === undefined) return id;
      id = `${this.tool}-${path}`;
      return found;
    });
  }

  // made returns a new element from this page's own markup.
  made() {
    const holder = document.createElement('template');
    holder.innerHTML = this.whole();
    return holder.content.firstElementChild;
  }
}

// markupsOf returns those of the forms that came, four texts each, by the tool's name.
export function markupsOf(forms) {
  const all = new Map();
  for (let i = 0; i + 3 < forms.length; i += 4) all.set(forms[i], new Markup(forms[i], forms[i + 1], forms[i + 2] !== '', forms[i + 3]));
  return all;
}

// dress adds the tools' style to the page's. As one rule of a sheet that is here it needs no leave of any policy.
export function dress(style) {
  const own = document.querySelector('link[rel="stylesheet"], head > style');
  const add = () => own.sheet.insertRule(`@media all{${style}}`, own.sheet.cssRules.length);
  if (own.sheet) add();
  else own.addEventListener('load', add);
}
