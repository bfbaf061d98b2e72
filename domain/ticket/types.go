// Package ticket owns the life of a ticket: its states and legal moves, its
// urgency from impact and time to loss, and the times by which a person must
// have spoken and planned.
package ticket

import (
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
)

// State of a ticket.
type State string

// The states.
const (
	Reported State = "reported"
	Assessed State = "assessed"
	InHand   State = "in-hand"
	Waiting  State = "waiting"
	Settled  State = "settled"
)

// WaitingOn says for whom a waiting ticket waits.
type WaitingOn string

// Whom a ticket may wait for.
const (
	OnFarm        WaitingOn = "farm"
	OnSupplier    WaitingOn = "supplier"
	OnElectrician WaitingOn = "electrician"
	OnVet         WaitingOn = "vet"
	OnUs          WaitingOn = "us"
)

// Urgency of a ticket.
type Urgency string

// The urgencies, highest first. PersonInDanger stands above the table: it is
// never muted, rested or settled by itself.
const (
	PersonInDanger Urgency = "person-in-danger"
	AnimalsAtRisk  Urgency = "animals-at-risk"
	LosingTime     Urgency = "losing-time"
	Routine        Urgency = "routine"
	NoHurry        Urgency = "no-hurry"
)

// Impact is how much is at stake: high is 10 % of the stock or the harvest,
// middle 3 to 10 % or 7 harvest days, low less.
type Impact string

// The impacts.
const (
	High   Impact = "high"
	Middle Impact = "middle"
	Low    Impact = "low"
)

// TimeToLoss is how soon it is lost.
type TimeToLoss string

// The times to loss.
const (
	Hours  TimeToLoss = "hours"
	Week   TimeToLoss = "week" // 1 to 7 days
	Longer TimeToLoss = "longer"
)

// Origin is what opened a ticket.
type Origin string

// The origins.
const (
	FromSweep     Origin = "sweep"
	FromCall      Origin = "call"
	FromCaretaker Origin = "caretaker"
	FromVisit     Origin = "visit"
)

// Key is what makes a ticket of the sweep one: one open ticket for one key.
// Absent parts are "".
type Key struct {
	FarmID  string `json:"farm_id"`
	UnitID  string `json:"unit_id"`
	CycleID string `json:"cycle_id"`
	Rule    string `json:"rule"`
	Subject string `json:"subject"`
}

// Ticket is something about a farm that a person must deal with. Number is
// speakable: 417/26.
type Ticket struct {
	ID string `json:"id"`
	Key
	Seq         int             `json:"-"`
	Year        int             `json:"-"`
	Number      string          `json:"number"`
	Origin      Origin          `json:"origin"`
	Title       string          `json:"title"` // what a person typed; "" when a rule speaks
	State       State           `json:"state"`
	WaitingOn   WaitingOn       `json:"waiting_on"`
	HolderID    string          `json:"holder_id"`
	Impact      Impact          `json:"impact"`
	TimeToLoss  TimeToLoss      `json:"time_to_loss"`
	Urgency     Urgency         `json:"urgency"`
	OpenedOn    calendar.Date   `json:"opened_on"`
	OpenedAt    time.Time       `json:"opened_at"`
	FirstWordBy time.Time       `json:"first_word_by"`
	PlanBy      time.Time       `json:"plan_by"`
	FirstWordAt time.Time       `json:"first_word_at"` // zero until a person has spoken
	SettledAt   time.Time       `json:"settled_at"`
	SettledOn   calendar.Date   `json:"settled_on"`
	SettledBy   string          `json:"settled_by"` // person, or "" when the sweep settled it
	Outcome     string          `json:"outcome"`
	Reasons     []domain.Reason `json:"reasons"`       // latest
	FirstReason []domain.Reason `json:"first_reasons"` // at opening
	// Said is the latest reasons as they are stored. Where it is set Reasons
	// may be left out: a sweep reads thousands of tickets and only compares.
	Said        string          `json:"-"`
	WorseAt     float64         `json:"-"`       // the rule's value at opening or at the last "worse"
	GoneOn      calendar.Date   `json:"gone_on"` // condition gone while a person held it
	RestsUntil  calendar.Date   `json:"rests_until"`
	Reopened    []calendar.Date `json:"reopened"`
	KeepsComing bool            `json:"keeps_coming"`
	PreviousID  string          `json:"previous_id"`
	JoinedInto  string          `json:"joined_into"`
	CallID      string          `json:"call_id"`
	VisitID     string          `json:"visit_id"`
	Version     int             `json:"version"`
}
