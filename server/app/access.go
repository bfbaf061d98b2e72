package app

import (
	"context"
	"time"

	"tendfold/domain/farm"
)

// Scope is what the actor may know of: administrators and managers all, or
// their branches; advisors and field officers their branches; caretakers the
// farms on which they work; owners the farms of their clients.
func (a Actor) Scope() Scope {
	if a.System {
		return Everything
	}
	var s Scope
	for _, g := range a.Grants {
		switch {
		case g.Role.Staff() && g.BranchID == "":
			s.All = true
		case g.Role.Staff():
			s.Branches = append(s.Branches, g.BranchID)
		case g.Role == farm.Caretaker:
			s.PersonFarms = a.PersonID
		case g.Role == farm.Owner:
			s.Owner = a.PersonID
		}
	}
	return s
}

// record writes the audit line of a change in ctx's transaction.
func (c Core) record(ctx context.Context, who Actor, at time.Time, ch Change) error {
	return c.Store.Record(ctx, c.NewID(), at, who.PersonID, ch)
}
