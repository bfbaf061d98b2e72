package store_test

import (
	"encoding/json"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/server/app"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

func event(id, farmID string, day int) app.Event {
	return app.Event{
		ID: id, FarmID: farmID, CycleID: "y1", Kind: "day", On: today.Add(day), PersonID: "care", DeviceID: "d1", DeviceAt: now.Add(-time.Hour),
		DeviceSeq: 7, RecordedAt: now, Evidence: true, Data: json.RawMessage(`{"deaths":0}`),
	}
}

func TestEventsAreAppendedOnce(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		a, b := event("a", "f1", -3), event("b", "f1", -3)
		b.Evidence = false
		added, err := w.AppendEvents(ctx, a, b, a)
		require.NoError(t, err)
		require.Equal(t, []string{"a", "b"}, added)

		again := a
		again.RecordedAt, again.ClockOff = now.Add(time.Minute), true
		added, err = w.AppendEvents(ctx, again, event("c", "f1", -1))
		require.NoError(t, err)
		require.Equal(t, []string{"c"}, added, "sent again, it is the same entry")

		other := a
		other.Data = json.RawMessage(`{"deaths":9}`)
		_, err = w.AppendEvents(ctx, event("d", "f1", 0), other)
		require.Equal(t, "event-id-taken", domain.CodeOf(err))
		_, err = w.Event(ctx, app.Everything, "d")
		require.Equal(t, domain.KindNotFound, domain.KindOf(err), "then nothing is added")

		got, err := w.Event(ctx, ana, "a")
		require.NoError(t, err)
		require.Equal(t, a, got)
		sees(t, "an event", func(sc app.Scope) error { _, err := w.Event(ctx, sc, "a"); return err }, []app.Scope{ana, carine, owner}, []app.Scope{douala})
		_, err = w.AppendEvents(ctx, event("e", "nowhere", 0))
		require.Equal(t, domain.KindConflict, domain.KindOf(err))

		page, err := w.Events(ctx, "f1", "", 2)
		require.NoError(t, err)
		require.Equal(t, []string{"c", "b"}, ids(page.Items, func(e app.Event) string { return e.ID }))
		page, err = w.Events(ctx, "f1", page.Next, 2)
		require.NoError(t, err)
		require.Equal(t, []app.Event{a}, page.Items)
		require.Empty(t, page.Next)

		days, err := w.EvidenceDays(ctx, "f1", today.Add(-3), today)
		require.NoError(t, err)
		require.Equal(t, []calendar.Date{today.Add(-1)}, days)
		days, err = w.EvidenceDays(ctx, "f1", today.Add(-4), today)
		require.NoError(t, err)
		require.Equal(t, []calendar.Date{today.Add(-3), today.Add(-1)}, days)
	})
}

func TestMarks(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		ph := 6.5
		old := app.Mark{CycleID: "y1", Item: "soil", Answer: farm.No, Grade: farm.WordGiven, On: today.Add(-2), PersonID: "care", EventID: "e1"}
		latest := app.Mark{CycleID: "y1", Item: "soil", Answer: farm.Yes, Value: &ph, Grade: farm.Photo, On: today, PersonID: "ana", EventID: "e2"}
		require.NoError(t, w.PutMarks(ctx, latest))
		require.NoError(t, w.PutMarks(ctx, old), "one that arrives late")
		got, err := w.MarksOf(ctx, []string{"y1"})
		require.NoError(t, err)
		require.Equal(t, []app.Mark{latest}, got)
		same := latest
		same.Answer, same.Value, same.EventID = farm.No, nil, "e3"
		require.NoError(t, w.PutMarks(ctx, same), "a second thought on the same day")
		got, err = w.MarksOf(ctx, []string{"y1", "y3"})
		require.NoError(t, err)
		require.Equal(t, []app.Mark{same}, got)
	})
}

func TestReadingsAndPasses(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		r := app.Reading{ID: "e1", CycleID: "y1", Reading: programme.Reading{Kind: "weight", On: today, Value: 120.5, N: 12, SD: 8.25}}
		require.NoError(t, w.AddReadings(ctx, r))
		changed := r
		changed.Value = 1
		require.NoError(t, w.AddReadings(ctx, changed))
		got, err := w.ReadingsOf(ctx, []string{"y1"})
		require.NoError(t, err)
		require.Equal(t, []app.Reading{r}, got)
		require.NoError(t, w.RemoveReading(ctx, "e1"))
		got, err = w.ReadingsOf(ctx, []string{"y1"})
		require.NoError(t, err)
		require.Empty(t, got)

		p := app.Pass{PersonID: "care", Enterprise: "snail", Module: "handling", On: today, Until: today.Add(365), How: "in-person", ByID: "ana"}
		require.NoError(t, w.AddPasses(ctx, p))
		again := p
		again.How = "register"
		require.NoError(t, w.AddPasses(ctx, again))
		passes, err := w.PassesOf(ctx, []string{"care", "far"})
		require.NoError(t, err)
		require.Equal(t, []app.Pass{p}, passes)
	})
}
