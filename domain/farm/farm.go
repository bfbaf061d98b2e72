// Package farm owns what the register holds: firm, branches, clients, farms,
// units with their build sheets, batches, cycles and people; and the exact
// conversions between the measures people enter.
package farm

import "tendfold/domain/calendar"

// Firm is the consultancy itself: one row, made at first run.
type Firm struct {
	Name     string `json:"name"`
	Language string `json:"language"`  // en or fr: what the firm writes in when it knows no better
	Zone     string `json:"time_zone"` // IANA
	Currency string `json:"currency"`  // ISO 4217
	SetUp    bool   `json:"set_up"`    // false until the first-run page is done
	Version  int    `json:"version"`
}

// Branch is a region of the firm with its own staff, calendar and starting
// point for rounds.
type Branch struct {
	ID      string   `json:"id"`
	Name    string   `json:"name"`
	Zone    string   `json:"time_zone"`
	Country string   `json:"country"` // ISO 3166 alpha-2, for the holiday table
	Start   Position `json:"start"`   // where rounds begin
	StartAt string   `json:"start_at"`
	Hours   [7]Span  `json:"hours"` // Sunday first; an empty span is a day off
	Version int      `json:"version"`
}

// Span is a part of a day in minutes after midnight, From inclusive, To not.
type Span struct {
	From int `json:"from"`
	To   int `json:"to"`
}

// Position is a place on the globe; Known is false where nobody has one.
type Position struct {
	Lat   float64 `json:"lat"`
	Lng   float64 `json:"lng"`
	Known bool    `json:"known"`
}

// Client is who pays.
type Client struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	Phone   string `json:"phone"`
	OwnerID string `json:"owner_id"` // the person who signs in for the client, if any
	Version int    `json:"version"`
}

// Status of a farm's contract in the register.
type Status string

// The statuses.
const (
	Active Status = "active"
	Paused Status = "paused"
	Closed Status = "closed"
)

// Farm is a place.
type Farm struct {
	ID        string        `json:"id"`
	ClientID  string        `json:"client_id"`
	BranchID  string        `json:"branch_id"`
	Name      string        `json:"name"`
	Town      string        `json:"town"`
	Landmark  string        `json:"landmark"`
	Position  Position      `json:"position"`
	Status    Status        `json:"status"`
	WatchedOn calendar.Date `json:"watched_on"` // day a person began watching; zero = to confirm
	IntakeOn  calendar.Date `json:"intake_on"`  // day it entered the register
	Version   int           `json:"version"`
}

// Watched says whether findings may become tickets. Watching has no date of
// its own for a sweep: a watched farm is watched on any day.
func (f Farm) Watched() bool { return !f.WatchedOn.IsZero() }

// Unit is one enclosure on a farm.
type Unit struct {
	ID         string     `json:"id"`
	FarmID     string     `json:"farm_id"`
	Name       string     `json:"name"`
	Enterprise string     `json:"enterprise"`
	Species    string     `json:"species"`
	Build      BuildSheet `json:"build"`
	Version    int        `json:"version"`
}

// Answer is yes, no or not known; a blank cell is not a no.
type Answer string

// The answers.
const (
	Unknown Answer = ""
	Yes     Answer = "yes"
	No      Answer = "no"
)

// BuildSheet is what was built. Words that the pack does not know are kept as
// typed. Lengths keep the measure they were entered in.
type BuildSheet struct {
	Length        Length        `json:"length"`
	Width         Length        `json:"width"`
	Capacity      int           `json:"capacity"` // animals, as claimed
	Standard      string        `json:"standard"` // name of the build standard
	WallBase      string        `json:"wall_base"`
	Cover         string        `json:"cover"`
	DoubleDoor    Answer        `json:"double_door"`
	Drain         Answer        `json:"drain"`
	Lined         Answer        `json:"lined"`
	Paths         Answer        `json:"paths"`
	FeedPlatforms Answer        `json:"feed_platforms"`
	Water         string        `json:"water"` // mains, well, borehole, river, rain, pump, gravity, or as typed
	TankLitres    float64       `json:"tank_litres"`
	Pump          Power         `json:"pump"`
	HandedOverOn  calendar.Date `json:"handed_over_on"`
	DefectsMonths int           `json:"defects_months"` // 6 or 12; 0 = none agreed
}

// AreaM2 is the floor in square metres, 0 when a side is missing.
func (b BuildSheet) AreaM2() float64 { return b.Length.Metres() * b.Width.Metres() }

// Batch is animals put into a unit.
type Batch struct {
	ID          string        `json:"id"`
	UnitID      string        `json:"unit_id"`
	CycleID     string        `json:"cycle_id"`
	Species     string        `json:"species"`
	Count       int           `json:"count"`
	MeanWeightG float64       `json:"mean_weight_g"`
	Source      string        `json:"source"`
	StockedOn   calendar.Date `json:"stocked_on"`
}

// Cycle is one run of a pack's programme on one unit.
type Cycle struct {
	ID         string        `json:"id"`
	FarmID     string        `json:"farm_id"`
	UnitID     string        `json:"unit_id"`
	Enterprise string        `json:"enterprise"`
	Purpose    string        `json:"purpose"`     // grow-out or breeding
	StartsWith string        `json:"starts_with"` // milestone of day one, "" = the pack's own
	StartedOn  calendar.Date `json:"started_on"`
	EndedOn    calendar.Date `json:"ended_on"`
	Version    int           `json:"version"`
}

// Grade is how well a thing is known.
type Grade string

// The grades of evidence, strongest first.
const (
	Photo     Grade = "photo"
	StaffSaw  Grade = "staff-saw"
	WordGiven Grade = "word" // the caretaker says so
	Register  Grade = "register"
)
