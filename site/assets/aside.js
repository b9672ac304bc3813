// What was kept and could not be read is set aside under a key of its own. It is shown above the form at every visit, until its
// reader has it deleted.
export class Aside {
  constructor(store, words) {
    Object.assign(this, { store, words });
    for (const key of store.keys()) {
      const fault = /\.aside\.\d+(?:\.(newer|damaged))?$/.exec(key);
      if (fault) this.show(fault[1] ?? 'damaged', store.read(key), key);
    }
  }

  // show shows a text that lies under a key; key is '' where it could not be set aside.
  show = (fault, text, key) => {
    const details = document.createElement('details');
    details.className = 'aside';
    details.dataset.aside = fault;
    const summary = document.createElement('summary');
    summary.textContent = this.words[fault];
    const pre = document.createElement('pre');
    pre.tabIndex = 0;
    pre.textContent = text;
    details.append(summary, pre);
    if (key) details.append(this.button(details, text, key));
    document.getElementById('main').prepend(details);
  };

  // button deletes what is set aside, and brings it back.
  button(details, text, key) {
    const button = document.createElement('button');
    button.type = 'button';
    const label = () => (button.textContent = this.words[this.store.read(key) === null ? 'aside.back' : 'aside.delete']);
    button.addEventListener('click', () => {
      if (this.store.read(key) === null) this.store.write(key, text);
      else this.store.remove(key);
      details.querySelector('pre').hidden = this.store.read(key) === null;
      label();
    });
    label();
    return button;
  }
}
