package app

import (
	"encoding/json"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
)

// Event is something that a person reported about a farm. Events are only
// ever added: a correction is another event that replaces an earlier one.
type Event struct {
	ID         string          `json:"id"`
	FarmID     string          `json:"farm_id"`
	UnitID     string          `json:"unit_id,omitempty"`
	CycleID    string          `json:"cycle_id,omitempty"`
	Kind       string          `json:"kind"`
	On         calendar.Date   `json:"on"` // the day that the entry states
	PersonID   string          `json:"person_id,omitempty"`
	DeviceID   string          `json:"device_id,omitempty"`
	DeviceAt   time.Time       `json:"device_at,omitzero"`
	DeviceSeq  int64           `json:"device_seq,omitempty"`
	HLC        string          `json:"hlc,omitempty" doc:"The stamp of a hybrid logical clock: when it was made, as a text that sorts."`
	ClockOff   bool            `json:"clock_off,omitempty"` // the device's clock was off by more than five minutes
	RecordedAt time.Time       `json:"recorded_at"`
	Evidence   bool            `json:"evidence"` // counts as news from the farm
	Replaces   string          `json:"replaces,omitempty"`
	Data       json.RawMessage `json:"data,omitempty"` // an object, by kind
	Media      []Medium        `json:"media,omitempty" doc:"Photos and voice notes that are known; data names also those still to come."`
}

// Mark is the state of one checklist item of a cycle.
type Mark struct {
	CycleID  string        `json:"cycle_id"`
	Item     string        `json:"item"`
	Answer   farm.Answer   `json:"answer"` // yes, no, not-needed
	Value    *float64      `json:"value,omitempty"`
	Grade    farm.Grade    `json:"grade"`
	On       calendar.Date `json:"on"`
	PersonID string        `json:"person_id"`
	EventID  string        `json:"event_id"`
	Made     string        `json:"made"` // when the entry was made, see package merge
}

// Reading is a reading of one cycle; ID is that of the event that brought it.
type Reading struct {
	ID      string `json:"id"`
	CycleID string `json:"cycle_id"`
	programme.Reading
}

// Pass is a module that a person holds.
type Pass struct {
	PersonID   string        `json:"person_id"`
	Enterprise string        `json:"enterprise"`
	Module     string        `json:"module"`
	On         calendar.Date `json:"on"`
	Until      calendar.Date `json:"until"` // last day of validity
	How        string        `json:"how"`   // in-person, phone, register
	ByID       string        `json:"by_id"`
	EventID    string        `json:"-"` // the practical check that it rests on, "" for one without such parts
}

// Milestone is a row of a cycle: what its baseline promised and, once done,
// on which day.
type Milestone struct {
	CycleID string `json:"cycle_id"`
	programme.Window
	DoneOn calendar.Date `json:"done_on"`
	Grade  farm.Grade    `json:"grade"`
	DoneBy string        `json:"done_by"`
}

// Pause stops the work of a cycle for a time.
type Pause struct {
	ID       string        `json:"id"`
	CycleID  string        `json:"cycle_id"`
	From     calendar.Date `json:"from"`
	Until    calendar.Date `json:"until"`    // planned end
	EndedOn  calendar.Date `json:"ended_on"` // zero while open
	Reason   string        `json:"reason"`
	AskedBy  string        `json:"asked_by"`
	AgreedBy string        `json:"agreed_by"` // the second person, needed past 14 days
	Version  int           `json:"version"`
}

// Snag is a fault of the build.
type Snag struct {
	ID      string        `json:"id"`
	FarmID  string        `json:"farm_id"`
	UnitID  string        `json:"unit_id"`
	Text    string        `json:"text"`
	FoundOn calendar.Date `json:"found_on"`
	FixedOn calendar.Date `json:"fixed_on"`
	FixedBy string        `json:"fixed_by"`
	Version int           `json:"version"`
}

// Outlook is what the last sweep worked out for a cycle.
type Outlook struct {
	CycleID  string             `json:"cycle_id"`
	Standing programme.Standing `json:"standing"`
	Entered  programme.Standing `json:"-"` // kept for the hysteresis of the next sweep
	// EnteredOn is the day of the sweep that first found Entered.
	EnteredOn calendar.Date   `json:"-"`
	OwnSlip   int             `json:"own_slip"`
	HoldUp    string          `json:"-"`                // for the sweeps that make no new account
	Detail    json.RawMessage `json:"detail,omitempty"` // reasons and forecast, as the screens show them
	Hash      uint64          `json:"-"`                // of all that, so that an unchanged one is not written again
}

// CycleLine is a cycle with what the last sweep worked out for it.
type CycleLine struct {
	farm.Cycle
	Outlook Outlook `json:"outlook"`
}

// Client is a client with what is known of the phone.
type Client struct {
	farm.Client
	PhoneFlag bool `json:"phone_flag,omitempty"` // kept, but no numbering plan has it
}
