package code

import "ohmwright/core/wording"

// de are the words in de, as a translator gave them to "ohmwright words".
var de = []wording.Entry{
	{"title", "Fehlercode"},
	{"purpose", "Was sagt ein Fehlercode über einen Stromkreis? Sein Aufbau, der Stromkreis, den er nennt, und die Zustände, " +
		"die ihn setzen."},
	{"code", "Fehlercode"},
	{"code.how", "Wie der Diagnosetester ihn zeigt: ein Buchstabe und vier Zeichen, etwa P0962. Der Fehlertyp darf dahinter " +
		"stehen: P0962-11."},
	{"failure_type", "Fehlertyp"},
	{"failure_type.how", "Zwei weitere Zeichen hinter dem Code, etwa 11, wenn der Diagnosetester sie zeigt. Sonst leer lassen."},
	{"result.code", "Der Code in fünf Zeichen."},
	{"result.system", "powertrain, body, chassis oder network."},
	{"result.origin", "standard (bei jeder Marke gleich) oder manufacturer."},
	{"result.area", "Bei einem P0-Code das Arbeitsgebiet, das sein drittes Zeichen nennt; ein Hinweis, neuere Ausgaben der Norm " +
		"ordnen die Codes nicht mehr so."},
	{"result.known", "Ob der Code in der Tabelle der Magnetventil-Stromkreise steht."},
	{"result.overall", "Das eine Urteil: die Fehlerart des Stromkreises; manufacturer oder not_in_table, wenn keine bekannt " +
		"ist; stop, wenn kein Rat gegeben wird."},
	{"result.stop", "restraint_system oder high_voltage: kein Rat, nur das Verfahren des Herstellers; fehlt sonst."},
	{"result.first", "Was zuerst herauszufinden ist: unit_feed (Volt an Plus-Pin und Masse des Steuergeräts) oder shows_now " +
		"(zeigt sich die Beanstandung jetzt?); fehlt, wenn nichts zuerst herauszufinden ist."},
	{"result.circuit", "Der Stromkreis, den der Code nennt: ein Stromkreis, niemals ein Teil. Eine Beschreibung auf Englisch, " +
		"nicht der Satz der Norm."},
	{"result.failure", "Wie er ausfällt: low, high, open, range, circuit, device, electrical, performance, intermittent, " +
		"shorted, stuck_on, stuck_open oder stuck_closed."},
	{"result.failure_type", "Der Fehlertyp, wenn einer angegeben ist."},
	{"result.failure_type.code", "Seine zwei Hexadezimalziffern."},
	{"result.failure_type.meaning", "Was er sagt; fehlt, wenn es nicht bekannt ist."},
	{"result.code_kind", "Dasselbe, wie die Stromkreis-Frage es nimmt: low, high, open oder range; leer, wenn keines passt."},
	{"result.meaning", "Die elektrischen Zustände, die ihn setzen, der wahrscheinlichste zuerst."},
	{"result.meaning.high_side", "Wenn das Steuergerät Plus auf den Pin schaltet; leer, wenn der Code zu dieser Seite nicht " +
		"passt."},
	{"result.meaning.high_side.state", "Name des Zustands."},
	{"result.meaning.high_side.text", "Dasselbe in einem Satz."},
	{"result.meaning.low_side", "Wenn das Steuergerät den Pin an Masse schaltet; leer, wenn der Code zu dieser Seite nicht " +
		"passt."},
	{"result.meaning.low_side.state", "Name des Zustands."},
	{"result.meaning.low_side.text", "Dasselbe in einem Satz."},
	{"system.powertrain", "Antrieb"},
	{"system.body", "Karosserie"},
	{"system.chassis", "Fahrwerk"},
	{"system.network", "Netzwerk"},
	{"origin.standard", "genormt: bei jeder Marke dieselbe Bedeutung"},
	{"origin.manufacturer", "vom Hersteller: bei anderer Marke andere Bedeutung"},
	{"area.fuel_air", "Kraftstoff und Luft"},
	{"area.injection", "Kraftstoff und Luft, Einspritzventile"},
	{"area.ignition", "Zündung, Aussetzer"},
	{"area.emission", "Abgasreinigung"},
	{"area.speed_idle", "Geschwindigkeit und Leerlauf"},
	{"area.computer", "Steuergerät und seine Ausgänge"},
	{"area.transmission", "Getriebe"},
	{"area.hybrid", "Hybridantrieb"},
	{"names", "%[1]s: %[2]s"},
	{"failure.low", "zu niedrig"},
	{"failure.high", "zu hoch"},
	{"failure.open", "Unter\u00adbre\u00adchung"},
	{"failure.range", "Bereich oder Funktion"},
	{"failure.circuit", "Fehler im Stromkreis, Art nicht genannt"},
	{"failure.device", "Funktionsstörung, Art nicht genannt"},
	{"failure.electrical", "elektrisch, Art nicht genannt"},
	{"failure.performance", "Funktion"},
	{"failure.intermittent", "sporadisch"},
	{"failure.shorted", "kurzgeschlossen"},
	{"failure.stuck_on", "hängt in „ein“"},
	{"failure.stuck_open", "hängt offen"},
	{"failure.stuck_closed", "hängt geschlossen"},
	{"type.00", "kein Untertyp"},
	{"type.01", "allgemeiner elektrischer Fehler"},
	{"type.10", "allgemeine elektrische Gruppe, kein Untertyp"},
	{"type.11", "Kurzschluss nach Masse"},
	{"type.12", "Kurzschluss nach Plus"},
	{"type.13", "Unter\u00adbre\u00adchung"},
	{"type.14", "Kurzschluss nach Masse oder Unter\u00adbre\u00adchung"},
	{"type.15", "Kurzschluss nach Plus oder Unter\u00adbre\u00adchung"},
	{"type.16", "Spannung unter Schwelle"},
	{"type.17", "Spannung über Schwelle"},
	{"type.18", "Strom unter Schwelle"},
	{"type.19", "Strom über Schwelle"},
	{"type.1A", "Widerstand unter Schwelle"},
	{"type.1B", "Widerstand über Schwelle"},
	{"type.1C", "Spannung außer Bereich"},
	{"type.1D", "Strom außer Bereich"},
	{"type.1E", "Widerstand außer Bereich"},
	{"type.1F", "sporadisch"},
	{"type.71", "Stellglied hängt"},
	{"type.72", "Stellglied hängt offen"},
	{"type.73", "Stellglied hängt geschlossen"},
	{"type.7E", "Stellglied hängt in „ein“ (aus dem Gedächtnis)"},
	{"type.7F", "Stellglied hängt in „aus“"},
	{"name.open_circuit", "Unter\u00adbre\u00adchung."},
	{"name.short_to_ground", "Kurzschluss nach Masse."},
	{"name.short_to_battery", "Kurzschluss nach Plus."},
	{"name.shorted_winding", "Windungs\u00adschluss."},
	{"name.lost_ground", "Masse fehlt."},
	{"name.lost_feed", "Zuleitung fehlt."},
	{"name.high_resistance", "Schlechter Kontakt."},
	{"name.leak_to_ground", "Schleichender Masseschluss."},
	{"name.driver", "Endstufe."},
	{"state.high.open_circuit", "Kabelbaum, Kontakt, Innenleitung oder Wicklung ist unterbrochen, und der Prüfstrom des " +
		"Steuergeräts zieht den losen Pin hoch. Bei ausgeschalteter Endstufe braucht es dafür einige zehn Kiloohm, nicht ein " +
		"paar Ohm."},
	{"state.high.short_to_ground", "Steuerleitung, Innenleitung oder Wicklung berührt Masse: bei eingeschalteter Endstufe " +
		"Überstrom, und die Spannung am Pin bricht zusammen."},
	{"state.high.short_to_battery", "Die Steuerleitung berührt eine Plusleitung: Der Pin bleibt bei ausgeschalteter Endstufe " +
		"oben, und die Wicklung wird ständig gespeist."},
	{"state.high.shorted_winding", "Es sind so wenige Windungen übrig, dass die Endstufe Überstrom sieht, wie bei einem " +
		"Kurzschluss nach Masse."},
	{"state.high.lost_ground", "Das andere Ende der Wicklung hat keine Masse. Geht eine gemeinsame Masse mehrerer Verbraucher " +
		"verloren, setzt das die Codes aller."},
	{"state.high.lost_feed", "Was diese Zuleitung versorgt, fehlt: Sicherung, Relais oder die Leitung davor."},
	{"state.high.high_resistance", "Ein paar Ohm zu viel in Kontakt, Leitung oder Masse: weniger Strom als angesteuert. Nur ein " +
		"Steuergerät, das den Strom überwacht, sieht das; für „unterbrochen“ braucht es Hunderte."},
	{"state.high.leak_to_ground", "Ein paar bis einige zehn Ohm von der Steuerleitung nach Masse: Strom, der nicht durch die " +
		"Wicklung geht. Nur ein Steuergerät, das den Strom überwacht, sieht das."},
	{"state.high.driver", "Der Schalter im Steuergerät. Auf ihn kommt man nur durch Ausschluss: zuerst Kabelbaum, Wicklung und " +
		"Masse als intakt nachweisen."},
	{"state.low.open_circuit", "Kabelbaum, Kontakt, Innenleitung oder Wicklung ist unterbrochen, und der Prüfstrom des " +
		"Steuergeräts zieht den losen Pin herunter. Bei ausgeschalteter Endstufe braucht es dafür einige zehn Kiloohm, nicht " +
		"ein paar Ohm."},
	{"state.low.short_to_ground", "Steuerleitung, Innenleitung oder Wicklung berührt Masse: Der Pin bleibt bei ausgeschalteter " +
		"Endstufe unten, und die Wicklung wird ständig gespeist, an der Endstufe vorbei."},
	{"state.low.short_to_battery", "Die Steuerleitung berührt eine Plusleitung: bei eingeschalteter Endstufe Überstrom, und der " +
		"Pin kommt nicht herunter."},
	{"state.low.shorted_winding", "Es sind so wenige Windungen übrig, dass die Endstufe Überstrom sieht, wie bei einem " +
		"Kurzschluss nach Plus."},
	{"state.low.lost_feed", "Das andere Ende der Wicklung bekommt kein Plus: Sicherung, Relais oder Leitung. Geht eine " +
		"gemeinsame Zuleitung mehrerer Verbraucher verloren, setzt das die Codes aller."},
	{"state.low.high_resistance", "Ein paar Ohm zu viel in Kontakt, Leitung oder Zuleitung: weniger Strom als angesteuert. Nur " +
		"ein Steuergerät, das den Strom überwacht, sieht das; für „unterbrochen“ braucht es Hunderte."},
	{"state.low.leak_to_ground", "Einige zehn Ohm von der Steuerleitung nach Masse: Sie speisen die Wicklung an der Endstufe " +
		"vorbei. Eine Prüfung der Spannung am Pin sieht das nicht, obwohl es das Ventil bewegt."},
	{"state.low.driver", "Der Schalter im Steuergerät. Auf ihn kommt man nur durch Ausschluss: zuerst Kabelbaum, Wicklung und " +
		"Zuleitung als intakt nachweisen."},
	{"name.supply_off", "Batterie oder Ladesystem."},
	{"name.control_unit", "Steuergerät."},
	{"state.unit.lost_feed", "Am Plus-Pin des Steuergeräts kommen keine Volt an: Sicherung, Relais, Leitungsverbinder oder " +
		"Leitung davor; berührt eine Leitung Masse, brennt die Sicherung durch."},
	{"state.unit.lost_ground", "Die eigene Masse des Steuergeräts ist unterbrochen oder hat Ohm: Das Steuergerät sieht dann " +
		"weniger, als die Batterie gibt."},
	{"state.unit.high_resistance", "Ein Sicherungshalter, Anschluss oder Leitungsverbinder in der Zuleitung, der unter Last " +
		"Volt verliert und ohne Last richtig misst."},
	{"state.unit.supply_off", "Batterie- oder Ladespannung selbst ist zu niedrig oder zu hoch: schwache Batterie, Ladefehler, " +
		"Starthilfe."},
	{"state.unit.control_unit", "Das Steuergerät misst seine eigene Versorgung falsch. Darauf kommt man nur durch Ausschluss: " +
		"zuerst Zuleitung und Masse als intakt nachweisen."},
	{"none.high", "An einer High-Side-Endstufe setzt das nichts."},
	{"none.low", "An einer Low-Side-Endstufe setzt das nichts."},
	{"warn.not_in_table", "%s ist nicht unter den hier bekannten Magnetventil-Stromkreisen. Gesagt wird nur sein Aufbau: in der " +
		"Liste des Herstellers nachsehen."},
	{"warn.manufacturer", "Was dieser Code bedeutet, ist Sache des Herstellers: Eine Liste einer anderen Marke, oder von " +
		"keiner, kann etwas anderes sagen."},
	{"warn.reserved", "Die Norm hält diesen Bereich für später frei: Eine Bedeutung ist nicht veröffentlicht. Den Code noch " +
		"einmal auslesen."},
	{"warn.shared_range", "Veröffentlichte Listen sind sich bei diesem Bereich uneins: nach einigen gehört er der Norm, nach " +
		"anderen auch den Herstellern. Die Liste des Herstellers entscheidet."},
	{"warn.type_unknown", "Der Fehlertyp %s ist hier nicht bekannt und bleibt unbeachtet."},
	{"warn.types_disagree", "„%[1]s“ und der Fehlertyp %[2]s, %[3]s, passen bei keiner Art von Endstufe zusammen. Hier gilt der " +
		"Fehlertyp; die Liste des Herstellers entscheidet."},
	{"warn.stop_makers_own", "P1A-Codes gehören dem Hersteller, und in jeder hier gesehenen Liste einem Hybrid- oder " +
		"Elektroantrieb. Nur wenn die Liste des Herstellers ein anderes System nennt, gilt dieser Stopp nicht."},
	{"warn.unit_power", "Der Code nennt die Versorgung des Steuergeräts selbst, nicht den Kreis eines Magnetventils. Zuerst " +
		"messen, angesteckt und mit eingeschalteten Verbrauchern: Volt von Batterie-Plus zum Plus-Pin des Steuergeräts und von " +
		"seinem Masse-Pin zu Batterie-Minus. Jedes sollte ein oder zwei Zehntel Volt sein (übliche Praxis). Solange sie nicht " +
		"stimmen, sagen andere Codes dieses Steuergeräts wenig."},
	{"warn.common_feed", "Der Code nennt eine Zuleitung, die mehrere Verbraucher teilen, nicht den Kreis eines einzelnen. Jede " +
		"Leitung dieser Verbraucher kann sie herunterziehen: einen nach dem anderen abstecken."},
	{"warn.any_state", "Er sagt nicht, wie der Kreis ausfällt: unterbrochen, kurzgeschlossen oder außer Bereich. Ein Fehlertyp " +
		"hinter dem Code oder Messen klärt das."},
	{"warn.wide_range", "„Bereich“ steht auch für Funktion: ein Strom, der vom angesteuerten abweicht, oder eine Wirkung, die " +
		"ausblieb. Dann kann es an Teil oder Öl liegen, obwohl jede Leitung intakt ist."},
	{"warn.not_electrical_alone", "Das muss nicht elektrisch sein: Was angesteuert wurde, trat nicht ein. Ein klemmender Anker, " +
		"ein verschlissenes Ventil, Druck oder Öl setzen das, obwohl Leitungen und Wicklung intakt sind."},
	{"warn.rest_position", "Ob eine gespeiste Wicklung öffnet oder schließt, hängt vom Ventil ab; darum stehen hier beide: die " +
		"ständig gespeiste und die nie gespeiste."},
	{"warn.intermittent", "Der Zustand kam und ging. Zeigt er sich jetzt, beim Messen? Wenn nicht, zeigt ein Messwert einen " +
		"intakten Kreis: heiß und kalt messen, und beim Bewegen von Leitungen und Steckern."},
	{"warn.shorted_where", "Er sagt Kurzschluss, und nicht wohin: nach Masse, nach Plus oder in der Wicklung."},
	{"sheet.decoded", "Der Code, Stück für Stück"},
	{"sheet.unit_power", "Was ihn setzt, das Wahrscheinlichste zuerst"},
	{"sheet.high_side", "High-Side: Das Steuergerät schaltet Plus auf den Pin"},
	{"sheet.low_side", "Low-Side: Das Steuergerät schaltet den Pin an Masse"},
	{"carry", "Wo sitzt der Fehler? Code mitnehmen"},
	{"carry.unit_feed", "Plus und Masse stimmen? Dann das Teil suchen"},
	{"carry.shows_now", "Wo sitzt der Fehler? Messen, solange er sich zeigt"},
	{"carry.no_kind", "Wo sitzt der Fehler? Den Stromkreis messen"},
	{"word.stop", "Stopp: hier kein Rat"},
	{"word.low", "Signal zu niedrig"},
	{"word.high", "Signal zu hoch"},
	{"word.open", "Kreis unterbrochen"},
	{"word.range", "Außer Bereich"},
	{"word.circuit", "Fehler im Kreis"},
	{"word.device", "Fehler im Kreis"},
	{"word.electrical", "Fehler im Kreis"},
	{"word.performance", "Folgt nicht"},
	{"word.intermittent", "Sporadisch"},
	{"word.shorted", "Kurzschluss"},
	{"word.stuck_on", "Hängt in „ein“"},
	{"word.stuck_open", "Hängt offen"},
	{"word.stuck_closed", "Hängt geschlossen"},
	{"word.not_in_table", "Nicht in der Tabelle"},
	{"word.manufacturer", "Code des Herstellers"},
	{"headline.unknown", "%[1]s, %[2]s"},
	{"headline.typed", "%[1]s; %[2]s"},
	{"why", "Er nennt einen Stromkreis, niemals ein Teil: Steuergerät, Verkabelung, Kontakte, Wicklung und das andere Ende " +
		"gehören dazu. Messen, bevor etwas ersetzt wird."},
	{"why.stop.restraint_system", "Ein Code des Rückhaltesystems: Airbags und Gurtstraffer. Hier nicht messen: Der Strom eines " +
		"Messgeräts kann einen auslösen. Nur das Verfahren des Herstellers, durch dafür geschulte Leute, und nichts anderes."},
	{"why.stop.high_voltage", "Ein Code eines Hybrid- oder Elektroantriebs: Seine Spannung kann töten. Nicht nach den Schritten " +
		"dieses Werkzeugs messen. Nur das Verfahren des Herstellers, durch dafür befähigte Fachleute, und nichts anderes."},
	{"why.unit_feed", "Zuerst am Plus-Pin des Steuergeräts und an seiner Masse messen. Der Code nennt einen Stromkreis, niemals " +
		"ein Teil: Batterie, Sicherung, Relais, Leitungen, Kontakte und Masse gehören dazu."},
	{"why.shows_now", "Zeigt sich der Fehler jetzt? Das zuerst herausfinden."},
	{"why.listed", "Unten steht, was ihn setzt, das Wahrscheinlichste zuerst."},
	{"why.unknown", "Ein Code nennt einen Stromkreis oder eine Funktion, niemals ein Teil. Messen, bevor etwas ersetzt wird."},
	{"caution.stop_restraint_system", "Airbags und Gurtstraffer: Der Strom eines Ohmmeters oder einer Prüflampe kann einen " +
		"auslösen, auch noch Minuten nach dem Abklemmen der Batterie. Keine Messung mit diesem Werkzeug; nur das Verfahren des " +
		"Herstellers und geschulte Leute."},
	{"caution.stop_high_voltage", "Hybrid- und Elektroantrieb: Hunderte von Volt, auch bei ausgeschalteter Zündung und danach " +
		"noch in Kondensatoren. Keine Messung mit diesem Werkzeug; nur das Freischalten nach dem Verfahren des Herstellers, " +
		"seine Schutzausrüstung und befähigte Fachleute."},
	{"caution.unit_plug", "Auf der Rückseite des Steckers messen, angesteckt. Zündung aus, bevor ein Stecker des Steuergeräts " +
		"gezogen oder gesteckt wird."},
	{"fault.code.letter", "„%[1]s“ beginnt nicht mit P, B, C oder U."},
	{"fault.code.letter.hint", "Ein Code ist einer dieser Buchstaben und vier Zeichen: P0962."},
	{"fault.code.short", "„%[1]s“ ist zu kurz: Ein Code hat fünf Zeichen."},
	{"fault.code.short.hint", "Einen ganzen Code angeben, etwa P0962; den Fehlertyp hinter einem Bindestrich: P0962-11."},
	{"fault.code.long", "„%[1]s“ ist zu lang: Ein Code hat fünf Zeichen."},
	{"fault.code.long.hint", "Nur einen Code angeben, etwa P0962; den Fehlertyp hinter einem Bindestrich: P0962-11."},
	{"fault.code.digit", "„%[1]s“: Auf den Buchstaben muss 0, 1, 2 oder 3 folgen."},
	{"fault.code.digit.hint", "Die Ziffer 0, nicht der Buchstabe O: P0962."},
	{"fault.code.hex", "„%[1]s“ endet nicht mit drei Hexadezimalziffern."},
	{"fault.code.hex.hint", "Nur Ziffern und die Buchstaben A bis F, und 0 statt O: P0962, P075A."},
	{"fault.code.type", "„%[1]s“: Ein Fehlertyp hat zwei Hexadezimalziffern."},
	{"fault.code.type.hint", "Ziffern und die Buchstaben A bis F, etwa 11 oder 1F. Weglassen, wenn es keinen gibt."},
	{"fault.code.types", "Der Code hat den Fehlertyp %[1]s hinter sich; hier steht %[2]s."},
	{"fault.code.types.hint", "Eines von beiden weglassen."},
	{"hand", "Ein Fehlercode"},
	{"hand.why", "Welchen Stromkreis er nennt, und was ihn setzt: niemals ein Teil."},
	{"circuit.1_4_upshift_skip_shift_solenoid_control_circuit", "Magnetventil Hochschalten 1–4 (Gang überspringen), Steuerkreis"},
	{"circuit.a_c_clutch_relay_control_circuit", "Relais der Klimakompressor-Kupplung, Steuerkreis"},
	{"circuit.actuator_supply_voltage_common_high_side_feed", "Versorgung der Stellglieder %[1]s (gemeinsames Plus)"},
	{"circuit.camshaft_position_actuator_bank_circuit_open", "Nockenwellenversteller %[1]s, Bank %[2]s, Stromkreis (Unterbrechung)"},
	{"circuit.camshaft_position_actuator_bank_control_circuit", "Nockenwellenversteller %[1]s, Bank %[2]s, Steuerkreis"},
	{"circuit.camshaft_profile_bank_control_circuit", "Nockenprofil-Umschaltung %[1]s, Bank %[2]s, Steuerkreis"},
	{"circuit.clutch_actuator_circuit", "Kupplungsaktor, Stromkreis"},
	{"circuit.cold_start_injector", "Kaltstartventil %[1]s"},
	{"circuit.cruise_control_vacuum_control", "Tempomat, Unterdrucksteuerung"},
	{"circuit.cruise_control_vent_control", "Tempomat, Belüftungssteuerung"},
	{"circuit.cylinder_deactivation_intake_valve_control", "Zylinder %[1]s, Abschaltung oder Steuerung des Einlassventils"},
	{"circuit.cylinder_exhaust_valve_control", "Zylinder %[1]s, Steuerung des Auslassventils"},
	{"circuit.ecm_pcm_power_relay_control_circuit", "Hauptrelais des Motorsteuergeräts, Steuerkreis"},
	{"circuit.egr_control_circuit", "Abgasrückführung %[1]s, Steuerkreis"},
	{"circuit.egr_cooling_valve_control_circuit", "Kühlventil der Abgasrückführung, Steuerkreis"},
	{"circuit.egr_throttle_control_circuit", "Drosselklappe %[1]s der Abgasrückführung, Steuerkreis"},
	{"circuit.egr_vent_control_circuit", "Belüftung der Abgasrückführung, Steuerkreis"},
	{"circuit.engine_shut_off_solenoid", "Abstell-Magnetventil des Motors"},
	{"circuit.evap_purge_valve_circuit", "Tankentlüftung, Regenerierventil, Stromkreis"},
	{"circuit.evap_switching_valve_control_circuit", "Tankentlüftung, Umschaltventil, Steuerkreis"},
	{"circuit.evap_vent_valve", "Tankentlüftung, Belüftungsventil"},
	{"circuit.evap_vent_valve_circuit", "Tankentlüftung, Belüftungsventil, Stromkreis"},
	{"circuit.evap_vent_valve_control_circuit", "Tankentlüftung, Belüftungsventil, Steuerkreis"},
	{"circuit.evap_vent_valve_solenoid_circuit", "Tankentlüftung, Magnetventil der Belüftung, Stromkreis"},
	{"circuit.exhaust_pressure_control_valve", "Regelventil des Abgasdrucks"},
	{"circuit.exhaust_valve_control_solenoid_bank", "Magnetventil der Auslassventil-Steuerung, Bank %[1]s"},
	{"circuit.fuel_pressure_regulator_control_circuit", "Kraftstoffdruckregler %[1]s, Steuerkreis"},
	{"circuit.fuel_shut_off_valve_control_circuit", "Kraftstoff-Abschaltventil %[1]s, Steuerkreis"},
	{"circuit.fuel_volume_regulator_control_circuit", "Kraftstoffmengenregler, Steuerkreis"},
	{"circuit.idle_air_control_circuit", "Leerlaufluft-Regelung, Stromkreis"},
	{"circuit.idle_air_control_system", "Leerlaufluft-Regelung"},
	{"circuit.injector_circuit_any", "Einspritzventil (irgendeines), Stromkreis"},
	{"circuit.injector_circuit_cylinder", "Einspritzventil Zylinder %[1]s, Stromkreis"},
	{"circuit.injector_control_pressure_regulator_circuit", "Regler des Steuerdrucks der Einspritzventile, Stromkreis"},
	{"circuit.injector_group_supply_voltage", "Einspritzventile der Gruppe %[1]s, Versorgungs\u00adspannung"},
	{"circuit.intake_manifold_runner_control_bank", "Saugrohrklappen-Steuerung, Bank %[1]s"},
	{"circuit.intake_manifold_tuning_valve_bank", "Saugrohr-Umschaltventil, Bank %[1]s"},
	{"circuit.intake_valve_control_solenoid_bank", "Magnetventil der Einlassventil-Steuerung, Bank %[1]s"},
	{"circuit.pressure_control_solenoid", "Druckregelventil %[1]s"},
	{"circuit.pressure_control_solenoid_control_circuit", "Druckregelventil %[1]s, Steuerkreis"},
	{"circuit.reductant_injector_bank_unit", "Dosierventil für Reduktionsmittel, Bank %[1]s, Nummer %[2]s"},
	{"circuit.reverse_inhibit_control_circuit", "Rückwärtsgangsperre, Steuerkreis"},
	{"circuit.rocker_arm_actuator_bank", "Kipphebel-Stellglied %[1]s, Bank %[2]s"},
	{"circuit.secondary_air_switching_valve", "Sekundärluft-Umschaltventil %[1]s"},
	{"circuit.shift_solenoid", "Schaltventil %[1]s"},
	{"circuit.shift_solenoid_control_circuit", "Schaltventil %[1]s, Steuerkreis"},
	{"circuit.shift_timing_solenoid", "Magnetventil des Schaltzeitpunkts %[1]s"},
	{"circuit.tcc_pressure_control_solenoid", "Druckregelventil der Wandlerkupplung"},
	{"circuit.tcm_power_relay_control_circuit", "Hauptrelais des Getriebesteuergeräts, Steuerkreis"},
	{"circuit.thermostat_heater_control", "Thermostatheizung, Steuerung"},
	{"circuit.torque_converter_clutch_circuit", "Wandlerkupplung, Stromkreis"},
	{"circuit.torque_converter_clutch_solenoid", "Magnetventil der Wandlerkupplung"},
	{"circuit.transmission_control_unit_power_input", "Spannungsversorgung des Getriebesteuergeräts"},
	{"circuit.transmission_cooler_control_circuit", "Getriebeölkühler, Steuerkreis"},
	{"circuit.turbo_bypass_valve_control_circuit", "Bypassventil des Turboladers, Steuerkreis"},
	{"circuit.turbo_supercharger_bypass_valve_control_circuit", "Bypassventil des Laders, Steuerkreis"},
	{"circuit.turbo_wastegate_solenoid", "Wastegate-Magnetventil %[1]s des Turboladers"},
}
