package api_test

import (
	"bytes"
	"fmt"
	"net/http"
	"slices"
	"testing"

	"tendfold/domain/calendar"
	"tendfold/domain/daybook"
	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

func pageOf(h *housetest.House, who, query string) app.DaybookPage {
	h.T.Helper()
	return housetest.Read[app.DaybookPage](h.As(who).Get("/api/units/u1/daybook" + query).OK())
}

// fromPaper is the entry of one day of a page that the desk types in.
func fromPaper(h *housetest.House, on calendar.Date, data body) body {
	data["source"], data["written_by"] = "paper", "care"
	e := entryOf(h, "day", data)
	delete(e, "cycle_id")
	e["unit_id"], e["on"] = "u1", on.String()
	return e
}

func TestStaffHaveThePacksDaybook(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		type pack struct {
			Daybook struct {
				Groups []struct {
					Fields []struct {
						Key    string            `json:"key"`
						Name   map[string]string `json:"name"`
						Bounds daybook.Bounds    `json:"bounds"`
					} `json:"fields"`
				} `json:"groups"`
			} `json:"daybook"`
		}
		p := housetest.Read[pack](h.As("ana").Get("/api/packs/snail").OK())
		deaths := p.Daybook.Groups[0].Fields[0]
		require.Equal(t, "deaths", deaths.Key)
		require.Equal(t, "Morts", deaths.Name["fr"])
		require.True(t, deaths.Bounds.Whole)
	})
}

func TestAPageOfTwoWeeksIsTypedInAtOnce(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		stock(h, 200, 30)
		from := h.Today().Add(-13)
		page := pageOf(h, "ana", "")
		require.Equal(t, []calendar.Date{from, h.Today()}, []calendar.Date{page.From, page.To}, "the last fourteen days")
		require.Equal(t, &daybook.Stock{PutIn: 200, Living: 200}, page.Animals)
		require.Equal(t, "care", page.People[0].ID)
		require.True(t, page.People[0].InCharge)
		require.Empty(t, page.Days)

		var sent []any
		for i := range app.PageDays {
			e := fromPaper(h, from.Add(i), body{"deaths": 1, "feed_kg": 1.5})
			e["id"] = fmt.Sprintf("019cdf44-9c6a-7b0e-8f0a-%012d", i)
			sent = append(sent, e)
		}
		sent[3].(body)["data"] = body{"all_well": true, "source": "paper", "written_by": "care"}
		require.NotContains(t, states(receipts(h, "ana", sent...)), "refused")
		require.NotContains(t, states(receipts(h, "ana", sent...)), " kept ", "the same page again is the same page")
		page = pageOf(h, "ana", "?from="+from.String())
		require.Len(t, page.Days, app.PageDays)
		require.Equal(t, 187, page.Animals.Living)
		require.JSONEq(t, `{"deaths": 1, "feed_kg": 1.5, "source": "paper", "written_by": "care"}`, string(page.Days[0].Data))

		mended := fromPaper(h, from, body{"deaths": 2})
		mended["replaces"] = sent[0].(body)["id"]
		require.Equal(t, "kept", states(receipts(h, "ana", mended)))
		page = pageOf(h, "ana", "?from="+from.String())
		require.Len(t, page.Days, app.PageDays)
		require.Equal(t, 186, page.Animals.Living)
		f := todayOf(h, "care", "").Farms[0]
		require.Empty(t, f.MissingDays, "the phone asks for none of them")
		require.Equal(t, h.Today(), slices.Max(f.WrittenOn))
	})
}

func TestWhatIsTypedInIsHeldToThePhonesBounds(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		stock(h, 200, 30)
		rs := receipts(h, "ana", fromPaper(h, h.Today(), body{"deaths": 4001, "feed_kg": 80, "temperature_c": 300, "humidity": 80}))
		require.Equal(t, "refused", states(rs))
		codes := map[string]string{}
		for _, f := range rs[0].Problem.Fields {
			codes[f.Path] = f.Code
		}
		require.Equal(t, map[string]string{"data.deaths": "impossible", "data.feed_kg": "unlikely", "data.temperature_c": "impossible"}, codes, "all of them at once")
		require.Equal(t, "kept", states(receipts(h, "ana", fromPaper(h, h.Today(), body{"feed_kg": 80, "sure": []string{"feed_kg"}}))))
	})
}

func TestAPageNamesWhoWroteIt(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		for name, c := range map[string]struct {
			who  string
			data body
			want string
		}{
			"nobody named":       {"ana", body{"deaths": 0, "source": "paper"}, "required"},
			"no other source":    {"ana", body{"deaths": 0, "source": "hearsay", "written_by": "care"}, "unknown"},
			"no caretaker there": {"ana", body{"deaths": 0, "source": "paper", "written_by": "far"}, "caretaker-not-found"},
			"not for the farm":   {"care", body{"deaths": 0, "source": "paper", "written_by": "care"}, "forbidden"},
		} {
			rs := receipts(h, c.who, entryOf(h, "day", c.data))
			require.Equal(t, "refused", states(rs), name)
			got := rs[0].Problem.Code
			if len(rs[0].Problem.Fields) > 0 {
				got = rs[0].Problem.Fields[0].Code
			}
			require.Equal(t, c.want, got, name)
		}
	})
}

func TestTheDaybookIsPrintedForAUnit(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		a := h.As("fie").Get("/api/units/u1/daybook/paper?lang=fr&from=2026-03-02").OK()
		require.Equal(t, "application/pdf", a.Header.Get("Content-Type"))
		require.True(t, bytes.HasPrefix(a.Body, []byte("%PDF-")))
		h.As("ana").Get("/api/units/u1/daybook?from=1999-01-01").Is(http.StatusUnprocessableEntity, "day-far")
		h.As("ana").Get("/api/units/nowhere/daybook").Is(http.StatusNotFound, "unit-not-found")
		h.As("care").Get("/api/units/u1/daybook").Is(http.StatusForbidden, "forbidden")
	})
}
