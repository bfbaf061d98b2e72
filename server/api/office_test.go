package api_test

import (
	"maps"
	"testing"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

func TestPeopleAreAddedByWhoMay(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		carer := body{"name": "New Carer", "phone": "677 00 00 01", "language": "fr", "grants": []body{{"role": "caretaker", "branch_id": ""}}}
		p := housetest.Read[farm.Person](h.As("ana").Post("/api/people", carer).OK())
		require.Equal(t, "+237677000001", p.Phone)
		require.False(t, p.PhoneFlag)
		manager := body{"name": "New Boss", "language": "en", "grants": []body{{"role": "manager", "branch_id": ""}}}
		h.As("ana").Post("/api/people", manager).Is(403, "forbidden")
		h.As("bm").Post("/api/people", manager).Is(403, "forbidden")
		h.As("adm").Post("/api/people", manager).OK()
		h.As("care").Post("/api/people", carer).Is(403, "forbidden")
		h.As("adm").Post("/api/people", body{"name": " ", "language": "en"}).Is(422, "person-refused")
		h.As("adm").Post("/api/people", body{"name": "X", "language": "en", "email": "not an address"}).Is(422, "person-refused")
		h.As("adm").Post("/api/people", body{"name": "X", "language": "de"}).Is(422, "invalid")
	})
}

func TestARoleTakenAwayIsGoneAtOnce(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.As("ana").Get("/api/farms").OK()
		tag := h.As("adm").Get("/api/people/ana").ETag()
		gone := body{"name": "Ana", "language": "en", "active": false, "grants": []body{}}
		h.As("adm").Put("/api/people/ana", gone).Is(428, "if-match-missing")
		h.As("adm").Put("/api/people/ana", gone, housetest.IfMatch(tag)).OK()
		h.As("ana").Get("/api/farms").Is(401, "not-signed-in")
		h.As("adm").Put("/api/people/ana", gone, housetest.IfMatch(tag)).Is(412, "stale")
		self := h.As("adm").Get("/api/people/adm").ETag()
		h.As("adm").Put("/api/people/adm", gone, housetest.IfMatch(self)).Is(409, "last-administrator")
	})
}

func TestTheFirmAndItsBranches(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		tag := h.Stranger().Get("/api/firm").ETag()
		firm := body{"name": "Palmwalk", "language": "fr", "time_zone": "Africa/Douala", "currency": "XAF"}
		h.As("mo").Put("/api/firm", firm, housetest.IfMatch(tag)).Is(403, "forbidden")
		h.As("adm").Put("/api/firm", firm, housetest.IfMatch(tag)).OK()
		firm["time_zone"] = "Mars/Olympus"
		h.As("adm").Put("/api/firm", firm, housetest.IfMatch(h.Stranger().Get("/api/firm").ETag())).Is(422, "firm-refused")

		b := housetest.Read[farm.Branch](h.As("adm").Post("/api/branches", body{"name": "Bamenda", "time_zone": "Africa/Douala", "country": "CM"}, housetest.Key("k")).OK())
		again := housetest.Read[farm.Branch](h.As("adm").Post("/api/branches", body{"name": "Bamenda", "time_zone": "Africa/Douala", "country": "CM"}, housetest.Key("k")).OK())
		require.Equal(t, b.ID, again.ID, "the same key answers the same")
		h.As("adm").Post("/api/branches", body{"name": "Other", "time_zone": "Africa/Douala"}, housetest.Key("k")).Is(422, "idempotency-key-reused")
		h.As("adm").Post("/api/branches", body{"name": "Bamenda", "time_zone": "Africa/Douala"}).Is(409, "branch-exists")
	})
}

func TestHolidaysOfABranch(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		days := func() map[string]string {
			out := map[string]string{}
			for _, d := range housetest.Read[app.BranchCalendar](h.As("ana").Get("/api/branches/buea/calendar?year=2026").OK()).Holidays {
				out[d.On.String()] = d.Name.EN
			}
			return out
		}
		// Cameroon's Youth Day and National Day (worked-examples, section 8).
		require.Contains(t, days(), "2026-02-11")
		require.Contains(t, days(), "2026-05-20")
		h.As("ana").Put("/api/branches/buea/holidays/2026-02-12", body{"name": "Bridge day"}).Is(403, "forbidden")
		h.As("bm").Put("/api/branches/buea/holidays/2026-02-12", body{"name": "Bridge day"}).OK()
		h.As("bm").Put("/api/branches/buea/holidays/2026-02-11", body{"name": "", "works": true}).OK()
		h.As("bm").Put("/api/branches/douala/holidays/2026-02-11", body{"name": "x"}).Is(403, "forbidden")
		require.Equal(t, "Bridge day", days()["2026-02-12"])
		require.NotContains(t, days(), "2026-02-11")
		h.As("bm").Delete("/api/branches/buea/holidays/2026-02-11").OK()
		require.Contains(t, days(), "2026-02-11")
	})
}

func TestTheRegisterByHand(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		c := housetest.Read[app.Client](h.As("ana").Post("/api/clients", body{"name": "New client"}).OK())
		place := body{"client_id": c.ID, "branch_id": "buea", "name": "Valley", "town": "Buea"}
		f := housetest.Read[app.FarmLine](h.As("ana").Post("/api/farms", place).OK())
		require.Equal(t, h.Today(), f.WatchedOn, "a farm that staff enter is known to them")
		h.As("ana").Post("/api/farms", place).Is(409, "farm-exists")
		place["branch_id"], place["name"] = "douala", "Elsewhere"
		h.As("ana").Post("/api/farms", place).Is(404, "branch-not-found")
		h.As("care").Post("/api/farms", place).Is(403, "forbidden")

		build := body{"length": body{"value": 15, "measure": "ft"}, "width": body{"value": 45, "measure": "ft"}, "capacity": 600}
		unit := body{"name": "House 1", "enterprise": "snail", "build": fullBuild(build)}
		u := housetest.Read[farm.Unit](h.As("ana").Post("/api/farms/"+f.ID+"/units", unit).OK())
		unit["name"], unit["build"] = "House 2", fullBuild(body{"length": body{"value": 1, "measure": "m"}, "width": body{"value": 1, "measure": "m"}, "capacity": 1001})
		h.As("ana").Post("/api/farms/"+f.ID+"/units", unit).Is(422, "unit-refused")
		unit["enterprise"] = "dragons"
		h.As("ana").Post("/api/farms/"+f.ID+"/units", unit).Is(422, "unit-refused")

		cycle := body{"purpose": "grow-out", "started_on": h.Today().Add(-10).String()}
		h.As("fie").Post("/api/units/"+u.ID+"/cycles", body{"purpose": "grow-out", "started_on": h.Today().String(), "starts_with": "stocked"}).Is(422, "cycle-refused")
		y := housetest.Read[app.CycleLine](h.As("fie").Post("/api/units/"+u.ID+"/cycles", cycle).OK())
		h.As("fie").Post("/api/units/"+u.ID+"/cycles", cycle).Is(409, "cycle-exists")
		h.Sweep()
		p := farmOf(h, "ana", f.ID)
		require.Equal(t, "done", stateOf(p, "build-finished"), "what precedes the start is done on the start day")
		require.Equal(t, calendar.Date(h.Today().Add(-10)), p.Cycles[0].Outlook.StartedOn)
		require.InDelta(t, 15*0.3048*45*0.3048, p.Units[0].AreaM2, 1e-9)

		tag := `"1"`
		h.As("ana").Post("/api/cycles/"+y.ID+"/end", body{"ended_on": h.Today().Add(1).String()}, housetest.IfMatch(tag)).Is(422, "cycle-refused")
		h.As("ana").Post("/api/cycles/"+y.ID+"/end", body{"ended_on": h.Today().String()}, housetest.IfMatch(tag)).OK()
		require.Len(t, farmOf(h, "ana", f.ID).Past, 1)
	})
}

// fullBuild is a build sheet as the screens send it: whole.
func fullBuild(over body) body {
	b := body{
		"length": body{"value": 0, "measure": "m"}, "width": body{"value": 0, "measure": "m"}, "capacity": 0, "standard": "", "wall_base": "",
		"cover": "", "double_door": "", "drain": "", "lined": "", "paths": "", "feed_platforms": "", "water": "", "tank_litres": 0,
		"pump": body{"value": 0, "measure": ""}, "handed_over_on": "", "defects_months": 0,
	}
	maps.Copy(b, over)
	return b
}

func TestCaretakersWorkOnFarms(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.As("care").Get("/api/farms/f2").Is(404, "farm-not-found")
		h.As("ana").Put("/api/farms/f2/people/care", body{"in_charge": true}).OK()
		h.As("care").Get("/api/farms/f2").OK()
		h.As("ana").Put("/api/farms/f2/people/own", body{"in_charge": true}).Is(422, "work-refused")
		h.As("ana").Delete("/api/farms/f2/people/care").OK()
		h.As("care").Get("/api/farms/f2").Is(404, "farm-not-found")
	})
}

func TestOwnersHearOfStandingsFromPeople(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Sweep()
		p := farmOf(h, "own", "f1")
		require.Empty(t, p.Standing)
		require.Empty(t, p.Units[0].Cycle.Outlook.Reasons)
		require.NotZero(t, p.Units[0].Cycle.Outlook.Harvest.P50, "when the harvest is likely they may know")
		h.As("own").Get("/api/tickets").Is(403, "forbidden")
		h.As("own").Get("/api/farms/f3").Is(404, "farm-not-found")
		require.NotEmpty(t, farmOf(h, "mo", "f1").Standing)
	})
}
