// What a meter reads in the technician's two stories: an invented circuit, by Ohm's law.

// readsOf are the readings of a circuit on the high side through the case, at 13.8 V: ohms of each part, and what stays the same.
function readsOf({ winding, driver = 0.15, harness = 0.15, lead = 0.1, ground = 0.05, source = 0.02 }, rest) {
  const amperes = 13.8 / (winding + driver + harness + lead + ground + source);
  return {
    resistance_winding: winding.toFixed(1),
    resistance_component: (lead + winding).toFixed(1),
    resistance_unit: (harness + lead + winding + ground).toFixed(1),
    continuity_harness: '0.2',
    insulation_harness: 'OL',
    voltage_harness_open: '0',
    voltage_pin_on: (13.8 - amperes * (source + driver)).toFixed(2),
    voltage_pin_off: '0',
    current_on: amperes.toFixed(2),
    voltage_drop_return: (amperes * ground).toFixed(2),
    voltage_unit_test_load: ((13.8 * 12) / (12 + source + driver)).toFixed(2),
    voltage_unit_feed: (13.8 - amperes * source).toFixed(2),
    voltage_unit_ground: '0',
    supply_driven: (13.8 - amperes * source).toFixed(2),
    row_applies: 'yes',
    wiggle_harness: 'steady',
    heat_component: 'steady',
    ...rest,
  };
}

// Copper at a temperature, from its ohms at 20 °C: 254.5 is 234.5 + 20.
const warm = (ohms, at) => (ohms * (234.5 + at)) / 254.5;

// lost is a winding of 5.3 ohm at 20 °C that has 2.7 ohm left, at 88 °C.
export const lost = readsOf({ winding: warm(2.7, 88) }, { winding_temperature: '88' });

// healthy is the circuit of the fault that comes and goes, while it is away.
export const healthy = readsOf({ winding: 5.3 }, { winding_temperature: '20' });

// What story one is told with in each language: the job's facts, the names of two rows, and what is written up. No language says a number
// in them.
const facts = { vehicle: 'Tarn 24', tag: 'TRN-4711', odometer: '84512 km', who: 'LM' };
const told = ({ complaint, rows, ...work }) => ({ readings: lost, facts: { ...facts, complaint }, rows, work });

export const condemnations = {
  en: told({
    complaint: 'Stays in third gear when hot',
    rows: ['up to 2030', '2031 on'],
    repair: 'Solenoid 2 replaced',
    part: 'solenoid 2',
    bolts: 'pan bolts',
    fluid: 'as the Tarn manual',
    date: '27 November',
  }),
  de: told({
    complaint: 'Bleibt heiß im dritten Gang',
    rows: ['bis 2030', 'ab 2031'],
    repair: 'Magnetventil 2 ersetzt',
    part: 'Magnetventil 2',
    bolts: 'Ölwanne',
    fluid: 'nach Tarn-Anleitung',
    date: '27. November',
  }),
  es: told({
    complaint: 'Se queda en tercera en caliente',
    rows: ['hasta 2030', 'desde 2031'],
    repair: 'Solenoide 2 sustituido',
    part: 'solenoide 2',
    bolts: 'cárter',
    fluid: 'según el manual Tarn',
    date: '27 de noviembre',
  }),
};
