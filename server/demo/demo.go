// Package demo makes an invented firm to try Tendfold with: about sixty
// farms whose two years of history come from the truth of the rehearsal, so
// that what the sweep finds there is what it would find on farms like these.
// All people, farms, numbers and events are invented. Nothing of it exists
// outside the demo command.
package demo

import (
	"context"
	"fmt"
	"slices"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/server"
	"tendfold/server/app"
	"tendfold/server/app/signin"
)

// Seed is the demo's; with the day on which it starts, it decides everything.
const Seed uint64 = 20260312

// history is how many days the firm looks back on.
const history = 730

// Account is a person of the demo who may sign in.
type Account struct {
	Role     farm.Role
	Name     string
	Login    string
	Password string // staff
	Link     string // the path of a link for a phone, spent once
}

// builder makes the demo in a house whose clock it moves.
type builder struct {
	h        *server.House
	clock    *Clock
	today    calendar.Date
	luck     luck
	branches []farm.Branch
	staff    []farm.Person
	farms    []place
}

// Clock is the demo's clock while its past is made; afterwards it is the
// real one.
type Clock struct{ at time.Time }

// Now is the moment at which the demo's past has arrived.
func (c *Clock) Now() time.Time {
	if c.at.IsZero() {
		return time.Now()
	}
	return c.at
}

// Build fills an empty house. Progress is told in words.
func Build(ctx context.Context, h *server.House, clock *Clock, progress func(what string)) ([]Account, error) {
	now := time.Now().UTC().Truncate(time.Microsecond)
	b := &builder{h: h, clock: clock, luck: newLuck(Seed)}
	zone, err := time.LoadLocation(zoneName)
	if err != nil {
		return nil, fmt.Errorf("the demo's time zone: %w", err)
	}
	b.today = calendar.FromTime(now.In(zone))
	clock.at = now
	defer func() { clock.at = time.Time{} }()
	for _, step := range []struct {
		what string
		do   func(ctx context.Context) error
	}{
		{"the firm, its branches and its people", b.firm},
		{"sixty farms and their two years", b.register},
		{"what the sweep found on the way", b.past},
		{"the work that waits today", b.waiting},
	} {
		progress(step.what)
		if err := step.do(ctx); err != nil {
			return nil, fmt.Errorf("make %s: %w", step.what, err)
		}
	}
	return b.accounts(ctx)
}

const (
	zoneName = "Africa/Douala"
	password = "wet season snails" // of every member of the demo's staff
)

func (b *builder) firm(ctx context.Context) error {
	firm := farm.Firm{Name: "Palmwalk Farm Builders", Language: "en", Zone: zoneName, Currency: "XAF", SetUp: true}
	return b.h.Store.InTx(ctx, func(ctx context.Context) error {
		old, err := b.h.Store.Firm(ctx)
		if err != nil {
			return err
		}
		firm.Version = old.Version
		if err := b.h.Store.SaveFirm(ctx, firm); err != nil {
			return err
		}
		b.branches = branches()
		if err := b.h.Store.AddBranches(ctx, b.branches...); err != nil {
			return err
		}
		b.staff = staff()
		return b.h.Store.AddPeople(ctx, b.clock.Now(), b.staff...)
	})
}

// accounts gives staff their password and makes a link for one caretaker and
// one owner, whose farms have something to show.
func (b *builder) accounts(ctx context.Context) ([]Account, error) {
	var out []Account
	for _, p := range b.staff {
		login, err := b.h.SignIn.GivePassword(ctx, app.System, p.ID, password)
		if err != nil {
			return nil, err
		}
		out = append(out, Account{Role: p.Grants[0].Role, Name: p.Name, Login: login, Password: password})
	}
	i := max(slices.IndexFunc(b.farms, func(p place) bool { return p.watched && p.name == showFarm }), 0)
	for _, p := range []struct {
		role farm.Role
		id   string
	}{{farm.Caretaker, b.farms[i].carer}, {farm.Owner, b.farms[i].owner}} {
		made, err := b.h.SignIn.MakeEnrolment(ctx, app.System, signin.MakeEnrolment{PersonID: p.id, Purpose: signin.ForPhone, Kind: signin.ByLink})
		if err != nil {
			return nil, err
		}
		out = append(out, Account{Role: p.role, Name: made.Person.Name, Link: "/enrol#" + made.Secret})
	}
	return out, nil
}
