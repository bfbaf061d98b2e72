package api_test

import (
	"maps"
	"net/http"
	"testing"
	"time"

	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

type body = map[string]any

// say makes an entry about farm f1's cycle as somebody.
func say(h *housetest.House, who, kind string, data body, more ...body) *housetest.Answer {
	h.T.Helper()
	e := body{"id": h.NewID("e"), "kind": kind, "on": h.Today().String(), "cycle_id": "y1", "data": data}
	for _, m := range more {
		maps.Copy(e, m)
	}
	return h.As(who).Post("/api/farms/f1/entries", e)
}

func farmOf(h *housetest.House, who, id string) app.FarmPage {
	h.T.Helper()
	return housetest.Read[app.FarmPage](h.As(who).Get("/api/farms/" + id).OK())
}

func TestAMilestoneIsMarkedWithItsDayAndGrade(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		on := h.Today().Add(-3).String()
		say(h, "ana", "milestone", body{"milestone": "caretaker-trained"}, body{"on": on}).OK()
		c := farmOf(h, "ana", "f1").Units[0].Cycle
		for _, m := range c.Done {
			if m.Key == "caretaker-trained" {
				require.Equal(t, on, m.DoneOn.String())
				require.Equal(t, "staff-saw", string(m.Grade))
				require.Equal(t, "ana", m.DoneBy)
			}
		}
		h.Sweep()
		require.Equal(t, "done", stateOf(farmOf(h, "ana", "f1"), "caretaker-trained"))

		say(h, "ana", "not-done", body{"milestone": "caretaker-trained"}).Is(422, "entry-refused")
		say(h, "ana", "not-done", body{"milestone": "caretaker-trained", "note": "the wrong farm"}).OK()
		h.Sweep()
		require.Equal(t, "open", stateOf(farmOf(h, "ana", "f1"), "caretaker-trained"))
		events := housetest.Read[app.Page[app.Event]](h.As("ana").Get("/api/farms/f1/events").OK())
		require.Len(t, events.Items, 2, "the old mark stays on record")
	})
}

func stateOf(p app.FarmPage, milestone string) string {
	for _, m := range p.Cycles[0].Outlook.Milestones {
		if m.Key == milestone {
			return string(m.State)
		}
	}
	return ""
}

func TestAnEntrySentAgainIsKeptOnce(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		e := body{"id": "e-once", "kind": "cover", "on": h.Today().String(), "cycle_id": "y1", "data": body{"percent": 30}}
		h.As("care").Post("/api/farms/f1/entries", e).OK()
		h.Pass(time.Hour)
		h.As("care").Post("/api/farms/f1/entries", e).OK()
		require.Len(t, farmOf(h, "ana", "f1").Units[0].Cycle.Readings, 1)
		e["data"] = body{"percent": 31}
		h.As("care").Post("/api/farms/f1/entries", e).Is(409, "event-id-taken")
	})
}

func TestAGoAheadHoldsAMilestoneBack(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		say(h, "ana", "milestone", body{"milestone": "ready-to-stock"}).Is(409, "go-ahead-missing")
		require.NotEmpty(t, farmOf(h, "ana", "f1").Units[0].Cycle.Missing[0].Missing)
		say(h, "ana", "milestone", body{"milestone": "ready-to-stock", "anyway": true}).OK()
		h.Sweep()
		page := housetest.Read[app.Page[app.TicketLine]](h.As("ana").Get("/api/tickets?farm=f1&rule=go-ahead-skipped").OK())
		require.Len(t, page.Items, 1, "what is missing stays a finding")
	})
}

func TestItemsTakeTheirAnswerFromTheValue(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		say(h, "fie", "item", body{"item": "soil-ph", "value": 7.0}).OK()
		say(h, "fie", "item", body{"item": "soil-deep", "value": 2}).OK()
		say(h, "fie", "item", body{"item": "soil-ph", "value": 15}).Is(422, "entry-refused")
		say(h, "fie", "item", body{"item": "soil-ph"}).Is(422, "entry-refused")
		say(h, "fie", "item", body{"item": "no-such-item", "answer": "yes"}).Is(422, "entry-refused")
		answers := map[string]string{}
		for _, m := range farmOf(h, "ana", "f1").Units[0].Cycle.Marks {
			answers[m.Item] = string(m.Answer)
		}
		require.Equal(t, map[string]string{"soil-ph": "yes", "soil-deep": "no"}, answers)
	})
}

func TestWhatCannotBeIsRefused(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		for name, c := range map[string]struct {
			kind string
			data body
			more body
		}{
			"tomorrow":            {"note", body{"note": "x"}, body{"on": h.Today().Add(1).String()}},
			"a century ago":       {"note", body{"note": "x"}, body{"on": "1926-03-12"}},
			"cover above all":     {"cover", body{"percent": 101}, nil},
			"deaths below nought": {"day", body{"deaths": -1}, nil},
			"well and dead":       {"day", body{"all_well": true, "deaths": 2}, nil},
			"no reason":           {"could-not", body{"reason": "tired"}, nil},
			"unknown word":        {"day", body{"death": 1}, nil},
			"weightless":          {"weights", body{"weights_g": []float64{0, 5}}, nil},
			"no sign and no word": {"trouble", body{}, nil},
			"unknown module":      {"module", body{"enterprise": "snail", "module": "juggling", "person_id": "care", "how": "visit"}, nil},
		} {
			t.Run(name, func(t *testing.T) { say(h, "ana", c.kind, c.data, c.more).Is(422, "entry-refused") })
		}
		h.As("ana").Post("/api/farms/f1/entries", body{"id": "e", "kind": "nonsense", "on": h.Today().String()}).Is(422, "invalid")
		h.As("ana").Post("/api/farms/f1/entries", []byte("{")).Is(400, "malformed")
	})
}

func TestTroubleOpensATicketAtOnce(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		say(h, "care", "trouble", body{"note": "the door hangs"}).OK()
		page := housetest.Read[app.Page[app.TicketLine]](h.As("ana").Get("/api/tickets?origin=caretaker").OK())
		require.Len(t, page.Items, 1)
		require.Equal(t, "the door hangs", page.Items[0].Title)
		require.Equal(t, "losing-time", string(page.Items[0].Urgency))
		require.Equal(t, "1/26", page.Items[0].Number)
	})
}

func TestPausesNeedASecondPersonAfterTwoWeeks(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		say(h, "ana", "pause", body{"until": h.Today().Add(30).String(), "reason": "rains"}).Is(403, "forbidden")
		say(h, "mo", "pause", body{"until": h.Today().Add(30).String(), "reason": "rains"}).OK()
		say(h, "mo", "pause", body{"until": h.Today().Add(30).String(), "reason": "again"}).Is(409, "paused-already")
		h.Sweep()
		require.Equal(t, "paused", string(farmOf(h, "mo", "f1").Cycles[0].Outlook.Standing))
		id := farmOf(h, "mo", "f1").Units[0].Cycle.Pauses[0].ID
		say(h, "mo", "pause-agreed", body{"pause_id": id}).Is(403, "forbidden")
		h.Pass(15 * 24 * time.Hour)
		h.Sweep()
		require.NotEqual(t, "paused", string(farmOf(h, "mo", "f1").Cycles[0].Outlook.Standing), "one person alone pauses for two weeks")
		say(h, "bm", "pause-agreed", body{"pause_id": id}).OK()
		h.Sweep()
		require.Equal(t, "paused", string(farmOf(h, "mo", "f1").Cycles[0].Outlook.Standing))
		say(h, "ana", "pause-ended", body{"pause_id": id}).OK()
		h.Sweep()
		require.NotEqual(t, "paused", string(farmOf(h, "mo", "f1").Cycles[0].Outlook.Standing))
	})
}

func TestOwnersAndStrangersMakeNoEntries(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		say(h, "own", "note", body{"note": "x"}).Is(403, "forbidden")
		for _, who := range []string{"far", "own2", "dou", "dfo", "out"} {
			say(h, who, "note", body{"note": "x"}).Is(404, "farm-not-found")
		}
		// A cycle of another farm is not one of this farm, even for those who see both.
		h.As("adm").Post("/api/farms/f1/entries", body{"id": "e", "kind": "cover", "on": h.Today().String(), "cycle_id": "y3", "data": body{"percent": 5}}).Is(http.StatusNotFound, "cycle-not-found")
	})
}

func TestStockingMarksTheMilestoneAndKeepsTheBatch(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		stock := body{"species": "archachatina-marginata", "count": 300, "mean_weight_g": 35, "lost_on_the_way": 4}
		say(h, "fie", "stocking", stock).Is(409, "go-ahead-missing")
		stock["anyway"] = true
		say(h, "fie", "stocking", stock).OK()
		p := farmOf(h, "ana", "f1")
		require.Len(t, p.Units[0].Batches, 1)
		require.Equal(t, 300, p.Units[0].Batches[0].Count)
		h.Sweep()
		require.Equal(t, "done", stateOf(farmOf(h, "ana", "f1"), "stocked"))
	})
}

func TestASampleOfWeightsKeepsMeanAndSpread(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		// Sample mean 5 and standard deviation with n - 1: sqrt(32/7), the
		// textbook example 2, 4, 4, 4, 5, 5, 7, 9 (from memory).
		say(h, "care", "weights", body{"weights_g": []float64{2, 4, 4, 4, 5, 5, 7, 9}}).OK()
		r := farmOf(h, "ana", "f1").Units[0].Cycle.Readings[0]
		require.InDelta(t, 5, r.Value, 1e-12)
		require.InDelta(t, 2.138089935299395, r.SD, 1e-12)
		require.Equal(t, 8, r.N)
	})
}
