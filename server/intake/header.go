package intake

import (
	"fmt"
	"strings"

	"tendfold/domain"
	"tendfold/server/app/register"
)

// column is what a header cell means: a column of the register and, for
// pumps, the measure that is part of the name.
type column struct {
	register.Column
	measure string
}

// names are the columns' names in both languages, as in the documentation.
var names = map[string]column{
	"client":       {Column: register.ColClient},
	"client_phone": {Column: register.ColClientPhone}, "telephone_client": {Column: register.ColClientPhone},
	"farm": {Column: register.ColFarm}, "ferme": {Column: register.ColFarm},
	"town": {Column: register.ColTown}, "ville": {Column: register.ColTown},
	"landmark": {Column: register.ColLandmark}, "repere": {Column: register.ColLandmark},
	"latitude": {Column: register.ColLatitude}, "longitude": {Column: register.ColLongitude},
	"branch": {Column: register.ColBranch}, "agence": {Column: register.ColBranch},
	"unit": {Column: register.ColUnit}, "unite": {Column: register.ColUnit},
	"enterprise": {Column: register.ColEnterprise}, "filiere": {Column: register.ColEnterprise},
	"purpose": {Column: register.ColPurpose}, "but": {Column: register.ColPurpose},
	"species": {Column: register.ColSpecies}, "espece": {Column: register.ColSpecies},
	"length": {Column: register.ColLength}, "longueur": {Column: register.ColLength},
	"width": {Column: register.ColWidth}, "largeur": {Column: register.ColWidth},
	"length_unit": {Column: register.ColLengthUnit}, "mesure": {Column: register.ColLengthUnit},
	"capacity": {Column: register.ColCapacity}, "capacite": {Column: register.ColCapacity},
	"build_standard": {Column: register.ColStandard}, "norme": {Column: register.ColStandard},
	"wall_base": {Column: register.ColWallBase}, "soubassement": {Column: register.ColWallBase},
	"cover": {Column: register.ColCover}, "couverture": {Column: register.ColCover},
	"double_door": {Column: register.ColDoubleDoor}, "double_porte": {Column: register.ColDoubleDoor},
	"drain": {Column: register.ColDrain},
	"lined": {Column: register.ColLined}, "murs_revetus": {Column: register.ColLined},
	"paths": {Column: register.ColPaths}, "allees": {Column: register.ColPaths},
	"feed_platforms": {Column: register.ColFeedPlatforms}, "plateaux_aliment": {Column: register.ColFeedPlatforms},
	"water": {Column: register.ColWater}, "eau": {Column: register.ColWater},
	"tank_litres": {Column: register.ColTank}, "reservoir_litres": {Column: register.ColTank},
	"pump_hp": {register.ColPump, "hp"}, "pompe_ch": {register.ColPump, "ch"}, "pompe_cv": {register.ColPump, "ch"},
	"pump_kw": {register.ColPump, "kW"}, "pompe_kw": {register.ColPump, "kW"},
	"handed_over_on": {Column: register.ColHandedOver}, "receptionne_le": {Column: register.ColHandedOver},
	"planted_on": {Column: register.ColStarted}, "started_on": {Column: register.ColStarted},
	"plante_le": {Column: register.ColStarted}, "demarre_le": {Column: register.ColStarted},
	"stocked_on": {Column: register.ColStocked}, "mis_en_charge_le": {Column: register.ColStocked},
	"stocked_count": {Column: register.ColCount}, "nombre_mis_en_charge": {Column: register.ColCount},
	"mean_weight_g": {Column: register.ColWeight}, "poids_moyen_g": {Column: register.ColWeight},
	"first_harvest_on": {Column: register.ColHarvest}, "premiere_recolte_le": {Column: register.ColHarvest},
	"last_visit_on": {Column: register.ColLastVisit}, "derniere_visite_le": {Column: register.ColLastVisit},
	"caretaker": {Column: register.ColCaretaker}, "soigneur": {Column: register.ColCaretaker},
	"caretaker_phone": {Column: register.ColCaretakerPhone}, "telephone_soigneur": {Column: register.ColCaretakerPhone},
	"trained_on": {Column: register.ColTrained}, "forme_le": {Column: register.ColTrained},
	"language": {Column: register.ColLanguage}, "langue": {Column: register.ColLanguage},
	"status": {Column: register.ColStatus}, "statut": {Column: register.ColStatus},
}

// required are the columns that a register cannot do without.
var required = []register.Column{register.ColClient, register.ColFarm, register.ColUnit, register.ColEnterprise}

// byHeading finds a column however its heading is written.
var byHeading = func() map[string]column {
	found := make(map[string]column, len(names))
	for name, c := range names {
		found[heading(name)] = c
	}
	return found
}()

// heading is a heading without what does not matter: capitals, accents,
// spaces, underscores.
func heading(s string) string { return strings.ReplaceAll(register.Fold(s), " ", "") }

// header is the row with the most known columns among the first, -1 when no
// row has any.
func (g grid) header() (at, known int) {
	at = -1
	for i, l := range g.lines[:min(len(g.lines), headerRows)] {
		n := 0
		for _, cell := range l.cells {
			if _, ok := byHeading[heading(cell)]; ok {
				n++
			}
		}
		if n > known {
			at, known = i, n
		}
	}
	return at, known
}

// columns are the positions of each column, left to right, and of the cells
// of the header that mean nothing to us.
func (l line) columns() (known map[register.Column][]position, unknown []int) {
	known = map[register.Column][]position{}
	for i, cell := range l.cells {
		c, ok := byHeading[heading(cell)]
		switch {
		case ok:
			known[c.Column] = append(known[c.Column], position{at: i, typed: strings.TrimSpace(cell), measure: c.measure})
		case strings.TrimSpace(cell) != "":
			unknown = append(unknown, i)
		}
	}
	return known, unknown
}

// position is where a column stands, and how the person wrote its heading.
type position struct {
	at      int
	typed   string
	measure string
}

func missing(known map[register.Column][]position, headerRow int) error {
	var fields []domain.Field
	var lacking []string
	for _, c := range required {
		if len(known[c]) == 0 {
			lacking = append(lacking, string(c)+" ("+frenchName(c)+")")
			fields = append(fields, domain.Field{Path: string(c), Code: "column-missing", Text: "This column is required."})
		}
	}
	if len(fields) == 0 {
		return nil
	}
	return domain.Invalid("columns-missing", fmt.Sprintf("Row %d looks like the header, but these columns are missing: %s. Add them, or put these names in the header.", headerRow, strings.Join(lacking, ", ")), fields...)
}

func frenchName(c register.Column) string {
	return map[register.Column]string{register.ColClient: "client", register.ColFarm: "ferme", register.ColUnit: "unite", register.ColEnterprise: "filiere"}[c]
}
