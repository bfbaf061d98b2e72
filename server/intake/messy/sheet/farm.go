package sheet

import (
	"fmt"
	"maps"
	"math"
	"strconv"
	"strings"
	"time"
)

var (
	given  = strings.Fields("Ada Jude Ngozi Émile Paul Béatrice Kwame Hélène Samuel Ama Théo Grace Désiré Irène Yaya Mireille Koffi Françoise Blaise Esther")
	family = strings.Fields("Mbah Tabi Ngole Eto Fonkem Ébongué Atangana Nkeng Bisong Ayuk Tchoua Njoya Manga Ekane Fru Tamba Abena Owona Lobe Ndive Kamdem Sone Achu Molua Moukoko")
	middle = strings.Fields("Akwa Bel Che Dika Efe Fai Guo Hala Ita Jing Koum Lum Moto Nana Oben Pisso Quin Ruma Sih Tiku")
	towns  = strings.Fields("Buea Limbe Tiko Mutengene Douala Édéa Bamenda Bali Bafut Kumba")
)

// farm invents the rows of one farm, at most so many, and returns how many.
func (m *maker) farm(most int) int {
	i := m.farms
	m.farms++
	r := row{
		"client": text(m.name(i)), "client_phone": m.phone(), "farm": text(fmt.Sprintf("%s %s", pick(m, "Ferme", "Farm", "Élevage"), middle[i%20]+strconv.Itoa(i))),
		"town": text(pick(m, towns...)), "branch": text(pick(m, "Buea", "Douala", "Bamenda", "BUEA", "douala")), "status": text(pick(m, "", "active", "Actif", "paused", "en pause")),
	}
	if m.chance(0.6) {
		// 0.03 degrees is three kilometres: no two farms are neighbours by chance.
		r["latitude"], r["longitude"] = m.decimal(2+float64(i/100)*0.03, 4), m.decimal(8+float64(i%100)*0.03, 4)
	}
	m.caretaker(r)
	units := 1
	if most > 1 && m.chance(0.2) {
		units = 2
	}
	for n := range units {
		m.unit(r, n+1, units == 1)
	}
	return units
}

// name is a client's, different for each number below ten thousand, and as
// far apart as close names must not be.
func (m *maker) name(i int) string {
	s := given[i%20] + " " + middle[i/20%20] + " " + family[i/400%25]
	if m.chance(0.3) {
		s = strings.ToUpper(s)
	}
	if m.chance(0.1) {
		s = strings.Replace(s, " ", "  ", 1)
	}
	return s
}

// phone is a number of a block that Cameroon's plan does not give out, as
// people write it, or none.
func (m *maker) phone() Cell {
	m.phones++
	if m.chance(0.15) {
		return Cell{}
	}
	return m.written(m.phones)
}

func (m *maker) written(n int) Cell {
	d := fmt.Sprintf("60%07d", n)
	return text(pick(m, d, "+237"+d, "+237 "+d[:3]+" "+d[3:6]+" "+d[6:], "00237"+d, d[:1]+" "+d[1:3]+" "+d[3:5]+" "+d[5:7]+" "+d[7:], d[:3]+"-"+d[3:6]+"-"+d[6:]))
}

// caretaker gives the farm one, at times by the client's own phone: a family
// may share one.
func (m *maker) caretaker(r row) {
	if m.chance(0.2) {
		return
	}
	r["caretaker"] = text(given[m.rng.IntN(20)] + " " + family[m.rng.IntN(25)])
	r["caretaker_phone"] = m.phone()
	if m.chance(0.2) {
		r["caretaker_phone"] = r["client_phone"]
	}
	r["language"] = text(pick(m, "", "en", "fr", "French", "Anglais", "français"))
}

// unit puts one row of the farm, right or with something wrong.
func (m *maker) unit(of row, number int, alone bool) {
	r := row{}
	maps.Copy(r, of)
	r["unit"] = text(fmt.Sprintf("%s %d", pick(m, "House", "Bac", "Escargotière", "Tank"), number))
	snail := m.chance(0.67)
	m.enterprise(r, snail)
	m.build(r)
	m.dates(r, snail)
	m.spoil(r, alone)
}

func (m *maker) enterprise(r row, snail bool) {
	if snail {
		r["enterprise"], r["purpose"] = text(pick(m, "snail", "Snails", "escargot", "ESCARGOTS")), text(pick(m, "", "grow-out", "Breeding", "grossissement", "reproduction"))
		r["species"] = text(pick(m, "", "Archachatina marginata", "gros escargot noir", "Achatina achatina"))
		return
	}
	r["enterprise"], r["purpose"] = text(pick(m, "catfish", "Catfish", "silure", "Poisson-chat")), text(pick(m, "", "grow out", "Grossissement"))
	r["species"] = text(pick(m, "", "Clarias gariepinus", "silure"))
}

func (m *maker) build(r row) {
	feet := m.chance(0.5)
	long, wide := 8+float64(m.rng.IntN(8)), 3+m.rng.Float64()*3
	r["length_unit"] = text(pick(m, "m", "mètres", "M"))
	if feet {
		long, wide = math.Round(long*3), math.Round(wide*3) // near enough for an invented house
		r["length_unit"] = text(pick(m, "ft", "pi", "feet", "pieds"))
	}
	r["length"], r["width"] = m.decimal(long, 0), m.decimal(wide, 1)
	r["capacity"] = m.thousands(1000 + m.rng.IntN(4000))
	r["build_standard"] = text(pick(m, "", "Revision 1", "Révision 2", "Rev. 3"))
	r["wall_base"] = text(pick(m, "", "block", "parpaings", "Brick", "béton"))
	r["cover"] = text(pick(m, "", "net", "Filet", "shade net", "ombrière"))
	for _, c := range []string{"double_door", "drain", "lined", "paths", "feed_platforms"} {
		r[c] = text(pick(m, "", "yes", "no", "Oui", "NON", "y", "x"))
	}
	r["water"] = text(pick(m, "", "borehole", "Forage", "puits", "mains", "rain", "forage et pompe"))
	r["tank_litres"] = m.thousands(500 * (1 + m.rng.IntN(8)))
}

// dates stand in an order, and so far apart, as any builder would expect.
func (m *maker) dates(r row, snail bool) {
	if m.chance(0.15) {
		return // built, and nothing has happened yet
	}
	start := m.Today.AddDate(0, 0, -30-m.rng.IntN(500))
	handed := start.AddDate(0, 0, -5-m.rng.IntN(20))
	r["handed_over_on"], r["planted_on"] = m.date(handed), m.date(start)
	if m.chance(0.7) {
		r["last_visit_on"] = m.date(m.Today.AddDate(0, 0, -m.rng.IntN(25)))
	}
	if m.chance(0.6) {
		r["trained_on"] = m.date(start.AddDate(0, 0, 10+m.rng.IntN(15)))
	}
	wait := 35 // of a tank
	if snail {
		wait = 56
	}
	stocked := start.AddDate(0, 0, wait+m.rng.IntN(7))
	if stocked.After(m.Today) || m.chance(0.1) {
		return
	}
	r["stocked_on"], r["stocked_count"] = m.date(stocked), text(strconv.Itoa(100+m.rng.IntN(300)))
	if m.chance(0.5) {
		r["mean_weight_g"] = m.decimal(6+m.rng.Float64()*3, 1)
	}
}

// date is a day as people write it.
func (m *maker) date(d time.Time) Cell {
	names := [...]string{"janvier", "févr.", "mars", "avril", "mai", "juin", "juillet", "août", "sept.", "octobre", "nov.", "décembre"}
	switch m.rng.IntN(5) {
	case 0:
		return text(d.Format("2006-01-02"))
	case 1:
		return text(d.Format("02/01/2006"))
	case 2:
		return text(d.Format("2 Jan 2006"))
	case 3:
		if !m.English {
			return text(fmt.Sprintf("%d %s %d", d.Day(), names[d.Month()-1], d.Year()))
		}
	}
	return Cell{Date: d}
}

// decimal is a number with the decimal mark that this file allows.
func (m *maker) decimal(v float64, places int) Cell {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if !m.Comma && m.chance(0.5) {
		return text(strings.Replace(s, ".", ",", 1))
	}
	if m.chance(0.3) {
		v, _ = strconv.ParseFloat(s, 64)
		return Cell{Number: v}
	}
	return text(s)
}

// thousands is a count, at times with a space between thousands.
func (m *maker) thousands(n int) Cell {
	s := strconv.Itoa(n)
	if n >= 1000 && m.chance(0.3) {
		s = s[:len(s)-3] + pick(m, " ", "\u00a0") + s[len(s)-3:]
	}
	return text(s)
}
