package sheet

import (
	"slices"
	"strconv"
	"strings"
)

// spoil puts the row as it is, or with something wrong or doubtful about it.
// alone says that the farm has no other unit.
func (m *maker) spoil(r row, alone bool) {
	switch x := m.rng.Float64(); {
	case x < 0.10:
		m.refuse(r)
		return
	case x < 0.13 && len(m.good) > 0:
		m.repeat(m.good[m.rng.IntN(len(m.good))])
		return
	case x < 0.23:
		codes := m.doubt(r, alone)
		m.put(r, Want{Verdict: New, Again: Same, Codes: codes})
		m.good = append(m.good, told{row: r, codes: codes})
	default:
		m.put(r, Want{Verdict: New, Again: Same})
		m.good = append(m.good, told{row: r})
	}
}

// repeat puts a row a second time. A double is told on the first only.
func (m *maker) repeat(old told) {
	codes := append(slices.Clone(old.codes), "row-repeated")
	codes = slices.DeleteFunc(codes, func(c string) bool { return strings.HasPrefix(c, "double-") })
	m.put(old.row, Want{Verdict: Same, Again: Same, Codes: sorted(codes...)})
}

// refuse spoils one cell so that nothing of the row may be written.
func (m *maker) refuse(r row) {
	wrong := []struct{ column, cell, code string }{
		{"planted_on", "31/02/2026", "date-none"},
		{"stocked_on", "soon", "date-none"},
		{"handed_over_on", "2026-13-01", "date-none"},
		{"planted_on", "03/25/2026", "date-none"},
		{"last_visit_on", "12/03/26", "date-short-year"},
		{"trained_on", m.Today.AddDate(0, 0, 1).Format("02/01/2006"), "date-future"},
		{"stocked_on", m.Today.AddDate(1, 0, 0).Format("2006-01-02"), "date-future"},
		{"planted_on", "12/03/1926", "date-too-old"},
		{"capacity", "many", "number-none"},
		{"capacity", "12.5", "number-not-whole"},
		{"length", "-4", "number-not-positive"},
		{"width", "0", "number-not-positive"},
		{"tank_litres", "1e999", "number-none"},
		{"mean_weight_g", "NaN", "number-none"},
		{"client", "", "cell-required"},
		{"farm", " ", "cell-required"},
		{"unit", "", "cell-required"},
		{"enterprise", "-", "cell-required"},
		{"enterprise", "goats", "enterprise-unknown"},
	}
	w := wrong[m.rng.IntN(len(wrong)+2)%len(wrong)]
	r[w.column] = text(w.cell)
	code := w.code
	switch m.rng.IntN(8) {
	case 0:
		r["latitude"], r["longitude"] = text("94"), text("9")
		m.put(r, Want{Verdict: Refused, Again: Refused, Codes: sorted(code, "latitude-off")})
		return
	case 1:
		if code != "number-not-positive" && code != "number-none" && code != "number-not-whole" {
			r["capacity"] = text("a lot")
			m.put(r, Want{Verdict: Refused, Again: Refused, Codes: sorted(code, "number-none")})
			return
		}
	}
	m.put(r, Want{Verdict: Refused, Again: Refused, Codes: []string{code}})
}

// doubt spoils one cell so that the row is written and told, and says how it
// should be told.
func (m *maker) doubt(r row, alone bool) []string {
	switch m.rng.IntN(6) {
	case 0:
		r["wall_base"] = text("old tyres")
		return []string{"word-unknown"}
	case 1:
		r["drain"] = text("half")
		return []string{"word-unknown"}
	case 2:
		return m.crowd(r)
	case 3:
		r["planted_on"], r["stocked_on"] = m.date(m.Today.AddDate(0, 0, -100)), m.date(m.Today.AddDate(0, 0, -120))
		return []string{"stocked-before-started"}
	case 4:
		r["planted_on"], r["stocked_on"] = Cell{}, m.date(m.Today.AddDate(0, 0, -120))
		return []string{"start-estimated"}
	}
	return m.double(r, alone)
}

// crowd stocks more than the unit is built for, though not more than its
// floor can carry.
func (m *maker) crowd(r row) []string {
	r["capacity"], r["stocked_count"], r["mean_weight_g"] = text("300"), text(strconv.Itoa(310+m.rng.IntN(40))), text("7")
	if r["stocked_on"] == (Cell{}) {
		r["planted_on"], r["stocked_on"] = m.date(m.Today.AddDate(0, 0, -180)), m.date(m.Today.AddDate(0, 0, -120))
	}
	return []string{"over-capacity"}
}

// double gives another client the phone of one that the sheet has, or a farm
// a neighbour of nearly its name. Its units must not part over that, or they
// would be doubles of each other.
func (m *maker) double(r row, alone bool) []string {
	i := slices.IndexFunc(m.good, func(g told) bool {
		return !m.doubled[g.row["farm"].Text] && g.codes == nil && g.row["client_phone"].Text != "" && g.row["latitude"] != (Cell{})
	})
	if !alone || i < 0 {
		r["wall_base"] = text("old tyres")
		return []string{"word-unknown"}
	}
	old := m.good[i].row
	m.doubled[old["farm"].Text] = true
	if m.chance(0.5) {
		r["client_phone"] = old["client_phone"]
		return []string{"double-phone"}
	}
	r["farm"] = text(old["farm"].Text[:len(old["farm"].Text)-1] + "s" + old["farm"].Text[len(old["farm"].Text)-1:])
	r["latitude"], r["longitude"] = old["latitude"], old["longitude"]
	return []string{"double-near"}
}

func sorted(codes ...string) []string {
	slices.Sort(codes)
	return slices.Compact(codes)
}
