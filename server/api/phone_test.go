package api_test

import (
	"context"
	"fmt"
	"maps"
	"net/http"
	"strings"
	"testing"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/server/api"
	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

type synced struct {
	ReceivedAt time.Time         `json:"received_at"`
	Receipts   []api.SyncReceipt `json:"receipts"`
}

// send brings entries as a phone does whose clock is off by so much.
func send(h *housetest.House, who string, off time.Duration, entries ...any) *housetest.Answer {
	h.T.Helper()
	return h.As(who).Post("/api/sync", body{"sent_at": h.Now().Add(off), "entries": entries})
}

func receipts(h *housetest.House, who string, entries ...any) []api.SyncReceipt {
	h.T.Helper()
	return housetest.Read[synced](send(h, who, 0, entries...).OK()).Receipts
}

func states(rs []api.SyncReceipt) string {
	out := make([]string, len(rs))
	for i, r := range rs {
		out[i] = string(r.State)
	}
	return strings.Join(out, " ")
}

func todayOf(h *housetest.House, who, query string) app.TodayPage {
	h.T.Helper()
	return housetest.Read[app.TodayPage](h.As(who).Get("/api/today" + query).OK())
}

// entryOf is an entry of the farm f1 as a phone makes it.
func entryOf(h *housetest.House, kind string, data body) body {
	return body{
		"id": h.NewID("e"), "farm_id": "f1", "cycle_id": "y1", "kind": kind, "on": h.Today().String(),
		"device_at": h.Now().Add(-time.Minute), "data": data,
	}
}

func TestABadEntryHoldsUpNoOther(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		good, foreign := entryOf(h, "cover", body{"percent": 30}), entryOf(h, "day", body{"all_well": true})
		foreign["farm_id"] = "f3"
		unknown := entryOf(h, "day", nil)
		unknown["mood"] = "fine"
		tomorrow := entryOf(h, "note", body{"note": "x"})
		tomorrow["on"] = h.Today().Add(1).String()
		last := entryOf(h, "day", body{"deaths": 0})

		rs := receipts(h, "care", good, foreign, unknown, 7, tomorrow, entryOf(h, "snag", body{"text": "x"}), last)
		require.Equal(t, "kept refused refused refused refused refused kept", states(rs))
		codes := make([]string, len(rs))
		for i, r := range rs {
			if r.Problem != nil {
				codes[i] = r.Problem.Code
			}
		}
		require.Equal(t, []string{"", "farm-not-found", "entry-unreadable", "entry-unreadable", "entry-refused", "forbidden", ""}, codes)
		require.Equal(t, "on", rs[4].Problem.Fields[0].Path)
		require.Equal(t, unknown["id"], rs[2].ID, "the phone learns which of its entries that was")

		events := housetest.Read[app.Page[app.Event]](h.As("ana").Get("/api/farms/f1/events").OK())
		require.Len(t, events.Items, 2)
	})
}

func TestAPhoneThatNeverSawTheAnswerSendsAgain(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		e, call := entryOf(h, "cover", body{"percent": 30}), entryOf(h, "call-me", nil)
		require.Equal(t, "kept kept", states(receipts(h, "care", e, call)))
		h.Pass(40 * 24 * time.Hour)
		require.Equal(t, "kept-before kept-before kept-before", states(receipts(h, "care", call, e, e)))
		require.Len(t, todayOf(h, "care", "").Farms[0].Promises, 1, "one wish, one promise")

		e["data"] = body{"percent": 31}
		rs := receipts(h, "care", e)
		require.Equal(t, "refused", states(rs))
		require.Equal(t, "event-id-taken", rs[0].Problem.Code)
		require.Equal(t, "refused", states(receipts(h, "far", call)), "it is another person's")

		closed := farmOf(h, "ana", "f1").Farm
		closed.Status = farm.Closed
		require.NoError(t, h.Store.ChangeFarm(context.Background(), closed))
		require.Equal(t, "kept-before refused", states(receipts(h, "care", call, entryOf(h, "day", nil))), "what is on record stays so")
	})
}

func TestAWrongClockIsFlaggedAndTheDayStaysAsStated(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		on := h.Today().Add(-3)
		for _, c := range []struct {
			off  time.Duration
			flag bool
		}{{-6 * time.Minute, true}, {-4 * time.Minute, false}, {4 * time.Minute, false}, {6 * time.Minute, true}} {
			e := entryOf(h, "day", body{"deaths": 1})
			e["on"] = on.String()
			e["device_at"] = h.Now().Add(-72 * time.Hour)
			send(h, "care", c.off, e).OK()
			kept, err := h.Store.Event(context.Background(), app.Everything, e["id"].(string))
			require.NoError(t, err)
			require.Equal(t, c.flag, kept.ClockOff, "%s off", c.off)
			require.Equal(t, on, kept.On)
		}
	})
}

func TestAFastClockIsFlaggedAndDoesNotSilenceTheDesk(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		marked := entryOf(h, "milestone", body{"milestone": "cover-ready"})
		marked["schema"], marked["device_seq"] = 2, 7
		marked["hlc"] = fmt.Sprintf("%012x-0000-0a0b0c0d", h.Now().Add(300*24*time.Hour).UnixMilli())
		require.Equal(t, "kept", states(receipts(h, "care", marked)))
		kept, err := h.Store.Event(context.Background(), app.Everything, marked["id"].(string))
		require.NoError(t, err)
		require.True(t, kept.ClockOff)
		require.Equal(t, int64(7), kept.DeviceSeq)

		// The desk sees the mark and takes it back: that comes after, whatever the phone's clock said.
		say(h, "ana", "not-done", body{"milestone": "cover-ready", "note": "not yet"}).OK()
		h.Sweep()
		require.Equal(t, "open", stateOf(farmOf(h, "ana", "f1"), "cover-ready"))
		require.Equal(t, "kept-before", states(receipts(h, "care", marked)))
		h.Sweep()
		require.Equal(t, "open", stateOf(farmOf(h, "ana", "f1"), "cover-ready"))
		open := todayOf(h, "care", "").Farms[0].Units[0].Milestones
		require.Greater(t, open[0].Made, marked["hlc"], "and the phone learns of it")

		bad := entryOf(h, "day", nil)
		bad["hlc"] = "yesterday"
		require.Equal(t, "refused", states(receipts(h, "care", bad)))
	})
}

func TestAnEntryOfANewerReleaseWaitsForTheServer(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		later := entryOf(h, "day", body{"all_well": true})
		later["schema"], later["mood"] = 3, "unknown here"
		require.Equal(t, "later kept", states(receipts(h, "care", later, entryOf(h, "day", body{"deaths": 1}))))
	})
}

func TestAPageOfEntriesIsBounded(t *testing.T) {
	h := housetest.Lite(t)
	many := make([]any, 201)
	for i := range many {
		many[i] = entryOf(h, "day", nil)
	}
	send(h, "care", 0, many...).Is(http.StatusUnprocessableEntity, "invalid")
	send(h, "care", 0).Is(http.StatusUnprocessableEntity, "invalid")
	require.Equal(t, 200, strings.Count(states(receipts(h, "care", many[:200]...)), "kept"))
	h.As("care").Post("/api/sync", []byte(`{"entries":[`)).Is(http.StatusBadRequest, "malformed")
	h.Stranger().Post("/api/sync", body{}).Is(http.StatusUnauthorized, "not-signed-in")
}

// TestOrderSplitAndRepetitionDoNotMatter: what a phone kept ends in the same
// rows however the network cuts it up.
func TestOrderSplitAndRepetitionDoNotMatter(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		n := 0
		rapid.Check(t, func(t *rapid.T) {
			n++
			kinds := rapid.OneOf(
				rapid.SampledFrom([][]string{{"item"}, {"milestone"}}), // where one word takes another's place
				rapid.SliceOfN(rapid.SampledFrom(phoneKinds), 1, 3),
			).Draw(t, "kinds")
			made := rapid.SliceOfN(anyEntry(h.Today(), kinds), 1, 6).Draw(t, "entries")
			order := rapid.Permutation(indices(len(made))).Draw(t, "order")
			again := rapid.SliceOfN(rapid.IntRange(0, len(made)-1), 0, 3).Draw(t, "again")
			straight, mixed := fmt.Sprintf("f%d-a", n+10), fmt.Sprintf("f%d-b", n+10)
			newFarm(h, straight)
			newFarm(h, mixed)
			receipts(h, "care", on(straight, made, indices(len(made)))...)
			all := on(mixed, made, append(order, again...))
			for len(all) > 0 {
				k := rapid.IntRange(1, len(all)).Draw(t, "page")
				receipts(h, "care", all[:k]...)
				all = all[k:]
			}
			require.Equal(t, rowsOf(h, straight), rowsOf(h, mixed))
		})
	})
}

func indices(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

var phoneKinds = []string{"item", "milestone", "day", "cover", "weights", "trouble", "call-me", "module-read", "could-not", "note"}

// anyEntry draws what a caretaker may say, good and bad, about few things, so
// that entries contradict each other.
func anyEntry(today calendar.Date, kinds []string) *rapid.Generator[body] {
	return rapid.Custom(func(t *rapid.T) body {
		e := body{"on": today.Add(-rapid.IntRange(-1, 2).Draw(t, "days ago")).String()}
		count := rapid.IntRange(-1, 3).Draw(t, "count")
		kind := rapid.SampledFrom(kinds).Draw(t, "kind")
		e["kind"] = kind
		if rapid.Bool().Draw(t, "with a stamp") {
			stamp := rapid.IntRange(0, 2)
			e["schema"], e["hlc"] = 2, fmt.Sprintf("%012x-%04x-%08x", 1_772_000_000_000+stamp.Draw(t, "ms"), stamp.Draw(t, "count"), stamp.Draw(t, "node"))
		}
		e["data"] = map[string]body{
			"item":        {"item": "soil-clean", "answer": []string{"yes", "no", "not-needed", "maybe", "yes"}[count+1]},
			"milestone":   {"milestone": []string{"cover-ready", "planted", "stocked", "cover-ready", "cover-ready"}[count+1]},
			"day":         {"deaths": count},
			"cover":       {"percent": count},
			"weights":     {"n": count, "mean_g": 20},
			"trouble":     {"sign": "rats-overnight"},
			"call-me":     {},
			"module-read": {"enterprise": "snail", "module": "feeding-calcium"},
			"could-not":   {"reason": "rain"},
			"note":        {"note": strings.Repeat("x", count+1)},
		}[kind]
		return e
	})
}

// newFarm is a farm on which care works, with unit and cycle.
func newFarm(h *housetest.House, id string) {
	h.AddFarm(housetest.Farm{ID: id, Client: "c1", Branch: "buea", Name: id})
	require.NoError(h.T, h.Store.SetWork(context.Background(), farm.Work{FarmID: id, PersonID: "care"}))
}

// on are entries of a farm in an order; their ids say in which they were made.
func on(farmID string, made []body, order []int) []any {
	out := make([]any, len(order))
	for i, at := range order {
		e := body{"id": fmt.Sprintf("%s-%02d", farmID, at), "farm_id": farmID, "cycle_id": "y" + farmID[1:]}
		maps.Copy(e, made[at])
		out[i] = e
	}
	return out
}

// rowsOf is everything that entries of a farm have written, without its name
// and without the numbers that depend on the hour of coming.
func rowsOf(h *housetest.House, farmID string) string {
	ctx := context.Background()
	cycle := []string{"y" + farmID[1:]}
	events, err := h.Store.EventsSince(ctx, farmID, 0, phoneKinds...)
	require.NoError(h.T, err)
	for i := range events {
		events[i].RecordedAt = time.Time{}
	}
	marks, err := h.Store.MarksOf(ctx, cycle)
	require.NoError(h.T, err)
	readings, err := h.Store.ReadingsOf(ctx, cycle)
	require.NoError(h.T, err)
	milestones, err := h.Store.MilestonesOf(ctx, cycle)
	require.NoError(h.T, err)
	days, err := h.Store.EvidenceDays(ctx, farmID, 0, h.Today())
	require.NoError(h.T, err)
	promises, err := h.Store.PromisesOf(ctx, []string{farmID})
	require.NoError(h.T, err)
	for i := range promises {
		promises[i].ID = ""
	}
	tickets, err := h.Store.TicketsOf(ctx, []string{farmID}, 0)
	require.NoError(h.T, err)
	titles := make([]string, len(tickets))
	for i, t := range tickets {
		titles[i] = t.Title + string(t.State)
	}
	return strings.ReplaceAll(fmt.Sprintf("%v\n%v\n%v\n%v\n%v\n%v\n%v", events, marks, readings, milestones, days, promises, titles), farmID[1:], "")
}

func TestTodayIsWhatIsOpenAndNoJudgement(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Sweep()
		page := todayOf(h, "care", "")
		require.Len(t, page.Farms, 1)
		f := page.Farms[0]
		require.Equal(t, "Hillside", f.Name)
		require.Equal(t, []app.TodayContact{{Name: "Ana Étoile", Phone: "+999670000004"}}, f.Advisors)
		require.Len(t, f.Modules, 9)
		require.False(t, f.Stocked)
		require.Empty(t, f.MissingDays, "no animals, no gap")
		u := f.Units[0]
		require.Equal(t, "y1", u.CycleID)
		require.Equal(t, "planted", u.Strip.Ticks[2].Key)
		require.Equal(t, h.Today().Add(-50), u.Strip.Ticks[2].DoneOn)
		require.Equal(t, app.TodayMilestone{Key: "cover-ready"}, u.Milestones[0], "planting is done, stocking waits")
		raw := string(h.As("care").Get("/api/today").OK().Body)
		for _, word := range []string{"standing", "behind", "slip", "hold_up", "reasons", "urgency"} {
			require.NotContains(t, raw, word)
		}
		require.Contains(t, todayOf(h, "care", "?lang=fr").Farms[0].Modules[0].Name, "escargotière")

		h.As("ana").Get("/api/today").Is(http.StatusForbidden, "forbidden")
		h.As("own").Get("/api/today").Is(http.StatusForbidden, "forbidden")
		h.Stranger().Get("/api/today").Is(http.StatusUnauthorized, "not-signed-in")
		h.As("care").Get("/api/today?lang=xx").Is(http.StatusUnprocessableEntity, "invalid")
	})
}

func TestWhatWasSentShowsToday(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		require.Empty(t, todayOf(h, "care", "").Farms[0].Units[0].Marks)
		rs := receipts(h, "care",
			entryOf(h, "item", body{"item": "soil-moist", "answer": "yes"}),
			entryOf(h, "module-read", body{"enterprise": "snail", "module": "feeding-calcium"}),
			entryOf(h, "day", body{"all_well": true}),
			entryOf(h, "milestone", body{"milestone": "cover-ready"}),
			entryOf(h, "call-me", body{"note": "about feed"}))
		require.Equal(t, "kept kept kept kept kept", states(rs))
		f := todayOf(h, "care", "").Farms[0]
		mark := f.Units[0].Marks["soil-moist"]
		require.Equal(t, app.TodayMark{Answer: farm.Yes, Grade: farm.WordGiven, On: h.Today(), Made: mark.Made}, mark)
		for _, m := range f.Modules {
			require.Equal(t, m.Key == "feeding-calcium", m.ReadOn == h.Today(), m.Key)
		}
		require.Equal(t, []calendar.Date{h.Today()}, f.WrittenOn)
		for _, m := range f.Units[0].Milestones {
			require.NotEqual(t, "cover-ready", m.Key, "without waiting for a sweep")
		}
		require.True(t, f.Promises[0].Mine)

		say(h, "ana", "module", body{"enterprise": "snail", "module": "feeding-calcium", "person_id": "care", "how": "visit"}).OK()
		for _, m := range todayOf(h, "care", "").Farms[0].Modules {
			require.Equal(t, m.Key == "feeding-calcium", m.CheckedOn == h.Today(), "%s: shown, and the questions are still to come", m.Key)
		}
	})
}

func TestAReportTellsWhoSawIt(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		require.Equal(t, "kept", states(receipts(h, "care", entryOf(h, "trouble", body{"sign": "rats-overnight"}))))
		r := todayOf(h, "care", "").Farms[0].Reports[0]
		require.Equal(t, "1/26", r.Number)
		require.Equal(t, "reported", string(r.State))
		require.Empty(t, r.SeenBy)

		h.Pass(10 * time.Minute)
		h.As("ana").Post("/api/tickets/"+r.ID+"/say", body{"text": "inside", "inside": true}).OK()
		h.As("ana").Post("/api/tickets/"+r.ID+"/say", body{"text": "Close the gap under the door tonight."}).OK()
		h.As("care").Post("/api/tickets/"+r.ID+"/say", body{"text": "Done."}).OK()
		line := h.As("ana").Get("/api/tickets/" + r.ID)
		h.As("ana").Post("/api/tickets/"+r.ID+"/move", body{"to": "in-hand"}, housetest.IfMatch(line.ETag())).OK()

		r = todayOf(h, "care", "").Farms[0].Reports[0]
		require.Equal(t, "Ana Étoile", r.SeenBy)
		require.Equal(t, "Ana Étoile", r.Holder)
		require.True(t, r.SeenAt.Equal(h.Now()))
		require.Len(t, r.Messages, 2, "a note inside the firm stays there")
		require.True(t, r.Messages[1].Mine)

		other := entryOf(h, "trouble", body{"note": "of another person"})
		other["farm_id"], other["cycle_id"] = "f1", "y1"
		require.NoError(t, h.Store.SetWork(context.Background(), farm.Work{FarmID: "f1", PersonID: "far"}))
		receipts(h, "far", other)
		require.Len(t, todayOf(h, "care", "").Farms[0].Reports, 1)
	})
}

func TestTheFirmsReadingIsTold(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		day, trouble := entryOf(h, "day", body{"deaths": 2}), entryOf(h, "trouble", body{"sign": "rats-overnight"})
		receipts(h, "care", day, trouble)
		h.As("care").Get("/api/farms/f1/events").OK()
		require.Empty(t, todayOf(h, "care", "").Seen, "nobody of the firm has looked")

		h.Pass(10 * time.Minute)
		report := todayOf(h, "care", "").Farms[0].Reports[0]
		h.As("ana").Get("/api/tickets/" + report.ID).OK()
		seen := todayOf(h, "care", "").Seen
		require.Equal(t, []app.TodaySeen{{By: "Ana Étoile", At: seen[0].At, Entries: []string{trouble["id"].(string)}}}, seen)
		require.True(t, seen[0].At.Equal(h.Now()))

		h.Pass(time.Hour)
		h.As("mo").Get("/api/farms/f1/events").OK()
		seen = todayOf(h, "care", "").Seen
		require.Len(t, seen, 2, "the first reader of each stays")
		require.Equal(t, []string{day["id"].(string)}, seen[0].Entries)
		require.NotEqual(t, "Ana Étoile", seen[0].By)
		require.Empty(t, todayOf(h, "far", "").Seen)

		h.Pass(7*24*time.Hour + time.Second)
		require.Empty(t, todayOf(h, "care", "").Seen)
	})
}

func TestMissingDaysAreAskedForOnceAnimalsLiveThere(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		say(h, "ana", "stocking", body{"species": "Archachatina marginata", "count": 200, "anyway": true}, body{"on": h.Today().Add(-4).String()}).OK()
		yesterday := entryOf(h, "could-not", body{"reason": "rain"})
		yesterday["on"] = h.Today().Add(-1).String()
		receipts(h, "care", yesterday)
		f := todayOf(h, "care", "").Farms[0]
		require.True(t, f.Stocked)
		require.Equal(t, []calendar.Date{h.Today().Add(-4), h.Today().Add(-3), h.Today().Add(-2)}, f.MissingDays)
	})
}

func TestAnUnchangedAnswerCostsNothing(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		for _, path := range []string{"/api/today", "/api/first-steps", "/api/book"} {
			first := h.As("care").Get(path).OK()
			h.Pass(time.Minute)
			known := func(h http.Header) { h.Set("If-None-Match", first.ETag()) }
			again := h.As("care").Get(path, known)
			require.Equal(t, http.StatusNotModified, again.Status, path)
			require.Empty(t, again.Body)
			require.Equal(t, first.ETag(), again.Header.Get("ETag"))
			require.Equal(t, http.StatusOK, h.As("care").Get(path+"?lang=fr", known).Status, "another language is another answer")
		}
		tag := h.As("care").Get("/api/today").ETag()
		receipts(h, "care", entryOf(h, "day", body{"all_well": true}))
		require.NotEqual(t, tag, h.As("care").Get("/api/today").ETag())
	})
}

func TestTheAnswerForAUsualFarmIsShort(t *testing.T) {
	h := housetest.Lite(t)
	for range 3 {
		receipts(h, "care", entryOf(h, "trouble", body{"sign": "rats-overnight"}))
	}
	for _, lang := range []string{"en", "fr"} {
		size := len(h.As("care").Get("/api/today?lang=" + lang).OK().Body)
		t.Logf("today in %s: %d bytes; first steps: %d bytes", lang, size, len(h.As("care").Get("/api/first-steps?lang="+lang).OK().Body))
		require.LessOrEqual(t, size, 10_000)
	}
}

func TestFirstStepsPutPeopleFirst(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		type cards struct {
			Items []app.FirstSteps `json:"items"`
		}
		got := housetest.Read[cards](h.As("care").Get("/api/first-steps?lang=fr").OK()).Items
		require.True(t, got[0].Danger)
		require.False(t, got[len(got)-1].Danger)
		for _, c := range got {
			require.Equal(t, "snail", c.Enterprise, "only what lives there")
			require.NotEmpty(t, c.FirstWords)
		}
		h.As("ana").Get("/api/first-steps").Is(http.StatusForbidden, "forbidden")
	})
}
