package loop

import "ohmwright/core/wording"

// es are the words in es, as a translator gave them to "ohmwright words".
var es = []wording.Entry{
	{"title", "Prueba bajo carga"},
	{"purpose", "¿Pierde tensión el resto del circuito? Voltios en la batería y amperios con pinza."},
	{"supply", "Alimentación, con carga"},
	{"supply.how", "En los bornes de la batería, con la etapa de salida en conducción total."},
	{"current", "Corriente"},
	{"current.how", "Ponga la pinza a cero junto al cable y ciérrela solo sobre el cable de mando, con la etapa de salida en " +
		"conducción total."},
	{"winding", "Resistencia del bobinado"},
	{"winding.how", "Del bobinado solo, sin las puntas. O dé la especificación en su lugar."},
	{"at", "Bobinado medido a"},
	{"at.how", "La temperatura del bobinado cuando se midió su resistencia."},
	{"spec", "Bobinado, de la especificación"},
	{"spec.how", "Si no se midió el bobinado: se toma su centro, y la anchura del margen cuenta como incertidumbre."},
	{"spec.min", "Mínimo"},
	{"spec.min.how", "Como está impreso."},
	{"spec.max", "Máximo"},
	{"spec.max.how", "Como está impreso."},
	{"spec.at", "Especificado a"},
	{"spec.at.how", "20\u00a0°C si el manual no lo dice (práctica habitual)."},
	{"winding_temperature", "Temperatura del bobinado ahora"},
	{"winding_temperature.how", "Su temperatura durante la prueba bajo carga: la del aceite, o más tras unos minutos a plena " +
		"corriente. Si se deja vacío, cabe todo entre −20 y 130\u00a0°C."},
	{"winding_temperature_within", "Temperatura, ±"},
	{"winding_temperature_within.how", "Con qué seguridad la conoce. 10\u00a0°C para un bobinado bajo carga."},
	{"winding_within", "Resistencia, ±"},
	{"winding_within.how", "Con qué seguridad conoce la resistencia del bobinado: en tanto por ciento o en ohmios."},
	{"supply_within", "Alimentación, ±"},
	{"supply_within.how", "Cuánto se mueve mientras mide, más la exactitud del voltímetro."},
	{"driver", "Etapa de salida"},
	{"driver.how", "Lo que pierde el interruptor de la unidad de control: en ohmios o en voltios. 0,15\u00a0ohm es práctica " +
		"habitual."},
	{"segments", "Voltios admitidos por tramo"},
	{"segments.how", "Lo que puede perder cada tramo bajo carga. Son práctica habitual; los valores del fabricante van primero."},
	{"segments.ground", "Masa"},
	{"segments.ground.how", "Del componente, o su carcasa, al negativo de la batería."},
	{"segments.wire", "Cable"},
	{"segments.wire.how", "Un cable, de conector a conector."},
	{"segments.switch", "Interruptor o etapa"},
	{"segments.switch.how", "Entre los extremos de lo que conmuta la corriente."},
	{"limit", "Voltios perdidos, máx."},
	{"limit.how", "Lo que pueden perder juntos cableado, contactos y masas. 0,5\u00a0V es práctica habitual."},
	{"meter", "Exactitud de la pinza"},
	{"meter.how", "Del manual de la pinza: ± (tanto por ciento de la lectura + dígitos)."},
	{"meter.percent", "Tanto por ciento"},
	{"meter.percent.how", "2\u00a0%% en una pinza sencilla de corriente continua."},
	{"meter.counts", "Dígitos"},
	{"meter.counts.how", "Cuántos pasos de la última cifra suma el manual."},
	{"meter.resolution", "Última cifra"},
	{"meter.resolution.how", "Un paso de la última cifra de la pantalla en este alcance."},
	{"result.total", "Resistencia del circuito completo."},
	{"result.winding", "El bobinado a su temperatura durante la prueba."},
	{"result.unwanted", "Lo que sobra: cableado, contactos, masas."},
	{"result.unwanted_drop", "Los voltios que se pierden ahí."},
	{"result.overall", "El veredicto único: clean, unwanted, undecided; too_much si el circuito consume más de lo que debería " +
		"el bobinado solo; no_loaded_test si la etapa de salida regula su corriente; stop."},
	{"result.stop", "high_voltage si la alimentación pasa de 60\u00a0V: no se aconseja nada; si no, se omite."},
	{"result.segments", "Lo que puede perder cada tramo del circuito con la corriente medida."},
	{"result.segments.segment", "ground, wire o switch."},
	{"result.segments.allowed", "Voltios que puede perder."},
	{"result.segments.resistance", "Resistencia que los pierde con la corriente medida."},
	{"result.segments.expected", "Voltios que pierde un cable sano del calibre y la longitud indicados."},
	{"result.verdict", "clean, unwanted o undecided."},
	{"step.total", "Resistencia del circuito completo"},
	{"step.winding", "Bobinado a su temperatura durante la prueba"},
	{"step.drop", "Voltios perdidos fuera del bobinado y de la etapa de salida"},
	{"step.unwanted", "La resistencia que los pierde"},
	{"step.segment", "Lo que pierde los voltios admitidos: %s"},
	{"step.wire", "Cable sano de este tamaño"},
	{"step.clamp", "Lo que permite la exactitud de la pinza"},
	{"warn.temperature_unknown", "No se da la temperatura del bobinado durante la prueba; puede ser cualquiera de %[1]s a " +
		"%[2]s, y la respuesta es igual de amplia. Tecléela, aunque sea aproximada y con un ± amplio."},
	{"warn.regulated", "La etapa de salida mantiene su corriente por pulsos: tensión entre corriente no da entonces una " +
		"resistencia. Actívela en conducción total si el equipo del fabricante puede, o mida la caída directamente en el " +
		"cableado y en la masa."},
	{"warn.may_regulate", "Si esta etapa de salida mantiene una corriente fija por pulsos, esto no es una prueba bajo carga y " +
		"el cableado no tiene nada malo. Averígüelo antes de reparar: unos voltios en su pin muy por debajo de la " +
		"alimentación, y el multímetro en Hz, muestran los pulsos."},
	{"warn.may_be_off", "Tan poca corriente también puede deberse a una etapa de salida que se protege y se ha cortado, al " +
		"menos a ratos: ante un cortocircuito muestra lo mismo."},
	{"warn.wire_alone", "Un cable sano de este tamaño pierde ya %[1]s, más de los %[2]s admitidos: revise sección y longitud, o " +
		"admita más."},
	{"warn.too_much", "El circuito consume más de lo que su bobinado debería permitir. Espiras en cortocircuito, un segundo " +
		"paso a masa, un bobinado más frío o una pinza sin poner a cero: mida el propio bobinado antes de fiarse de esta " +
		"prueba."},
	{"warn.undecided.supply", "La caída solo se conoce con ±\u00a0%s, y el límite cae dentro. La mayor incertidumbre es la de " +
		"la alimentación: mídala en los bornes de la batería en el mismo momento. O mida la caída directamente, en el cableado " +
		"y en la masa."},
	{"warn.undecided.clamp", "La caída solo se conoce con ±\u00a0%s, y el límite cae dentro. La mayor incertidumbre es la de la " +
		"pinza: use una más fina. O mida la caída directamente, en el cableado y en la masa."},
	{"warn.undecided.winding", "La caída solo se conoce con ±\u00a0%s, y el límite cae dentro. La mayor incertidumbre es la de " +
		"la resistencia del bobinado: mida el propio bobinado. O mida la caída directamente, en el cableado y en la masa."},
	{"warn.undecided.temperature", "La caída solo se conoce con ±\u00a0%s, y el límite cae dentro. La mayor incertidumbre es la " +
		"de la temperatura del bobinado: mídala, o haga la prueba antes de que se caliente la pieza. O mida la caída " +
		"directamente, en el cableado y en la masa."},
	{"word.clean", "Limpio"},
	{"word.unwanted", "Resistencia indeseada"},
	{"word.undecided", "No concluyente"},
	{"word.too_much", "Consume demasiado"},
	{"word.no_loaded_test", "No es prueba bajo carga"},
	{"headline.regulated", "la etapa de salida regula su corriente"},
	{"why.no_loaded_test", "Lo que circula es lo que fija la etapa de salida, tenga lo que tenga el cableado. Esta prueba no " +
		"dice nada del resto del circuito."},
	{"sheet.segments", "Lo que puede perder cada tramo con esta corriente"},
	{"segment.ground", "masa"},
	{"segment.wire", "cable"},
	{"segment.switch", "interruptor o etapa"},
	{"segment.allowed", "%[1]s, es decir, %[2]s"},
	{"segment.sound.name", "cable sano de este tamaño"},
	{"segment.sound", "%[1]s, con %[2]s"},
	{"headline", "%s perdidos en el cableado"},
	{"headline.too_much", "circuito %[1]s, bobinado solo %[2]s"},
	{"why.clean", "Cableado, contactos y masas pierden %[1]s, dentro de los %[2]s aceptados. Con esta carga no explican el " +
		"fallo."},
	{"why.unwanted", "Cableado, contactos y masas pierden %[1]s, más de los %[2]s aceptados: %[3]s más de lo debido. Mida la " +
		"caída en cada tramo para dar con ella."},
	{"why.undecided", "Cableado, contactos y masas pierden %[1]s; los %[2]s aceptados caen dentro de esa incertidumbre."},
	{"why.too_much", "El circuito tiene menos resistencia de la que deberían tener ya el bobinado y la etapa de salida."},
	{"drawn.text", "De %[1]s, el bobinado toma %[2]s, la etapa de salida %[3]s, y se pierden %[4]s."},
	{"drawn.winding", "bobinado %s"},
	{"drawn.driver", "etapa de salida %s"},
	{"drawn.lost", "perdidos %s"},
	{"drawn.supply", "alimentación %s"},
	{"drawn.caption", "A dónde van los voltios de la alimentación."},
	{"fault.winding_and_spec", "Se usa la resistencia del propio bobinado o su especificación, no las dos."},
	{"fault.winding_and_spec.hint", "Quite una de las dos; la lectura del propio bobinado es la mejor."},
	{"fault.winding_or_spec", "Falta la resistencia del bobinado."},
	{"fault.winding_or_spec.hint", "Dé su resistencia, por ejemplo 5,3\u00a0ohm, o su especificación."},
	{"fault.spec_at", "La especificación tiene su propia temperatura."},
	{"fault.spec_at.hint", "Quite esto y dé la temperatura de la especificación."},
	{"fault.spec_within", "La anchura de la especificación ya es la incertidumbre."},
	{"fault.spec_within.hint", "Quite esto."},
	{"fault.driver_supply", "Una caída de %[1]s en la etapa de salida no deja nada de una alimentación de %[2]s."},
	{"fault.driver_supply.hint", "Revise las dos; una etapa de salida suele tomar de 0,1 a 0,5\u00a0V."},
	{"hand", "Una pinza, con tensión"},
	{"hand.why", "Voltios y amperios bajo carga: ¿está limpio el resto del circuito?"},
	{"fine", "Etapa, límites, cable, pinza, márgenes"},
}
