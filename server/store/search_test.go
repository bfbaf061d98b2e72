package store_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"tendfold/domain/farm"
	"tendfold/domain/ticket"
	"tendfold/server/app"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

func found(hits []app.Hit) []string {
	return ids(hits, func(h app.Hit) string { return h.Kind + " " + h.ID + " " + h.FarmID + " " + h.Why })
}

// plainHits are hits without what tells them from others of the same name.
func plainHits(hits []app.Hit) []app.Hit {
	out := make([]app.Hit, len(hits))
	for i, h := range hits {
		out[i] = app.Hit{Kind: h.Kind, ID: h.ID, FarmID: h.FarmID, Label: h.Label, Farm: h.Farm, Why: h.Why}
	}
	return out
}

func TestSearch(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		tk := w.open(ticketOf("t1", key("f1", "no-news", ""), ticket.Routine, time.Hour))
		w.open(ticketOf("t2", key("f3", "no-news", ""), ticket.Routine, time.Hour))
		const hill, care = "farm f1 f1 name", "person care f1 name"
		for _, c := range []struct {
			sc   app.Scope
			q    string
			want []string
		}{
			{app.Everything, "hillside", []string{hill}},
			{app.Everything, "HILLSÍDE", []string{hill}},
			{app.Everything, "ngwa carine", []string{care}},
			{app.Everything, "etoile", []string{"person ana  name"}},
			{app.Everything, "hillside ngwa", []string{hill, care}},
			{app.Everything, "hill vera ngoh carine", []string{"client c1 f1 name", care, "person own f1 name"}},
			{app.Everything, "riverside ngwa", nil},
			{app.Everything, "mill river", []string{"farm f2 f2 name"}},
			{app.Everything, "+999 677 12 34 56", []string{"person care f1 phone"}},
			{app.Everything, "00999677123456", []string{"person care f1 phone"}},
			{app.Everything, "0677123456", []string{"person care f1 phone"}},
			{app.Everything, "3456", []string{"person care f1 phone"}},
			{app.Everything, "(677)-12.34", []string{"person care f1 phone"}},
			{app.Everything, "622222", []string{"client c2 f3 phone"}},
			{app.Everything, "688000009", []string{"person own f1 phone", "person own f2 phone"}},
			{app.Everything, tk.Number, []string{"ticket t1 f1 number"}},
			{app.Everything, "1 / 2026", []string{"ticket t1 f1 number"}},
			{app.Everything, "2", []string{"ticket t2 f3 number"}},
			{app.Everything, "99/26", nil},
			{app.Everything, "", nil},
			{app.Everything, "  ", nil},
			{app.Everything, "%", nil},
			{app.Everything, "_", nil},
			{app.Everything, "x' OR 1=1 --", nil},
			{ana, "harbour", nil},
			{ana, "2", nil},
			{ana, "etoile", []string{"person ana  name"}},
			{douala, "etoile", nil},
			{douala, "harbour", []string{"farm f3 f3 name"}},
			{carine, "3456", []string{"person care f1 phone"}},
			{carine, "river", nil},
			{owner, "river", []string{"farm f2 f2 name"}},
			{nothing, "hillside", nil},
		} {
			hits, err := w.Search(ctx, c.sc, c.q, 0)
			require.NoError(t, err, c.q)
			if len(c.want) == 0 {
				require.Empty(t, hits, "%q %+v", c.q, c.sc)
				continue
			}
			require.Subset(t, append(c.want, hill, "farm f1 f1 town", "farm f2 f2 town", "farm f2 f2 name", "farm f3 f3 town", "farm f1 f1 landmark", "farm f2 f2 landmark"), found(hits), "%q", c.q)
			require.Equal(t, c.want[0], found(hits)[0], "%q", c.q)
		}
	})
}

func TestSearchShowsNamesAndStaysBounded(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		hits, err := w.Search(ctx, app.Everything, "677123456", 5)
		require.NoError(t, err)
		require.Equal(t, []app.Hit{{Kind: "person", ID: "care", FarmID: "f1", Label: "Carine Ngwa", Farm: "Hillside", Why: "phone"}}, plainHits(hits))
		hits, err = w.Search(ctx, app.Everything, "kwame", 5)
		require.NoError(t, err)
		require.Equal(t, []app.Hit{{Kind: "client", ID: "c2", FarmID: "f3", Label: "Kwame & Sons", Farm: "Harbour", Why: "name"}}, plainHits(hits))
		require.NoError(t, w.InTx(ctx, func(ctx context.Context) error {
			for i := range 80 {
				require.NoError(t, w.AddFarms(ctx, now, place(fmt.Sprintf("m%02d", i), "c2", "douala", fmt.Sprintf("Mango %02d", i))))
			}
			return nil
		}))
		hits, err = w.Search(ctx, app.Everything, "mango", 7)
		require.NoError(t, err)
		require.Len(t, hits, 7)
		hits, err = w.Search(ctx, app.Everything, strings.Repeat("mango ", 500), 1000)
		require.NoError(t, err)
		require.LessOrEqual(t, len(hits), 50)
	})
}

// What was changed is found under its new name and not under the old one.
func TestSearchFollowsChanges(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		search := func(q string) []string {
			hits, err := w.Search(ctx, app.Everything, q, 0)
			require.NoError(t, err)
			return found(hits)
		}
		p, err := w.Person(ctx, app.Everything, "care")
		require.NoError(t, err)
		p.Name, p.Phone = "Carine Fongang", "+999644000044"
		require.NoError(t, w.ChangePerson(ctx, p))
		require.Empty(t, search("ngwa"))
		require.Empty(t, search("3456"))
		require.Equal(t, []string{"person care f1 name"}, search("fongang"))

		require.NoError(t, w.EndWork(ctx, "f1", "care"))
		require.Equal(t, []string{"person care  name"}, search("fongang"), "found without a farm")
		require.NoError(t, w.SetWork(ctx, farm.Work{FarmID: "f2", PersonID: "care"}))
		require.Equal(t, []string{"person care f2 name"}, search("fongang"))

		require.NoError(t, w.ChangeClient(ctx, client("c1", "Zebra Farms", "", "ana")))
		require.Equal(t, []string{"client c1 f1 name", "client c1 f2 name"}, search("zebra"))
		require.Equal(t, []string{"person own  name"}, search("olu"), "the former owner has no farm now")
		require.Equal(t, []string{"person ana f1 name", "person ana f2 name"}, search("etoile"))

		f := place("f3", "c1", "douala", "Lagoon")
		require.NoError(t, w.ChangeFarm(ctx, f))
		require.Empty(t, search("harbour"))
		require.Equal(t, []string{"client c2  name"}, search("kwame"), "a client without a farm is found too")
		require.Equal(t, []string{"farm f3 f3 name"}, search("lagoon"), "once, though the town says it too")
	})
}
