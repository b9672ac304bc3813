package loop

import "ohmwright/core/wording"

// de are the words in de, as a translator gave them to "ohmwright words".
var de = []wording.Entry{
	{"title", "Lastprüfung"},
	{"purpose", "Geht im übrigen Stromkreis Spannung verloren? Volt an der Batterie und Ampere mit der Stromzange."},
	{"supply", "Versorgung unter Last"},
	{"supply.how", "An den Batteriepolen, während die Endstufe voll eingeschaltet ist."},
	{"current", "Strom"},
	{"current.how", "Stromzange neben der Leitung auf null stellen, nur um die Steuerleitung schließen, Endstufe voll " +
		"angesteuert."},
	{"winding", "Widerstand der Wicklung"},
	{"winding.how", "Der Wicklung allein, Messleitungen abgezogen. Oder stattdessen die Vorgabe angeben."},
	{"at", "Wicklung gemessen bei"},
	{"at.how", "Die Wicklungstemperatur, als der Widerstand gemessen wurde."},
	{"spec", "Wicklung nach Vorgabe"},
	{"spec.how", "Wenn die Wicklung selbst nicht gemessen wurde: Die Mitte gilt, und die Breite des Bereichs zählt als " +
		"Unsicherheit."},
	{"spec.min", "Minimum"},
	{"spec.min.how", "Wie gedruckt."},
	{"spec.max", "Maximum"},
	{"spec.max.how", "Wie gedruckt."},
	{"spec.at", "Vorgabe gilt bei"},
	{"spec.at.how", "20\u00a0°C, wenn die Anleitung nichts sagt (übliche Praxis)."},
	{"winding_temperature", "Wicklungs\u00adtemperatur jetzt"},
	{"winding_temperature.how", "Die Temperatur während der Lastprüfung: Öltemperatur, oder mehr nach Minuten mit vollem Strom. " +
		"Bleibt das Feld leer, ist alles von −20 bis 130\u00a0°C möglich."},
	{"winding_temperature_within", "Temperatur genau auf ±"},
	{"winding_temperature_within.how", "Wie sicher Sie dabei sind. 10\u00a0°C bei einer Wicklung unter Last."},
	{"winding_within", "Widerstand genau auf ±"},
	{"winding_within.how", "Wie sicher Sie beim Widerstand der Wicklung sind: in Prozent davon oder in Ohm."},
	{"supply_within", "Versorgung genau auf ±"},
	{"supply_within.how", "Wie weit sie beim Messen schwankt, und die Genauigkeit des Voltmeters."},
	{"driver", "Endstufe"},
	{"driver.how", "Was der Schalter im Steuergerät verliert: in Ohm oder in Volt. 0,15\u00a0Ohm sind übliche Praxis."},
	{"segments", "Erlaubte Volt je Abschnitt"},
	{"segments.how", "Was jeder Abschnitt unter Last verlieren darf. Das ist übliche Praxis; die Werte des Herstellers gehen " +
		"vor."},
	{"segments.ground", "Masse"},
	{"segments.ground.how", "Vom Bauteil oder seinem Gehäuse zum Minuspol der Batterie."},
	{"segments.wire", "Leitung"},
	{"segments.wire.how", "Eine Leitung, von Stecker zu Stecker."},
	{"segments.switch", "Schalter oder Endstufe"},
	{"segments.switch.how", "Über dem, was den Strom schaltet."},
	{"limit", "Verlust höchstens"},
	{"limit.how", "Was Verkabelung, Kontakte und Masse zusammen verlieren dürfen. 0,5\u00a0V sind übliche Praxis."},
	{"meter", "Genauigkeit Stromzange"},
	{"meter.how", "Aus der Anleitung der Stromzange: ± (Prozent vom Messwert + Digits)."},
	{"meter.percent", "Prozent vom Messwert"},
	{"meter.percent.how", "2\u00a0%% bei einer einfachen Gleichstromzange."},
	{"meter.counts", "Digits"},
	{"meter.counts.how", "Wie viele Schritte der letzten Stelle die Anleitung dazugibt."},
	{"meter.resolution", "Letzte Stelle ist"},
	{"meter.resolution.how", "Ein Schritt der letzten Stelle im Display, in diesem Bereich."},
	{"result.total", "Widerstand des ganzen Kreises."},
	{"result.winding", "Die Wicklung bei ihrer Temperatur während der Prüfung."},
	{"result.unwanted", "Was übrig bleibt: Verkabelung, Kontakte, Masse."},
	{"result.unwanted_drop", "Die Volt, die darin verloren gehen."},
	{"result.overall", "Das eine Urteil: clean, unwanted, undecided; too_much, wenn der Kreis mehr aufnimmt, als die Wicklung " +
		"allein sollte; no_loaded_test, wenn die Endstufe ihren Strom regelt; stop."},
	{"result.stop", "high_voltage bei Versorgung über 60\u00a0V: kein Rat; fehlt sonst."},
	{"result.segments", "Was jeder Abschnitt des Kreises beim gemessenen Strom verlieren darf."},
	{"result.segments.segment", "ground, wire oder switch."},
	{"result.segments.allowed", "Volt, die er verlieren darf."},
	{"result.segments.resistance", "Widerstand, der sie beim gemessenen Strom verliert."},
	{"result.segments.expected", "Volt, die eine intakte Leitung mit diesem Querschnitt und dieser Länge verliert."},
	{"result.verdict", "clean, unwanted oder undecided."},
	{"step.total", "Widerstand des ganzen Kreises"},
	{"step.winding", "Wicklung bei ihrer Temperatur während der Prüfung"},
	{"step.drop", "Volt, außerhalb von Wicklung und Endstufe verloren"},
	{"step.unwanted", "Der Widerstand, der sie verliert"},
	{"step.segment", "Was die erlaubten Volt verliert: %s"},
	{"step.wire", "Intakte Leitung dieser Größe"},
	{"step.clamp", "Was die Genauigkeit der Stromzange zulässt"},
	{"warn.temperature_unknown", "Für die Wicklung ist keine Temperatur während der Prüfung angegeben, also ist alles von %[1]s " +
		"bis %[2]s möglich, und das Ergebnis ist entsprechend unscharf. Temperatur eingeben, notfalls grob mit großem ±."},
	{"warn.regulated", "Die Endstufe hält ihren Strom durch Takten: Versorgung geteilt durch Strom ist dann kein Widerstand. " +
		"Voll ansteuern, wenn der Tester des Herstellers das kann, oder den Spannungsabfall über Verkabelung und Masse direkt " +
		"messen."},
	{"warn.may_regulate", "Hält diese Endstufe einen eingestellten Strom durch Takten, ist das keine Lastprüfung, und an der " +
		"Verkabelung fehlt nichts. Das vor der Reparatur klären: Volt am Pin weit unter der Versorgung und ein Messgerät auf " +
		"Hz zeigen, dass sie taktet."},
	{"warn.may_be_off", "So wenig Strom kann auch an einer Endstufe liegen, die sich selbst schützt und abgeschaltet hat, " +
		"wenigstens zeitweise: Bei einem Kurzschluss zeigt sie dasselbe."},
	{"warn.wire_alone", "Schon eine intakte Leitung dieser Größe verliert %[1]s, mehr als die erlaubten %[2]s: Querschnitt und " +
		"Länge prüfen oder mehr erlauben."},
	{"warn.too_much", "Der Kreis nimmt mehr auf, als seine Wicklung zulassen sollte. Windungsschluss, ein zweiter Weg nach " +
		"Masse, eine kältere Wicklung oder eine nicht genullte Stromzange: die Wicklung selbst messen, bevor man dieser " +
		"Prüfung traut."},
	{"warn.undecided.supply", "Der Spannungsabfall ist nur auf ±\u00a0%s bekannt, und die Grenze liegt darin. Die Unsicherheit " +
		"kommt vor allem von der Versorgung: im selben Moment an den Batteriepolen messen. Oder den Abfall direkt messen, über " +
		"der Verkabelung und über der Masse."},
	{"warn.undecided.clamp", "Der Spannungsabfall ist nur auf ±\u00a0%s bekannt, und die Grenze liegt darin. Die Unsicherheit " +
		"kommt vor allem von der Stromzange: eine feinere nehmen. Oder den Abfall direkt messen, über der Verkabelung und über " +
		"der Masse."},
	{"warn.undecided.winding", "Der Spannungsabfall ist nur auf ±\u00a0%s bekannt, und die Grenze liegt darin. Die Unsicherheit " +
		"kommt vor allem vom Widerstand der Wicklung: die Wicklung selbst messen. Oder den Abfall direkt messen, über der " +
		"Verkabelung und über der Masse."},
	{"warn.undecided.temperature", "Der Spannungsabfall ist nur auf ±\u00a0%s bekannt, und die Grenze liegt darin. Die " +
		"Unsicherheit kommt vor allem von der Wicklungstemperatur: messen, oder prüfen, bevor das Teil warm wird. Oder den " +
		"Abfall direkt messen, über der Verkabelung und über der Masse."},
	{"word.clean", "Sauber"},
	{"word.unwanted", "Ungewollter Widerstand"},
	{"word.undecided", "Unklar"},
	{"word.too_much", "Nimmt zu viel auf"},
	{"word.no_loaded_test", "Keine Lastprüfung"},
	{"headline.regulated", "die Endstufe hält ihren Strom"},
	{"why.no_loaded_test", "Es fließt, was die Endstufe einstellt, egal wie die Verkabelung ist. Über den übrigen Stromkreis " +
		"sagt diese Prüfung nichts."},
	{"sheet.segments", "Was jeder Abschnitt bei diesem Strom verlieren darf"},
	{"segment.ground", "Masse"},
	{"segment.wire", "Leitung"},
	{"segment.switch", "Schalter oder Endstufe"},
	{"segment.allowed", "%[1]s, das sind %[2]s"},
	{"segment.sound.name", "intakte Leitung dieser Größe"},
	{"segment.sound", "%[1]s, bei %[2]s"},
	{"headline", "%s in der Verkabelung verloren"},
	{"headline.too_much", "Kreis %[1]s, Wicklung allein %[2]s"},
	{"why.clean", "Verkabelung, Kontakte und Masse verlieren %[1]s, zulässig sind %[2]s. Sie erklären den Fehler unter dieser " +
		"Last nicht."},
	{"why.unwanted", "Verkabelung, Kontakte und Masse verlieren %[1]s, zulässig sind %[2]s: um %[3]s zu viel. Den " +
		"Spannungsabfall über jedem Stück messen, um die Stelle zu finden."},
	{"why.undecided", "Verkabelung, Kontakte und Masse verlieren %[1]s; die zulässigen %[2]s liegen innerhalb dieser " +
		"Unsicherheit."},
	{"why.too_much", "Im Kreis ist weniger Widerstand, als Wicklung und Endstufe allein haben sollten."},
	{"drawn.text", "Von %[1]s liegen %[2]s an der Wicklung, %[3]s an der Endstufe, und %[4]s gehen verloren."},
	{"drawn.winding", "Wicklung %s"},
	{"drawn.driver", "Endstufe %s"},
	{"drawn.lost", "verloren %s"},
	{"drawn.supply", "Versorgung %s"},
	{"drawn.caption", "Wo die Volt der Versorgung bleiben."},
	{"fault.winding_and_spec", "Es gilt entweder der eigene Widerstand der Wicklung oder ihre Vorgabe, nicht beides."},
	{"fault.winding_and_spec.hint", "Eines von beiden weglassen; der eigene Messwert ist besser."},
	{"fault.winding_or_spec", "Der Widerstand der Wicklung fehlt."},
	{"fault.winding_or_spec.hint", "Den Widerstand angeben, zum Beispiel 5,3\u00a0Ohm, oder die Vorgabe."},
	{"fault.spec_at", "Die Vorgabe hat eine eigene Temperatur."},
	{"fault.spec_at.hint", "Diese weglassen und die Temperatur der Vorgabe angeben."},
	{"fault.spec_within", "Die Breite der Vorgabe ist schon die Unsicherheit."},
	{"fault.spec_within.hint", "Das hier weglassen."},
	{"fault.driver_supply", "Ein Abfall von %[1]s an der Endstufe lässt von der Versorgung, %[2]s, nichts übrig."},
	{"fault.driver_supply.hint", "Beides prüfen; an einer Endstufe liegen meist 0,1 bis 0,5\u00a0V."},
	{"hand", "Stromzange, Kreis unter Strom"},
	{"hand.why", "Volt und Ampere unter Last: Ist der übrige Stromkreis sauber?"},
	{"fine", "Endstufe, Grenzen, Leitung, Zange"},
}
