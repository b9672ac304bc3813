// Which facts of a job the fields of a form are, as its markup says (data-fact).

// usesIn returns the uses of a form (see facts.js), read from its markup.
export function usesIn(form) {
  return [...form.querySelectorAll('[data-fact]')].map((element) => {
    const { fact, path, list, group, factYields } = element.dataset;
    const at = path ?? list ?? group;
    const fields = list ? element.querySelector('template').content.querySelectorAll('.field[data-path]') : fieldsIn(element);
    return { path: at, fact, takes: 'factTakes' in element.dataset, yields: factYields, units: unitsIn(at, fields) };
  });
}

function fieldsIn(element) {
  const inside = [...element.querySelectorAll('.field[data-path]')];
  return element.matches('.field') ? [element, ...inside] : inside;
}

function unitsIn(at, fields) {
  const units = {};
  for (const field of fields) {
    const radios = [...field.querySelectorAll(':scope > .entry > .units input')];
    const alone = field.querySelector(':scope > .entry > .unit[data-unit]');
    const offered = radios.length > 0 ? radios.map((radio) => radio.value) : alone ? [alone.dataset.unit] : null;
    const usual = (radios.find((radio) => radio.defaultChecked) ?? radios[0])?.value ?? alone?.dataset.unit;
    if (offered) units[field.dataset.path.slice(at.length + 1)] = { usual, offered };
  }
  return units;
}

