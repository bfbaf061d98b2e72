package demo

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"time"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/rehearsal"
	"tendfold/domain/rehearsal/truth"
	"tendfold/domain/sweep"
	"tendfold/domain/training"
	"tendfold/server/app"
)

// place is a farm of the demo while it is made.
type place struct {
	farm.Farm
	name    string
	watched bool
	client  string
	owner   string
	carer   string
	course  *truth.Course
	pack    *checklists.Pack
	unit    farm.Unit
	cycle   farm.Cycle
	heard   []truth.Entry
}

// recent is how many days ago the younger farms began at the earliest.
const recent = 380

// farmCount is how many farms the firm has.
const farmCount = 60

// register makes the farms and writes what was heard of each.
func (b *builder) register(ctx context.Context) error {
	// A firm grows: one farm in four began in the first of the two years.
	old, young := truth.NewLand(Seed, truth.Fair, b.today.Add(-history)), truth.NewLand(Seed+1, truth.Fair, b.today.Add(-recent))
	for i := 0; len(b.farms) < farmCount; i++ {
		land := young
		if i%4 == 0 {
			land = old
		}
		if f := land.Farm(i); f.Start < b.today.Add(-2) {
			if err := b.add(ctx, f); err != nil {
				return err
			}
		}
	}
	return nil
}

// One farm in so many has lost its phone so many days ago.
const (
	quietOnes = 17
	quietDays = 33
)

func (b *builder) add(ctx context.Context, f *truth.Farm) error {
	n := len(b.farms)
	days := b.today.Sub(f.Start)
	p := place{course: f.Run(f.Inject(truth.DefaultKinds(), days))}
	pack, ok := b.h.Packs.Pack(f.Plan.Enterprise)
	if !ok {
		return fmt.Errorf("the pack %s is not here", f.Plan.Enterprise)
	}
	p.pack = pack
	until := b.today
	if n%quietOnes == quietOnes-1 {
		until = b.today.Add(-quietDays)
	}
	for _, e := range p.course.Evidence(days) {
		if e.Stated <= until && e.Received <= until {
			p.heard = append(p.heard, e)
		}
	}
	b.describe(&p, n, f)
	b.farms = append(b.farms, p)
	return b.h.Store.InTx(ctx, func(ctx context.Context) error { return b.write(ctx, &p) })
}

// describe invents what a register says of a farm.
func (b *builder) describe(p *place, n int, f *truth.Farm) {
	r := b.luck.of("farm %d", n)
	branch := b.branches[[]int{0, 0, 1, 1, 2}[n%5]]
	t := pick(r, towns[branch.ID])
	word := farmWords[n%len(farmWords)]
	p.name = word + " farm"
	if round := n / len(farmWords); round > 0 {
		p.name = fmt.Sprintf("%s farm %s", word, t.name)
		if round > 1 {
			p.name = fmt.Sprintf("%s %s", t.name, word)
		}
	}
	p.watched = n%12 != 11
	p.Farm = farm.Farm{
		ID: b.luck.id("farm %d", n), ClientID: b.luck.id("client %d", n), BranchID: branch.ID, Name: p.name, Town: t.name,
		Landmark: pick(r, []string{"behind the market", "after the second bridge", "beside the chapel", "opposite the filling station", "near the health post", "past the sawmill"}),
		Position: farm.Position{Lat: round4(t.lat + .05*(r.Float64()-.5)), Lng: round4(t.lng + .05*(r.Float64()-.5)), Known: n%7 != 6},
		Status:   farm.Active, IntakeOn: max(f.Start, b.today.Add(-600)), Version: 1,
	}
	if p.watched {
		p.WatchedOn = p.IntakeOn
	}
	p.client, p.owner, p.carer = b.luck.id("client %d", n), b.luck.id("owner %d", n), b.luck.id("carer %d", n)
	p.unit = b.build(p, n, f)
	p.cycle = farm.Cycle{
		ID: b.luck.id("cycle %d", n), FarmID: p.ID, UnitID: p.unit.ID, Enterprise: f.Plan.Enterprise, Purpose: f.Plan.Purpose, Version: 1,
		StartsWith: rehearsal.Milestone(f.Plan.Enterprise, truth.Built), StartedOn: f.Start,
	}
}

func round4(x float64) float64 { return math.Round(x*1e4) / 1e4 }

// build is a unit as the firm built it at that time.
func (b *builder) build(p *place, n int, f *truth.Farm) farm.Unit {
	r := b.luck.of("unit %d", n)
	revision := min(2, max(0, (f.Start.Sub(b.today)+history)*3/history))
	sheet := farm.BuildSheet{
		Standard: standards[revision], Water: pick(r, []string{"mains", "borehole", "well", "rain", "gravity"}), TankLitres: pick(r, []float64{500, 1000, 2000}),
		HandedOverOn: f.Start, DefectsMonths: pick(r, []int{6, 12}), Capacity: f.StockedCount() * 2 / 10 * 10,
	}
	yes := func(from int) farm.Answer {
		if revision >= from {
			return farm.Yes
		}
		return farm.No
	}
	if r.IntN(2) == 0 {
		sheet.Pump = farm.Power{Value: pick(r, []float64{0.5, 0.75, 1, 1.5}), Measure: pick(r, []string{"hp", "ch"})}
	}
	unit := farm.Unit{ID: b.luck.id("unit %d", n), FarmID: p.ID, Name: fmt.Sprintf("House %d", 1), Enterprise: f.Plan.Enterprise, Species: p.pack.Species[0].Key, Version: 1}
	if f.Plan.Enterprise == "catfish" {
		unit.Name = "Tank 1"
		sheet.Length, sheet.Width = farm.Length{Value: float64(3 + r.IntN(4)), Measure: "m"}, farm.Length{Value: float64(2 + r.IntN(3)), Measure: "m"}
		sheet.Drain, sheet.Lined = farm.Yes, yes(1)
	} else {
		sheet.Length, sheet.Width = farm.Length{Value: float64(30 + 5*r.IntN(4)), Measure: "ft"}, farm.Length{Value: float64(12 + 3*r.IntN(3)), Measure: "ft"}
		sheet.WallBase, sheet.DoubleDoor, sheet.Drain, sheet.Paths, sheet.FeedPlatforms = pick(r, []string{"blocks", "planks"}), yes(1), yes(2), farm.Yes, yes(2)
	}
	unit.Build = sheet
	return unit
}

// write keeps a farm and all that was heard of it.
func (b *builder) write(ctx context.Context, p *place) error {
	n := len(b.farms)
	r := b.luck.of("people %d", n)
	name := func() string { return pick(r, firstNames) + " " + pick(r, lastNames) }
	lang := pick(r, []string{"en", "fr"})
	people := []farm.Person{
		{ID: p.owner, Name: name(), Phone: fmt.Sprintf("+23760010%04d", n), Language: lang, Active: true, Grants: []farm.Grant{{Role: farm.Owner}}, Version: 1},
		{ID: p.carer, Name: name(), Phone: fmt.Sprintf("+23760020%04d", n), Language: lang, Active: true, Grants: []farm.Grant{{Role: farm.Caretaker}}, Version: 1},
	}
	work := []farm.Work{{FarmID: p.ID, PersonID: p.carer, InCharge: true, Since: p.unit.Build.HandedOverOn.String()}}
	if n%6 == 5 { // seventy caretakers in all; a second one may share the first one's phone
		second := farm.Person{ID: b.luck.id("second carer %d", n), Name: name(), Phone: people[1].Phone, Language: lang, Active: true, Grants: []farm.Grant{{Role: farm.Caretaker}}, Version: 1}
		people = append(people, second)
		work = append(work, farm.Work{FarmID: p.ID, PersonID: second.ID, Since: p.unit.Build.HandedOverOn.String()})
	}
	s := b.h.Store
	for _, do := range []func() error{
		func() error { return s.AddPeople(ctx, b.clock.Now(), people...) },
		func() error {
			return s.AddClients(ctx, app.Client{Client: farm.Client{ID: p.ClientID, Name: people[0].Name, Phone: people[0].Phone, OwnerID: p.owner, Version: 1}})
		},
		func() error { return s.AddFarms(ctx, b.clock.Now(), p.Farm) },
		func() error { return s.SetWork(ctx, work...) },
		func() error { return s.AddUnits(ctx, p.unit) },
		func() error { return b.writeCycle(ctx, p) },
		func() error { return b.writeHeard(ctx, p, n) },
	} {
		if err := do(); err != nil {
			return err
		}
	}
	return nil
}

// writeCycle keeps the cycle with its baseline and the milestones told of.
func (b *builder) writeCycle(ctx context.Context, p *place) error {
	plan, err := b.h.Plans.PlanFrom(ctx, p.cycle.Enterprise, p.cycle.Purpose, p.BranchID, p.cycle.StartsWith)
	if err != nil {
		return err
	}
	told := map[string]truth.Entry{}
	for _, e := range p.heard {
		if e.Sort == truth.StepDone {
			told[rehearsal.Milestone(p.cycle.Enterprise, e.Step)] = e
		}
	}
	var rows []app.Milestone
	for _, w := range plan.Network.Baseline(p.cycle.StartedOn, plan.Draws) {
		m := app.Milestone{CycleID: p.cycle.ID, Window: w}
		if e, ok := told[w.Key]; ok {
			m.DoneOn, m.Grade, m.DoneBy = e.Stated, farm.WordGiven, p.carer
			if e.Staff {
				m.Grade, m.DoneBy = farm.StaffSaw, b.officer(p.BranchID)
			}
		}
		if w.Key == p.cycle.StartsWith {
			m.DoneOn, m.Grade = p.cycle.StartedOn, farm.StaffSaw
		}
		rows = append(rows, m)
	}
	b.roundOff(rows, plan)
	if err := b.h.Store.AddCycles(ctx, p.cycle); err != nil {
		return err
	}
	return b.h.Store.AddMilestones(ctx, rows...)
}

// roundOff ends the cycles that were harvested: the truth stops there, so what
// follows is done in the time that the pack takes as likely, and checkpoints
// that nobody told of are taken as done on the way.
func (b *builder) roundOff(rows []app.Milestone, plan *sweep.Plan) {
	at := map[string]*app.Milestone{}
	for i := range rows {
		at[rows[i].Key] = &rows[i]
	}
	if at[plan.Programme.Harvest].DoneOn.IsZero() {
		return
	}
	for _, m := range plan.Network.Milestones() {
		row := at[m.Key]
		for _, before := range m.After {
			if done := at[before].DoneOn; row.DoneOn.IsZero() && !done.IsZero() {
				if on := done.Add(int(m.Days.Likely)); on <= b.today {
					row.DoneOn, row.Grade = on, farm.StaffSaw
				}
			}
		}
	}
}

// officer is the field officer of a branch.
func (b *builder) officer(branch string) string { return b.of(branch, farm.FieldOfficer) }

// of is the first of the branch's staff with a role.
func (b *builder) of(branch string, role farm.Role) string {
	i := slices.IndexFunc(b.staff, func(p farm.Person) bool { return p.Grants[0] == farm.Grant{Role: role, BranchID: branch} })
	if i < 0 {
		return b.staff[0].ID
	}
	return b.staff[i].ID
}

// heardRows are a farm's entries as the store keeps them.
type heardRows struct {
	events   []app.Event
	readings []app.Reading
	marks    []app.Mark
	passes   []app.Pass
	batches  []farm.Batch
	visits   []app.Visit
}

func (b *builder) writeHeard(ctx context.Context, p *place, n int) error {
	var rows heardRows
	for i, e := range p.heard {
		b.take(&rows, p, e, b.luck.id("entry %d %d", n, i))
	}
	s := b.h.Store
	if _, err := s.AppendEvents(ctx, rows.events...); err != nil {
		return err
	}
	for _, do := range []func() error{
		func() error { return s.AddReadings(ctx, rows.readings...) },
		func() error { return s.PutMarks(ctx, firstOfEach(rows.marks)...) },
		func() error { return s.AddPasses(ctx, rows.passes...) },
		func() error { return s.AddBatches(ctx, rows.batches...) },
		func() error { return s.AddVisits(ctx, rows.visits...) },
	} {
		if err := do(); err != nil {
			return err
		}
	}
	return nil
}

// firstOfEach keeps the first mark of each item.
func firstOfEach(marks []app.Mark) []app.Mark {
	seen := map[string]bool{}
	return slices.DeleteFunc(marks, func(m app.Mark) bool {
		again := seen[m.Item]
		seen[m.Item] = true
		return again
	})
}

// take turns one entry of the truth into rows, as the entry use case would.
func (b *builder) take(rows *heardRows, p *place, e truth.Entry, id string) {
	ev := app.Event{
		ID: id, FarmID: p.ID, UnitID: p.unit.ID, CycleID: p.cycle.ID, On: e.Stated, PersonID: p.carer,
		Evidence: true, ClockOff: e.ClockOff,
		RecordedAt: e.Received.In(time.UTC).Add(18 * time.Hour),
	}
	if e.Staff {
		ev.PersonID = b.officer(p.BranchID)
	}
	say := func(kind string, data any) {
		ev.Kind = kind
		ev.Data, _ = json.Marshal(data) // plain values of ours
		rows.events = append(rows.events, ev)
	}
	switch e.Sort {
	case truth.Daybook:
		deaths := int(e.Value)
		if deaths == 0 {
			say(app.EntryDay, app.DayEntry{AllWell: true})
		} else {
			say(app.EntryDay, app.DayEntry{Values: map[string]any{"deaths": deaths}})
		}
	case truth.StepDone:
		b.step(rows, p, e, ev, say)
	case truth.Looked:
		say(app.EntryCover, app.CoverEntry{Percent: e.Value})
		b.reading(rows, p, id, programme.Reading{Kind: programme.Cover, On: e.Stated, Value: e.Value})
	case truth.Weighed:
		say(app.EntryWeights, app.WeightsEntry{N: e.N, Mean: e.Value})
		b.reading(rows, p, id, programme.Reading{Kind: programme.Weight, On: e.Stated, Value: e.Value, N: e.N, SD: e.SD})
	case truth.Verified:
		say(app.EntryNote, app.NoteEntry{Note: "Points of the go-ahead verified on site."})
		b.verified(rows, p, e, id)
	case truth.Visit:
		say("visit", map[string]string{})
		rows.visits = append(rows.visits, app.Visit{
			ID: id, FarmID: p.ID, OfficerID: ev.PersonID, On: e.Stated, State: app.VisitDone, DoneOn: e.Stated, PlannedBy: ev.PersonID, Version: 1,
			Findings: "Walked the unit with the caretaker; daybook and counts looked at.",
		})
	case truth.Call:
		say("call", map[string]string{})
	}
}

func (b *builder) reading(rows *heardRows, p *place, id string, r programme.Reading) {
	rows.readings = append(rows.readings, app.Reading{ID: id, CycleID: p.cycle.ID, Reading: r})
}

// step is a finished step: a milestone, and what comes with it.
func (b *builder) step(rows *heardRows, p *place, e truth.Entry, ev app.Event, say func(kind string, data any)) {
	key := rehearsal.Milestone(p.unit.Enterprise, e.Step)
	say(app.EntryMilestone, app.MilestoneEntry{Milestone: key})
	switch e.Step {
	case truth.Trained:
		for _, m := range p.pack.Modules {
			rows.passes = append(rows.passes, app.Pass{
				PersonID: p.carer, Enterprise: p.pack.Enterprise, Module: m.Key, On: e.Stated, How: "in-person", ByID: ev.PersonID,
				Until: training.ValidUntil(b.refreshed(e.Stated, m), training.Months(m.Months, m.Safety)),
			})
		}
	case truth.Stocked:
		// Every visit states it anew; the animals came once.
		if slices.ContainsFunc(rows.batches, func(known farm.Batch) bool { return known.CycleID == p.cycle.ID }) {
			return
		}
		rows.batches = append(rows.batches, farm.Batch{
			ID: ev.ID, UnitID: p.unit.ID, CycleID: p.cycle.ID, Species: p.unit.Species, Count: e.N, MeanWeightG: math.Round(e.Value*10) / 10,
			Source: "the firm's own nursery", StockedOn: e.Stated,
		})
	}
}

// refreshed is the last refresher of a module: most caretakers keep it up,
// one in eight lets it lapse.
func (b *builder) refreshed(on calendar.Date, m checklists.Module) calendar.Date {
	if b.luck.of("refresh %s %d", m.Key, len(b.farms)).IntN(8) == 0 {
		return on
	}
	months := training.Months(m.Months, m.Safety)
	for training.ValidUntil(on, months) < b.today.Add(-10) {
		on = training.ValidUntil(on, months)
	}
	return on
}

// verified marks the stated share of the items of the go-aheads.
func (b *builder) verified(rows *heardRows, p *place, e truth.Entry, id string) {
	for _, g := range p.pack.GoAheads {
		for _, item := range g.Items[:min(len(g.Items), int(math.Ceil(e.Value*float64(len(g.Items)))))] {
			rows.marks = append(rows.marks, app.Mark{
				CycleID: p.cycle.ID, Item: item, Answer: farm.Yes, Grade: farm.StaffSaw, On: e.Stated, PersonID: b.officer(p.BranchID), EventID: id,
			})
		}
	}
}
