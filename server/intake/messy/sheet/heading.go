package sheet

import "strings"

// heading is a column and how this person writes its name.
type heading struct {
	column string // English name; "" = not a column of the register
	typed  string
}

// french are the French names of the columns that differ from the English.
var french = map[string]string{
	"client_phone": "téléphone_client", "farm": "ferme", "town": "ville", "branch": "agence", "unit": "unité",
	"enterprise": "filière", "purpose": "but", "species": "espèce", "length": "longueur", "width": "largeur",
	"length_unit": "mesure", "capacity": "capacité", "build_standard": "norme", "wall_base": "soubassement",
	"cover": "couverture", "double_door": "double_porte", "lined": "murs_revêtus", "paths": "allées",
	"feed_platforms": "plateaux_aliment", "water": "eau", "tank_litres": "réservoir_litres",
	"handed_over_on": "réceptionné_le", "planted_on": "planté_le", "stocked_on": "mis_en_charge_le",
	"stocked_count": "nombre_mis_en_charge", "mean_weight_g": "poids_moyen_g", "last_visit_on": "dernière_visite_le",
	"caretaker": "soigneur", "caretaker_phone": "téléphone_soigneur", "trained_on": "formé_le", "language": "langue",
	"status": "statut",
}

var english = []string{
	"client", "client_phone", "farm", "town", "latitude", "longitude", "branch", "unit", "enterprise", "purpose", "species",
	"length", "width", "length_unit", "capacity", "build_standard", "wall_base", "cover", "double_door", "drain", "lined", "paths",
	"feed_platforms", "water", "tank_litres", "handed_over_on", "planted_on", "stocked_on", "stocked_count", "mean_weight_g",
	"last_visit_on", "caretaker", "caretaker_phone", "trained_on", "language", "status",
}

// columns invents the header: any order, either language, and a column or
// two of the person's own.
func (m *maker) columns() {
	for _, c := range english {
		name := c
		if fr, has := french[c]; has && !m.English && m.chance(0.5) {
			name = fr
		}
		m.head = append(m.head, heading{c, m.heading(name)})
	}
	for _, own := range []string{"Remarks", "N° dossier"} {
		m.head = append(m.head, heading{"", own})
		m.out.Strange = append(m.out.Strange, own)
	}
	m.rng.Shuffle(len(m.head), func(i, j int) { m.head[i], m.head[j] = m.head[j], m.head[i] })
}

// heading writes a name as this person does: capitals, spaces, accents or
// none.
func (m *maker) heading(name string) string {
	if m.chance(0.3) {
		name = noAccents.Replace(name)
	}
	if m.chance(0.6) {
		name = strings.ReplaceAll(name, "_", " ")
	}
	switch m.rng.IntN(3) {
	case 0:
		return strings.ToUpper(name)
	case 1:
		return strings.ToUpper(name[:1]) + name[1:]
	}
	return " " + name
}

var noAccents = strings.NewReplacer("é", "e", "è", "e", "ê", "e", "à", "a", "É", "E")

// title writes the header, at times under a title.
func (m *maker) title() {
	if m.chance(0.5) {
		m.out.Rows = append(m.out.Rows, []Cell{text("Palmwalk: registre des fermes / register of farms")}, nil)
	}
	cells := make([]Cell, len(m.head))
	for i, h := range m.head {
		cells[i] = text(h.typed)
	}
	m.out.Rows = append(m.out.Rows, cells)
	m.out.Header = len(m.out.Rows)
}
