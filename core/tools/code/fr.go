package code

import "ohmwright/core/wording"

// fr are the words in fr, as a translator gave them to "ohmwright words".
var fr = []wording.Entry{
	{"title", "Code défaut"},
	{"purpose", "Que dit un code défaut d’un circuit\u00a0? Sa structure, le circuit qu’il nomme, et les états qui le " +
		"déclenchent."},
	{"code", "Code défaut"},
	{"code.how", "Tel que l’outil de diagnostic l’affiche\u00a0: une lettre et quatre caractères, par exemple P0962. Son type " +
		"de défaillance peut suivre\u00a0: P0962-11."},
	{"failure_type", "Type de défaillance"},
	{"failure_type.how", "Deux caractères de plus derrière le code, par exemple 11, si l’outil de diagnostic les affiche. " +
		"Sinon, laissez vide."},
	{"result.code", "Le code en cinq caractères."},
	{"result.system", "powertrain, body, chassis ou network."},
	{"result.origin", "standard (identique pour toutes les marques) ou manufacturer."},
	{"result.area", "Pour un code P0, le domaine que nomme son troisième caractère\u00a0; un indice, les éditions récentes de " +
		"la norme ne groupent plus les codes."},
	{"result.known", "Si le code est dans la table des circuits de solénoïdes."},
	{"result.overall", "Le verdict unique\u00a0: la défaillance du circuit\u00a0; manufacturer ou not_in_table si elle n’est " +
		"pas connue\u00a0; stop si aucun conseil n’est donné."},
	{"result.stop", "restraint_system ou high_voltage\u00a0: pas de conseil, seulement la procédure du constructeur\u00a0; " +
		"absent sinon."},
	{"result.first", "Ce qu’il faut savoir d’abord\u00a0: unit_feed (volts à la broche d’alimentation et à la masse du " +
		"calculateur) ou shows_now (le symptôme est-il présent maintenant\u00a0?)\u00a0; absent s’il n’y a rien à savoir " +
		"d’abord."},
	{"result.circuit", "Le circuit que nomme le code\u00a0: un circuit, jamais une pièce. Description en anglais, pas la phrase " +
		"de la norme."},
	{"result.failure", "Comment il défaille\u00a0: low, high, open, range, circuit, device, electrical, performance, " +
		"intermittent, shorted, stuck_on, stuck_open ou stuck_closed."},
	{"result.failure_type", "Le type de défaillance, s’il est donné."},
	{"result.failure_type.code", "Ses deux chiffres hexadécimaux."},
	{"result.failure_type.meaning", "Ce qu’il dit\u00a0; absent s’il n’est pas connu."},
	{"result.code_kind", "Le même, tel que la question du circuit le prend\u00a0: low, high, open ou range\u00a0; vide si aucun " +
		"ne convient."},
	{"result.meaning", "Les états électriques qui le déclenchent, le plus probable d’abord."},
	{"result.meaning.high_side", "Si le calculateur alimente la broche\u00a0; vide si le code ne va pas avec ce côté."},
	{"result.meaning.high_side.state", "Le nom de l’état."},
	{"result.meaning.high_side.text", "Le même en une phrase."},
	{"result.meaning.low_side", "Si le calculateur met la broche à la masse\u00a0; vide si le code ne va pas avec ce côté."},
	{"result.meaning.low_side.state", "Le nom de l’état."},
	{"result.meaning.low_side.text", "Le même en une phrase."},
	{"system.powertrain", "groupe motopropulseur"},
	{"system.body", "carrosserie"},
	{"system.chassis", "châssis"},
	{"system.network", "réseau"},
	{"origin.standard", "normalisé\u00a0: même sens pour toutes les marques"},
	{"origin.manufacturer", "propre au constructeur\u00a0: autre sens chez une autre marque"},
	{"area.fuel_air", "carburant et air"},
	{"area.injection", "carburant et air, injecteurs"},
	{"area.ignition", "allumage, ratés"},
	{"area.emission", "dépollution"},
	{"area.speed_idle", "vitesse et ralenti"},
	{"area.computer", "calculateur et ses sorties"},
	{"area.transmission", "transmission"},
	{"area.hybrid", "propulsion hybride"},
	{"names", "%[1]s\u00a0: %[2]s"},
	{"failure.low", "circuit bas"},
	{"failure.high", "circuit haut"},
	{"failure.open", "circuit ouvert"},
	{"failure.range", "plage ou performance"},
	{"failure.circuit", "défaut du circuit, nature non précisée"},
	{"failure.device", "dysfonctionnement, nature non précisée"},
	{"failure.electrical", "électrique, nature non précisée"},
	{"failure.performance", "performance"},
	{"failure.intermittent", "intermittent"},
	{"failure.shorted", "court-circuit"},
	{"failure.stuck_on", "bloqué activé"},
	{"failure.stuck_open", "bloqué ouvert"},
	{"failure.stuck_closed", "bloqué fermé"},
	{"type.00", "sans sous-type"},
	{"type.01", "défaillance électrique générale"},
	{"type.10", "catégorie électrique générale, sans sous-type"},
	{"type.11", "court-circuit à la masse"},
	{"type.12", "court-circuit au plus batterie"},
	{"type.13", "circuit ouvert"},
	{"type.14", "court-circuit à la masse ou circuit ouvert"},
	{"type.15", "court-circuit au plus batterie ou circuit ouvert"},
	{"type.16", "tension sous le seuil"},
	{"type.17", "tension au-dessus du seuil"},
	{"type.18", "courant sous le seuil"},
	{"type.19", "courant au-dessus du seuil"},
	{"type.1A", "résistance sous le seuil"},
	{"type.1B", "résistance au-dessus du seuil"},
	{"type.1C", "tension hors plage"},
	{"type.1D", "courant hors plage"},
	{"type.1E", "résistance hors plage"},
	{"type.1F", "intermittent"},
	{"type.71", "actionneur bloqué"},
	{"type.72", "actionneur bloqué ouvert"},
	{"type.73", "actionneur bloqué fermé"},
	{"type.7E", "actionneur bloqué activé (de mémoire)"},
	{"type.7F", "actionneur bloqué désactivé"},
	{"name.open_circuit", "Circuit ouvert."},
	{"name.short_to_ground", "Court-circuit à la masse."},
	{"name.short_to_battery", "Court-circuit au plus batterie."},
	{"name.shorted_winding", "Spires en court-circuit."},
	{"name.lost_ground", "Masse perdue."},
	{"name.lost_feed", "Arrivée + perdue."},
	{"name.high_resistance", "Mauvais contact."},
	{"name.leak_to_ground", "Fuite à la masse."},
	{"name.driver", "Étage de sortie."},
	{"state.high.open_circuit", "Faisceau, contact, fil interne ou bobinage est interrompu, et le courant de test du " +
		"calculateur tire la broche libre vers le haut. Étage bloqué, il faut des dizaines de kilo-ohms pour que cela se voie, " +
		"pas quelques ohms."},
	{"state.high.short_to_ground", "Fil de commande, fil interne ou bobinage touche la masse\u00a0: étage passant, " +
		"surintensité, et la tension de la broche s’effondre."},
	{"state.high.short_to_battery", "Le fil de commande touche une arrivée +\u00a0: la broche reste haute étage bloqué, et le " +
		"bobinage est alimenté en permanence."},
	{"state.high.shorted_winding", "Il reste si peu de spires que l’étage voit une surintensité, comme avec un court-circuit à " +
		"la masse."},
	{"state.high.lost_ground", "L’autre extrémité du bobinage n’a pas de masse. Une masse commune à plusieurs consommateurs, " +
		"une fois perdue, déclenche les codes de tous."},
	{"state.high.lost_feed", "Ce qui alimente cette arrivée + a disparu\u00a0: fusible, relais ou fil en amont."},
	{"state.high.high_resistance", "Quelques ohms de trop dans un contact, un fil ou la masse\u00a0: moins de courant que " +
		"commandé. Seul un calculateur qui surveille le courant le voit\u00a0; pour passer pour ouvert, il en faut des " +
		"centaines."},
	{"state.high.leak_to_ground", "De quelques ohms à des dizaines d’ohms du fil de commande à la masse\u00a0: du courant qui " +
		"ne passe pas par le bobinage. Seul un calculateur qui surveille le courant le voit."},
	{"state.high.driver", "L’interrupteur dans le calculateur. On n’y arrive que par élimination\u00a0: prouvez d’abord " +
		"faisceau, bobinage et masse."},
	{"state.low.open_circuit", "Faisceau, contact, fil interne ou bobinage est interrompu, et le courant de test du calculateur " +
		"tire la broche libre vers le bas. Étage bloqué, il faut des dizaines de kilo-ohms pour que cela se voie, pas quelques " +
		"ohms."},
	{"state.low.short_to_ground", "Fil de commande, fil interne ou bobinage touche la masse\u00a0: la broche reste basse étage " +
		"bloqué, et le bobinage est alimenté en permanence, sans passer par l’étage."},
	{"state.low.short_to_battery", "Le fil de commande touche une arrivée +\u00a0: étage passant, surintensité, et la broche ne " +
		"descend pas."},
	{"state.low.shorted_winding", "Il reste si peu de spires que l’étage voit une surintensité, comme avec un court-circuit au " +
		"plus batterie."},
	{"state.low.lost_feed", "L’autre extrémité du bobinage n’est pas alimentée\u00a0: fusible, relais ou fil. Une arrivée + " +
		"commune à plusieurs consommateurs, une fois perdue, déclenche les codes de tous."},
	{"state.low.high_resistance", "Quelques ohms de trop dans un contact, un fil ou l’arrivée +\u00a0: moins de courant que " +
		"commandé. Seul un calculateur qui surveille le courant le voit\u00a0; pour passer pour ouvert, il en faut des " +
		"centaines."},
	{"state.low.leak_to_ground", "Des dizaines d’ohms du fil de commande à la masse\u00a0: ils alimentent le bobinage sans " +
		"passer par l’étage. Un contrôle de la tension de broche ne le voit pas, alors que l’électrovanne bouge."},
	{"state.low.driver", "L’interrupteur dans le calculateur. On n’y arrive que par élimination\u00a0: prouvez d’abord " +
		"faisceau, bobinage et arrivée +."},
	{"name.supply_off", "Batterie ou charge."},
	{"name.control_unit", "Calculateur."},
	{"state.unit.lost_feed", "Aucun volt n’arrive à la broche d’alimentation du calculateur\u00a0: fusible, relais, épissure ou " +
		"fil en amont\u00a0; un fil qui touche la masse fait sauter le fusible."},
	{"state.unit.lost_ground", "La masse du calculateur lui-même est coupée ou résistante\u00a0: il voit alors moins que ce que " +
		"donne la batterie."},
	{"state.unit.high_resistance", "Un porte-fusible, une cosse ou une épissure sur l’arrivée + qui perd des volts en charge et " +
		"se mesure juste à vide."},
	{"state.unit.supply_off", "La tension de batterie ou de charge elle-même est trop basse ou trop haute\u00a0: batterie " +
		"faible, défaut de charge, démarrage avec booster."},
	{"state.unit.control_unit", "Le calculateur mesure mal sa propre alimentation. On n’y arrive que par élimination\u00a0: " +
		"prouvez d’abord arrivée + et masse."},
	{"none.high", "Rien sur un étage côté plus ne déclenche ce code."},
	{"none.low", "Rien sur un étage côté masse ne déclenche ce code."},
	{"warn.not_in_table", "%s ne fait pas partie des circuits de solénoïdes connus ici. Seule sa structure en est dite\u00a0: " +
		"cherchez-le dans la liste du constructeur."},
	{"warn.manufacturer", "Le sens de ce code n’appartient qu’au constructeur\u00a0: la liste d’une autre marque, ou d’aucune, " +
		"peut dire autre chose."},
	{"warn.reserved", "La norme réserve cette plage pour plus tard\u00a0: aucun sens n’en est publié. Relisez le code."},
	{"warn.shared_range", "Les listes publiées divergent sur cette plage\u00a0: pour les unes elle est à la norme, pour " +
		"d’autres aussi aux constructeurs. La liste du constructeur décide."},
	{"warn.type_unknown", "Le type de défaillance %s n’est pas connu ici et est laissé de côté."},
	{"warn.types_disagree", "«\u00a0%[1]s\u00a0» et le type de défaillance %[2]s, %[3]s, ne vont ensemble avec aucun type " +
		"d’étage. On suit ici le type de défaillance\u00a0; la liste du constructeur décide."},
	{"warn.stop_makers_own", "Les codes P1A sont propres au constructeur, et de propulsion hybride ou électrique dans toute " +
		"liste vue ici. Cet arrêt ne tombe que si la liste du constructeur nomme un autre système."},
	{"warn.unit_power", "Le code nomme l’alimentation du calculateur lui-même, pas le circuit d’un solénoïde. Mesurez d’abord, " +
		"tout branché et consommateurs en marche\u00a0: volts du plus batterie à la broche d’alimentation du calculateur, et " +
		"de sa broche de masse au moins batterie. Chacun devrait être d’un ou deux dixièmes de volt (usage courant). Tant " +
		"qu’ils sont faux, les autres codes de ce calculateur ne veulent pas dire grand-chose."},
	{"warn.common_feed", "Le code nomme une arrivée + commune à plusieurs consommateurs, pas le circuit d’un seul. N’importe " +
		"lequel de leurs fils peut la tirer vers le bas\u00a0: débranchez-les un par un."},
	{"warn.any_state", "Il ne dit pas comment le circuit défaille\u00a0: ouvert, en court-circuit ou hors plage. Un type de " +
		"défaillance derrière le code, ou une mesure, le dira."},
	{"warn.wide_range", "«\u00a0Plage\u00a0» désigne aussi la performance\u00a0: un courant autre que commandé, ou un effet qui " +
		"n’a pas suivi. La pièce ou le fluide peut alors être en cause, tous les fils étant sains."},
	{"warn.not_electrical_alone", "Ce n’est pas forcément électrique\u00a0: ce qui était commandé ne s’est pas produit. Un " +
		"noyau coincé, un tiroir usé, la pression ou le fluide déclenchent ce code avec des fils et un bobinage sains."},
	{"warn.rest_position", "Qu’un bobinage alimenté ouvre ou ferme dépend de l’électrovanne\u00a0: sont donc listés un bobinage " +
		"toujours alimenté et un jamais alimenté."},
	{"warn.intermittent", "L’état est apparu puis a disparu. Est-il présent maintenant, pendant la mesure\u00a0? Sinon, une " +
		"mesure montre un circuit sain\u00a0: mesurez à chaud et à froid, et en bougeant fils et connecteurs."},
	{"warn.shorted_where", "Il dit court-circuit, sans dire vers quoi\u00a0: la masse, une arrivée +, ou à l’intérieur du " +
		"bobinage."},
	{"sheet.decoded", "Le code, morceau par morceau"},
	{"sheet.unit_power", "Ce qui le déclenche, le plus probable d’abord"},
	{"sheet.high_side", "Côté plus\u00a0: le calculateur alimente la broche"},
	{"sheet.low_side", "Côté masse\u00a0: le calculateur met la broche à la masse"},
	{"carry", "Quelle pièce est en cause\u00a0? Y porter ce code"},
	{"carry.unit_feed", "Arrivée + et masse justes\u00a0? Alors chercher la pièce"},
	{"carry.shows_now", "Quelle pièce est en cause\u00a0? Mesurer pendant le défaut"},
	{"carry.no_kind", "Quelle pièce est en cause\u00a0? Mesurer le circuit"},
	{"word.stop", "Arrêt\u00a0: pas de conseil ici"},
	{"word.low", "Circuit bas"},
	{"word.high", "Circuit haut"},
	{"word.open", "Circuit ouvert"},
	{"word.range", "Hors plage"},
	{"word.circuit", "Défaut du circuit"},
	{"word.device", "Défaut du circuit"},
	{"word.electrical", "Défaut du circuit"},
	{"word.performance", "Ne suit pas"},
	{"word.intermittent", "Intermittent"},
	{"word.shorted", "Court-circuit"},
	{"word.stuck_on", "Bloqué activé"},
	{"word.stuck_open", "Bloqué ouvert"},
	{"word.stuck_closed", "Bloqué fermé"},
	{"word.not_in_table", "Pas dans la table"},
	{"word.manufacturer", "Code constructeur"},
	{"headline.unknown", "%[1]s, %[2]s"},
	{"headline.typed", "%[1]s\u00a0; %[2]s"},
	{"why", "Il nomme un circuit, jamais une pièce\u00a0: calculateur, câblage, contacts, bobinage et autre extrémité en font " +
		"partie. Mesurez avant de remplacer quoi que ce soit."},
	{"why.stop.restraint_system", "Un code du système de retenue\u00a0: airbags et prétensionneurs. Ne mesurez pas ici\u00a0: " +
		"le courant d’un multimètre peut en déclencher un. La procédure du constructeur, par des personnes formées, et rien " +
		"d’autre."},
	{"why.stop.high_voltage", "Un code de propulsion hybride ou électrique\u00a0: sa tension peut tuer. Ne mesurez pas en " +
		"suivant cet outil. La procédure du constructeur, par des personnes habilitées, et rien d’autre."},
	{"why.unit_feed", "Mesurez d’abord la broche d’alimentation du calculateur et sa masse. Le code nomme un circuit, jamais " +
		"une pièce\u00a0: batterie, fusible, relais, fils, contacts et masse en font partie."},
	{"why.shows_now", "Est-il présent maintenant\u00a0? À savoir d’abord."},
	{"why.listed", "Ci-dessous, ce qui le déclenche, le plus probable d’abord."},
	{"why.unknown", "Un code nomme un circuit ou une fonction, jamais une pièce. Mesurez avant de remplacer quoi que ce soit."},
	{"caution.stop_restraint_system", "Airbags et prétensionneurs\u00a0: le courant d’un ohmmètre ou d’une lampe témoin peut en " +
		"déclencher un, même des minutes après le débranchement de la batterie. Aucune mesure avec cet outil\u00a0; uniquement " +
		"la procédure du constructeur, par des personnes formées."},
	{"caution.stop_high_voltage", "Propulsion hybride et électrique\u00a0: des centaines de volts, même contact coupé, et " +
		"ensuite encore dans les condensateurs. Aucune mesure avec cet outil\u00a0; uniquement la procédure de mise hors " +
		"tension du constructeur, ses équipements de protection et des personnes habilitées."},
	{"caution.unit_plug", "Mesurez à l’arrière du connecteur, branché. Contact coupé avant de débrancher ou rebrancher le " +
		"connecteur d’un calculateur."},
	{"fault.code.letter", "«\u00a0%[1]s\u00a0» ne commence pas par P, B, C ou U."},
	{"fault.code.letter.hint", "Un code, c’est une de ces lettres et quatre caractères\u00a0: P0962."},
	{"fault.code.short", "«\u00a0%[1]s\u00a0» est trop court\u00a0: un code a cinq caractères."},
	{"fault.code.short.hint", "Donnez un code entier, par exemple P0962\u00a0; un type de défaillance derrière un trait " +
		"d’union\u00a0: P0962-11."},
	{"fault.code.long", "«\u00a0%[1]s\u00a0» est trop long\u00a0: un code a cinq caractères."},
	{"fault.code.long.hint", "Donnez un seul code, par exemple P0962\u00a0; un type de défaillance derrière un trait " +
		"d’union\u00a0: P0962-11."},
	{"fault.code.digit", "«\u00a0%[1]s\u00a0»\u00a0: après la lettre, il faut 0, 1, 2 ou 3."},
	{"fault.code.digit.hint", "Le chiffre 0, pas la lettre O\u00a0: P0962."},
	{"fault.code.hex", "«\u00a0%[1]s\u00a0» ne finit pas par trois chiffres hexadécimaux."},
	{"fault.code.hex.hint", "Seulement des chiffres et les lettres A à F, et 0 plutôt que O\u00a0: P0962, P075A."},
	{"fault.code.type", "«\u00a0%[1]s\u00a0»\u00a0: un type de défaillance a deux chiffres hexadécimaux."},
	{"fault.code.type.hint", "Des chiffres et les lettres A à F, par exemple 11 ou 1F. Laissez vide s’il n’y en a pas."},
	{"fault.code.types", "Le code porte le type de défaillance %[1]s\u00a0; ici, c’est %[2]s."},
	{"fault.code.types.hint", "Laissez l’un des deux de côté."},
	{"hand", "Un code défaut"},
	{"hand.why", "Quel circuit il nomme, et ce qui le déclenche\u00a0: ce n’est jamais une pièce."},
	{"circuit.1_4_upshift_skip_shift_solenoid_control_circuit", "solénoïde de passage 1-4 (saut de rapport), circuit de commande"},
	{"circuit.a_c_clutch_relay_control_circuit", "relais d’embrayage de climatisation, circuit de commande"},
	{"circuit.actuator_supply_voltage_common_high_side_feed", "alimentation des actionneurs %[1]s (plus commun)"},
	{"circuit.camshaft_position_actuator_bank_circuit_open", "actionneur d’arbre à cames %[1]s, banc %[2]s, circuit (ouvert)"},
	{"circuit.camshaft_position_actuator_bank_control_circuit", "actionneur d’arbre à cames %[1]s, banc %[2]s, circuit de commande"},
	{"circuit.camshaft_profile_bank_control_circuit", "profil d’arbre à cames %[1]s, banc %[2]s, circuit de commande"},
	{"circuit.clutch_actuator_circuit", "actionneur d’embrayage, circuit"},
	{"circuit.cold_start_injector", "injecteur de départ à froid %[1]s"},
	{"circuit.cruise_control_vacuum_control", "régulateur de vitesse, commande de dépression"},
	{"circuit.cruise_control_vent_control", "régulateur de vitesse, commande de mise à l’air"},
	{"circuit.cylinder_deactivation_intake_valve_control", "cylindre %[1]s, désactivation ou commande de soupape d’admission"},
	{"circuit.cylinder_exhaust_valve_control", "cylindre %[1]s, commande de soupape d’échappement"},
	{"circuit.ecm_pcm_power_relay_control_circuit", "relais d’alimentation du calculateur moteur, circuit de commande"},
	{"circuit.egr_control_circuit", "recyclage des gaz (EGR) %[1]s, circuit de commande"},
	{"circuit.egr_cooling_valve_control_circuit", "vanne de refroidissement EGR, circuit de commande"},
	{"circuit.egr_throttle_control_circuit", "papillon EGR %[1]s, circuit de commande"},
	{"circuit.egr_vent_control_circuit", "mise à l’air EGR, circuit de commande"},
	{"circuit.engine_shut_off_solenoid", "solénoïde d’arrêt moteur"},
	{"circuit.evap_purge_valve_circuit", "électrovanne de purge du canister, circuit"},
	{"circuit.evap_switching_valve_control_circuit", "vanne de commutation du canister, circuit de commande"},
	{"circuit.evap_vent_valve", "vanne de mise à l’air du canister"},
	{"circuit.evap_vent_valve_circuit", "vanne de mise à l’air du canister, circuit"},
	{"circuit.evap_vent_valve_control_circuit", "vanne de mise à l’air du canister, circuit de commande"},
	{"circuit.evap_vent_valve_solenoid_circuit", "électrovanne de mise à l’air du canister, circuit"},
	{"circuit.exhaust_pressure_control_valve", "vanne de régulation de la pression d’échappement"},
	{"circuit.exhaust_valve_control_solenoid_bank", "solénoïde de commande des soupapes d’échappement, banc %[1]s"},
	{"circuit.fuel_pressure_regulator_control_circuit", "régulateur de pression de carburant %[1]s, circuit de commande"},
	{"circuit.fuel_shut_off_valve_control_circuit", "vanne d’arrêt de carburant %[1]s, circuit de commande"},
	{"circuit.fuel_volume_regulator_control_circuit", "régulateur de débit de carburant, circuit de commande"},
	{"circuit.idle_air_control_circuit", "commande d’air de ralenti, circuit"},
	{"circuit.idle_air_control_system", "système de commande d’air de ralenti"},
	{"circuit.injector_circuit_any", "injecteur (l’un d’eux), circuit"},
	{"circuit.injector_circuit_cylinder", "injecteur du cylindre %[1]s, circuit"},
	{"circuit.injector_control_pressure_regulator_circuit", "régulateur de pression de commande d’injection, circuit"},
	{"circuit.injector_group_supply_voltage", "injecteurs du groupe %[1]s, tension d’alimentation"},
	{"circuit.intake_manifold_runner_control_bank", "commande des volets du collecteur d’admission, banc %[1]s"},
	{"circuit.intake_manifold_tuning_valve_bank", "vanne d’accord du collecteur d’admission, banc %[1]s"},
	{"circuit.intake_valve_control_solenoid_bank", "solénoïde de commande des soupapes d’admission, banc %[1]s"},
	{"circuit.pressure_control_solenoid", "solénoïde de régulation de pression %[1]s"},
	{"circuit.pressure_control_solenoid_control_circuit", "solénoïde de régulation de pression %[1]s, circuit de commande"},
	{"circuit.reductant_injector_bank_unit", "injecteur de réducteur, banc %[1]s, numéro %[2]s"},
	{"circuit.reverse_inhibit_control_circuit", "verrouillage de la marche arrière, circuit de commande"},
	{"circuit.rocker_arm_actuator_bank", "actionneur de culbuteurs %[1]s, banc %[2]s"},
	{"circuit.secondary_air_switching_valve", "vanne de commutation d’air secondaire %[1]s"},
	{"circuit.shift_solenoid", "solénoïde de passage %[1]s"},
	{"circuit.shift_solenoid_control_circuit", "solénoïde de passage %[1]s, circuit de commande"},
	{"circuit.shift_timing_solenoid", "solénoïde de synchronisation de passage %[1]s"},
	{"circuit.tcc_pressure_control_solenoid", "solénoïde de régulation de pression de l’embrayage du convertisseur"},
	{"circuit.tcm_power_relay_control_circuit", "relais d’alimentation du calculateur de boîte, circuit de commande"},
	{"circuit.thermostat_heater_control", "commande du chauffage du thermostat"},
	{"circuit.torque_converter_clutch_circuit", "embrayage du convertisseur de couple, circuit"},
	{"circuit.torque_converter_clutch_solenoid", "solénoïde de l’embrayage du convertisseur de couple"},
	{"circuit.transmission_control_unit_power_input", "entrée d’alimentation du calculateur de boîte"},
	{"circuit.transmission_cooler_control_circuit", "refroidisseur de boîte, circuit de commande"},
	{"circuit.turbo_bypass_valve_control_circuit", "vanne de dérivation du turbo, circuit de commande"},
	{"circuit.turbo_supercharger_bypass_valve_control_circuit", "vanne de dérivation du turbo ou du compresseur, circuit de commande"},
	{"circuit.turbo_wastegate_solenoid", "solénoïde de la soupape de décharge du turbo %[1]s"},
}
