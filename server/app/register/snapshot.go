package register

import (
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/server/app"
)

// Snapshot is the register as it stands: all that a plan compares with.
type Snapshot struct {
	Firm       farm.Firm
	Branches   []farm.Branch
	Clients    []app.Client
	Farms      []farm.Farm
	Units      []farm.Unit
	People     []farm.Person // with their grants
	Work       []farm.Work
	Cycles     []farm.Cycle    // ended ones too
	Milestones []app.Milestone // of these cycles; those without a day may be left out
	Batches    []farm.Batch
	Visits     map[string]calendar.Date // day of the last visit done, by farm
	Passes     []app.Pass
}

// Saved is what becomes of one kind of thing. Changed ones carry the version
// that they were read at.
type Saved[T any] struct {
	New     []T
	Changed []T
}

// Writes is everything that a plan does to the register.
type Writes struct {
	Branches Saved[farm.Branch]
	Clients  Saved[app.Client]
	Farms    Saved[farm.Farm]
	Units    Saved[farm.Unit]
	People   Saved[farm.Person]
	Work     []farm.Work // made, or in charge set anew
	Cycles   Saved[farm.Cycle]
	Starts   []Start         // cycles whose baseline is to be kept
	Marked   []app.Milestone // of cycles that keep their baseline
	Batches  Saved[farm.Batch]
	Visits   []app.Visit
	Events   []app.Event
	Passes   []app.Pass
}

// Start is a cycle that a plan begins, or whose start or purpose it corrects:
// its baseline is to be kept, anew where Again. BranchID is "" for a branch
// that the plan makes, which has no seasons of its own yet. Done are all
// milestones with a day.
type Start struct {
	Cycle    farm.Cycle
	BranchID string
	Again    bool
	Done     []app.Milestone
}
