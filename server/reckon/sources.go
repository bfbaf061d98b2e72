package reckon

import "tendfold/checklists"

// cited is where a formula is published, and what a reader should know of it.
type cited struct {
	citation string
	grade    checklists.Grade
	note     text
}

// The formulas. None of these papers was read whole; their examples and tables
// were seen as others quote them, and the tests hold the code to those.
var (
	emerson = cited{
		"Emerson, Russo, Lund and Thurston (1975), J. Fish. Res. Board Can. 32:2379-2383", checklists.Abstract,
		text{"the constant is 2729.92; the table that UF/IFAS FA16 prints fits it", "la constante est 2729,92 ; la table imprimée par UF/IFAS FA16 y correspond"},
	}
	garwood     = cited{"Garwood (1936), Biometrika 28:437", checklists.Abstract, text{"exact limits", "limites exactes"}}
	stageMatrix = cited{
		"Caswell (2001), Matrix Population Models", checklists.Abstract,
		text{
			"births enter stage 1; nobody has published such rates for these snails, so they are those entered",
			"les naissances entrent au stade 1 ; personne n’a publié ces taux pour ces escargots, ce sont donc ceux saisis",
		},
	}
	penmanMonteithSource = cited{
		"FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes and Smith 1998), equation 6", checklists.Abstract,
		text{"a 0.25, b 0.50, albedo 0.23, no soil heat", "a 0,25, b 0,50, albédo 0,23, sans chaleur du sol"},
	}
	hargreavesSource = cited{
		"FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes and Smith 1998), equation 52", checklists.Abstract,
		text{"from temperatures alone", "d’après les seules températures"},
	}
	missingSource = cited{
		"FAO Irrigation and Drainage Paper 56, chapter 3", checklists.Abstract,
		text{
			"dew point at the lowest temperature, 2 m/s of wind, sun from the range of temperature",
			"point de rosée à la température la plus basse, vent de 2 m/s, soleil d’après l’écart des températures",
		},
	}
	hazenWilliams = cited{
		"Hazen and Williams, SI form: 10.67 L (Q/C)^1.852 / D^4.87", checklists.Abstract,
		text{"a plan goes by the larger of both losses", "le plan prend la plus grande des deux pertes"},
	}
	darcyWeisbach = cited{
		"Darcy and Weisbach, with the factor of Colebrook and White (1939)", checklists.Abstract,
		text{"laminar below Re 2000", "laminaire sous Re 2000"},
	}
	clopperPearson = cited{
		"Clopper and Pearson (1934), on the deaths of both together", checklists.Abstract, text{"exact limits", "limites exactes"},
	}
	pageLucas = cited{
		"Page (1954); Lucas (1985), counted data; run length by Brook and Evans (1972)", checklists.Abstract,
		text{
			"a death adds ln 2, the expected deaths are taken off; a week is taken by its predictive law (negative binomial)",
			"une mort ajoute ln 2, les morts attendues sont ôtées ; une semaine suit sa loi prédictive (binomiale négative)",
		},
	}
	student = cited{"Student (1908), t interval of a mean", checklists.Abstract, text{"holds it 90 times in 100", "la contient 90 fois sur 100"}}

	specificGrowth = cited{"100 (ln W2 - ln W1) / days; BAAZ 2021 s41936-021-00254-7, table 1", checklists.Abstract, text{}}
	leastSquares   = cited{
		"Least squares by the steps of Levenberg and Marquardt", checklists.Abstract,
		text{"held to the certified values of NIST StRD", "vérifié sur les valeurs certifiées de NIST StRD"},
	}
)
