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

// gradeWords say how far a figure can be trusted, as the farm's page does.
var gradeWords = map[checklists.Grade]text{
	checklists.FullText:       {"published, the source itself was read", "publié, la source elle-même a été lue"},
	checklists.Abstract:       {"published, its abstract or official page was read", "publié, le résumé ou la page officielle a été lu"},
	checklists.Weak:           {"from a blog, the press or an advice sheet", "d’un blog, de la presse ou d’une fiche de conseil"},
	checklists.Derived:        {"worked out from published figures", "calculé à partir de chiffres publiés"},
	checklists.CommonPractice: {"common practice, no source", "pratique courante, sans source"},
	checklists.Constructed:    {"calculated, no direct source", "calculé, sans source directe"},
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
}
