// A Picker takes the place of a field's input where that is not read as it is: what is said of the field is said of the picker.
export class Picker {
  constructor(picker) {
    this.picker = picker;
  }

  get ariaInvalid() {
    return this.picker.ariaInvalid;
  }

  set ariaInvalid(text) {
    this.picker.ariaInvalid = text;
  }

  focus() {
    this.picker.focus();
  }
}
