package loop

import "ohmwright/core/wording"

// fr are the words in fr, as a translator gave them to "ohmwright words".
var fr = []wording.Entry{
	{"title", "Essai en charge"},
	{"purpose", "Le reste du circuit perd-il de la tension\u00a0? Volts à la batterie et ampères à la pince."},
	{"supply", "Alimentation, en charge"},
	{"supply.how", "Aux bornes de la batterie, étage de sortie passant en continu."},
	{"current", "Courant"},
	{"current.how", "Faites le zéro de la pince à côté du fil, fermez-la sur le seul fil de commande, étage piloté en continu."},
	{"winding", "Résistance du bobinage"},
	{"winding.how", "Du bobinage seul, cordons déduits. Ou donnez plutôt la spécification."},
	{"at", "Bobinage mesuré à"},
	{"at.how", "La température du bobinage au moment où sa résistance a été mesurée."},
	{"spec", "Bobinage par spécification"},
	{"spec.how", "Si le bobinage lui-même n’a pas été mesuré\u00a0: on en prend le milieu, et la largeur de la plage compte " +
		"comme incertitude."},
	{"spec.min", "Minimum"},
	{"spec.min.how", "Telle qu’imprimée."},
	{"spec.max", "Maximum"},
	{"spec.max.how", "Telle qu’imprimée."},
	{"spec.at", "Spécifié à"},
	{"spec.at.how", "20\u00a0°C si le manuel ne dit rien (usage courant)."},
	{"winding_temperature", "Température actuelle du bobinage"},
	{"winding_temperature.how", "Sa température pendant l’essai en charge\u00a0: celle de l’huile, ou plus après des minutes à " +
		"plein courant. Sans réponse, tout est possible de −20 à 130\u00a0°C."},
	{"winding_temperature_within", "Température à ±"},
	{"winding_temperature_within.how", "Votre marge sur cette valeur. 10\u00a0°C pour un bobinage en charge."},
	{"winding_within", "Résistance à ±"},
	{"winding_within.how", "Votre marge sur la résistance du bobinage\u00a0: en pour cent ou en ohms."},
	{"supply_within", "Alimentation à ±"},
	{"supply_within.how", "De combien elle bouge pendant la mesure, plus la précision du voltmètre."},
	{"driver", "Étage de sortie"},
	{"driver.how", "Ce que perd l’interrupteur du calculateur\u00a0: en ohms, ou en volts. 0,15\u00a0ohm\u00a0: usage courant."},
	{"segments", "Volts admis pour chaque partie"},
	{"segments.how", "Ce que chaque partie peut perdre en charge. Valeurs d’usage courant\u00a0; celles du constructeur passent " +
		"avant."},
	{"segments.ground", "Masse"},
	{"segments.ground.how", "Du composant, ou de son boîtier, au moins de la batterie."},
	{"segments.wire", "Fil"},
	{"segments.wire.how", "Un fil, de connecteur à connecteur."},
	{"segments.switch", "Contacteur ou étage"},
	{"segments.switch.how", "Aux bornes de ce qui commute le courant."},
	{"limit", "Volts perdus, au plus"},
	{"limit.how", "Ce que câblage, contacts et masses peuvent perdre ensemble. 0,5\u00a0V\u00a0: usage courant."},
	{"meter", "Précision de la pince"},
	{"meter.how", "Selon la notice de la pince\u00a0: ± (pour cent de la lecture + digits)."},
	{"meter.percent", "Pour cent de la lecture"},
	{"meter.percent.how", "2\u00a0%% pour une pince à courant continu simple."},
	{"meter.counts", "Digits"},
	{"meter.counts.how", "Le nombre de pas du dernier chiffre que la notice ajoute."},
	{"meter.resolution", "Dernier chiffre vaut"},
	{"meter.resolution.how", "Un pas du dernier chiffre affiché sur ce calibre."},
	{"result.total", "Résistance de toute la boucle."},
	{"result.winding", "Le bobinage à sa température pendant l’essai."},
	{"result.unwanted", "Ce qui reste\u00a0: câblage, contacts, masses."},
	{"result.unwanted_drop", "Les volts qui s’y perdent."},
	{"result.overall", "Le verdict unique\u00a0: clean, unwanted, undecided\u00a0; too_much si la boucle prend plus que le " +
		"bobinage seul\u00a0; no_loaded_test si l’étage régule son courant\u00a0; stop."},
	{"result.stop", "high_voltage si l’alimentation dépasse 60\u00a0V\u00a0: pas de conseil\u00a0; absent sinon."},
	{"result.segments", "Ce que chaque partie de la boucle peut perdre au courant mesuré."},
	{"result.segments.segment", "ground, wire ou switch."},
	{"result.segments.allowed", "Volts qu’elle peut perdre."},
	{"result.segments.resistance", "Résistance qui les perd au courant mesuré."},
	{"result.segments.expected", "Volts que perd un fil sain de la section et de la longueur données."},
	{"result.verdict", "clean, unwanted ou undecided."},
	{"step.total", "Résistance de toute la boucle"},
	{"step.winding", "Bobinage à sa température pendant l’essai"},
	{"step.drop", "Volts perdus hors bobinage et étage de sortie"},
	{"step.unwanted", "La résistance qui les perd"},
	{"step.segment", "Ce qui perd les volts admis\u00a0: %s"},
	{"step.wire", "Fil sain de cette section"},
	{"step.clamp", "Ce que permet la précision de la pince"},
	{"warn.temperature_unknown", "Aucune température n’est donnée pour le bobinage pendant l’essai\u00a0: tout est possible de " +
		"%[1]s à %[2]s, et la réponse est large d’autant. Tapez la température, même à peu près avec un ± large."},
	{"warn.regulated", "L’étage tient son courant par impulsions\u00a0: l’alimentation divisée par le courant n’est alors pas " +
		"une résistance. Pilotez-le en continu si l’outil du constructeur le permet, ou mesurez la chute directement sur le " +
		"câblage et la masse."},
	{"warn.may_regulate", "Si cet étage tient un courant de consigne par impulsions, ce n’est pas un essai en charge, et le " +
		"câblage n’a rien. À savoir avant de réparer\u00a0: des volts à sa broche nettement sous l’alimentation, et un " +
		"appareil en Hz, trahissent les impulsions."},
	{"warn.may_be_off", "Si peu de courant peut aussi venir d’un étage qui se protège et s’est coupé, au moins par " +
		"moments\u00a0: sur un court-circuit, c’est ce qu’il montre."},
	{"warn.wire_alone", "Un fil sain de cette section perd %[1]s à lui seul, plus que les %[2]s admis\u00a0: vérifiez section " +
		"et longueur, ou admettez plus."},
	{"warn.too_much", "La boucle prend plus que son bobinage ne devrait permettre. Spires en court-circuit, second passage vers " +
		"la masse, bobinage plus froid, ou pince sans remise à zéro\u00a0: mesurez le bobinage lui-même avant de vous fier à " +
		"cet essai."},
	{"warn.undecided.supply", "La chute n’est connue qu’à ±\u00a0%s, et la limite tombe dedans. L’essentiel de l’incertitude " +
		"vient de l’alimentation\u00a0: relevez-la aux bornes de la batterie au même instant. Ou mesurez la chute directement, " +
		"sur le câblage et sur la masse."},
	{"warn.undecided.clamp", "La chute n’est connue qu’à ±\u00a0%s, et la limite tombe dedans. L’essentiel de l’incertitude " +
		"vient de la pince\u00a0: prenez-en une plus fine. Ou mesurez la chute directement, sur le câblage et sur la masse."},
	{"warn.undecided.winding", "La chute n’est connue qu’à ±\u00a0%s, et la limite tombe dedans. L’essentiel de l’incertitude " +
		"vient de la résistance du bobinage\u00a0: mesurez le bobinage lui-même. Ou mesurez la chute directement, sur le " +
		"câblage et sur la masse."},
	{"warn.undecided.temperature", "La chute n’est connue qu’à ±\u00a0%s, et la limite tombe dedans. L’essentiel de " +
		"l’incertitude vient de la température du bobinage\u00a0: mesurez-la, ou faites l’essai avant que la pièce chauffe. Ou " +
		"mesurez la chute directement, sur le câblage et sur la masse."},
	{"word.clean", "Pertes admises"},
	{"word.unwanted", "Résistance parasite"},
	{"word.undecided", "Indécis"},
	{"word.too_much", "Courant trop élevé"},
	{"word.no_loaded_test", "Pas un essai en charge"},
	{"headline.regulated", "l’étage de sortie tient son courant"},
	{"why.no_loaded_test", "Ce qui circule est ce que règle l’étage, quel que soit le câblage. Cet essai ne dit rien du reste " +
		"du circuit."},
	{"sheet.segments", "Ce que chaque partie peut perdre à ce courant"},
	{"segment.ground", "masse"},
	{"segment.wire", "fil"},
	{"segment.switch", "contacteur ou étage"},
	{"segment.allowed", "%[1]s, soit %[2]s"},
	{"segment.sound.name", "fil sain de cette section"},
	{"segment.sound", "%[1]s, par %[2]s"},
	{"headline", "%s perdus dans le câblage"},
	{"headline.too_much", "boucle %[1]s, bobinage seul %[2]s"},
	{"why.clean", "Câblage, contacts et masses perdent %[1]s, dans les %[2]s admis. Ils n’expliquent pas le défaut sous cette " +
		"charge."},
	{"why.unwanted", "Câblage, contacts et masses perdent %[1]s, plus que les %[2]s admis\u00a0: %[3]s de plus que prévu. " +
		"Mesurez la chute tronçon par tronçon pour trouver où."},
	{"why.undecided", "Câblage, contacts et masses perdent %[1]s\u00a0; les %[2]s admis tombent dans cette incertitude."},
	{"why.too_much", "Il y a moins de résistance dans la boucle que bobinage et étage seuls ne devraient en avoir."},
	{"drawn.text", "Sur %[1]s, le bobinage prend %[2]s, l’étage de sortie %[3]s, et %[4]s sont perdus."},
	{"drawn.winding", "bobinage %s"},
	{"drawn.driver", "étage %s"},
	{"drawn.lost", "perdu %s"},
	{"drawn.supply", "alimentation %s"},
	{"drawn.caption", "Où vont les volts de l’alimentation."},
	{"fault.winding_and_spec", "On prend soit la résistance propre du bobinage, soit sa spécification, pas les deux."},
	{"fault.winding_and_spec.hint", "Laissez l’une des deux de côté\u00a0; la mesure du bobinage lui-même vaut mieux."},
	{"fault.winding_or_spec", "Il manque la résistance du bobinage."},
	{"fault.winding_or_spec.hint", "Donnez sa résistance, par exemple 5,3\u00a0ohm, ou sa spécification."},
	{"fault.spec_at", "La spécification a sa propre température."},
	{"fault.spec_at.hint", "Laissez ceci de côté, et donnez la température de la spécification."},
	{"fault.spec_within", "La largeur de la spécification est déjà l’incertitude."},
	{"fault.spec_within.hint", "Laissez ceci de côté."},
	{"fault.driver_supply", "Une chute de %[1]s dans l’étage de sortie ne laisse rien d’une alimentation de %[2]s."},
	{"fault.driver_supply.hint", "Vérifiez les deux\u00a0; un étage prend couramment de 0,1 à 0,5\u00a0V."},
	{"hand", "Une pince, sous tension"},
	{"hand.why", "Volts et ampères en charge\u00a0: le reste du circuit perd-il trop\u00a0?"},
	{"fine", "Étage, limites, fil, pince, marges"},
}
