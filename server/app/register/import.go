package register

import (
	"context"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/server/app"
)

// Sheet is a register as a person keeps it, read from a file.
type Sheet interface {
	// Rows types every row that is not blank. A row with a refused problem
	// comes back too, marked as refused.
	Rows(Reading) ([]Row, []Problem)
	// Header is the columns as the person wrote them.
	Header() map[Column]string
}

// Reading is what typing a row needs to know.
type Reading struct {
	Today calendar.Date
	Packs []*checklists.Pack
	// Zone is the firm's, which tells the country of phone numbers where
	// Country does not.
	Zone string
	// Country is the ISO 3166 country of a branch by its name, "" when that is
	// not known.
	Country  func(branch string) string
	Progress func(done, total int)
}

// Imports takes registers in.
type Imports struct {
	app.Core
	store Store
	plans *app.Plans
	queue app.Queue
}

// NewImports wires the use case.
func NewImports(core app.Core, store Store, plans *app.Plans, queue app.Queue) *Imports {
	return &Imports{Core: core, store: store, plans: plans, queue: queue}
}

// Import is a request to take a register in.
type Import struct {
	Sheet  Sheet
	Name   string // of the file, for the audit
	Commit bool   // write; otherwise only say what would be written
	Watch  bool   // start watching the farms at once
	// Branch is what a new branch is like; its Name is for farms without one
	// in a register that has none. Its Zone serves while no firm is set up.
	Branch farm.Branch
	// Country is where phone numbers without a country code are from, when the
	// branches do not say; "" goes by the time zone.
	Country  string
	Progress func(stage Stage, done, total int) // may be nil
}

// Stage is what an import is at.
type Stage string

// The stages.
const (
	Reads Stage = "reads"
	Plans Stage = "plans"
	Saves Stage = "saves"
)

// Run plans the import and, when asked to, writes all good rows in one
// transaction. Refused rows are part of the result, not an error. Only
// administrators and managers may; one of a branch may write to that branch.
func (s *Imports) Run(ctx context.Context, who app.Actor, in Import) (Result, error) {
	if err := who.Need(farm.Administrator, farm.Manager); err != nil {
		return Result{}, err
	}
	now := s.Now()
	if !in.Commit {
		return s.plan(ctx, who, in, now)
	}
	var result Result
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		if err := s.store.LockRegister(ctx); err != nil {
			return err
		}
		var err error
		if result, err = s.plan(ctx, who, in, now); err != nil {
			return err
		}
		return s.carryOut(ctx, who, in, now, &result)
	})
	return result, err
}
