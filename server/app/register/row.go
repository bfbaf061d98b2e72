// Package register takes the firm's own spreadsheet into the register. It
// plans purely (what is known, what the rows say, what the packs allow, the
// day) and answers a verdict a row; the plan is then written in one
// transaction. How a spreadsheet is read is the intake room's business.
package register

import (
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
)

// Column is a column of a register by its English name.
type Column string

// The columns, in the order in which an export writes them.
const (
	ColClient         Column = "client"
	ColClientPhone    Column = "client_phone"
	ColFarm           Column = "farm"
	ColTown           Column = "town"
	ColLandmark       Column = "landmark"
	ColLatitude       Column = "latitude"
	ColLongitude      Column = "longitude"
	ColBranch         Column = "branch"
	ColUnit           Column = "unit"
	ColEnterprise     Column = "enterprise"
	ColPurpose        Column = "purpose"
	ColSpecies        Column = "species"
	ColLength         Column = "length"
	ColWidth          Column = "width"
	ColLengthUnit     Column = "length_unit"
	ColCapacity       Column = "capacity"
	ColStandard       Column = "build_standard"
	ColWallBase       Column = "wall_base"
	ColCover          Column = "cover"
	ColDoubleDoor     Column = "double_door"
	ColDrain          Column = "drain"
	ColLined          Column = "lined"
	ColPaths          Column = "paths"
	ColFeedPlatforms  Column = "feed_platforms"
	ColWater          Column = "water"
	ColTank           Column = "tank_litres"
	ColPump           Column = "pump_hp"
	ColHandedOver     Column = "handed_over_on"
	ColStarted        Column = "planted_on" // also started_on
	ColStocked        Column = "stocked_on"
	ColCount          Column = "stocked_count"
	ColWeight         Column = "mean_weight_g"
	ColHarvest        Column = "first_harvest_on"
	ColLastVisit      Column = "last_visit_on"
	ColCaretaker      Column = "caretaker"
	ColCaretakerPhone Column = "caretaker_phone"
	ColTrained        Column = "trained_on"
	ColLanguage       Column = "language"
	ColStatus         Column = "status"
	// ColWatched is in no file: it names the change that starting to watch makes.
	ColWatched Column = "watched"
)

// Phone is a number as E.164, or as typed when no numbering plan has it.
type Phone struct {
	Text string
	Flag bool // invalid by the numbering plan: kept, and shown as such
}

// Row is one line of a register with every cell understood. A zero value is
// a blank cell, which says nothing and erases nothing.
type Row struct {
	Number  int  // as the person sees it in the spreadsheet
	Refused bool // a cell could not be understood: nothing of the row is written

	Client      string
	ClientPhone Phone
	Farm        string
	Town        string
	Landmark    string
	Position    farm.Position
	Branch      string
	Unit        string
	Enterprise  string // a pack's
	Purpose     programme.Purpose
	Species     string
	Build       farm.BuildSheet

	StartedOn      calendar.Date
	StockedOn      calendar.Date
	StockedCount   int
	MeanWeightG    float64
	FirstHarvestOn calendar.Date
	LastVisitOn    calendar.Date

	Caretaker      string
	CaretakerPhone Phone
	TrainedOn      calendar.Date
	Language       string
	Status         farm.Status
}
