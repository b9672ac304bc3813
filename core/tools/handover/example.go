package handover

const example = `{
  "vehicle": "Tarn 24, gearbox QX-6", "tag": "TRN-4711", "odometer": "84512 km", "complaint": "Stays in third gear when hot.",
  "code": "P0962",
  "readings": [
    {"tool": "circuit", "what": "current_on", "value": "4.62 A", "at": "88 degC", "supply": "13.8 V",
     "when": "2026-11-23T08:02:00Z", "who": "LM"},
    {"tool": "circuit", "what": "resistance_component", "value": "27 ohm", "at": "88 degC", "when": "2026-11-23T08:10:00Z", "who": "LM",
     "corrected": "yes"},
    {"tool": "circuit", "what": "resistance_component", "value": "2.7 ohm", "at": "88 degC", "when": "2026-11-23T08:11:00Z", "who": "LM"}
  ],
  "answers": [{"tool": "circuit", "verdict": "component", "said": "Replace the component, 97 % likely", "when": "2026-11-23T08:11:00Z"}],
  "not_made": [{"tool": "circuit", "test": "insulation_harness"}],
  "judged_by": [{"name": "2031 on", "min": "5.0 ohm", "max": "5.6 ohm", "at": "20 degC",
    "applies_to": "gearbox QX-6 built from July 2030", "source": "Tarn bulletin QX-6/07", "applies": "yes"}],
  "repair": "Solenoid 2 replaced, filter and pan gasket renewed.", "parts": [{"name": "solenoid 2", "number": "QX6-0312"}],
  "bolts": [{"length": "20 mm", "off": 14, "on": 14}, {"length": "35 mm", "off": 3, "on": 3}], "plugs": {"off": 2, "on": 2},
  "torques": [{"of": "pan bolts", "set": "8 N.m", "wrench": "click, 5 to 25 N·m", "who": "LM"}],
  "new_part": {"reading": "5.3 ohm", "at": "21 degC"}, "cleared": "done", "reread": "clear", "fluid": "as the Tarn manual, 31-4",
  "relearn": "open", "road_test": "gone", "customer": "The part that selects third gear was worn out and has been replaced.", "who": "LM",
  "date": "23 November 2026"
}`
