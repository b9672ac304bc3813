// Which job is open: after a reload a window goes on with its own, whatever other windows opened meanwhile; a new one with what was opened
// last on this device.
import { nameFor, scope } from './scope.js';

const OPEN = 'open-job'; // no tool's name has a hyphen: the key is no form's
const OWN = `${nameFor(scope)}${OPEN}`;

export class Opened {
  // store: see Store.
  constructor(store) {
    this.store = store;
  }

  // id returns the id of the job that was open, "" for none.
  get id() {
    let own = null;
    try {
      own = sessionStorage.getItem(OWN);
    } catch {
      // then what the device says has to do
    }
    return own ?? this.store.read(OPEN) ?? '';
  }

  // is notes that a job is open now; "" for none.
  is(id) {
    if (id) this.store.write(OPEN, id);
    else if (this.store.read(OPEN) === this.id) this.store.remove(OPEN);
    try {
      sessionStorage.setItem(OWN, id);
    } catch {
      // the same
    }
  }
}
