package store_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/ticket"
	"tendfold/server/app"
	"tendfold/server/store"

	"github.com/stretchr/testify/require"
)

// All names, places and numbers are invented; +999 is not assigned.

var (
	ctx   = context.Background()
	now   = time.Date(2026, 3, 12, 8, 30, 0, 123456000, time.UTC)
	today = calendar.MustDate("2026-03-12")
)

// world is a small register: two branches; Buea has two farms of one client
// (with an owner) and a caretaker, Douala one farm of another client.
type world struct {
	*store.Store
	t     testing.TB
	ticks int
}

func newWorld(t testing.TB, s *store.Store) *world {
	w := &world{Store: s, t: t}
	must := func(err error) { t.Helper(); require.NoError(t, err) }
	must(s.InTx(ctx, func(ctx context.Context) error {
		must(s.AddBranches(ctx, branch("buea", "Buea"), branch("douala", "Douala")))
		must(s.AddPeople(ctx, now,
			person("ana", "Ana Étoile", "+999670000001", farm.Grant{Role: farm.Advisor, BranchID: "buea"}),
			person("mo", "Mo Tanyi", "+999670000002", farm.Grant{Role: farm.Manager}),
			person("care", "Carine Ngwa", "+999677123456", farm.Grant{Role: farm.Caretaker}),
			person("own", "Olu Vera", "+999688000009", farm.Grant{Role: farm.Owner}),
			person("dou", "Didier Essomba", "+999699000004", farm.Grant{Role: farm.FieldOfficer, BranchID: "douala"}),
			person("far", "Far Away", "+999655000005"),
		))
		must(s.AddClients(ctx, client("c1", "Ngoh Ltd", "+999611111111", "own"), client("c2", "Kwame & Sons", "+999622222222", "")))
		must(s.AddFarms(ctx, now, place("f1", "c1", "buea", "Hillside"), place("f2", "c1", "buea", "Riverside"), place("f3", "c2", "douala", "Harbour")))
		must(s.SetWork(ctx, farm.Work{FarmID: "f1", PersonID: "care", InCharge: true, Since: "2026-01-05"}, farm.Work{FarmID: "f3", PersonID: "far", InCharge: true}))
		must(s.AddUnits(ctx, unit("u1", "f1"), unit("u2", "f2"), unit("u3", "f3")))
		must(s.AddCycles(ctx, cycle("y1", "f1", "u1"), cycle("y3", "f3", "u3")))
		return nil
	}))
	return w
}

func branch(id, name string) farm.Branch {
	b := farm.Branch{ID: id, Name: name, Zone: "Africa/Douala", Country: "CM", Start: farm.Position{Lat: 4.15, Lng: 9.24, Known: true}, StartAt: "07:00", Version: 1}
	b.Hours[1] = farm.Span{From: 8 * 60, To: 17 * 60}
	return b
}

func person(id, name, phone string, grants ...farm.Grant) farm.Person {
	return farm.Person{ID: id, Name: name, Phone: phone, Language: "en", Active: true, Grants: grants, Version: 1}
}

func client(id, name, phone, owner string) app.Client {
	return app.Client{Client: farm.Client{ID: id, Name: name, Phone: phone, OwnerID: owner, Version: 1}}
}

func place(id, client, branch, name string) farm.Farm {
	return farm.Farm{
		ID: id, ClientID: client, BranchID: branch, Name: name, Town: "Town of " + name, Landmark: "by the old mill",
		Position: farm.Position{Lat: 4.1, Lng: 9.2, Known: true}, Status: farm.Active, IntakeOn: today, Version: 1,
	}
}

func unit(id, farmID string) farm.Unit {
	return farm.Unit{
		ID: id, FarmID: farmID, Name: "House " + id, Enterprise: "snail", Species: "Archachatina marginata", Version: 1,
		Build: farm.BuildSheet{
			Length: farm.Length{Value: 40, Measure: "ft"}, Width: farm.Length{Value: 6.5, Measure: "m"}, Capacity: 2000, Standard: "revision 3",
			WallBase: "block", Cover: "net", DoubleDoor: farm.Yes, Drain: farm.No, Lined: farm.Unknown, Paths: farm.Yes, FeedPlatforms: farm.No,
			Water: "well", TankLitres: 1000, Pump: farm.Power{Value: 1.5, Measure: "hp"}, HandedOverOn: today.Add(-60), DefectsMonths: 6,
		},
	}
}

func cycle(id, farmID, unitID string) farm.Cycle {
	return farm.Cycle{ID: id, FarmID: farmID, UnitID: unitID, Enterprise: "snail", Purpose: string(programme.GrowOut), StartedOn: today.Add(-50), Version: 1}
}

func milestone(cycleID, key string, target int) app.Milestone {
	return app.Milestone{CycleID: cycleID, Window: programme.Window{Key: key, Earliest: today.Add(target - 5), Target: today.Add(target), Latest: today.Add(target + 9)}}
}

// ticketOf is what a sweep would open.
func ticketOf(id string, k ticket.Key, u ticket.Urgency, due time.Duration) ticket.Ticket {
	return ticket.Ticket{
		ID: id, Key: k, Origin: ticket.FromSweep, State: ticket.Reported, Impact: ticket.Middle, TimeToLoss: ticket.Week, Urgency: u,
		OpenedOn: today, OpenedAt: now, FirstWordBy: now.Add(due), PlanBy: now.Add(3 * due), WorseAt: 4,
		Reasons: []domain.Reason{{Code: "milestone-behind", Values: map[string]any{"late_days": 4.0, "milestone": "planted"}}}, Version: 1,
	}
}

func key(farmID, rule, subject string) ticket.Key {
	return ticket.Key{FarmID: farmID, Rule: rule, Subject: subject}
}

// open opens a ticket and returns it as it is kept.
func (w *world) open(t ticket.Ticket) ticket.Ticket { return w.openIn(ctx, t) }

func (w *world) openIn(ctx context.Context, t ticket.Ticket) ticket.Ticket {
	w.t.Helper()
	t.Year, t.FirstReason = 2026, t.Reasons
	got, opened, err := w.OpenTicket(ctx, t)
	require.NoError(w.t, err)
	require.True(w.t, opened)
	return got
}

// The scopes of the people in the world.
var (
	ana     = app.Scope{Branches: []string{"buea"}}
	douala  = app.Scope{Branches: []string{"douala"}}
	carine  = app.Scope{PersonFarms: "care"}
	owner   = app.Scope{Owner: "own"}
	nothing = app.Scope{}
)

// sees holds a read of one thing to the scopes that may and may not know of
// it.
func sees(t *testing.T, what string, read func(app.Scope) error, may []app.Scope, mayNot []app.Scope) {
	t.Helper()
	for _, sc := range append(may, app.Everything) {
		require.NoError(t, read(sc), "%s %+v", what, sc)
	}
	for _, sc := range append(mayNot, nothing) {
		err := read(sc)
		require.Equal(t, domain.KindNotFound, domain.KindOf(err), "%s %+v: %v", what, sc, err)
	}
}

// stale holds a change to versions: at the right one it is made, at an old
// one refused, and what is not there is not found.
func stale(t *testing.T, change func(id string, version int) error, id string) {
	t.Helper()
	require.NoError(t, change(id, 1))
	require.Equal(t, domain.KindStale, domain.KindOf(change(id, 1)))
	require.Equal(t, domain.KindStale, domain.KindOf(change(id, 9)))
	require.Equal(t, domain.KindNotFound, domain.KindOf(change("nothing", 1)))
	require.NoError(t, change(id, 2))
}

func ids[T, K any](list []T, id func(T) K) []K {
	out := make([]K, 0, len(list))
	for _, x := range list {
		out = append(out, id(x))
	}
	return out
}

func branchIDs(bs []farm.Branch) []string { return ids(bs, func(b farm.Branch) string { return b.ID }) }

func farmIDs(ls []app.FarmLine) []string { return ids(ls, func(l app.FarmLine) string { return l.ID }) }

func ticketIDs(ls []app.TicketLine) []string {
	return ids(ls, func(l app.TicketLine) string { return l.ID })
}

// fresh is an id that no other thing has.
func (w *world) fresh(prefix string) string {
	w.ticks++
	return fmt.Sprintf("%s-%06d", prefix, w.ticks)
}
