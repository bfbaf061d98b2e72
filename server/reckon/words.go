package reckon

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"
)

// names are outputs and series as people say them.
var names = map[string]text{
	"fraction":     {"un-ionised share of the ammonia", "part d’ammoniac non ionisé"},
	"nh3_n_mg_l":   {"un-ionised ammonia", "ammoniac non ionisé"},
	"rate":         {"rate of deaths", "taux de mortalité"},
	"rate_low":     {"rate at least (95 times in 100)", "taux au moins (95 fois sur 100)"},
	"rate_high":    {"rate at most (95 times in 100)", "taux au plus (95 fois sur 100)"},
	"lambda_month": {"growth of the stock", "croissance du cheptel"},
	"month":        {"month", "mois"},
	"juveniles":    {"young", "jeunes"},
	"adults":       {"adults", "adultes"},
	"eto_mm_day":   {"reference evapotranspiration", "évapotranspiration de référence"},
	"ra_mj_m2_day": {"radiation above the air", "rayonnement au sommet de l’atmosphère"},
	"daylight_h":   {"daylight", "durée du jour"},

	"station":       {"station", "station"},
	"crops":         {"crops", "cultures"},
	"mist_l_m2":     {"misting", "brumisation"},
	"month_of_year": {"month", "mois"},
	"crops_l_day":   {"crops, l a day", "cultures, l par jour"},
	"animals_l_day": {"animals, l a day", "animaux, l par jour"},
	"need_l_day":    {"water in all", "eau en tout"},
	"peak_month":    {"month of the largest need", "mois du plus grand besoin"},
	"tank_days":     {"a full tank lasts (days)", "une cuve pleine dure (jours)"},

	"ratio":              {"times the other rate", "fois l’autre taux"},
	"ratio_low":          {"times the other rate, at least", "fois l’autre taux, au moins"},
	"ratio_high":         {"times the other rate, at most", "fois l’autre taux, au plus"},
	"reference_pc_week":  {"reference rate", "taux de référence"},
	"month_pc":           {"usual loss", "perte habituelle"},
	"signal":             {"signal", "signal"},
	"open":               {"a signal stands", "un signal est en cours"},
	"too_small_to_chart": {"too small to chart", "trop petit pour un suivi"},
	"limit":              {"limit", "limite"},
	"run_weeks":          {"weeks until a false call, on average", "semaines avant une fausse alerte, en moyenne"},
	"see_weeks":          {"weeks until a doubling shows, on average", "semaines avant qu’un doublement se voie, en moyenne"},
	"shape":              {"weight of the first rate", "poids du premier taux"},
	"at_once":            {"foul deaths a week that call at once", "morts putrides par semaine qui alertent aussitôt"},
	"at_once_pc":         {"share dead on a day that calls at once", "part morte en un jour qui alerte aussitôt"},
	"week":               {"week", "semaine"},
	"deaths":             {"deaths", "morts"},
	"expected":           {"expected", "attendues"},
	"climb":              {"climb", "cumul"},

	"animals":              {"animals", "animaux"},
	"mean_g":               {"mean weight", "poids moyen"},
	"mean_low_g":           {"mean at least (9 times in 10)", "moyenne au moins (9 fois sur 10)"},
	"mean_high_g":          {"mean at most (9 times in 10)", "moyenne au plus (9 fois sur 10)"},
	"sd_g":                 {"spread of single animals", "écart entre animaux"},
	"verdict":              {"beside the reference", "face à la référence"},
	"lacks":                {"what is lacking", "ce qui manque"},
	"band_low_g":           {"reference at this age, low", "référence à cet âge, bas"},
	"band_typical_g":       {"reference at this age, typical", "référence à cet âge, courant"},
	"band_high_g":          {"reference at this age, high", "référence à cet âge, haut"},
	"market_g":             {"weight of sale", "poids de vente"},
	"days_to_market_early": {"to the weight of sale, at the earliest", "jusqu’au poids de vente, au plus tôt"},
	"days_to_market":       {"to the weight of sale, most likely", "jusqu’au poids de vente, le plus probable"},
	"days_to_market_late":  {"to the weight of sale, at the latest", "jusqu’au poids de vente, au plus tard"},
	"gain_g_day":           {"growth", "croissance"},
	"sgr_pct_day":          {"specific growth rate", "taux de croissance spécifique"},
	"tgc":                  {"thermal growth coefficient", "coefficient thermique de croissance"},
	"fit_a":                {"final size", "taille finale"},
	"fit_a_se":             {"final size, standard error", "taille finale, erreur type"},
	"fit_b":                {"b", "b"},
	"fit_b_se":             {"b, standard error", "b, erreur type"},
	"fit_k":                {"k", "k"},
	"fit_k_se":             {"k, standard error", "k, erreur type"},
	"fit_t0":               {"t0", "t0"},
	"fit_t0_se":            {"t0, standard error", "t0, erreur type"},
	"fit_rss":              {"sum of squares that is left", "somme des carrés restante"},
	"fit_sd":               {"spread about the curve", "écart à la courbe"},

	"limit_general_mg_l": {"line for fish in general, and for fry", "seuil pour les poissons en général et les alevins"},
	"limit_species_mg_l": {"line for grown African catfish", "seuil pour le silure africain adulte"},
	"limit_severe_mg_l":  {"line above which they eat and grow far less", "seuil au-delà duquel ils mangent et grandissent bien moins"},
	"over_general":       {"above the line for fish in general", "au-dessus du seuil général"},
	"over_species":       {"above the line for African catfish", "au-dessus du seuil du silure africain"},
	"over_severe":        {"above the line of heavy harm", "au-dessus du seuil de forts dégâts"},

	"area_m2":             {"floor", "surface"},
	"harvest_g":           {"weight at harvest", "poids à la récolte"},
	"claimed_per_m2":      {"as claimed", "selon la capacité annoncée"},
	"claimed_kg_m2":       {"as claimed, at the weight of sale", "selon la capacité annoncée, au poids de vente"},
	"claimed_most_per_m2": {"published at most", "publié au plus"},
	"claimed_most_kg_m2":  {"published at most", "publié au plus"},
	"claimed_room":        {"room for", "de la place pour"},
	"claimed_overcrowded": {"the claim is too much", "la capacité annoncée est trop grande"},
	"today_per_m2":        {"today", "aujourd’hui"},
	"today_kg_m2":         {"today", "aujourd’hui"},
	"today_most_per_m2":   {"published at most for this size", "publié au plus pour cette taille"},
	"today_most_kg_m2":    {"published at most for this size", "publié au plus pour cette taille"},
	"today_room":          {"room today for", "place aujourd’hui pour"},
	"today_overcrowded":   {"too full today", "trop plein aujourd’hui"},
	"harvest_per_m2":      {"at harvest", "à la récolte"},
	"harvest_kg_m2":       {"at harvest", "à la récolte"},
	"harvest_most_per_m2": {"published at most at harvest", "publié au plus à la récolte"},
	"harvest_most_kg_m2":  {"published at most at harvest", "publié au plus à la récolte"},
	"harvest_room":        {"room at harvest for", "place à la récolte pour"},
	"harvest_overcrowded": {"too full at harvest", "trop plein à la récolte"},
	"pens_today":          {"pens needed today", "parcs nécessaires aujourd’hui"},
	"pens_harvest":        {"pens needed at harvest", "parcs nécessaires à la récolte"},
	"water_load":          {"fish in the water", "poissons dans l’eau"},
	"water_most":          {"this way of keeping water holds at most", "cette façon de tenir l’eau porte au plus"},
	"water_overcrowded":   {"too many fish for the water", "trop de poissons pour l’eau"},

	"fcr":                  {"feed for each kg of growth", "aliment par kg de croissance"},
	"survival":             {"share that lives to the sale", "part qui vit jusqu’à la vente"},
	"biomass_kg":           {"fish, kg", "poissons, kg"},
	"ration_pct_day":       {"ration", "ration"},
	"feed_kg_day":          {"feed today", "aliment aujourd’hui"},
	"feed_g_animal_day":    {"feed for one fish", "aliment par poisson"},
	"feed_kg_week":         {"feed of the week, kg", "aliment de la semaine, kg"},
	"order_kg":             {"feed to order for four weeks", "aliment à commander pour quatre semaines"},
	"order_low_kg":         {"feed for four weeks, at least", "aliment pour quatre semaines, au moins"},
	"order_high_kg":        {"feed for four weeks, at most", "aliment pour quatre semaines, au plus"},
	"grading_due_days":     {"sort again in", "trier à nouveau dans"},
	"water_change_pct_day": {"water to change", "eau à changer"},
	"water_change_l_day":   {"water to change", "eau à changer"},
	"temperature_c":        {"temperature", "température"},
	"oxygen_mg_l":          {"oxygen", "oxygène"},
	"ph":                   {"pH", "pH"},
	"nitrite_mg_l":         {"nitrite", "nitrite"},
	"nitrate_mg_l":         {"nitrate", "nitrate"},
	"house_week":           {"week", "semaine"},
	"house_kg":             {"animals, kg", "animaux, kg"},
	"dry_feed":             {"dry feed, share of the body weight a day", "aliment sec, part du poids par jour"},
	"fresh_feed":           {"fresh feed, share of the body weight a day", "aliment frais, part du poids par jour"},
	"calcium_of_dry_feed":  {"shell powder, share of the dry feed", "poudre de coquille, part de l’aliment sec"},
	"dry_kg_week":          {"dry feed a week, kg", "aliment sec par semaine, kg"},
	"fresh_kg_week":        {"fresh feed a week, kg", "aliment frais par semaine, kg"},
	"calcium_kg_week":      {"shell powder a week, kg", "poudre de coquille par semaine, kg"},
	"own_kg_week":          {"of that from the own crops, kg", "dont des cultures de l’unité, kg"},
	"gap_kg_week":          {"fresh feed to buy or find, kg", "aliment frais à acheter ou trouver, kg"},

	"animals_low":       {"animals at the end, 9 in 10 above", "animaux à la fin, 9 fois sur 10 plus"},
	"animals_likely":    {"animals at the end, most likely", "animaux à la fin, le plus probable"},
	"animals_high":      {"animals at the end, 9 in 10 below", "animaux à la fin, 9 fois sur 10 moins"},
	"adults_low":        {"adults at the end, 9 in 10 above", "adultes à la fin, 9 fois sur 10 plus"},
	"adults_likely":     {"adults at the end, most likely", "adultes à la fin, le plus probable"},
	"adults_high":       {"adults at the end, 9 in 10 below", "adultes à la fin, 9 fois sur 10 moins"},
	"saleable_low":      {"of these for sale, 9 in 10 above", "dont à vendre, 9 fois sur 10 plus"},
	"saleable_likely":   {"of these for sale, most likely", "dont à vendre, le plus probable"},
	"saleable_high":     {"of these for sale, 9 in 10 below", "dont à vendre, 9 fois sur 10 moins"},
	"mean_g_low":        {"mean weight at the end, 9 in 10 above", "poids moyen à la fin, 9 fois sur 10 plus"},
	"mean_g_likely":     {"mean weight at the end, most likely", "poids moyen à la fin, le plus probable"},
	"mean_g_high":       {"mean weight at the end, 9 in 10 below", "poids moyen à la fin, 9 fois sur 10 moins"},
	"biomass_kg_low":    {"weight of all at the end, 9 in 10 above", "poids total à la fin, 9 fois sur 10 plus"},
	"biomass_kg_likely": {"weight of all at the end, most likely", "poids total à la fin, le plus probable"},
	"biomass_kg_high":   {"weight of all at the end, 9 in 10 below", "poids total à la fin, 9 fois sur 10 moins"},
	"order_kg_low":      {"feed to order for four weeks, 9 in 10 above", "aliment à commander pour quatre semaines, 9 fois sur 10 plus"},
	"order_kg_likely":   {"feed to order for four weeks, most likely", "aliment à commander pour quatre semaines, le plus probable"},
	"order_kg_high":     {"feed to order for four weeks, 9 in 10 below", "aliment à commander pour quatre semaines, 9 fois sur 10 moins"},
	"full_on":           {"full on, most likely", "plein le, le plus probable"},
	"full_early":        {"full on, at the earliest (1 in 10)", "plein le, au plus tôt (1 fois sur 10)"},
	"first_sale_on":     {"first sale on, most likely", "première vente le, le plus probable"},
	"ready_early":       {"at the weight of sale, at the earliest", "au poids de vente, au plus tôt"},
	"ready_on":          {"at the weight of sale, most likely", "au poids de vente, le plus probable"},
	"ready_late":        {"at the weight of sale, at the latest", "au poids de vente, au plus tard"},
	"claim_animals":     {"what the trade says they bring", "ce que le métier en promet"},
	"floor_room":        {"what the floor carries at the weight of sale", "ce que la surface porte au poids de vente"},
	"growth":            {"growth", "croissance"},
	"eggs_year":         {"eggs a year", "œufs par an"},
	"adult_loss":        {"losses of adults", "pertes d’adultes"},
	"juvenile_loss":     {"losses of young", "pertes de jeunes"},
	"crowding":          {"crowding", "surpeuplement"},
	"ration":            {"ration", "ration"},
	"unit_week":         {"week", "semaine"},
	"unit_animals_low":  {"animals, low", "animaux, bas"},
	"unit_animals":      {"animals", "animaux"},
	"unit_animals_high": {"animals, high", "animaux, haut"},
	"unit_adults":       {"adults", "adultes"},
	"saleable":          {"for sale", "à vendre"},
	"sold":              {"sold", "vendus"},
	"sold_kg":           {"sold, kg", "vendus, kg"},

	"flow_l_min":           {"flow wanted", "débit voulu"},
	"velocity_m_s":         {"speed in the pipe", "vitesse dans le tuyau"},
	"friction_hazen_m":     {"friction, Hazen-Williams", "frottement, Hazen-Williams"},
	"friction_darcy_m":     {"friction, Darcy-Weisbach", "frottement, Darcy-Weisbach"},
	"fittings_m":           {"bends and valves", "coudes et vannes"},
	"fittings_share":       {"bends and valves", "coudes et vannes"},
	"outlet_m":             {"pressure at the outlet", "pression à la sortie"},
	"head_m":               {"head in all", "hauteur totale"},
	"hydraulic_kw":         {"power that the water takes up", "puissance que prend l’eau"},
	"efficiency":           {"share of the power that lifts water", "part de la puissance qui élève l’eau"},
	"suction_m":            {"suction", "aspiration"},
	"can_do":               {"can the pump do it", "la pompe suffit-elle"},
	"pump_flow_l_min":      {"the pump gives", "la pompe donne"},
	"pump_flow_low_l_min":  {"the pump gives at least", "la pompe donne au moins"},
	"pump_flow_high_l_min": {"the pump gives at most", "la pompe donne au plus"},
	"minutes_day":          {"it runs", "elle tourne"},
	"minutes_day_low":      {"it runs, at the low flow", "elle tourne, au débit faible"},
	"minutes_day_high":     {"it runs, at the high flow", "elle tourne, au débit fort"},
	"gravity_can_do":       {"does the drop alone do it", "la pente seule suffit-elle"},
	"gravity_flow_l_min":   {"the drop gives", "la pente donne"},
	"gravity_minutes_day":  {"open for", "ouvert pendant"},
}

// measures are those that are said with words.
var measures = map[string]text{
	"share of total ammonia":      {"of the total ammonia", "de l’ammoniac total"},
	"deaths per unit of exposure": {"deaths per animal-week (or what was entered)", "morts par animal-semaine (ou l’unité saisie)"},
	"times a month":               {"times a month", "fois par mois"},
	"mm/day":                      {"mm a day", "mm par jour"},
	"MJ/m2/day":                   {"MJ/m² a day", "MJ/m² par jour"},
	"mg/l NH3-N":                  {"mg/l (as nitrogen)", "mg/l (en azote)"},
	"h":                           {"h", "h"},
	"":                            {"", ""},
	"l/day":                       {"l a day", "l par jour"},
	"month of the year":           {"(1 is January)", "(1 est janvier)"},
	"days":                        {"days", "jours"},
	"weeks":                       {"weeks", "semaines"},
	"times":                       {"times", "fois"},
	"animals":                     {"animals", "animaux"},
	"m2":                          {"m²", "m²"},
	"animals/m2":                  {"animals a m²", "animaux par m²"},
	"kg/m2":                       {"kg a m²", "kg par m²"},
	"kg/m3":                       {"kg a m³", "kg par m³"},
	"pens":                        {"pens", "parcs"},
	"kg":                          {"kg", "kg"},
	"kg/kg":                       {"kg for a kg", "kg pour un kg"},
	"kg/day":                      {"kg a day", "kg par jour"},
	"% of body weight a day":      {"% of the body weight a day", "% du poids par jour"},
	"g":                           {"g", "g"},
	"g/day":                       {"g a day", "g par jour"},
	"% a day":                     {"% a day", "% par jour"},
	"% a week":                    {"% a week", "% par semaine"},
	"l/min":                       {"l a minute", "l par minute"},
	"m/s":                         {"m a second", "m par seconde"},
	"m":                           {"m", "m"},
	"kW":                          {"kW", "kW"},
	"min/day":                     {"minutes a day", "minutes par jour"},
}

// headings of the parts of an answer in words.
var (
	restsOn  = text{"What it rests on", "Ce sur quoi cela repose"}
	mindThis = text{"Mind this", "Attention"}
	yes, no  = text{"yes", "oui"}, text{"no", "non"}

	colon, semicolon = text{":", " :"}, text{"; ", " ; "}
)

// Words is the answer for people at a terminal, rounded.
func (a *Answer) Words() string {
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 4, 2, ' ', 0)
	for _, name := range a.order {
		o := a.Outputs[name]
		said := a.value(o.Value) + " " + measures[o.Measure].in(a.lang)
		fmt.Fprintf(w, "%s\t%s\n", a.name(name), strings.TrimSpace(said))
	}
	a.tables(w)
	_ = w.Flush() // a strings.Builder takes everything
	a.footer(&b)
	return strings.TrimRight(b.String(), "\n ")
}

// tables prints the series, those of one length side by side.
func (a *Answer) tables(w *tabwriter.Writer) {
	printed := map[string]bool{}
	for _, first := range a.series {
		if printed[first] {
			continue
		}
		var columns, heads []string
		for _, name := range a.series {
			if !printed[name] && len(a.Series[name]) == len(a.Series[first]) {
				columns, heads, printed[name] = append(columns, name), append(heads, a.name(name)), true
			}
		}
		fmt.Fprintf(w, "\n%s\n", strings.Join(heads, "\t"))
		for i := range a.Series[first] {
			var cells []string
			for _, name := range columns {
				cells = append(cells, a.value(a.Series[name][i]))
			}
			fmt.Fprintln(w, strings.Join(cells, "\t"))
		}
	}
}

func (a *Answer) footer(b *strings.Builder) {
	if len(a.Sources) > 0 {
		fmt.Fprintf(b, "\n%s\n", restsOn.in(a.lang))
	}
	for _, s := range a.Sources {
		parts := []string{s.Says}
		for _, more := range []string{s.Citation, s.Note} {
			if more != "" {
				parts = append(parts, more)
			}
		}
		fmt.Fprintf(b, "- %s%s %s\n", a.name(s.For), colon.in(a.lang), strings.Join(parts, semicolon.in(a.lang)))
	}
	if len(a.Cautions) > 0 {
		fmt.Fprintf(b, "\n%s\n", mindThis.in(a.lang))
	}
	for _, c := range a.Cautions {
		fmt.Fprintf(b, "- %s\n", c.Text)
	}
}

// name says an output or input as people do; what has no words stands as it is.
func (a *Answer) name(of string) string {
	if t, ok := names[of]; ok {
		return t.in(a.lang)
	}
	return of
}

// value says a number with four digits that count, and as its language writes
// decimals.
func (a *Answer) value(v any) string {
	switch v := v.(type) {
	case bool:
		if v {
			return yes.in(a.lang)
		}
		return no.in(a.lang)
	case string:
		if t, ok := verdicts[v]; ok {
			return t.in(a.lang)
		}
		return v
	case int:
		return strconv.Itoa(v)
	case float64:
		return decimal(v, a.lang)
	}
	return fmt.Sprint(v)
}

// verdicts are words that stand as values.
var verdicts = map[string]text{
	"no-signal":         {"none", "aucun"},
	"doubled":           {"the rate has doubled", "le taux a doublé"},
	"within-the-band":   {"within it", "dedans"},
	"above-the-band":    {"above it", "au-dessus"},
	"below-the-band":    {"below it", "en dessous"},
	"not-enough-to-say": {"not enough to say", "pas assez pour le dire"},
	"no-limit-known":    {"no limit is known", "aucune limite connue"},
	"in-range":          {"as it should be", "comme il faut"},
	"too-low":           {"too low", "trop bas"},
	"too-high":          {"too high", "trop haut"},
	"lacks-animals":     {"animals", "des animaux"},
	"lacks-age":         {"one known age", "un âge connu et unique"},
	"lacks-choosing":    {"a sample taken without choosing", "un échantillon pris sans choisir"},
	"at-once":           {"so many at once", "tant d’un coup"},
}

func decimal(v float64, l Lang) string {
	digits := 3
	if v != 0 {
		digits = 3 - int(math.Floor(math.Log10(math.Abs(v))))
	}
	var s string
	switch {
	case math.Abs(v) >= 1e9:
		s = strconv.FormatFloat(v, 'e', 3, 64)
	case digits <= 0:
		s = strconv.FormatFloat(math.Round(v), 'f', -1, 64)
	default:
		s = strconv.FormatFloat(v, 'f', min(digits, 6), 64)
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if l == French {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}
