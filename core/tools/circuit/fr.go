package circuit

import "ohmwright/core/wording"

// fr are the words in fr, as a translator gave them to "ohmwright words".
var fr = []wording.Entry{
	{"title", "Circuit"},
	{"purpose", "Quelle partie du circuit est en cause, et que mesurer ensuite\u00a0? Mesures, code, coûts."},
	{"return", "Autre extrémité du bobinage"},
	{"return.how", "Un fil à elle au connecteur, ou le boîtier comme masse\u00a0? Côté masse\u00a0: toujours un fil."},
	{"return=wire", "son propre fil"},
	{"return=case", "le boîtier"},
	{"supply", "Tension d’alimentation"},
	{"supply.how", "Aux bornes de la batterie, dans l’état où vous mesurez."},
	{"spec", "Bobinage spécifié"},
	{"spec.how", "Tout ce qui est entre les deux compte comme sain. Il faut d’abord établir quelle ligne s’applique."},
	{"spec.min", "Minimum"},
	{"spec.min.how", "Telle qu’imprimée."},
	{"spec.max", "Maximum"},
	{"spec.max.how", "Telle qu’imprimée."},
	{"settled", "Ligne retenue"},
	{"settled.how", "La ligne à laquelle correspond une pièce témoin et aucune autre. Compte comme vérifiée tant que c’est la " +
		"ligne donnée plus haut."},
	{"settled.min", "Minimum"},
	{"settled.min.how", "Telle qu’imprimée."},
	{"settled.max", "Maximum"},
	{"settled.max.how", "Telle qu’imprimée."},
	{"settled.at", "Spécifié à"},
	{"settled.at.how", "20\u00a0°C si le manuel ne dit rien (usage courant)."},
	{"spec.at", "Spécifié à"},
	{"spec.at.how", "20\u00a0°C si le manuel ne dit rien (usage courant)."},
	{"winding_temperature", "Température du bobinage"},
	{"winding_temperature.how", "Pendant la mesure\u00a0: température d’huile, ou ambiante après une nuit. Sans réponse\u00a0: " +
		"de −20 à 130\u00a0°C."},
	{"winding_temperature_within", "Température à ±"},
	{"winding_temperature_within.how", "Votre marge sur cette valeur. 10\u00a0°C sans réponse."},
	{"supply_within", "Alimentation à ±"},
	{"supply_within.how", "De combien la batterie peut s’écarter de cette valeur pendant la mesure. 0,3\u00a0V sans réponse."},
	{"fault_present", "Présent maintenant\u00a0?"},
	{"fault_present.how", "Le symptôme est-il là pendant que vous mesurez\u00a0? Un défaut intermittent donne des mesures " +
		"saines quand il est absent."},
	{"fault_present=yes", "oui"},
	{"fault_present=no", "non"},
	{"fault_present=unknown", "on ne sait pas"},
	{"driver", "Étage de sortie du calculateur"},
	{"driver.how", "Ce qu’il fait quand son courant monte. S’il se protège, il ne montre rien à sa broche face à un " +
		"court-circuit."},
	{"driver.at", "Courant qu’il tient"},
	{"driver.at.how", "Pour un étage qui tient un courant de consigne, si les données du constructeur l’indiquent."},
	{"inner_harness", "Fils internes du composant"},
	{"inner_harness.how", "De son connecteur à son bobinage\u00a0: partie du composant, ou vendus à part comme faisceau\u00a0?"},
	{"inner_harness=part", "inclus"},
	{"inner_harness=apart", "vendus à part"},
	{"code_kind", "Code défaut"},
	{"code_kind.how", "Ce qu’il dit de ce circuit. Aucun aussi s’il ne le dit pas."},
	{"code_kind=none", "aucun"},
	{"code_kind=low", "bas"},
	{"code_kind=high", "haut"},
	{"code_kind=open", "ouvert"},
	{"code_kind=range", "plage"},
	{"readings", "Mesures"},
	{"readings.how", "Touchez un point du circuit. Toute mesure aide, dans n’importe quel ordre\u00a0; d’un même essai, la " +
		"dernière compte."},
	{"readings.test", "Essai"},
	{"readings.test.how", "Ce qui a été mesuré."},
	{"readings.value", "Mesure"},
	{"readings.value.how", "Ce qui s’affiche, cordons déduits\u00a0; OL s’il n’y a aucun passage."},
	{"readings.value=steady", "stable"},
	{"readings.value=jumps", "saute"},
	{"readings.value=yes", "oui"},
	{"readings.value=no", "non"},
	{"readings.supply", "Alimentation à cette mesure"},
	{"readings.supply.how", "Si elle était différente de celle d’en haut."},
	{"readings.at", "Bobinage à cette mesure"},
	{"readings.at.how", "Si sa température était différente de celle d’en haut."},
	{"readings.aside", "Mise de côté pour"},
	{"readings.aside.how", "Le bobinage sur lequel elle a été prise, si c’est un autre\u00a0: elle est conservée et ne compte pas ici. #0 " +
		"pour un bobinage sans nom."},
	{"winding", "Bobinage"},
	{"winding.how", "Duquel de plusieurs bobinages est ce circuit\u00a0: son nom, ou #3 pour " +
		"la ligne 3 d’une fiche d’établi."},
	{"others", "Mis de côté"},
	{"others.how", "Les limites spécifiées et le code des bobinages dont les mesures sont mises de côté."},
	{"readings.fine", "Prise à une autre tension ou température"},
	{"minutes", "Minutes par essai"},
	{"minutes.how", "La durée sur ce véhicule, accès compris. Usage courant sans réponse\u00a0; vos propres minutes guident " +
		"mieux."},
	{"costs", "Coûts"},
	{"costs.how", "Dans votre monnaie. Ils décident quand un essai de plus n’est plus rentable."},
	{"costs.hour", "Une heure de travail"},
	{"costs.hour.how", "60 sans réponse."},
	{"costs.wrong", "Coût d’une mauvaise réparation"},
	{"costs.wrong.how", "Pièce et travail perdus si le défaut était ailleurs\u00a0: un retour client compte aussi. 300 pour " +
		"chacune sans réponse."},
	{"meter", "Précision du multimètre"},
	{"meter.how", "Selon la notice de l’appareil, pour chaque type de mesure\u00a0: ± (pour cent de la lecture + digits)."},
	{"meter.resistance", "Résistance"},
	{"meter.resistance.how", "Dernier chiffre non donné\u00a0: un multimètre de 4000 points à calibre automatique."},
	{"meter.voltage", "Tension"},
	{"meter.voltage.how", "Du calibre utilisé."},
	{"meter.current", "Courant"},
	{"meter.current.how", "De la pince ou de l’appareil utilisé."},
	{"meter.resistance.percent", "Pour cent de la lecture"},
	{"meter.resistance.percent.how", "1\u00a0%% pour un multimètre portatif simple."},
	{"meter.resistance.counts", "Digits"},
	{"meter.resistance.counts.how", "Le nombre de pas du dernier chiffre que la notice ajoute."},
	{"meter.resistance.resolution", "Dernier chiffre vaut"},
	{"meter.resistance.resolution.how", "Un pas du dernier chiffre. Sans réponse\u00a0: 0,1\u00a0Ω sous 400\u00a0Ω, puis plus " +
		"grossier."},
	{"meter.voltage.percent", "Pour cent de la lecture"},
	{"meter.voltage.percent.how", "0,5\u00a0%% pour un multimètre portatif simple."},
	{"meter.voltage.counts", "Digits"},
	{"meter.voltage.counts.how", "Le nombre de pas du dernier chiffre que la notice ajoute."},
	{"meter.voltage.resolution", "Dernier chiffre vaut"},
	{"meter.voltage.resolution.how", "Un pas du dernier chiffre."},
	{"meter.current.percent", "Pour cent de la lecture"},
	{"meter.current.percent.how", "2\u00a0%% pour une pince à courant continu simple."},
	{"meter.current.counts", "Digits"},
	{"meter.current.counts.how", "Le nombre de pas du dernier chiffre que la notice ajoute."},
	{"meter.current.resolution", "Dernier chiffre vaut"},
	{"meter.current.resolution.how", "Un pas du dernier chiffre."},
	{"priors", "Poids de chaque défaut"},
	{"priors.how", "Poids relatifs, avant toute mesure. Usage courant sans réponse\u00a0; 0 exclut un défaut."},
	{"parameters", "Ampleur possible d’un défaut"},
	{"parameters.how", "Entre ces limites\u00a0; les ohms sont répartis également par puissance de dix. Usage courant."},
	{"parameters.min", "Au moins"},
	{"parameters.max", "Au plus"},
	{"nominal", "Le reste du circuit, sain"},
	{"nominal.how", "Résistances que personne n’imprime. Champ vide\u00a0: tout ce qui est d’usage courant est possible\u00a0; " +
		"une valeur donnée est prise pour exacte."},
	{"nominal.driver", "Étage passant"},
	{"nominal.driver.how", "0,1 à 0,8\u00a0Ω sans réponse, avec sa résistance de mesure\u00a0; un exercice prend 0,15\u00a0Ω."},
	{"nominal.harness", "Faisceau"},
	{"nominal.harness.how", "Fil de commande, de connecteur à connecteur\u00a0: 0,05 à 0,9\u00a0Ω sans réponse\u00a0; un " +
		"exercice prend 0,15\u00a0Ω."},
	{"nominal.inner_lead", "Fil interne"},
	{"nominal.inner_lead.how", "Du connecteur du composant au bobinage\u00a0: 0,05 à 0,3\u00a0Ω sans réponse\u00a0; un exercice " +
		"prend 0,10\u00a0Ω."},
	{"nominal.return_path", "Retour"},
	{"nominal.return_path.how", "À la masse (côté plus) ou à l’arrivée + (côté masse)\u00a0: 0,02 à 0,3\u00a0Ω sans " +
		"réponse\u00a0; un exercice prend 0,05 et 0,15\u00a0Ω."},
	{"nominal.source", "Batterie et ses câbles"},
	{"nominal.source.how", "0,02\u00a0Ω sans réponse."},
	{"nominal.check_current", "Courant de test, comme résistance"},
	{"nominal.check_current.how", "Ce avec quoi l’étage tire la broche au repos\u00a0: 20\u00a0kΩ vers l’alimentation (côté " +
		"plus), 50\u00a0kΩ vers la masse (côté masse) sans réponse."},
	{"checks", "Quand le calculateur déclenche un code"},
	{"checks.how", "Seuils des contrôles propres à l’étage, selon les fiches techniques courantes, si un champ est vide."},
	{"checks.off", "Bloqué\u00a0: broche à"},
	{"checks.off.how", "Au-dessus (côté plus) ou au-dessous (côté masse), le circuit compte comme ouvert\u00a0: 3\u00a0V."},
	{"checks.on", "Passant\u00a0: broche à"},
	{"checks.on.how", "Au-dessous (côté plus, 2,8\u00a0V) ou au-dessus (côté masse, 2,5\u00a0V), la sortie compte comme en " +
		"court-circuit."},
	{"checks.over", "Passant\u00a0: courant au-dessus de"},
	{"checks.over.how", "Compte comme court-circuit\u00a0: 4,5\u00a0A."},
	{"checks.open", "Passant\u00a0: courant au-dessous de"},
	{"checks.open.how", "Compte comme circuit ouvert\u00a0: 40\u00a0mA (côté plus), 100\u00a0mA (côté masse)."},
	{"checks.range", "Courant décalé de plus de"},
	{"checks.range.how", "Compte comme hors plage\u00a0: 20\u00a0%% du courant attendu."},
	{"fault.none", "aucun défaut"},
	{"fault.winding.open", "bobinage coupé"},
	{"fault.winding.shorted_turns", "spires en court-circuit"},
	{"fault.winding.high_resistance", "bobinage\u00a0: résistance élevée"},
	{"fault.winding.to_case", "bobinage\u00a0: fuite au boîtier"},
	{"fault.inner_lead.open", "fil interne coupé"},
	{"fault.inner_lead.high_resistance", "fil interne\u00a0: résistance élevée"},
	{"fault.inner_lead.to_ground", "fil interne à la masse"},
	{"fault.harness.open", "fil de commande coupé"},
	{"fault.harness.high_resistance", "fil de commande\u00a0: résistance élevée"},
	{"fault.harness.to_ground", "fil de commande à la masse"},
	{"fault.harness.to_battery", "fil de commande au plus batterie"},
	{"fault.return_path.open", "retour coupé"},
	{"fault.return_path.high_resistance", "retour\u00a0: résistance élevée"},
	{"fault.driver.never_on", "étage\u00a0: jamais passant"},
	{"fault.driver.always_on", "étage\u00a0: toujours passant"},
	{"fault.driver.weak", "étage faible"},
	{"fault.unit_feed.open", "+ calculateur coupé"},
	{"fault.unit_feed.high_resistance", "+ calculateur\u00a0: résistance élevée"},
	{"fault.unit_ground.open", "masse du calculateur coupée"},
	{"fault.unit_ground.high_resistance", "masse du calculateur\u00a0: résistance élevée"},
	{"fault.unit_connector.open", "contact coupé au connecteur du calculateur"},
	{"fault.unit_connector.high_resistance", "mauvais contact au connecteur du calculateur"},
	{"fault.component_connector.open", "contact coupé au connecteur du composant"},
	{"fault.component_connector.high_resistance", "mauvais contact au connecteur du composant"},
	{"fault.inner_lead.to_battery", "fil interne au plus batterie"},
	{"fault.harness.to_other", "fil de commande en contact avec un autre circuit"},
	{"fault.component.to_other", "composant en contact interne avec un autre circuit"},
	{"fault.driver.shorted", "étage en court-circuit dans le calculateur"},
	{"fault.intermittent.harness", "faisceau\u00a0: défaut intermittent"},
	{"fault.intermittent.component", "composant\u00a0: défaut intermittent"},
	{"fault.intermittent.return_path", "retour\u00a0: défaut intermittent"},
	{"fault.intermittent.unit", "calculateur\u00a0: défaut intermittent"},
	{"fault.other_row", "une autre ligne de la spécification s’applique"},
	{"fault.other", "autre chose"},
	{"repair.nothing", "rien"},
	{"repair.component", "le composant"},
	{"repair.harness", "le faisceau"},
	{"repair.return_path", "le retour"},
	{"repair.control_unit", "le calculateur"},
	{"repair.unit_power", "l’alimentation ou la masse du calculateur"},
	{"repair.inner_harness", "le faisceau interne"},
	{"repair.unexplained", "rien de tout cela"},
	{"mending.nothing", "rien à réparer"},
	{"do.nothing", "Rien à réparer trouvé"},
	{"do.component", "Remplacer le composant"},
	{"do.harness", "Réparer le faisceau"},
	{"do.return_path", "Réparer le retour"},
	{"do.control_unit", "Calculateur, par élimination"},
	{"do.unit_power", "Réparer l’alimentation ou la masse du calculateur"},
	{"do.inner_harness", "Remplacer le faisceau interne"},
	{"do.unexplained", "Aucun défaut connu ne colle"},
	{"do.doubtful", "Non tranché"},
	{"do.test", "À mesurer ensuite"},
	{"do.look", "À vérifier d’abord"},
	{"do.again", "Mesures inco\u00adhérentes"},
	{"part.driver", "étage"},
	{"part.harness", "faisceau"},
	{"part.inner_lead", "fil int."},
	{"part.winding", "bobinage"},
	{"part.return_path.high", "masse"},
	{"part.return_path.low", "arrivée +"},
	{"part.unit_power", "alim. calc."},
	{"point.resistance_winding", "Ohms, pièce sortie"},
	{"point.resistance_component", "Ohms, pièce"},
	{"point.resistance_unit", "Ohms au calculateur"},
	{"point.continuity_harness", "Ohms bout à bout"},
	{"point.insulation_harness", "Ohms à la masse"},
	{"point.insulation_component", "Ohms au boîtier"},
	{"point.voltage_harness_open", "Volts, fil libre"},
	{"point.voltage_pin_on", "Volts, étage passant"},
	{"point.voltage_pin_off", "Volts, étage bloqué"},
	{"point.current_on", "Ampères, passant"},
	{"point.voltage_drop_return", "Volts perdus"},
	{"point.voltage_feed", "Volts arrivée +"},
	{"point.voltage_unit_test_load", "Volts, charge d’essai"},
	{"point.voltage_unit_feed", "Volts, + calculateur"},
	{"point.voltage_unit_ground", "Volts, masse calc."},
	{"point.wiggle_harness", "Ohms, fils bougés"},
	{"point.row_applies", "Bonne ligne\u00a0?"},
	{"point.winding_temperature", "Température pièce"},
	{"point.supply_driven", "Volts batterie, étage passant"},
	{"point.heat_component", "Ohms en chauffant"},
	{"readings.test=resistance_winding", "Ohms du bobinage, pièce sortie"},
	{"readings.test=resistance_component", "Ohms au composant"},
	{"readings.test=resistance_unit", "Ohms au connecteur du calculateur"},
	{"readings.test=continuity_harness", "Ohms du fil de commande"},
	{"readings.test=insulation_harness", "Ohms, fil de commande à la masse"},
	{"readings.test=insulation_component", "Ohms, broche du composant au boîtier"},
	{"readings.test=voltage_harness_open", "Volts sur le fil libre"},
	{"readings.test=voltage_pin_on", "Volts à la broche, étage passant"},
	{"readings.test=voltage_pin_off", "Volts à la broche, étage bloqué"},
	{"readings.test=current_on", "Courant, étage passant"},
	{"readings.test=voltage_drop_return", "Volts perdus dans le retour"},
	{"readings.test=voltage_feed", "Volts à l’arrivée + du composant"},
	{"readings.test=voltage_unit_test_load", "Volts sur une charge d’essai"},
	{"readings.test=voltage_unit_feed", "Volts à l’arrivée + du calculateur"},
	{"readings.test=voltage_unit_ground", "Volts perdus dans la masse du calculateur"},
	{"readings.test=wiggle_harness", "Ohms en bougeant les fils"},
	{"readings.test=row_applies", "La ligne correspond à la référence"},
	{"readings.test=winding_temperature", "Thermomètre sur le composant"},
	{"readings.test=supply_driven", "Volts batterie, étage passant"},
	{"readings.test=heat_component", "Ohms pendant que le composant chauffe"},
	{"readings.test=resistance_winding.how", "Sortez le bobinage\u00a0; mesurez à ses deux bornes mêmes. Hors tension\u00a0; " +
		"pièces chaudes et huile brûlent."},
	{"readings.test=resistance_component.how", "Hors tension, composant débranché. Mesurez côté composant, de la broche à la " +
		"broche de retour\u00a0; au boîtier si le retour passe par là."},
	{"readings.test=resistance_unit.how", "Batterie débranchée, calculateur débranché, composant branché. Mesurez côté " +
		"faisceau\u00a0: broche à masse en commande côté plus, broche à arrivée + côté masse. Jamais d’ohmmètre sur le " +
		"calculateur lui-même."},
	{"readings.test=continuity_harness.how", "Hors tension, les deux bouts débranchés. Mesurez le fil de commande d’un bout à " +
		"l’autre\u00a0; n’écartez pas les cosses avec la pointe."},
	{"readings.test=insulation_harness.how", "Hors tension, les deux bouts débranchés. Mesurez du fil de commande à la " +
		"masse\u00a0: OL si tout va bien."},
	{"readings.test=insulation_component.how", "Hors tension, composant débranché. Mesurez de sa broche à son boîtier " +
		"métallique\u00a0: OL si tout va bien."},
	{"readings.test=voltage_harness_open.how", "Les deux bouts débranchés, puis alimentation mise. Mesurez du fil de commande à " +
		"la masse avec un simple voltmètre, pas une lampe témoin."},
	{"readings.test=voltage_pin_on.how", "Tout branché, étage passant en continu. Piquez la broche de commande par l’arrière, " +
		"côté faisceau du connecteur du calculateur, par rapport à la masse\u00a0; une sortie à impulsions donne une moyenne. " +
		"Commandez l’étage par le test d’actionneur de l’outil de diagnostic, ou mettez le circuit dans l’état qui l’utilise. " +
		"Un code mémorisé peut le maintenir coupé\u00a0: effacez d’abord le code, puis écoutez ou sentez le déclic\u00a0; " +
		"toute autre mesure, étage passant, qui réagit le montre aussi. Sélecteur sur P, roues calées, personne dessous, gaz " +
		"d’échappement aspirés, mains loin des pièces chaudes."},
	{"readings.test=voltage_pin_off.how", "Tout branché, alimentation mise, étage commandé à l’arrêt. Piquez la broche de " +
		"commande par l’arrière, côté faisceau du connecteur du calculateur, par rapport à la masse\u00a0; ne laissez pas la " +
		"pointe glisser sur la broche voisine. Sélecteur sur P, roues calées, personne dessous, gaz d’échappement aspirés, " +
		"mains loin des pièces chaudes."},
	{"readings.test=current_on.how", "Tout branché, étage passant en continu. Pince sur le seul fil de commande, zéro fait à " +
		"côté. Commandez l’étage par le test d’actionneur de l’outil de diagnostic, ou mettez le circuit dans l’état qui " +
		"l’utilise. Un code mémorisé peut le maintenir coupé\u00a0: effacez d’abord le code, puis écoutez ou sentez le " +
		"déclic\u00a0; toute autre mesure, étage passant, qui réagit le montre aussi. Sélecteur sur P, roues calées, personne " +
		"dessous, gaz d’échappement aspirés, mains loin des pièces chaudes."},
	{"readings.test=voltage_drop_return.how", "Tout branché, étage passant en continu. Côté plus\u00a0: de l’autre extrémité au " +
		"moins batterie. Côté masse\u00a0: du plus batterie à l’autre extrémité. Commandez l’étage par le test d’actionneur de " +
		"l’outil de diagnostic, ou mettez le circuit dans l’état qui l’utilise. Un code mémorisé peut le maintenir " +
		"coupé\u00a0: effacez d’abord le code, puis écoutez ou sentez le déclic\u00a0; toute autre mesure, étage passant, qui " +
		"réagit le montre aussi. Sélecteur sur P, roues calées, personne dessous, gaz d’échappement aspirés, mains loin des " +
		"pièces chaudes."},
	{"readings.test=voltage_feed.how", "Composant débranché, alimentation mise. Mesurez de la cosse d’arrivée + du faisceau à " +
		"la masse."},
	{"readings.test=voltage_unit_test_load.how", "Contact coupé, faisceau débranché au calculateur, une résistance de 12\u00a0Ω " +
		"à sa place\u00a0: de la broche à la masse en commande côté plus, de l’alimentation à la broche côté masse. Elle " +
		"dissipe U²/12 watts. Contact mis, code effacé d’abord, sinon le calculateur peut garder son étage coupé\u00a0; puis " +
		"commandez-le par le test d’actionneur de l’outil de diagnostic. Mesurez aux bornes de la résistance, quelques " +
		"secondes seulement\u00a0: elle chauffe fort."},
	{"readings.test=voltage_unit_feed.how", "Tout branché, étage passant, car une mauvaise arrivée ne se voit qu’en charge. " +
		"Piquez par l’arrière la broche d’alimentation du calculateur, par rapport au moins batterie\u00a0; essayez chacune " +
		"s’il en a plusieurs. Commandez l’étage par le test d’actionneur de l’outil de diagnostic, ou mettez le circuit dans " +
		"l’état qui l’utilise. Un code mémorisé peut le maintenir coupé\u00a0: effacez d’abord le code, puis écoutez ou sentez " +
		"le déclic\u00a0; toute autre mesure, étage passant, qui réagit le montre aussi. Sélecteur sur P, roues calées, " +
		"personne dessous, gaz d’échappement aspirés, mains loin des pièces chaudes."},
	{"readings.test=voltage_unit_ground.how", "Tout branché, étage passant. Piquez par l’arrière la broche de masse du " +
		"calculateur, par rapport au moins batterie\u00a0: une masse saine ne perd presque rien. Commandez l’étage par le test " +
		"d’actionneur de l’outil de diagnostic, ou mettez le circuit dans l’état qui l’utilise. Un code mémorisé peut le " +
		"maintenir coupé\u00a0: effacez d’abord le code, puis écoutez ou sentez le déclic\u00a0; toute autre mesure, étage " +
		"passant, qui réagit le montre aussi. Sélecteur sur P, roues calées, personne dessous, gaz d’échappement aspirés, " +
		"mains loin des pièces chaudes."},
	{"readings.test=wiggle_harness.how", "Comme les ohms au connecteur du calculateur\u00a0: batterie débranchée, calculateur " +
		"débranché, composant branché. Regardez l’affichage pendant qu’on bouge fils, connecteurs et pattes, un par un\u00a0: " +
		"reste-t-il stable, ou saute-t-il\u00a0?"},
	{"readings.test=row_applies.how", "Référence et date de fabrication face au manuel\u00a0: la spécification tapée ici " +
		"est-elle la ligne de cette pièce\u00a0? Rien n’est démonté. Une pièce témoin, mesurée à la même température, " +
		"l’établit aussi."},
	{"readings.test=winding_temperature.how", "Thermomètre sur le corps du composant, ou température d’huile de l’outil de " +
		"diagnostic quand tout a eu le temps de s’égaliser. L’infrarouge se trompe sur du métal brillant\u00a0: un ruban " +
		"adhésif dessus aide."},
	{"readings.test=supply_driven.how", "Volts aux bornes de la batterie, étage passant, dans l’état où vous avez pris les " +
		"autres mesures. Commandez l’étage par le test d’actionneur de l’outil de diagnostic, ou mettez le circuit dans l’état " +
		"qui l’utilise. Un code mémorisé peut le maintenir coupé\u00a0: effacez d’abord le code, puis écoutez ou sentez le " +
		"déclic\u00a0; toute autre mesure, étage passant, qui réagit le montre aussi. Sélecteur sur P, roues calées, personne " +
		"dessous, gaz d’échappement aspirés, mains loin des pièces chaudes."},
	{"readings.test=heat_component.how", "Hors tension, composant débranché. Ohms à son connecteur pendant qu’un décapeur " +
		"thermique le chauffe de 40\u00a0°C ou plus. Le cuivre monte régulièrement, environ 4\u00a0%% par 10\u00a0°C\u00a0: " +
		"c’est stable. Coupures, bonds et OL sont des sauts."},
	{"waiting", "Décrivez le circuit"},
	{"headline.of", "%[1]s\u00a0: %[2]s"},
	{"headline.test", "%[1]s · %[2]s\u00a0min"},
	{"headline.repair", "probable à %[1]s"},
	{"headline.nothing", "mesures plausibles, probable à %[1]s"},
	{"headline.comes_and_goes", "un défaut intermittent reste possible, %[1]s"},
	{"headline.unexplained", "ne rien commander sur ces mesures"},
	{"headline.against_code", "le code ne colle pas"},
	{"headline.rests_on", "tient à une seule mesure"},
	{"headline.again", "à refaire\u00a0: %[1]s"},
	{"why.test", "Le plus probable jusqu’ici\u00a0: %[1]s (%[2]s), %[3]s (%[4]s). Un essai de plus est rentable\u00a0: il " +
		"devrait économiser environ %[5]s en travail et en pièces inutiles."},
	{"why.again", "Les mesures se contredisent\u00a0: aucune réparation n’en découle encore."},
	{"again.title", "À refaire\u00a0: %s"},
	{"why.sure", "Défaut le plus probable\u00a0: %[1]s (%[2]s). Un essai de plus coûterait plus qu’il n’économise."},
	{"why.repair", "Défaut le plus probable\u00a0: %[1]s (%[2]s). Un essai de plus coûterait plus qu’il n’économise\u00a0; le " +
		"doute qui reste coûte %[3]s en moyenne."},
	{"why.nothing", "Les mesures sont celles d’un circuit sain, et un essai de plus coûterait plus qu’il n’économise. Cela ne " +
		"prouve pas qu’une pièce est bonne\u00a0: un défaut intermittent ou un noyau coincé donnent les mêmes mesures."},
	{"why.none_left", "Défaut le plus probable\u00a0: %[1]s (%[2]s). Il ne reste aucun essai\u00a0; le doute qui reste coûte " +
		"%[3]s en moyenne."},
	{"why.eliminate", "On n’arrive au calculateur que par élimination. Avant de le condamner, on mesure son arrivée +, sa masse " +
		"et son connecteur, et on l’essaie sur une charge\u00a0: voici le prochain de ces essais."},
	{"why.not_shown", "Aucune mesure n’a encore montré le défaut, ou il reste beaucoup de doute\u00a0: cet essai en apprend le " +
		"plus pour ses minutes."},
	{"why.look", "On vérifie ceci avant de réparer quoi que ce soit pour cela."},
	{"why.look.row", "Une autre ligne de la spécification, ou une autre température, peut expliquer ces mesures. On le vérifie " +
		"avant de condamner un composant."},
	{"why.look.supply", "Une tension d’alimentation autre que celle tapée peut expliquer ces mesures. On le vérifie avant de " +
		"condamner quoi que ce soit."},
	{"why.look.loose", "Les mesures sont saines maintenant, et un défaut intermittent est probable. On le cherche avant de " +
		"réparer quoi que ce soit."},
	{"why.held_off", "L’étage a l’ordre d’être passant, et rien ne se montre\u00a0: un code mémorisé peut le maintenir coupé. " +
		"Effacez le code, commandez-le de nouveau, et refaites cette mesure."},
	{"why.other_row", "Une autre ligne de la spécification explique les mesures (%[1]s)\u00a0: selon elle, le bobinage est " +
		"plausible. Assurez-vous, par la référence et la date de fabrication, de la ligne qui s’applique."},
	{"why.doubtful", "Le défaut le plus probable est\u00a0: %[1]s, à %[2]s seulement, et aucun essai restant n’en dirait plus. " +
		"On en sait trop peu pour remplacer quoi que ce soit\u00a0: refaites une mesure qui vous a surpris, ou mesurez selon " +
		"la procédure du constructeur."},
	{"why.unexplained", "Les mesures ne correspondent à rien de connu ici, même refaites. Ne commandez rien là-dessus\u00a0: " +
		"repartez de mesures fraîches, et cherchez ce qui n’est pas sur cette liste, par exemple un second défaut ou un autre " +
		"circuit."},
	{"load.watts", "Une charge de 12\u00a0Ω sous %[1]s dissipe %[2]s\u00a0W\u00a0: prenez une résistance prévue pour cela ou " +
		"plus."},
	{"next.title", "Ensuite\u00a0: %s"},
	{"next.numbers", "%[1]s\u00a0min · devrait économiser environ %[2]s en travail et en pièces inutiles"},
	{"next.expected", "Si tout va bien\u00a0: %s."},
	{"price", "Mauvaise réparation (%[1]s)\u00a0: comptée à %[2]s. Tapez votre prix"},
	{"next.outcomes", "Ce que désignerait chaque mesure\u00a0; à droite, la probabilité de cette mesure."},
	{"next.take", "Faire cette mesure"},
	{"next.look", "Dire le constat"},
	{"next.other", "Autres essais"},
	{"next.not", "pas rentable"},
	{"next.pays", "économise %s"},
	{"minutes.short", "%s\u00a0min"},
	{"outcome", "%[1]s (%[2]s)\u00a0: %[3]s, %[4]s"},
	{"outcome.one", "%[1]s\u00a0: %[2]s (%[3]s)"},
	{"outcome.over", "OL"},
	{"outcome.any", "toute valeur"},
	{"outcome.below", "sous %s"},
	{"outcome.above", "au-dessus de %s"},
	{"outcome.rest", "toute autre mesure"},
	{"outcome.open", "aucune réparation ne se détache encore"},
	{"range", "%[1]s à %[2]s"},
	{"range.over", "OL, aucun passage"},
	{"range.upto", "jusqu’à %s"},
	{"reading.settled", "%s\u00a0: oui, établi par une pièce témoin"},
	{"reading.counted", "%[1]s\u00a0: %[2]s (si tout va bien %[3]s)"},
	{"reading.well", "%[1]s\u00a0: %[2]s, comme il se doit"},
	{"reading.own", "%[1]s à %[2]s"},
	{"reading.superseded", "%[1]s\u00a0: %[2]s (refaite depuis, ne compte pas)"},
	{"drawn.text", "Le circuit, du calculateur à l’autre extrémité, chaque partie avec la probabilité qu’elle soit en " +
		"cause\u00a0: %s. Aucun défaut\u00a0: %s."},
	{"drawn.chain", "Le circuit, du calculateur à l’autre extrémité\u00a0: %s."},
	{"drawn.part", "%[1]s %[2]s"},
	{"drawn.caption", "Plus la couleur est soutenue, plus la partie est probablement en cause. Touchez un point sous une partie " +
		"pour y saisir une mesure."},
	{"drawn.points", "Points de mesure"},
	{"drawn.looks", "La saisie est-elle juste\u00a0?"},
	{"drawn.supply", "alimentation"},
	{"drawn.ground", "masse"},
	{"point.state.open", "%[3]s\u00a0: %[1]s, pas fait, %[2]s\u00a0min"},
	{"point.state.next", "%[3]s\u00a0: %[1]s, prochain, %[2]s\u00a0min"},
	{"point.state.taken", "%[3]s %[2]s\u00a0: %[1]s, mesuré"},
	{"none", "Aucun défaut\u00a0: %s"},
	{"other", "Autre chose\u00a0: %s"},
	{"sheet.back", "Remonter\u00a0: couples et vis"},
	{"sheet.handover", "Consigner\u00a0: vers la restitution"},
	{"sheet.as_found", "Rendre en l’état\u00a0: consigner"},
	{"sheet.practise", "S’exercer\u00a0: cacher un défaut dans ce circuit"},
	{"about", "Circuit de %s"},
	{"about.none", "Un circuit à part"},
	{"about.aside", "Mis de côté, avec ce qui y a été mesuré\u00a0: touchez pour reprendre."},
	{"aside.none", "circuit sans nom"},
	{"sheet.repairs", "Réparation probable"},
	{"warn.surprise", "Aucun défaut seul n’explique ces mesures. «\u00a0%s\u00a0» colle le moins\u00a0: refaites cette mesure " +
		"avant de commander quoi que ce soit."},
	{"warn.two_faults", "Deux défauts à la fois les expliqueraient\u00a0: %[1]s, et %[2]s."},
	{"warn.rests_on", "Tout ceci tient à une seule mesure, «\u00a0%s\u00a0»\u00a0: refaites-la avant de commander quoi que ce " +
		"soit."},
	{"warn.superseded", "Un essai a été refait\u00a0: sa dernière mesure compte. Mesures antérieures laissées de côté\u00a0: %s."},
	{"warn.same_repair", "Ces mesures ne distinguent pas\u00a0: %[1]s, %[2]s. Ce n’est pas nécessaire, la réparation est la " +
		"même\u00a0: %[3]s."},
	{"warn.temperature_unknown", "Aucune température n’est donnée pour le bobinage\u00a0: tout est possible de %[1]s à %[2]s, " +
		"et la réponse est large d’autant. Tapez-la, même à peu près avec un ± large, ou mettez un thermomètre sur la pièce."},
	{"warn.against_code", "«\u00a0%[1]s\u00a0» ne déclencherait normalement pas le code «\u00a0%[2]s\u00a0»\u00a0; ce défaut " +
		"déclenche\u00a0: %[3]s. Relisez les codes et cherchez un second défaut avant de commander quoi que ce soit."},
	{"warn.against_code.none", "«\u00a0%[1]s\u00a0» ne déclencherait normalement aucun code, et «\u00a0%[2]s\u00a0» est " +
		"mémorisé. Relisez les codes et cherchez un second défaut avant de commander quoi que ce soit."},
	{"warn.comes_and_goes", "Sain maintenant\u00a0; un défaut intermittent reste possible, %[1]s\u00a0: il donne des mesures " +
		"saines quand il est absent. Mesurez pendant que le symptôme est là, ou bougez les fils et chauffez la pièce pendant " +
		"la mesure."},
	{"warn.held_off", "Un code mémorisé peut maintenir l’étage coupé, et un étage qui se protège se coupe sur un " +
		"court-circuit\u00a0: dans les deux cas, il paraît mort. Effacez le code, commandez-le de nouveau, et écoutez ou " +
		"sentez le déclic."},
	{"caution.plugs", "Contact coupé avant de débrancher ou de rebrancher un connecteur\u00a0: sinon, un calculateur peut être " +
		"détruit."},
	{"caution.test_load", "Une résistance de 12\u00a0Ω sous cette tension dissipe %[1]s\u00a0W (U²/12) et devient " +
		"brûlante\u00a0: prenez-en une prévue pour cela, quelques secondes seulement, loin de tout ce qui fond."},
	{"caution.hot_part", "La pièce et son huile peuvent vous brûler. Chauffez à l’air chaud, jamais à la flamme, et loin de " +
		"tout carburant."},
	{"caution.lifted", "Sortir une pièce ouvre l’hydraulique\u00a0: pression tombée, huile chaude, et joints neufs là où le " +
		"constructeur les demande."},
	{"caution.before_unit", "On n’arrive au calculateur que par élimination. Avant d’en brancher un neuf, assurez-vous que le " +
		"bobinage et son câblage ne prennent pas plus que le maximum de l’étage de sortie."},
	{"step.coil", "Un bobinage sain à sa température, minimum (sans température\u00a0: au milieu de ce qu’elle peut être)"},
	{"step.current", "Courant d’un circuit sain avec un bobinage moyen"},
	{"step.prior", "Probabilité de «\u00a0%s\u00a0» avant toute mesure"},
	{"step.posterior", "Sa probabilité après les mesures"},
	{"step.stop", "Coût attendu d’une erreur, si l’on répare maintenant"},
	{"step.value", "Ce que «\u00a0%s\u00a0» économise en moyenne, vu deux essais à l’avance"},
	{"source.bayes", "règle de Bayes\u00a0; poids et paramètres d’usage courant"},
	{"source.network", "lois d’Ohm et de Kirchhoff"},
	{"fault.reversed", "%[1]s est sous zéro."},
	{"fault.reversed.hint", "Inversez les pointes et mesurez de nouveau, ou laissez le signe de côté."},
	{"fault.set_current", "Un courant est donné pour un étage qui n’en tient pas."},
	{"fault.set_current.hint", "Laissez ceci de côté, ou dites que l’étage tient un courant de consigne."},
	{"fault.no_word", "Le résultat de cet essai est un mot, et «\u00a0%[1]s\u00a0» n’en fait pas partie."},
	{"fault.no_word.hint", "Donnez l’un de ceux-ci\u00a0: %[2]s."},
	{"fault.over_limit_of", "OL est un résultat en résistance. Cet essai se lit autrement\u00a0: %[1]s."},
	{"fault.over_limit_of.hint", "Donnez ce qui s’affiche, par exemple %[2]s."},
	{"result.overall", "Le verdict unique\u00a0: test, again, la réparation, ou stop."},
	{"result.stop", "high_voltage si une alimentation dépasse 60\u00a0V\u00a0: pas de conseil\u00a0; absent sinon."},
	{"result.faults", "Tous les défauts, le plus probable d’abord\u00a0; la somme des probabilités est 1."},
	{"result.faults.fault", "Son nom."},
	{"result.faults.probability", "Sa probabilité."},
	{"result.repairs", "La même chose selon ce qu’on remplacerait ou réparerait."},
	{"result.repairs.repair", "component, harness, return_path, control_unit, unit_power, nothing, unexplained\u00a0; " +
		"inner_harness s’il est vendu à part."},
	{"result.repairs.probability", "Probabilité que ceci répare."},
	{"result.next", "Essais encore possibles, le meilleur d’abord."},
	{"result.next.test", "Son nom."},
	{"result.next.gain_bits", "Information sur le défaut qu’on en attend."},
	{"result.next.minutes", "Sa durée."},
	{"result.next.value", "Ce qu’il devrait économiser, son propre coût déduit\u00a0; sous 0, il n’est pas rentable."},
	{"result.next.expected", "Où tombent 95 mesures sur 100 d’un circuit sain."},
	{"result.next.expected.min", "De."},
	{"result.next.expected.max", "À."},
	{"result.next.expected.over", "OL."},
	{"result.next.expected.word", "Le mot, pour un essai dont le résultat est un mot."},
	{"result.next.outcomes", "Ce que voudrait dire chaque mesure probable, de la plus petite à la plus grande."},
	{"result.next.undecided", "La probabilité d’une mesure qu’aucun de ceux-ci ne nomme\u00a0: aucune réparation ne " +
		"se détache ensuite. Omise sous un centième."},
	{"result.next.outcomes.from", "Bas\u00a0; absent s’il n’y en a pas."},
	{"result.next.outcomes.to", "Haut\u00a0; absent s’il n’y en a pas."},
	{"result.next.outcomes.over", "OL."},
	{"result.next.outcomes.word", "Le mot, pour un essai dont le résultat est un mot."},
	{"result.next.outcomes.probability", "Sa probabilité."},
	{"result.next.outcomes.fault", "Le défaut alors le plus probable."},
	{"result.next.outcomes.fault_probability", "Sa probabilité dans ce cas."},
	{"result.next.outcomes.repair", "La réparation alors la plus probable."},
	{"result.next.outcomes.repair_probability", "Sa probabilité dans ce cas."},
	{"result.decision", "Ce qui est rentable maintenant."},
	{"result.decision.do", "test, repair, recheck si les mesures ne correspondent à rien de connu, ou stop."},
	{"result.decision.why", "Pourquoi\u00a0: again (contradiction), test (rentable), look, eliminate ou not_shown (avant de " +
		"condamner une pièce), sure, repair, none_left (plus d’essai), nothing (sain), unexplained (rien ne " +
		"colle), doubtful (trop peu est connu)."},
	{"result.decision.test", "L’essai à faire, ou à refaire."},
	{"result.decision.repair", "La réparation au moindre coût d’erreur attendu\u00a0; nothing\u00a0: rendre en l’état."},
	{"result.decision.probability", "Probabilité qu’elle soit la bonne."},
	{"result.decision.expected_cost_of_error", "Ce que coûte une erreur en moyenne."},
	{"result.decision.rests_on", "La seule mesure sans laquelle la réparation serait douteuse\u00a0; absent s’il n’y en a pas."},
	{"result.comes_and_goes", "Probabilité d’un défaut intermittent, qui donne des mesures saines quand il est absent."},
	{"result.sets", "Les types de code que déclenche normalement le défaut le plus probable de la réparation."},
	{"result.surprise", "À quel point, en bits, des mesures aussi éloignées du meilleur défaut seul sont improbables\u00a0; " +
		"avertissement à partir de 7."},
	{"result.worst", "En cas de surprise\u00a0: la mesure sans laquelle les autres colleraient le mieux."},
	{"result.pair", "En cas de surprise\u00a0: deux défauts qui ensemble expliqueraient les mesures."},
	{"result.rests_on", "La seule mesure sans laquelle la réparation décidée serait douteuse\u00a0; absent s’il n’y en a pas."},
	{"result.readings", "Les mesures telles que comprises."},
	{"result.readings.test", "L’essai."},
	{"result.readings.value", "Ce qu’il a donné."},
	{"result.readings.over", "OL."},
	{"result.readings.word", "Ce qu’il a donné, si le résultat est un mot."},
	{"result.readings.supply", "L’alimentation à cette mesure, si elle était différente."},
	{"result.readings.at", "La température du bobinage à cette mesure, si elle était différente."},
	{"result.readings.counted", "Si elle compte\u00a0: la dernière de son essai compte."},
	{"result.readings.expected", "Où tombent 95 mesures sur 100 d’un circuit sain."},
	{"result.readings.expected.min", "De."},
	{"result.readings.expected.max", "À."},
	{"result.readings.expected.over", "OL."},
	{"result.readings.expected.word", "Le mot, pour un essai dont le résultat est un mot."},
	{"hand", "Un code et un faisceau"},
	{"hand.why", "Quelle partie est en cause, et quel essai vaut ensuite ses minutes\u00a0?"},
	{"fine", "Minutes, coûts, appareil, hypothèses"},
}
