// Package app holds the use cases: who may do a thing, in one transaction,
// with the clock and the ids given in, and a line in the audit. One verb a
// file. It owns the small interfaces that it needs from the store.
package app

import (
	"context"
	"slices"
	"time"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/farm"
)

// Actor is who asks. The zero Actor may do nothing.
type Actor struct {
	PersonID  string
	Name      string
	Language  string
	Grants    []farm.Grant
	SessionID string
	DeviceID  string
	System    bool // the server itself: the hourly sweep, a command on the host
}

// System is the server itself, or a person at the host's command line.
var System = Actor{System: true, Name: "Tendfold"}

// Is says whether the actor holds any of the roles, in whatever branch.
func (a Actor) Is(roles ...farm.Role) bool {
	return a.System || slices.ContainsFunc(a.Grants, func(g farm.Grant) bool { return slices.Contains(roles, g.Role) })
}

// Staff says whether the actor is one of the firm's own people.
func (a Actor) Staff() bool {
	return a.System || slices.ContainsFunc(a.Grants, func(g farm.Grant) bool { return g.Role.Staff() })
}

// Need refuses an actor that holds none of the roles.
func (a Actor) Need(roles ...farm.Role) error {
	if a.Is(roles...) {
		return nil
	}
	return domain.Forbidden("Your role does not allow this. Ask your manager if you need it.")
}

// Change is one line of the audit: who (the actor), what was done to which
// thing, and how it stood before and after.
type Change struct {
	Verb    string
	Thing   string
	ThingID string
	FarmID  string
	Before  any
	After   any
}

// Core is what every use case needs.
type Core struct {
	Store Store
	Packs *checklists.Set
	Now   func() time.Time // one call a use case
	NewID func() string    // UUIDv7
}

// Store is what all use cases need of the database: a transaction and the
// audit. Each use case names what else it needs beside itself.
type Store interface {
	// InTx runs fn in one transaction, joined when ctx already carries one.
	InTx(ctx context.Context, fn func(ctx context.Context) error) error
	// Record writes the audit line in ctx's transaction.
	Record(ctx context.Context, id string, at time.Time, personID string, c Change) error
}
