package housetest

import (
	"context"
	"fmt"
	"strings"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/server/app"

	"github.com/stretchr/testify/require"
)

// The small register: two branches with staff; two clients, one with an owner
// who signs in; three watched farms and one to confirm, each with a snail unit
// on which a cycle began fifty days ago. All names, places and numbers are
// invented; +999 is not assigned.
//
//	Buea     managers adm (administrator) and mo see all, bm sees Buea;
//	         ana advises, fie travels
//	         f1 Hillside and f2 Riverside of c1 (owner own; care works on f1)
//	         f4 Newfield of c2, to confirm
//	Douala   dou advises, dfo travels
//	         f3 Harbour of c2 (owner own2; far works there)
//	nowhere  out, who has no role any more
func (h *House) settle() {
	h.T.Helper()
	ctx := context.Background()
	must := func(err error) { h.T.Helper(); require.NoError(h.T, err) }
	must(h.Store.InTx(ctx, func(ctx context.Context) error {
		must(h.Store.AddBranches(ctx, branch("buea", "Buea"), branch("douala", "Douala")))
		must(h.Store.AddPeople(ctx, Begins,
			person("adm", "Ada Mbua", 1, farm.Grant{Role: farm.Administrator}),
			person("mo", "Mo Tanyi", 2, farm.Grant{Role: farm.Manager}),
			person("bm", "Bella Mokom", 3, farm.Grant{Role: farm.Manager, BranchID: "buea"}),
			person("ana", "Ana Étoile", 4, farm.Grant{Role: farm.Advisor, BranchID: "buea"}),
			person("fie", "Fidel Ewane", 5, farm.Grant{Role: farm.FieldOfficer, BranchID: "buea"}),
			person("dou", "Doreen Ekalle", 6, farm.Grant{Role: farm.Advisor, BranchID: "douala"}),
			person("dfo", "Didier Essomba", 7, farm.Grant{Role: farm.FieldOfficer, BranchID: "douala"}),
			person("care", "Carine Ngwa", 8, farm.Grant{Role: farm.Caretaker}),
			person("far", "Farida Njoya", 9, farm.Grant{Role: farm.Caretaker}),
			person("own", "Olu Vera", 10, farm.Grant{Role: farm.Owner}),
			person("own2", "Kwame Bate", 11, farm.Grant{Role: farm.Owner}),
			person("out", "Otto Left", 12),
		))
		must(h.Store.AddClients(ctx, client("c1", "Ngoh Ltd", "+999611111111", "own"), client("c2", "Kwame & Sons", "+999622222222", "own2")))
		return nil
	}))
	h.AddFarm(Farm{ID: "f1", Client: "c1", Branch: "buea", Name: "Hillside", Watched: true})
	h.AddFarm(Farm{ID: "f2", Client: "c1", Branch: "buea", Name: "Riverside", Watched: true})
	h.AddFarm(Farm{ID: "f3", Client: "c2", Branch: "douala", Name: "Harbour", Watched: true})
	h.AddFarm(Farm{ID: "f4", Client: "c2", Branch: "buea", Name: "Newfield"})
	must(h.Store.SetWork(ctx,
		farm.Work{FarmID: "f1", PersonID: "care", InCharge: true, Since: "2026-01-05"},
		farm.Work{FarmID: "f3", PersonID: "far", InCharge: true, Since: "2026-01-05"}))
}

// Staff, Farmers and Everybody are the ids of people of the small register.
var (
	Staff     = []string{"adm", "mo", "bm", "ana", "fie", "dou", "dfo"}
	Farmers   = []string{"care", "far", "own", "own2"}
	Everybody = append(append([]string{"out"}, Staff...), Farmers...)
)

// Today is the civil day of the house's clock in its branches.
func (h *House) Today() calendar.Date {
	h.T.Helper()
	on, err := h.Plans.Today(context.Background(), "buea", h.Now())
	require.NoError(h.T, err)
	return on
}

// NewID is an id that no other thing has.
func (h *House) NewID(prefix string) string {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.ids++
	return fmt.Sprintf("%s-%06d", prefix, h.ids)
}

// Farm is a farm to add: with the unit "u..." and the cycle "y..." of its id
// f..., unless there is to be none.
type Farm struct {
	ID, Client, Branch, Name string
	Watched                  bool
	Began                    int // days ago on which its cycle began; 50 when 0, none when below
	Enterprise               string
}

// AddFarm adds a farm.
func (h *House) AddFarm(f Farm) {
	h.T.Helper()
	ctx := context.Background()
	today := calendar.FromTime(h.Now())
	if f.Enterprise == "" {
		f.Enterprise = "snail"
	}
	if f.Began == 0 {
		f.Began = 50
	}
	place := farm.Farm{
		ID: f.ID, ClientID: f.Client, BranchID: f.Branch, Name: f.Name, Town: "Town of " + f.Name, Landmark: "by the old mill",
		Position: farm.Position{Lat: 4.1, Lng: 9.2, Known: true}, Status: farm.Active, IntakeOn: today, Version: 1,
	}
	if f.Watched {
		place.WatchedOn = today
	}
	unit := "u" + strings.TrimPrefix(f.ID, "f")
	require.NoError(h.T, h.Store.AddFarms(ctx, h.Now(), place))
	require.NoError(h.T, h.Store.AddUnits(ctx, farm.Unit{
		ID: unit, FarmID: f.ID, Name: "House " + unit, Enterprise: f.Enterprise, Version: 1,
		Build: farm.BuildSheet{
			Length: farm.Length{Value: 40, Measure: "ft"}, Width: farm.Length{Value: 6.5, Measure: "m"}, Capacity: 2000, Standard: "revision 3",
			HandedOverOn: today.Add(-60), DefectsMonths: 6,
		},
	}))
	if f.Began > 0 {
		h.Begin(f.Branch, farm.Cycle{
			ID: "y" + strings.TrimPrefix(f.ID, "f"), FarmID: f.ID, UnitID: unit, Enterprise: f.Enterprise,
			Purpose: string(programme.GrowOut), StartedOn: today.Add(-f.Began), Version: 1,
		})
	}
}

// Begin begins a cycle with its baseline; the milestone with which it starts
// is done.
func (h *House) Begin(branchID string, c farm.Cycle) {
	h.T.Helper()
	ctx := context.Background()
	plan, err := h.Plans.Plan(ctx, c.Enterprise, c.Purpose, branchID)
	require.NoError(h.T, err)
	var milestones []app.Milestone
	for _, w := range plan.Network.Baseline(c.StartedOn, plan.Draws) {
		m := app.Milestone{CycleID: c.ID, Window: w}
		if w.Key == plan.Programme.Start {
			m.DoneOn, m.Grade = c.StartedOn, farm.Register
		}
		milestones = append(milestones, m)
	}
	require.NoError(h.T, h.Store.AddCycles(ctx, c))
	require.NoError(h.T, h.Store.AddMilestones(ctx, milestones...))
}

func branch(id, name string) farm.Branch {
	b := farm.Branch{ID: id, Name: name, Zone: "Africa/Douala", Country: "CM", Start: farm.Position{Lat: 4.15, Lng: 9.24, Known: true}, StartAt: "07:00", Version: 1}
	for day := 1; day <= 5; day++ {
		b.Hours[day] = farm.Span{From: 8 * 60, To: 17 * 60}
	}
	return b
}

func person(id, name string, n int, grants ...farm.Grant) farm.Person {
	return farm.Person{ID: id, Name: name, Phone: fmt.Sprintf("+9996700000%02d", n), Language: "en", Active: true, Grants: grants, Version: 1}
}

func client(id, name, phone, owner string) app.Client {
	return app.Client{Client: farm.Client{ID: id, Name: name, Phone: phone, OwnerID: owner, Version: 1}}
}
