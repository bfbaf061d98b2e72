package register

import (
	"context"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/server/app"
)

// Store is what an import needs of the database, beside a transaction and
// the audit. Changes name the version that they were made from: one that has
// moved on is a stale error. All of it joins ctx's transaction.
type Store interface {
	app.Store
	// LockRegister makes other imports wait until ctx's transaction ends.
	LockRegister(ctx context.Context) error
	// RegisterSnapshot is the register as it stands, at one moment.
	RegisterSnapshot(ctx context.Context) (Snapshot, error)

	AddBranches(ctx context.Context, bs ...farm.Branch) error
	AddClients(ctx context.Context, cs ...app.Client) error
	ChangeClient(ctx context.Context, c app.Client) error
	AddPeople(ctx context.Context, at time.Time, ps ...farm.Person) error
	ChangePerson(ctx context.Context, p farm.Person) error
	AddFarms(ctx context.Context, at time.Time, fs ...farm.Farm) error
	ChangeFarm(ctx context.Context, f farm.Farm) error
	CountChange(ctx context.Context, farmID string) error
	SetWork(ctx context.Context, ws ...farm.Work) error
	AddUnits(ctx context.Context, us ...farm.Unit) error
	ChangeUnit(ctx context.Context, u farm.Unit) error
	AddCycles(ctx context.Context, cs ...farm.Cycle) error
	ChangeCycle(ctx context.Context, c farm.Cycle) error
	AddMilestones(ctx context.Context, ms ...app.Milestone) error
	RemoveMilestones(ctx context.Context, cycleIDs ...string) error
	MarkMilestone(ctx context.Context, cycleID, key string, on calendar.Date, grade farm.Grade, by string) error
	AddBatches(ctx context.Context, bs ...farm.Batch) error
	ChangeBatch(ctx context.Context, b farm.Batch) error
	AddVisits(ctx context.Context, vs ...app.Visit) error
	AppendEvents(ctx context.Context, es ...app.Event) ([]string, error)
	AddPasses(ctx context.Context, ps ...app.Pass) error
	// RecordAll is Record for many lines.
	RecordAll(ctx context.Context, at time.Time, personID string, newID func() string, changes []app.Change) error
}
