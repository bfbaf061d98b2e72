package api_test

import (
	"net/http"
	"slices"
	"testing"

	"tendfold/domain/calendar"
	"tendfold/domain/daybook"
	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

// stock puts snails into the house of f1, so many days ago.
func stock(h *housetest.House, count, daysAgo int) {
	h.T.Helper()
	say(h, "ana", "stocking", body{"species": "Archachatina marginata", "count": count, "anyway": true},
		body{"on": h.Today().Add(-daysAgo).String()}).OK()
}

func TestWhatBeginsLaterIsShippedWithItsDay(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		page := todayOf(h, "care", "")
		require.Equal(t, 60, page.AheadDays)
		u := page.Farms[0].Units[0]
		stocked := u.Milestones[slices.IndexFunc(u.Milestones, func(m app.TodayMilestone) bool { return m.Key == "stocked" })]
		newFarm(h, "f20")
		young := todayOf(h, "care", "").Farms[1]
		require.Equal(t, "f20", young.ID)
		require.Equal(t, []string{"cover-ready"}, stocked.After, "what the firm marks in between does not hold it back")
		for _, m := range young.Units[0].Milestones {
			require.LessOrEqual(t, m.From, h.Today().Add(60))
		}
		cover := u.Work[slices.IndexFunc(u.Work, func(w app.TodayWork) bool { return w.Key == "read-cover" })]
		require.Equal(t, app.TodayWork{Key: "read-cover", Due: h.Today().Add(-50), Until: "cover-ready"}, cover, "planted fifty days ago, never read")
		weigh := u.Work[slices.IndexFunc(u.Work, func(w app.TodayWork) bool { return w.Key == "clean-feeding-place" })]
		require.Equal(t, "stocked", weigh.After)
	})
}

func TestWorkComesAgain(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		stock(h, 200, 20)
		due := func(key string) calendar.Date {
			work := todayOf(h, "care", "").Farms[0].Units[0].Work
			return work[slices.IndexFunc(work, func(w app.TodayWork) bool { return w.Key == key })].Due
		}
		require.Equal(t, h.Today().Add(-13), due("clean-feeding-place"), "a week after the stocking")
		require.Equal(t, h.Today().Add(10), due("weigh-sample"))
		require.Equal(t, "kept kept", states(receipts(h, "care",
			entryOf(h, "work", body{"work": "clean-feeding-place"}),
			entryOf(h, "weights", body{"weights_g": []float64{30, 34, 38}}))))
		require.Equal(t, h.Today().Add(7), due("clean-feeding-place"))
		require.Equal(t, h.Today().Add(30), due("weigh-sample"), "whoever weighs has done it")
		rs := receipts(h, "care", entryOf(h, "work", body{"work": "sing"}))
		require.Equal(t, "unknown", rs[0].Problem.Fields[0].Code)

		rs = receipts(h, "care", entryOf(h, "could-not", body{"reason": "rain", "task": "work:y1:walk-the-wall"}))
		require.Equal(t, "kept", states(rs))
		require.Empty(t, todayOf(h, "care", "").Farms[0].WrittenOn, "one task that could not be done is no word on the day")
	})
}

func TestTheDaybookTakesThePacksFieldsWithinTheirBounds(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		stock(h, 200, 20)
		for name, c := range map[string]struct {
			data body
			code string
		}{
			"all of them":            {body{"deaths": 2, "feed_kg": 1.5, "watering": "once", "humidity": 81, "treatment": "none", "treatment_until": "2026-04-01"}, ""},
			"a blank is no zero":     {body{"note": "Nothing counted."}, ""},
			"unlikely, and kept":     {body{"deaths": 31}, ""},
			"unknown field":          {body{"ph": 7}, "unknown"},
			"unknown choice":         {body{"watering": "thrice"}, "unknown"},
			"text for a number":      {body{"deaths": "two"}, "malformed"},
			"number for a choice":    {body{"watering": 1}, "malformed"},
			"half a snail":           {body{"deaths": 0.5}, "impossible"},
			"hotter than any house":  {body{"temperature_c": 300}, "impossible"},
			"more than ever":         {body{"deaths": 4001}, "impossible"},
			"no day":                 {body{"treatment_until": "soon"}, "malformed"},
			"first phones knew this": {body{"eggs": 3, "water_l": 20}, ""},
		} {
			t.Run(name, func(t *testing.T) {
				rs := receipts(h, "care", entryOf(h, "day", c.data))
				code := ""
				if rs[0].Problem != nil {
					code = rs[0].Problem.Fields[0].Code
				}
				require.Equal(t, c.code, code)
			})
		}
	})
}

func TestAPersonOfTheFirmIsAskedBack(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		stock(h, 200, 20)
		say(h, "ana", "day", body{"deaths": 31}).Is(http.StatusUnprocessableEntity, "entry-refused")
		say(h, "ana", "day", body{"deaths": 31, "sure": []string{"deaths"}}).OK()
		require.Equal(t, &daybook.Stock{PutIn: 200, Living: 169}, todayOf(h, "care", "").Farms[0].Units[0].Animals)
	})
}

func TestAMendedDayStandsAndTheOldOneStaysOnRecord(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		stock(h, 200, 20)
		first, second := entryOf(h, "day", body{"deaths": 3}), entryOf(h, "day", body{"deaths": 1})
		second["replaces"] = first["id"]
		receipts(h, "care", second) // the phone that mended was first to have a network
		receipts(h, "care", first)
		f := todayOf(h, "care", "").Farms[0]
		require.Len(t, f.Days, 1)
		require.Equal(t, second["id"], f.Days[0].ID)
		require.Equal(t, 199, f.Units[0].Animals.Living)
		events := housetest.Read[app.Page[app.Event]](h.As("ana").Get("/api/farms/f1/events").OK()).Items
		require.Len(t, slices.DeleteFunc(events, func(e app.Event) bool { return e.Kind != "day" }), 2)
	})
}

func TestATreatmentHoldsUpTheSale(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		stock(h, 200, 20)
		until := h.Today().Add(9)
		receipts(h, "care", entryOf(h, "day", body{"treatment": "salt bath", "treatment_until": until.String()}))
		require.Equal(t, until, todayOf(h, "care", "").Farms[0].Units[0].NoSaleUntil)
		h.Pass(10 * 24 * 3600 * 1e9)
		require.Zero(t, todayOf(h, "care", "").Farms[0].Units[0].NoSaleUntil)
	})
}

func TestTheBookHasTheWordsOfTheDay(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		type book struct {
			Language string         `json:"language"`
			Packs    []app.BookPack `json:"packs"`
		}
		b := housetest.Read[book](h.As("care").Get("/api/book?lang=fr").OK())
		require.Equal(t, "fr", b.Language)
		require.Len(t, b.Packs, 1, "only what lives there")
		require.Equal(t, "Morts", b.Packs[0].Groups[0].Fields[0].Name)
		page := todayOf(h, "care", "").Farms[0].Units[0]
		for _, l := range page.Lists {
			require.True(t, slices.ContainsFunc(b.Packs[0].Lists, func(o app.BookList) bool { return o.Key == l.Key }), l.Key)
		}
		h.As("ana").Get("/api/book").Is(http.StatusForbidden, "forbidden")
	})
}

func TestADaysAnswerFitsFourKilobytes(t *testing.T) {
	h := housetest.Lite(t)
	stock(h, 200, 20)
	for day := range 14 {
		e := entryOf(h, "day", body{"deaths": day % 3, "feed_kg": 1.5, "watering": "once", "humidity": 81})
		e["on"] = h.Today().Add(-day).String()
		receipts(h, "care", e)
	}
	gzip := func(h http.Header) { h.Set("Accept-Encoding", "gzip") }
	for _, lang := range []string{"en", "fr"} {
		today := h.As("care").Get("/api/today?lang="+lang, gzip).OK()
		require.Equal(t, "gzip", today.Header.Get("Content-Encoding"))
		book := h.As("care").Get("/api/book?lang="+lang, gzip).OK()
		t.Logf("%s, compressed: today %d bytes, the book once %d bytes", lang, len(today.Body), len(book.Body))
		require.LessOrEqual(t, len(today.Body), 4000)
	}
}
