package code

import "ohmwright/core/wording"

// es are the words in es, as a translator gave them to "ohmwright words".
var es = []wording.Entry{
	{"title", "Código de avería"},
	{"purpose", "¿Qué dice un código de avería sobre un circuito? Su estructura, el circuito que nombra y los estados que lo " +
		"generan."},
	{"code", "Código de avería"},
	{"code.how", "Como lo muestra el equipo de diagnóstico: una letra y cuatro caracteres más, como P0962. Detrás puede ir su " +
		"tipo de fallo: P0962-11."},
	{"failure_type", "Tipo de fallo"},
	{"failure_type.how", "Dos caracteres más tras el código, como 11, si el equipo de diagnóstico los muestra. Si no, déjelo " +
		"vacío."},
	{"result.code", "El código en cinco caracteres."},
	{"result.system", "powertrain, body, chassis o network."},
	{"result.origin", "standard (igual en todas las marcas) o manufacturer."},
	{"result.area", "En un código P0, el campo que nombra su tercer carácter; es un indicio, las ediciones nuevas de la norma " +
		"ya no agrupan los códigos."},
	{"result.known", "Si el código está en la tabla de circuitos de solenoide."},
	{"result.overall", "El veredicto único: el fallo del circuito; manufacturer o not_in_table si no se conoce ninguno; stop si " +
		"no se aconseja nada."},
	{"result.stop", "restraint_system o high_voltage: no se aconseja nada, solo el procedimiento del fabricante; si no, se " +
		"omite."},
	{"result.first", "Lo que hay que averiguar primero: unit_feed (voltios en el pin de alimentación y la masa de la unidad de " +
		"control) o shows_now (¿se presenta ahora el síntoma?); se omite si no hay nada que averiguar antes."},
	{"result.circuit", "El circuito que nombra el código: un circuito, nunca una pieza. Una descripción en inglés, no la frase " +
		"de la norma."},
	{"result.failure", "Cómo falla: low, high, open, range, circuit, device, electrical, performance, intermittent, shorted, " +
		"stuck_on, stuck_open o stuck_closed."},
	{"result.failure_type", "El tipo de fallo, si se da."},
	{"result.failure_type.code", "Sus dos dígitos hexadecimales."},
	{"result.failure_type.meaning", "Lo que dice; se omite si no se conoce."},
	{"result.code_kind", "Lo mismo tal como lo toma la pregunta del circuito: low, high, open o range; vacío si no encaja " +
		"ninguno."},
	{"result.meaning", "Los estados eléctricos que lo generan, el más probable primero."},
	{"result.meaning.high_side", "Si la unidad de control alimenta el pin; vacío si el código no va con ese tipo de mando."},
	{"result.meaning.high_side.state", "El nombre del estado."},
	{"result.meaning.high_side.text", "Lo mismo en una frase."},
	{"result.meaning.low_side", "Si la unidad de control pone el pin a masa; vacío si el código no va con ese tipo de mando."},
	{"result.meaning.low_side.state", "El nombre del estado."},
	{"result.meaning.low_side.text", "Lo mismo en una frase."},
	{"system.powertrain", "tren motriz"},
	{"system.body", "carrocería"},
	{"system.chassis", "chasis"},
	{"system.network", "red"},
	{"origin.standard", "normalizado: el mismo significado en todas las marcas"},
	{"origin.manufacturer", "propio del fabricante: otro significado en otra marca"},
	{"area.fuel_air", "combustible y aire"},
	{"area.injection", "combustible y aire, inyectores"},
	{"area.ignition", "encendido, fallos de encendido"},
	{"area.emission", "control de emisiones"},
	{"area.speed_idle", "velocidad y ralentí"},
	{"area.computer", "unidad de control y sus salidas"},
	{"area.transmission", "transmisión"},
	{"area.hybrid", "propulsión híbrida"},
	{"names", "%[1]s: %[2]s"},
	{"failure.low", "señal baja"},
	{"failure.high", "señal alta"},
	{"failure.open", "circuito abierto"},
	{"failure.range", "rango o funcionamiento"},
	{"failure.circuit", "fallo de circuito, sin decir cuál"},
	{"failure.device", "mal funcionamiento, sin decir cuál"},
	{"failure.electrical", "eléctrico, sin decir cuál"},
	{"failure.performance", "funcionamiento"},
	{"failure.intermittent", "intermitente"},
	{"failure.shorted", "en cortocircuito"},
	{"failure.stuck_on", "siempre activado"},
	{"failure.stuck_open", "atascado abierto"},
	{"failure.stuck_closed", "atascado cerrado"},
	{"type.00", "sin subtipo"},
	{"type.01", "fallo eléctrico general"},
	{"type.10", "categoría eléctrica general, sin subtipo"},
	{"type.11", "cortocircuito a masa"},
	{"type.12", "cortocircuito a batería"},
	{"type.13", "circuito abierto"},
	{"type.14", "cortocircuito a masa o circuito abierto"},
	{"type.15", "cortocircuito a batería o circuito abierto"},
	{"type.16", "tensión por debajo del umbral"},
	{"type.17", "tensión por encima del umbral"},
	{"type.18", "corriente por debajo del umbral"},
	{"type.19", "corriente por encima del umbral"},
	{"type.1A", "resistencia por debajo del umbral"},
	{"type.1B", "resistencia por encima del umbral"},
	{"type.1C", "tensión fuera de rango"},
	{"type.1D", "corriente fuera de rango"},
	{"type.1E", "resistencia fuera de rango"},
	{"type.1F", "intermitente"},
	{"type.71", "actuador atascado"},
	{"type.72", "actuador atascado abierto"},
	{"type.73", "actuador atascado cerrado"},
	{"type.7E", "actuador siempre activado (de memoria)"},
	{"type.7F", "actuador siempre desactivado"},
	{"name.open_circuit", "Circuito abierto."},
	{"name.short_to_ground", "Cortocircuito a masa."},
	{"name.short_to_battery", "Cortocircuito a batería."},
	{"name.shorted_winding", "Espiras en cortocircuito."},
	{"name.lost_ground", "Masa perdida."},
	{"name.lost_feed", "Alimentación perdida."},
	{"name.high_resistance", "Mal contacto."},
	{"name.leak_to_ground", "Fuga a masa."},
	{"name.driver", "Etapa de salida."},
	{"state.high.open_circuit", "El mazo, un contacto, el cable interno o el bobinado está interrumpido, y la corriente de " +
		"control de la propia unidad sube el pin suelto. Con la etapa cortada hacen falta decenas de kiloohmios para que se " +
		"vea, no unos ohmios."},
	{"state.high.short_to_ground", "El cable de mando, el cable interno o el bobinado toca masa: con la etapa activada hay " +
		"sobrecorriente y la tensión del pin se hunde."},
	{"state.high.short_to_battery", "El cable de mando toca una alimentación: el pin sigue en alto con la etapa cortada, y el " +
		"bobinado está alimentado todo el tiempo."},
	{"state.high.shorted_winding", "Quedan tan pocas espiras que la etapa ve sobrecorriente, como en un cortocircuito a masa."},
	{"state.high.lost_ground", "El otro extremo del bobinado no tiene masa. Una masa común a varios consumidores, si se pierde, " +
		"genera los códigos de todos."},
	{"state.high.lost_feed", "Falta lo que da esta alimentación: fusible, relé o el cable anterior."},
	{"state.high.high_resistance", "Unos ohmios de más en un contacto, un cable o la masa: menos corriente de la mandada. Solo " +
		"lo ve una unidad que vigila la corriente; para dar circuito abierto hacen falta cientos."},
	{"state.high.leak_to_ground", "De unos ohmios a decenas de ohmios del cable de mando a masa: corriente que no pasa por el " +
		"bobinado. Solo lo ve una unidad que vigila la corriente."},
	{"state.high.driver", "El interruptor de la unidad de control. A él se llega solo por descarte: compruebe antes mazo, " +
		"bobinado y masa."},
	{"state.low.open_circuit", "El mazo, un contacto, el cable interno o el bobinado está interrumpido, y la corriente de " +
		"control de la propia unidad baja el pin suelto. Con la etapa cortada hacen falta decenas de kiloohmios para que se " +
		"vea, no unos ohmios."},
	{"state.low.short_to_ground", "El cable de mando, el cable interno o el bobinado toca masa: el pin sigue en bajo con la " +
		"etapa cortada, y el bobinado está alimentado todo el tiempo sin pasar por la etapa."},
	{"state.low.short_to_battery", "El cable de mando toca una alimentación: con la etapa activada hay sobrecorriente, y el pin " +
		"no baja."},
	{"state.low.shorted_winding", "Quedan tan pocas espiras que la etapa ve sobrecorriente, como en un cortocircuito a batería."},
	{"state.low.lost_feed", "El otro extremo del bobinado no recibe alimentación: fusible, relé o cable. Una alimentación común " +
		"a varios consumidores, si se pierde, genera los códigos de todos."},
	{"state.low.high_resistance", "Unos ohmios de más en un contacto, un cable o la alimentación: menos corriente de la " +
		"mandada. Solo lo ve una unidad que vigila la corriente; para dar circuito abierto hacen falta cientos."},
	{"state.low.leak_to_ground", "Decenas de ohmios del cable de mando a masa: alimentan el bobinado sin pasar por la etapa. Un " +
		"control de la tensión del pin no lo ve, aunque mueve la válvula."},
	{"state.low.driver", "El interruptor de la unidad de control. A él se llega solo por descarte: compruebe antes mazo, " +
		"bobinado y alimentación."},
	{"name.supply_off", "Batería o carga."},
	{"name.control_unit", "Unidad de control."},
	{"state.unit.lost_feed", "No llegan voltios al pin de alimentación de la unidad de control: fusible, relé, empalme o cable " +
		"anterior; un cable que toca masa funde el fusible."},
	{"state.unit.lost_ground", "La masa de la propia unidad de control está abierta o tiene ohmios: la unidad ve entonces menos " +
		"de lo que da la batería."},
	{"state.unit.high_resistance", "Un portafusibles, terminal o empalme de la alimentación que pierde voltios bajo carga y sin " +
		"ella da lo correcto."},
	{"state.unit.supply_off", "La propia tensión de batería o de carga es demasiado baja o alta: batería débil, fallo de carga, " +
		"arranque con pinzas."},
	{"state.unit.control_unit", "La unidad mide mal su propia alimentación. A esto se llega solo por descarte: compruebe antes " +
		"alimentación y masa."},
	{"none.high", "Con mando por positivo nada genera este código."},
	{"none.low", "Con mando por masa nada genera este código."},
	{"warn.not_in_table", "%s no está entre los circuitos de solenoide conocidos aquí. Solo se dice su estructura: búsquelo en " +
		"la lista del fabricante."},
	{"warn.manufacturer", "Lo que significa este código es cosa del fabricante: una lista de otra marca, o de ninguna, puede " +
		"decir otra cosa."},
	{"warn.reserved", "La norma reserva este rango para más adelante: no hay significado publicado. Lea otra vez el código."},
	{"warn.shared_range", "Las listas publicadas no coinciden en este rango: según unas es de la norma, según otras también de " +
		"los fabricantes. Decide la lista del fabricante."},
	{"warn.type_unknown", "El tipo de fallo %s no se conoce aquí y se deja de lado."},
	{"warn.types_disagree", "“%[1]s” y el tipo de fallo %[2]s, %[3]s, no van juntos con ningún tipo de mando. Aquí se sigue el " +
		"tipo de fallo; decide la lista del fabricante."},
	{"warn.stop_makers_own", "Los códigos P1A son propios del fabricante, y de propulsión híbrida o eléctrica en todas las " +
		"listas vistas aquí. Este alto solo deja de valer si la lista del fabricante nombra otro sistema."},
	{"warn.unit_power", "El código nombra la alimentación de la propia unidad de control, no el circuito de un solenoide. Mida " +
		"primero, conectada y con los consumidores en marcha: los voltios del positivo de la batería al pin de alimentación de " +
		"la unidad, y de su pin de masa al negativo de la batería. Cada uno debería ser de una o dos décimas de voltio " +
		"(práctica habitual). Mientras no estén bien, otros códigos de esta unidad dicen poco."},
	{"warn.common_feed", "El código nombra una alimentación común a varios consumidores, no el circuito de uno. Cualquiera de " +
		"sus cables puede hundirla: desconéctelos uno a uno."},
	{"warn.any_state", "No dice de qué manera falla el circuito: abierto, en cortocircuito o fuera de rango. Lo dice un tipo de " +
		"fallo tras el código, o medir."},
	{"warn.wide_range", "“Rango” también vale por funcionamiento: una corriente distinta de la mandada, o un efecto que no la " +
		"siguió. Entonces puede fallar la pieza o el fluido con todos los cables sanos."},
	{"warn.not_electrical_alone", "Esto no tiene por qué ser eléctrico: lo mandado no ocurrió. Un émbolo agarrotado, una " +
		"válvula gastada, la presión o el fluido lo generan con todos los cables y el bobinado sanos."},
	{"warn.rest_position", "Que un bobinado alimentado lo abra o lo cierre depende de la válvula; por eso figuran tanto un " +
		"bobinado siempre alimentado como uno que no lo está nunca."},
	{"warn.intermittent", "El estado apareció y se fue. ¿Se da ahora, mientras mide? Si no, una lectura muestra un circuito " +
		"sano: mida en caliente y en frío, y moviendo cables y conectores."},
	{"warn.shorted_where", "Dice un cortocircuito, y no a dónde: a masa, a una alimentación o dentro del bobinado."},
	{"sheet.decoded", "El código, pieza por pieza"},
	{"sheet.unit_power", "Lo que lo genera, lo más probable primero"},
	{"sheet.high_side", "Mando por positivo: la unidad de control alimenta el pin"},
	{"sheet.low_side", "Mando por masa: la unidad de control pone el pin a masa"},
	{"carry", "¿Qué parte falla? Llevar allí este código"},
	{"carry.unit_feed", "¿Alimentación y masa bien? Buscar entonces la parte"},
	{"carry.shows_now", "¿Qué parte falla? Mida mientras se presenta"},
	{"carry.no_kind", "¿Qué parte falla? Medir el circuito"},
	{"word.stop", "Alto: aquí no se aconseja nada"},
	{"word.low", "Señal baja"},
	{"word.high", "Señal alta"},
	{"word.open", "Circuito abierto"},
	{"word.range", "Fuera de rango"},
	{"word.circuit", "Fallo de circuito"},
	{"word.device", "Fallo de circuito"},
	{"word.electrical", "Fallo de circuito"},
	{"word.performance", "No sigue la orden"},
	{"word.intermittent", "Intermitente"},
	{"word.shorted", "En cortocircuito"},
	{"word.stuck_on", "Siempre activado"},
	{"word.stuck_open", "Atascado abierto"},
	{"word.stuck_closed", "Atascado cerrado"},
	{"word.not_in_table", "No está en la tabla"},
	{"word.manufacturer", "Código del fabricante"},
	{"headline.unknown", "%[1]s, %[2]s"},
	{"headline.typed", "%[1]s; %[2]s"},
	{"why", "Nombra un circuito, nunca una pieza: unidad de control, cableado, contactos, bobinado y el otro extremo forman " +
		"parte de él. Mida antes de sustituir nada."},
	{"why.stop.restraint_system", "Un código del sistema de retención: airbags y pretensores. No mida aquí: la corriente de un " +
		"multímetro puede dispararlos. El procedimiento del fabricante, por personal formado para ello, y nada más."},
	{"why.stop.high_voltage", "Un código de propulsión híbrida o eléctrica: su tensión puede matar. No mida con los pasos de " +
		"esta herramienta. El procedimiento del fabricante, por personal habilitado para ello, y nada más."},
	{"why.unit_feed", "Mida primero el pin de alimentación de la unidad de control y su masa. El código nombra un circuito, " +
		"nunca una pieza: batería, fusible, relé, cables, contactos y masa forman parte de él."},
	{"why.shows_now", "¿Se da ahora? Averígüelo primero."},
	{"why.listed", "Abajo está lo que lo genera, lo más probable primero."},
	{"why.unknown", "Un código nombra un circuito o una función, nunca una pieza. Mida antes de sustituir nada."},
	{"caution.stop_restraint_system", "Airbags y pretensores: la corriente de un óhmetro o de una lámpara de prueba puede " +
		"dispararlos, también minutos después de desconectar la batería. No se mide con esta herramienta; solo el " +
		"procedimiento del fabricante y personal formado."},
	{"caution.stop_high_voltage", "Propulsión híbrida y eléctrica: cientos de voltios, también con el encendido apagado y " +
		"después en los condensadores. No se mide con esta herramienta; solo el procedimiento de desconexión del fabricante, " +
		"su equipo de protección y personal habilitado."},
	{"caution.unit_plug", "Mida por detrás del conector, conectado. Apague el encendido antes de sacar o meter el conector de " +
		"una unidad de control."},
	{"fault.code.letter", "“%[1]s” no empieza por P, B, C o U."},
	{"fault.code.letter.hint", "Un código es una de estas letras y cuatro caracteres más: P0962."},
	{"fault.code.short", "“%[1]s” es demasiado corto: un código tiene cinco caracteres."},
	{"fault.code.short.hint", "Ponga un código entero, como P0962; el tipo de fallo tras un guion: P0962-11."},
	{"fault.code.long", "“%[1]s” es demasiado largo: un código tiene cinco caracteres."},
	{"fault.code.long.hint", "Ponga un solo código, como P0962; el tipo de fallo tras un guion: P0962-11."},
	{"fault.code.digit", "“%[1]s”: tras la letra tiene que ir 0, 1, 2 o 3."},
	{"fault.code.digit.hint", "La cifra 0, y no la letra O: P0962."},
	{"fault.code.hex", "“%[1]s” no termina en tres dígitos hexadecimales."},
	{"fault.code.hex.hint", "Solo cifras y las letras de la A a la F, y 0 en vez de O: P0962, P075A."},
	{"fault.code.type", "“%[1]s”: un tipo de fallo tiene dos dígitos hexadecimales."},
	{"fault.code.type.hint", "Cifras y las letras de la A a la F, como 11 o 1F. Quítelo si no lo hay."},
	{"fault.code.types", "El código lleva detrás el tipo de fallo %[1]s; aquí es %[2]s."},
	{"fault.code.types.hint", "Quite una de las dos."},
	{"hand", "Un código de avería"},
	{"hand.why", "Qué circuito nombra y qué lo genera: nunca es una pieza."},
	{"circuit.1_4_upshift_skip_shift_solenoid_control_circuit", "solenoide de cambio 1-4 (salto de marcha), circuito de mando"},
	{"circuit.a_c_clutch_relay_control_circuit", "relé del embrague del aire acondicionado, circuito de mando"},
	{"circuit.actuator_supply_voltage_common_high_side_feed", "alimentación de los actuadores %[1]s (positivo común)"},
	{"circuit.camshaft_position_actuator_bank_circuit_open", "actuador del árbol de levas %[1]s, banco %[2]s, circuito (abierto)"},
	{"circuit.camshaft_position_actuator_bank_control_circuit", "actuador del árbol de levas %[1]s, banco %[2]s, circuito de mando"},
	{"circuit.camshaft_profile_bank_control_circuit", "perfil del árbol de levas %[1]s, banco %[2]s, circuito de mando"},
	{"circuit.clutch_actuator_circuit", "actuador del embrague, circuito"},
	{"circuit.cold_start_injector", "inyector de arranque en frío %[1]s"},
	{"circuit.cruise_control_vacuum_control", "control de crucero, mando de vacío"},
	{"circuit.cruise_control_vent_control", "control de crucero, mando de ventilación"},
	{"circuit.cylinder_deactivation_intake_valve_control", "cilindro %[1]s, desactivación o mando de la válvula de admisión"},
	{"circuit.cylinder_exhaust_valve_control", "cilindro %[1]s, mando de la válvula de escape"},
	{"circuit.ecm_pcm_power_relay_control_circuit", "relé de alimentación de la unidad del motor, circuito de mando"},
	{"circuit.egr_control_circuit", "recirculación de gases (EGR) %[1]s, circuito de mando"},
	{"circuit.egr_cooling_valve_control_circuit", "válvula de refrigeración de la EGR, circuito de mando"},
	{"circuit.egr_throttle_control_circuit", "mariposa %[1]s de la EGR, circuito de mando"},
	{"circuit.egr_vent_control_circuit", "ventilación de la EGR, circuito de mando"},
	{"circuit.engine_shut_off_solenoid", "solenoide de parada del motor"},
	{"circuit.evap_purge_valve_circuit", "válvula de purga del cánister, circuito"},
	{"circuit.evap_switching_valve_control_circuit", "válvula de conmutación del cánister, circuito de mando"},
	{"circuit.evap_vent_valve", "válvula de ventilación del cánister"},
	{"circuit.evap_vent_valve_circuit", "válvula de ventilación del cánister, circuito"},
	{"circuit.evap_vent_valve_control_circuit", "válvula de ventilación del cánister, circuito de mando"},
	{"circuit.evap_vent_valve_solenoid_circuit", "solenoide de ventilación del cánister, circuito"},
	{"circuit.exhaust_pressure_control_valve", "válvula de control de la presión de escape"},
	{"circuit.exhaust_valve_control_solenoid_bank", "solenoide de mando de las válvulas de escape, banco %[1]s"},
	{"circuit.fuel_pressure_regulator_control_circuit", "regulador de presión del combustible %[1]s, circuito de mando"},
	{"circuit.fuel_shut_off_valve_control_circuit", "válvula de corte de combustible %[1]s, circuito de mando"},
	{"circuit.fuel_volume_regulator_control_circuit", "regulador de caudal de combustible, circuito de mando"},
	{"circuit.idle_air_control_circuit", "control de aire de ralentí, circuito"},
	{"circuit.idle_air_control_system", "sistema de control de aire de ralentí"},
	{"circuit.injector_circuit_any", "inyector (cualquiera), circuito"},
	{"circuit.injector_circuit_cylinder", "inyector del cilindro %[1]s, circuito"},
	{"circuit.injector_control_pressure_regulator_circuit", "regulador de la presión de control de inyección, circuito"},
	{"circuit.injector_group_supply_voltage", "inyectores del grupo %[1]s, tensión de alimentación"},
	{"circuit.intake_manifold_runner_control_bank", "mando de las mariposas del colector de admisión, banco %[1]s"},
	{"circuit.intake_manifold_tuning_valve_bank", "válvula de sintonización del colector de admisión, banco %[1]s"},
	{"circuit.intake_valve_control_solenoid_bank", "solenoide de mando de las válvulas de admisión, banco %[1]s"},
	{"circuit.pressure_control_solenoid", "solenoide de control de presión %[1]s"},
	{"circuit.pressure_control_solenoid_control_circuit", "solenoide de control de presión %[1]s, circuito de mando"},
	{"circuit.reductant_injector_bank_unit", "inyector de agente reductor, banco %[1]s, número %[2]s"},
	{"circuit.reverse_inhibit_control_circuit", "bloqueo de la marcha atrás, circuito de mando"},
	{"circuit.rocker_arm_actuator_bank", "actuador de balancines %[1]s, banco %[2]s"},
	{"circuit.secondary_air_switching_valve", "válvula de conmutación de aire secundario %[1]s"},
	{"circuit.shift_solenoid", "solenoide de cambio %[1]s"},
	{"circuit.shift_solenoid_control_circuit", "solenoide de cambio %[1]s, circuito de mando"},
	{"circuit.shift_timing_solenoid", "solenoide de sincronización del cambio %[1]s"},
	{"circuit.tcc_pressure_control_solenoid", "solenoide de control de presión del embrague del convertidor"},
	{"circuit.tcm_power_relay_control_circuit", "relé de alimentación de la unidad de la caja de cambios, circuito de mando"},
	{"circuit.thermostat_heater_control", "mando de la calefacción del termostato"},
	{"circuit.torque_converter_clutch_circuit", "embrague del convertidor de par, circuito"},
	{"circuit.torque_converter_clutch_solenoid", "solenoide del embrague del convertidor de par"},
	{"circuit.transmission_control_unit_power_input", "entrada de alimentación de la unidad de la caja de cambios"},
	{"circuit.transmission_cooler_control_circuit", "enfriador de la caja de cambios, circuito de mando"},
	{"circuit.turbo_bypass_valve_control_circuit", "válvula de derivación del turbo, circuito de mando"},
	{"circuit.turbo_supercharger_bypass_valve_control_circuit", "válvula de derivación del turbo o del compresor, circuito de mando"},
	{"circuit.turbo_wastegate_solenoid", "solenoide %[1]s de la válvula de descarga del turbo"},
}
