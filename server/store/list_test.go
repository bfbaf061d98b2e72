package store_test

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/ticket"
	"tendfold/server/app"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Whatever the page size, the pages put together are the whole list, once
// each and in order, and farms that come between two pages do not disturb.
func TestPagesOfFarmsAreTheList(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		standings := []programme.Standing{programme.Behind, programme.NoNews, programme.Slipping, programme.OnCourse, programme.PausedStanding, programme.Complete, programme.ToConfirm, ""}
		rapid.Check(t, func(rt *rapid.T) {
			name := rapid.SampledFrom([]string{"Same", "SAME", "Same two", "Élan", "Zed", "a"})
			add := func(ctx context.Context) {
				id := w.fresh("p")
				require.NoError(rt, w.AddFarms(ctx, now, place(id, "c2", "douala", name.Draw(rt, "name")+" "+id)))
				require.NoError(rt, w.SetSwept(ctx, app.Swept{
					FarmID: id, Standing: rapid.SampledFrom(standings).Draw(rt, "standing"), OwnSlip: rapid.IntRange(-300, 300).Draw(rt, "slip"), On: today,
				}))
			}
			for range rapid.IntRange(0, 5).Draw(rt, "new") {
				add(ctx)
			}
			q := app.FarmQuery{Branch: rapid.SampledFrom([]string{"", "douala"}).Draw(rt, "branch"), Limit: rapid.IntRange(1, 9).Draw(rt, "limit")}
			whole := walk(rt, w, app.FarmQuery{Branch: q.Branch, Limit: 200}, nil)
			require.Equal(rt, whole, walk(rt, w, q, nil))
			require.Equal(rt, len(whole), len(slices.Compact(slices.Sorted(slices.Values(whole)))))
			disturbed := walk(rt, w, q, func() { add(ctx) })
			require.Equal(rt, whole, slices.DeleteFunc(disturbed, func(id string) bool { return !slices.Contains(whole, id) }))
		})
	})
}

func walk(t *rapid.T, w *world, q app.FarmQuery, between func()) []string {
	var out []string
	for {
		p, err := w.Farms(ctx, app.Everything, q)
		require.NoError(t, err)
		require.LessOrEqual(t, len(p.Items), q.Limit)
		out = append(out, farmIDs(p.Items)...)
		if p.Next == "" {
			return out
		}
		q.Cursor = p.Next
		if between != nil {
			between()
			between = nil
		}
	}
}

func TestFarmsAreInOrder(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		order := []programme.Standing{programme.Behind, programme.NoNews, programme.Slipping, programme.OnCourse, programme.PausedStanding, programme.Complete, "", programme.ToConfirm}
		var want []string
		for i, st := range order {
			for _, late := range []int{1 << 30, 40, 0, -7, -1 << 30} {
				for _, name := range []string{"Alpha", "Émile", "Zulu"} {
					id := w.fresh("o")
					want = append(want, id)
					f := place(id, "c2", "douala", fmt.Sprintf("%s %d late %d", name, i, 1<<31-late))
					require.NoError(t, w.AddFarms(ctx, now, f))
					require.NoError(t, w.SetSwept(ctx, app.Swept{FarmID: id, Standing: st, OwnSlip: late, On: today}))
				}
			}
		}
		p, err := w.Farms(ctx, app.Everything, app.FarmQuery{ClientID: "c2", Limit: 200})
		require.NoError(t, err)
		got := slices.DeleteFunc(farmIDs(p.Items), func(id string) bool { return !slices.Contains(want, id) })
		require.Equal(t, want, got)
	})
}

func TestCursorsBelongToTheirList(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		p, err := w.Farms(ctx, app.Everything, app.FarmQuery{Limit: 1})
		require.NoError(t, err)
		require.NotEmpty(t, p.Next)
		_, err = w.Farms(ctx, app.Everything, app.FarmQuery{Limit: 2, Cursor: p.Next})
		require.NoError(t, err, "the size of a page may change")
		for _, c := range []string{p.Next + "x", "!", "e30", "", "bnVsbA"} {
			_, err := w.Farms(ctx, app.Everything, app.FarmQuery{Cursor: c})
			if c != "" {
				require.Equal(t, domain.KindMalformed, domain.KindOf(err), "%q", c)
			}
		}
		_, err = w.Farms(ctx, app.Everything, app.FarmQuery{Cursor: p.Next, Branch: "buea"})
		require.Equal(t, domain.KindMalformed, domain.KindOf(err))
		_, err = w.Tickets(ctx, app.Everything, app.TicketQuery{Cursor: p.Next})
		require.Equal(t, domain.KindMalformed, domain.KindOf(err))
		_, err = w.People(ctx, app.Everything, app.PeopleQuery{Cursor: p.Next})
		require.Equal(t, domain.KindMalformed, domain.KindOf(err))
		_, err = w.Events(ctx, "f1", p.Next, 5)
		require.Equal(t, domain.KindMalformed, domain.KindOf(err))
	})
}

func TestPagesOfTicketsPeopleAndEvents(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		var tickets, people, events []string
		for i := range 23 {
			id := fmt.Sprintf("x%02d", i)
			tickets = append(tickets, w.open(ticketOf(id, key("f1", "no-news", id), ticket.Routine, 0)).ID)
			require.NoError(t, w.AddPeople(ctx, now, person(id, "Same Name", "", farm.Grant{Role: farm.Caretaker})))
			people = append(people, id)
			_, err := w.AppendEvents(ctx, event(id, "f1", 0))
			require.NoError(t, err)
			events = append([]string{id}, events...)
		}
		for _, limit := range []int{1, 4, 22, 23, 24} {
			require.Equal(t, tickets, pages(t, func(at string) ([]string, string, error) {
				p, err := w.Tickets(ctx, ana, app.TicketQuery{Limit: limit, Cursor: at})
				return ticketIDs(p.Items), p.Next, err
			}))
			require.Equal(t, people, pages(t, func(at string) ([]string, string, error) {
				p, err := w.People(ctx, app.Everything, app.PeopleQuery{Q: "same", Limit: limit, Cursor: at})
				return ids(p.Items, func(p farm.Person) string { return p.ID }), p.Next, err
			}))
			require.Equal(t, events, pages(t, func(at string) ([]string, string, error) {
				p, err := w.Events(ctx, "f1", at, limit)
				return ids(p.Items, func(e app.Event) string { return e.ID }), p.Next, err
			}))
		}
	})
}

func pages(t *testing.T, read func(at string) ([]string, string, error)) []string {
	t.Helper()
	var out []string
	for at := ""; ; {
		list, next, err := read(at)
		require.NoError(t, err)
		out = append(out, list...)
		if at = next; at == "" {
			return out
		}
	}
}

// Lists of ids have no limit to run into: PostgreSQL allows 65,535
// parameters, SQLite 32,766.
func TestLongListsOfIDs(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		many := make([]string, 70_000)
		for i := range many {
			many[i] = fmt.Sprintf(`no "such" \ farm, {%d}`, i)
		}
		many[69_999] = "f1"
		got, err := w.FarmsByIDs(ctx, app.Everything, many)
		require.NoError(t, err)
		require.Equal(t, []string{"f1"}, farmIDs(got))
		odd := []string{`a"b`, `c\d`, `{e,f}`, "", "NULL", "g h"}
		for _, id := range odd {
			require.NoError(t, w.AddPeople(ctx, now, person(id, "Odd", "")))
		}
		people, err := w.PeopleByIDs(ctx, odd)
		require.NoError(t, err)
		require.ElementsMatch(t, odd, ids(people, func(p farm.Person) string { return p.ID }))

		units := make([]farm.Unit, 3000)
		for i := range units {
			units[i] = unit(fmt.Sprintf("many%04d", i), "f1")
		}
		require.NoError(t, w.AddUnits(ctx, units...))
		units[0].ID, units[2999].FarmID = "new", "nowhere"
		require.Error(t, w.AddUnits(ctx, units...))
		_, err = w.Unit(ctx, app.Everything, "new")
		require.Equal(t, domain.KindNotFound, domain.KindOf(err), "many rows are added all or none")
	})
}
