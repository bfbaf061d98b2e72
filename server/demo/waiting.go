package demo

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"tendfold/domain/farm"
	"tendfold/server/app"
)

// waiting makes what waits for each role today: a paused cycle, snags near
// the end of the defects period, reports from caretakers, promises, planned
// visits, an owner's request, a new caretaker.
func (b *builder) waiting(ctx context.Context) error {
	for _, step := range []func(ctx context.Context) error{
		b.pause, b.snags, b.reports, b.promises, b.visits, b.newCarer,
	} {
		if err := step(ctx); err != nil {
			return err
		}
	}
	_, err := b.h.Sweeps.All(ctx, b.today, nil)
	return err
}

// watchedWith are the watched farms for which ok holds.
func (b *builder) watchedWith(ok func(p place) bool) []place {
	return slices.DeleteFunc(slices.Clone(b.farms), func(p place) bool { return !p.watched || !ok(p) })
}

func (b *builder) entry(ctx context.Context, who string, p place, kind string, data any) error {
	a, err := b.actor(ctx, who)
	if err != nil {
		return err
	}
	raw, err := json.Marshal(data)
	if err != nil {
		return err
	}
	_, err = b.h.Entries.Add(ctx, a, app.Event{
		ID: b.luck.id("waiting %s %s %s", kind, p.ID, raw), FarmID: p.ID, UnitID: p.unit.ID, CycleID: p.cycle.ID, Kind: kind, On: b.today, Data: raw,
	})
	return err
}

// pause stops the work on one farm that has not stocked yet.
func (b *builder) pause(ctx context.Context) error {
	early := b.watchedWith(func(p place) bool { return p.course.Stocked() > b.today.Sub(p.unit.Build.HandedOverOn) })
	if len(early) == 0 {
		early = b.watchedWith(func(place) bool { return true })
	}
	return b.entry(ctx, b.of("", farm.Manager), early[0], app.EntryPause, app.PauseEntry{Until: b.today.Add(10), Reason: "The road to the farm is flooded."})
}

var snagTexts = []string{"The lower hinge of the inner door is loose.", "A corner of the roof net is torn.", "The drain outlet has no grid.", "The tap at the last bed drips."}

func (b *builder) snags(ctx context.Context) error {
	near := b.watchedWith(func(p place) bool {
		left := p.unit.Build.HandedOverOn.Add(p.unit.Build.DefectsMonths * 30).Sub(b.today)
		return left > -5 && left < 70
	})
	for i, p := range near[:min(4, len(near))] {
		if err := b.entry(ctx, b.officer(p.BranchID), p, app.EntrySnag, app.SnagEntry{Text: snagTexts[i]}); err != nil {
			return err
		}
	}
	return nil
}

// reports come from caretakers this morning: words, a sign, a wish for a call.
func (b *builder) reports(ctx context.Context) error {
	for i, p := range b.farms[:min(9, len(b.farms))] {
		if !p.watched {
			continue
		}
		b.clock.at = time.Now().UTC().Add(-time.Duration(50*(9-i)) * time.Minute).Truncate(time.Microsecond)
		var err error
		switch i % 3 {
		case 0:
			err = b.entry(ctx, p.carer, p, app.EntryTrouble, app.TroubleEntry{Sign: p.pack.Signs[(3*i)%len(p.pack.Signs)].Key})
		case 1:
			err = b.entry(ctx, p.carer, p, app.EntryTrouble, app.TroubleEntry{Note: pickText(i)})
		case 2:
			err = b.entry(ctx, p.carer, p, app.EntryCallMe, app.NoteEntry{Note: "A question about feed."})
		}
		if err != nil {
			return err
		}
	}
	b.clock.at = time.Now().UTC().Truncate(time.Microsecond)
	return nil
}

func pickText(i int) string {
	return []string{"The pump runs but little water comes.", "Ants at the egg boxes since last night.", "The inner door does not close."}[i/3%3]
}

// promises were made on calls of the last days.
func (b *builder) promises(ctx context.Context) error {
	texts := []string{"Call back with the name of a shell powder seller.", "Send the officer to look at the cover.", "Call after the first night with the new feed."}
	for i, p := range b.watchedWith(func(place) bool { return true })[:9] {
		advisor, id := b.of(p.BranchID, farm.Advisor), b.luck.id("call %d", i)
		at := b.clock.Now().Add(-time.Duration(20*(i+1)) * time.Hour)
		err := b.h.Store.InTx(ctx, func(ctx context.Context) error {
			if err := b.h.Store.AddCall(ctx, app.Call{
				ID: id, FarmID: p.ID, PersonID: p.carer, Channel: "phone", TakenBy: advisor, StartedAt: at, EndedAt: at.Add(6 * time.Minute), Version: 1,
				Said: "Asked how much to water in this heat.", Advice: "Mist at dusk, never in the sun; keep the soil damp, not wet.",
			}); err != nil {
				return err
			}
			return b.h.Store.AddPromises(ctx, app.Promise{
				ID: b.luck.id("promise %d", i), CallID: id, FarmID: p.ID, Kind: []string{"call-back", "visit", "call-back"}[i%3], Text: texts[i%3],
				DueOn: b.today.Add(i%5 - 1), MadeBy: advisor, Version: 1,
			})
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// visits stand planned for this week, one a branch was missed, and an owner
// has asked for one.
func (b *builder) visits(ctx context.Context) error {
	for i, p := range b.watchedWith(func(p place) bool { return p.Position.Known })[:8] {
		v := app.Visit{
			ID: b.luck.id("planned %d", i), FarmID: p.ID, OfficerID: b.officer(p.BranchID), On: b.today.Add(i - 2), State: app.VisitPlanned,
			PlannedBy: b.of("", farm.Manager), Version: 1,
		}
		if v.On < b.today {
			v.State, v.Missed = app.VisitMissed, "The motorcycle broke down."
		}
		if err := b.h.Store.AddVisits(ctx, v); err != nil {
			return err
		}
	}
	p := b.watchedWith(func(place) bool { return true })[3]
	return b.h.Store.AddVisitRequest(ctx, app.VisitRequest{ID: b.luck.id("request"), FarmID: p.ID, PersonID: p.owner, On: b.today.Add(-2), Text: "Please look at the walls before the rains."})
}

// newCarer takes a farm over whose caretaker has left.
func (b *builder) newCarer(ctx context.Context) error {
	stocked := b.watchedWith(func(p place) bool { return p.course.Stocked() < b.today.Sub(p.unit.Build.HandedOverOn)-30 })
	if len(stocked) == 0 {
		return fmt.Errorf("a new caretaker: %w", errNone)
	}
	p := stocked[len(stocked)-1]
	id := b.luck.id("new carer")
	return b.h.Store.InTx(ctx, func(ctx context.Context) error {
		if err := b.h.Store.AddPeople(ctx, b.clock.Now(), farm.Person{
			ID: id, Name: "Junior Eyong", Phone: "+237600309999", Language: "en", Active: true, Grants: []farm.Grant{{Role: farm.Caretaker}}, Version: 1,
		}); err != nil {
			return err
		}
		return b.h.Store.SetWork(ctx,
			farm.Work{FarmID: p.ID, PersonID: p.carer, Since: p.unit.Build.HandedOverOn.String()},
			farm.Work{FarmID: p.ID, PersonID: id, InCharge: true, Since: b.today.Add(-9).String()})
	})
}
