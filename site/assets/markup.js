// The markup of the tools' forms. In the page it is text: there are a dozen forms, one is shown, and parsing them all delays the first
// answer.

class Markup {
  constructor(script) {
    this.script = script;
    this.title = script.title;
    this.jobless = 'jobless' in script.dataset;
  }

  // made returns a new element from this page's own markup.
  made() {
    const holder = document.createElement('template');
    holder.innerHTML = this.script.textContent;
    return holder.content.firstElementChild;
  }
}

// markups are the forms' by the tool's name.
export const markups = new Map([...document.querySelectorAll('.tool-form')].map((script) => [script.dataset.tool, new Markup(script)]));
