package site

import "ohmwright/core/wording"

// englishExample holds the texts in the tools' examples, as they stand there; in the other languages the examples have theirs.
var englishExample = []wording.Entry{
	{"example.winding.specs.0.name", "2031 on"},
	{"example.winding.specs.0.applies_to", "Tarn 24, gearbox QX-6 built from July 2030"},
	{"example.winding.specs.0.source", "Tarn bulletin QX-6/07"},
	{"example.winding.specs.1.name", "2028 to 2030"},
	{"example.winding.specs.1.applies_to", "Tarn 24, gearbox QX-6 built to June 2030"},
	{"example.winding.specs.1.source", "Tarn manual 31-4, page 112"},
	{"example.handover.vehicle", "Tarn 24, gearbox QX-6"},
	{"example.handover.complaint", "Stays in third gear when hot."},
	{"example.handover.answers.0.said", "Replace the component, 97 %% likely"},
	{"example.handover.judged_by.0.name", "2031 on"},
	{"example.handover.judged_by.0.applies_to", "gearbox QX-6 built from July 2030"},
	{"example.handover.judged_by.0.source", "Tarn bulletin QX-6/07"},
	{"example.handover.repair", "Solenoid 2 replaced, filter and pan gasket renewed."},
	{"example.handover.parts.0.name", "solenoid 2"},
	{"example.handover.torques.0.of", "pan bolts"},
	{"example.handover.torques.0.wrench", "click, 5 to 25 N·m"},
	{"example.handover.fluid", "as the Tarn manual, 31-4"},
	{"example.handover.customer", "The part that selects third gear was worn out and has been replaced."},
	{"example.handover.date", "23 November 2026"},
	{"example.worksheet.heading", "Tarn 24, gearbox QX-6: one code, one winding"},
}
