package calendar

import (
	"sync"
	"time"
)

// Country is the public holidays of a country by its ISO 3166 code (CM, GH,
// NG). One that we have no table for has none: its holidays are entered.
func Country(code string) Table { return countries[code] }

// Countries are the codes that have a table, in order.
func Countries() []string { return []string{"CM", "GH", "NG"} }

var countries = map[string]Table{"CM": cameroon(), "GH": ghana(), "NG": nigeria()}

// cameroon: law 73/5 of 7 December 1973, articles 2 and 3, as amended by law
// 76/8 of 8 July 1976. A civil holiday on a Sunday or on another holiday is
// made up for on the next day (article 2). What the President may declare by
// decree, the eve or the morrow of a feast, is entered by a person.
func cameroon() Table {
	return Table{
		known: new(sync.Map),
		rules: []rule{
			civil("new-year", "New Year's Day", "Jour de l'an", time.January, 1),
			civil("youth-day", "Youth Day", "Fête de la jeunesse", time.February, 11),
			easter("good-friday", "Good Friday", "Vendredi saint", -2),
			civil("labour-day", "Labour Day", "Fête du travail", time.May, 1),
			easter("ascension", "Ascension Day", "Ascension", 39),
			civil("national-day", "National Day", "Fête nationale", time.May, 20),
			fixed("assumption", "Assumption Day", "Assomption", time.August, 15),
			fixed("christmas", "Christmas Day", "Noël", time.December, 25),
			sighted("fitr", "End of Ramadan", "Fin du Ramadan", fitr, 0),
			sighted("adha", "Feast of the Sheep", "Fête du mouton", adha, 0),
		},
		lieu: func(h Holiday, r *rule, taken map[Date]int) bool {
			return r.civil && (h.On.Weekday() == time.Sunday || taken[h.On] > 1)
		},
	}
}

// ghana: Public Holidays and Commemorative Days Act, 2001 (Act 601), as
// amended in 2019 (7 January and 4 August in, 1 July out) and by the bill
// passed on 25 June 2025 (1 July and the day after Eid-ul-Fitr in, 4 August
// out, 21 September named Founder's Day). A holiday at a weekend has been made
// up for by instrument on the next free weekday, Eids included: 28 December
// 2020, 27 and 28 December 2021, 17 June 2024. Since 2025 the President may
// also move a holiday from mid-week to a Friday or Monday; such a move, known
// only when announced, is entered by a person.
func ghana() Table {
	return Table{
		known: new(sync.Map),
		rules: []rule{
			fixed("new-year", "New Year's Day", "Jour de l'an", time.January, 1),
			fixed("constitution-day", "Constitution Day", "Jour de la constitution", time.January, 7).since(2019),
			fixed("independence-day", "Independence Day", "Fête de l'indépendance", time.March, 6),
			easter("good-friday", "Good Friday", "Vendredi saint", -2),
			easter("easter-monday", "Easter Monday", "Lundi de Pâques", 1),
			fixed("workers-day", "Workers' Day", "Fête du travail", time.May, 1),
			fixed("republic-day", "Republic Day", "Fête de la république", time.July, 1).until(2018),
			fixed("republic-day", "Republic Day", "Fête de la république", time.July, 1).since(2025),
			fixed("founders-day", "Founders' Day", "Journée des fondateurs", time.August, 4).since(2019).until(2024),
			fixed("nkrumah-day", "Kwame Nkrumah Memorial Day", "Journée Kwame Nkrumah", time.September, 21).until(2024),
			fixed("founders-day", "Founder's Day", "Journée du fondateur", time.September, 21).since(2025),
			nth("farmers-day", "Farmers' Day", "Journée des agriculteurs", time.December, time.Friday, 1),
			fixed("christmas", "Christmas Day", "Noël", time.December, 25),
			fixed("boxing-day", "Boxing Day", "Lendemain de Noël", time.December, 26),
			sighted("fitr", "Eid-ul-Fitr", "Fin du Ramadan", fitr, 0),
			sighted("shaqq-day", "Shaqq Day", "Lendemain de la fin du Ramadan", fitr, 1).since(2026),
			sighted("adha", "Eid-ul-Adha", "Fête du sacrifice", adha, 0),
		},
		lieu: func(h Holiday, _ *rule, _ map[Date]int) bool { return weekend(h.On) },
	}
}

// nigeria: Public Holidays Act (cap. P40, 2004), with 12 June for 29 May as
// Democracy Day since 2019. The Minister of Interior declares a Monday for
// most holidays lost to a weekend, and how long a feast lasts, each time anew;
// the Act moves nothing by itself, so such days are entered by a person.
func nigeria() Table {
	return Table{known: new(sync.Map), rules: []rule{
		fixed("new-year", "New Year's Day", "Jour de l'an", time.January, 1),
		easter("good-friday", "Good Friday", "Vendredi saint", -2),
		easter("easter-monday", "Easter Monday", "Lundi de Pâques", 1),
		fixed("workers-day", "Workers' Day", "Fête du travail", time.May, 1),
		fixed("democracy-day", "Democracy Day", "Journée de la démocratie", time.May, 29).until(2018),
		fixed("democracy-day", "Democracy Day", "Journée de la démocratie", time.June, 12).since(2019),
		fixed("independence-day", "Independence Day", "Fête de l'indépendance", time.October, 1),
		fixed("christmas", "Christmas Day", "Noël", time.December, 25),
		fixed("boxing-day", "Boxing Day", "Lendemain de Noël", time.December, 26),
		sighted("fitr", "Eid-el-Fitr", "Fin du Ramadan", fitr, 0),
		sighted("fitr-second", "Eid-el-Fitr, second day", "Fin du Ramadan, deuxième jour", fitr, 1),
		sighted("adha", "Eid-el-Kabir", "Fête du sacrifice", adha, 0),
		sighted("adha-second", "Eid-el-Kabir, second day", "Fête du sacrifice, deuxième jour", adha, 1),
		sighted("birth", "Eid-el-Maulud", "Anniversaire du Prophète", birth, 0),
	}}
}
