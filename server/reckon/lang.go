package reckon

import "tendfold/checklists"

// text is one text in both languages.
type text struct{ en, fr string }

func (t text) in(l Lang) string {
	if l == French {
		return t.fr
	}
	return t.en
}

// asEntered is the grade of what the sheet itself brings along.
const asEntered checklists.Grade = "as-entered"

// gradeWords say how far a figure can be trusted, as the farm's page does.
var gradeWords = map[checklists.Grade]text{
	checklists.FullText:       {"published, the source itself was read", "publié, la source elle-même a été lue"},
	checklists.Abstract:       {"published, its abstract or official page was read", "publié, le résumé ou la page officielle a été lu"},
	checklists.Weak:           {"from a blog, the press or an advice sheet", "d’un blog, de la presse ou d’une fiche de conseil"},
	checklists.Derived:        {"worked out from published figures", "calculé à partir de chiffres publiés"},
	checklists.CommonPractice: {"common practice, no source", "pratique courante, sans source"},
	checklists.Constructed:    {"calculated, no direct source", "calculé, sans source directe"},
	asEntered:                 {"as entered", "comme saisi"},
	checklists.FromMemory:     {"our estimate, not yet checked", "notre estimation, pas encore vérifiée"},
}

// cautionWords are what to mind.
var cautionWords = map[string]text{
	"nothing-asked": {
		"Nothing was asked, so there is nothing to answer. --template shows what can be asked.",
		"Rien n’est demandé, il n’y a donc rien à répondre. --template montre ce que l’on peut demander.",
	},
	"estimates": {
		"These are estimates under stated assumptions, not a promise of income.",
		"Ce sont des estimations sous des hypothèses données, pas une promesse de revenu.",
	},
	"sum-without-limits": {
		"This sum knows neither room nor feed nor theft: no house can hold so many animals. Compare it with what the house can carry.",
		"Ce calcul ignore la place, l’aliment et les vols : aucun abri ne tient autant d’animaux. Comparez avec ce que l’abri peut porter.",
	},
	"fresh-water-only": {
		"This holds for fresh water. Test strips and kits err too: when fish gasp, act before you reckon.",
		"Ceci vaut pour l’eau douce. Bandelettes et trousses se trompent aussi : quand les poissons suffoquent, agissez avant de calculer.",
	},
	"air-estimated": {
		"Humidity, wind and sun are estimated from the temperatures. Measured ones of the nearest station are better.",
		"Humidité, vent et soleil sont estimés d’après les températures. Ceux, mesurés, de la station la plus proche valent mieux.",
	},
	"station-unsourced": {
		"Nobody says where the figures of this station come from. Write it under source.",
		"Rien ne dit d’où viennent les chiffres de cette station. Notez-le sous source.",
	},
	"normals-are-means": {
		"These are mean months. A dry year asks for more: keep a reserve.",
		"Ce sont des mois moyens. Une année sèche demande plus : gardez une réserve.",
	},
	"suction-too-deep": {
		"The pump would draw from %.1f m; above %.1f m no pump that stands above the water draws reliably. Use one in the water.",
		"La pompe aspirerait de %.1f m ; au-delà de %.1f m, aucune pompe hors de l’eau n’aspire sûrement. Prenez une pompe immergée.",
	},
	"cannot-lift": {
		"The pump cannot lift water to that height and pressure at all.",
		"La pompe ne peut pas du tout élever l’eau à cette hauteur et à cette pression.",
	},
	"by-power-alone": {
		"This goes by the power on the plate and a guess at how much of it lifts water. A pump also has a height that it cannot pass: look at its curve.",
		"Ceci part de la puissance de la plaque et d’une part supposée qui élève l’eau. Une pompe a aussi une hauteur qu’elle ne dépasse pas : voyez sa courbe.",
	},
	"pump-not-sure": {
		"Whether the pump can do it hangs on how well it works. Measure what it gives in a minute before you count on it.",
		"La réponse dépend de l’état de la pompe. Mesurez ce qu’elle donne en une minute avant de compter dessus.",
	},
	"dormant-are-alive": {
		"Snails that sleep in the dry season are alive: count them among the animals, and write the day.",
		"Les escargots endormis en saison sèche sont vivants : comptez-les parmi les animaux et notez le jour.",
	},
	"too-small": {
		"This unit is too small to chart, or too little known: a doubling would not show in time. Go by what is seen on the day.",
		"Cette unité est trop petite pour un suivi, ou trop peu connue : un doublement ne se verrait pas à temps. Fiez-vous à ce qui se voit le jour même.",
	},
	"not-enough-to-say": {
		"Not enough to say whether they grow as they should: it takes %d animals of one known age, taken as they come.",
		"Pas assez pour dire s’ils grandissent bien : il faut %d animaux d’un même âge connu, pris comme ils viennent.",
	},
	"slow-never-reach": {
		"Animals that grow as slowly as the lower line never reach %.0f g.",
		"Des animaux aussi lents que la ligne basse n’atteignent jamais %.0f g.",
	},
	"curve-ends-with-samples": {
		"A curve is good for the ages that were weighed, and says little beyond them.",
		"Une courbe vaut pour les âges pesés et dit peu au-delà.",
	},
	"overcrowded": {
		"More stands here than is published for animals of this size: they grow slowly, lay little and die sooner. Thin them, or build.",
		"Il y a ici plus que ce qui est publié pour cette taille : ils grandissent lentement, pondent peu et meurent plus tôt. Dédoublez, ou construisez.",
	},
	"one-system-only": {
		"This limit is for this way of keeping water alone. Never take that of another: a still pond cannot hold what a tank with running water holds.",
		"Cette limite vaut pour cette seule façon de tenir l’eau. N’en prenez jamais une autre : un étang sans renouvellement ne porte pas ce que porte un bac à eau courante.",
	},
	"water-too-low": {
		"%s: %.4g is too low; it should be %.4g at least. Look at the fish now, and give less feed until it is right.",
		"%s : %.4g est trop bas ; il faut au moins %.4g. Regardez les poissons maintenant et nourrissez moins tant que ce n’est pas bon.",
	},
	"water-too-high": {
		"%s: %.4g is too high; it should be %.4g at most. Change water in steps, and give less feed until it is right.",
		"%s : %.4g est trop haut ; il faut au plus %.4g. Changez l’eau par étapes et nourrissez moins tant que ce n’est pas bon.",
	},
	"ammonia-over-general": {
		"Above the line at which ammonia begins to harm fish in general (%.4g mg/l). For fry, act on this line.",
		"Au-dessus du seuil où l’ammoniac commence à nuire aux poissons en général (%.4g mg/l). Pour les alevins, agissez dès ce seuil.",
	},
	"ammonia-over-species": {
		"Above what is advised for grown African catfish (%.4g mg/l). Stop feeding and change water in steps; no lime.",
		"Au-dessus de ce qui est conseillé pour le silure africain adulte (%.4g mg/l). Arrêtez l’aliment et changez l’eau par étapes ; pas de chaux.",
	},
	"claim-beyond-the-floor": {
		"What the trade says these animals bring (layings times eggs) is more than the floor can carry. It is a claim with no source, and no plan.",
		"Ce que le métier promet de ces animaux (pontes fois œufs) dépasse ce que la surface peut porter. C’est un dire sans source, pas un plan.",
	},
}
