// Package checklists owns the packs: what the firm knows of one enterprise,
// written as YAML in English and French. It holds their types, the parser
// that refuses what is wrong with file, line, column and reason, and the
// packs that ship inside the binary. README.md describes the format.
package checklists

import (
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
	"tendfold/domain/text"
	"tendfold/domain/ticket"
	"tendfold/domain/visit"
)

// Pack is one enterprise: its programme, checklists, go-aheads, training,
// signs of trouble and the figures of the rules. A pack that a Set hands out
// has passed every check; nothing may change it.
type Pack struct {
	Enterprise string              `json:"enterprise"`
	Version    string              `json:"version"`
	Name       Text                `json:"name"`
	Purposes   []programme.Purpose `json:"purposes"` // the first is taken when a register names none

	Programme  programme.Programme `json:"programme"`
	Milestones []Milestone         `json:"milestones"` // in the programme's order
	Claims     []Claim             `json:"claims,omitempty"`
	// HarvestCount is how many animals at market weight, sold on one day, make
	// the first harvest.
	HarvestCount Figure `json:"harvest_count"`
	// Season is the default of a branch: months closed to a milestone and the
	// monthly rate of seasonal days. A branch may replace it.
	Season programme.Season `json:"season"`
	Visits Visits           `json:"visits"`
	// Weights are the points of each cause of a visit need.
	Weights visit.Weights `json:"visit_weights"`

	Species    []Species                    `json:"species"` // the first is taken when a register names none
	Checklists []Checklist                  `json:"checklists"`
	GoAheads   []GoAhead                    `json:"go_aheads"`
	Modules    []Module                     `json:"modules"`
	Rules      map[string]sweep.RuleFigures `json:"rules"` // by the rule's name
	Words      map[string][]Word            `json:"words"` // by build-sheet column: wall_base, cover, water
	Signs      []Sign                       `json:"signs"`
	Cautions   map[string]Text              `json:"cautions"`
	Daybook    Daybook                      `json:"daybook"`
	Texts      []text.Keyword               `json:"-"` // what people write in text messages
	// Stock is what projections of animals rest on; nil = the pack has none.
	Stock     *Stock            `json:"stock,omitempty"`
	Husbandry Husbandry         `json:"husbandry"`
	Sources   map[string]Source `json:"sources"`
	// Bases says what the figures rest on that have no room for it in their
	// own type: "pi", "lag", "limits", "quiet", "season", "visits",
	// "visit-weights" and "rule:" with a rule's name.
	Bases map[string]Basis `json:"bases"`

	// Cards are the triage cards by sign; a sign without one has its first
	// words alone.
	Cards   map[string]*TriageCard `json:"-"`
	Dangers []TriageDanger         `json:"-"`

	Drawings map[string]string   `json:"-"` // SVG by name
	Voices   map[VoiceKey][]byte `json:"-"` // Ogg Opus
}

// Milestone is what the screens say of a node of the programme, and what its
// duration and its curve rest on.
type Milestone struct {
	Key   string `json:"key"`
	Name  Text   `json:"name"`
	Note  Text   `json:"note"`
	Days  Basis  `json:"days"`
	Curve Basis  `json:"curve"` // empty grade without a curve
}

// Claim is what the trade says of the time from one milestone to another. It
// is shown beside the computed date and never used as a baseline.
type Claim struct {
	Text Text    `json:"text"`
	From string  `json:"from"` // milestone
	To   string  `json:"to"`   // milestone
	Days float64 `json:"days"`
	Basis
}

// Visits says how often a farm is seen. The stages after handover come first;
// when they are over, the VisitDays of the milestone that is next holds.
type Visits struct {
	AfterHandover []VisitStage `json:"after_handover"`
}

// VisitStage holds for Days days since handover, counted from the end of the
// stage before: a visit every Every days.
type VisitStage struct {
	Days  int `json:"days"`
	Every int `json:"every"`
}

// Species is one kind of animal that the enterprise keeps.
type Species struct {
	Key   string   `json:"key"`
	Name  Text     `json:"name"`
	Latin string   `json:"latin"`
	Also  []string `json:"also,omitempty"` // what registers write for it
	// Caution is the key of the caution about keeping it lawfully, "" = none
	// beyond the pack's own.
	Caution string `json:"caution,omitempty"`
	// MaxPerM2 is the physical bound in animals a square metre: more cannot
	// be, so a register that says so is refused.
	MaxPerM2 Figure `json:"max_per_m2"`
	// Densities are the published limits; above them a register is flagged.
	Densities []Density `json:"densities"`
	StockedG  Span      `json:"stocked_g"` // mean weight at stocking, g
	MarketG   Span      `json:"market_g"`  // weight at which it is sold, g
}

// Density is a published limit for animals whose mean weight is at least
// FromG and below ToG (0 = no end). A figure of 0 means that none is known.
type Density struct {
	Stage   Text    `json:"stage"`
	FromG   float64 `json:"from_g"`
	ToG     float64 `json:"to_g"`
	PerM2   Figure  `json:"per_m2"`
	KgPerM2 Figure  `json:"kg_per_m2"`
}

// Checklist is a list to walk through at a milestone.
type Checklist struct {
	Key       string `json:"key"`
	Name      Text   `json:"name"`
	Milestone string `json:"milestone"`
	Items     []Item `json:"items"`
}

// Item is one thing to verify. Its key is unique in the pack.
type Item struct {
	Key  string `json:"key"`
	Text Text   `json:"text"` // what must be so, as a sentence that can be true
	Help Text   `json:"help"` // how to look, and why it matters
	// Suffices is the weakest grade of evidence that is enough.
	Suffices farm.Grade  `json:"suffices"`
	By       []farm.Role `json:"by"`                 // roles that may mark it
	Measured *Measured   `json:"measured,omitempty"` // nil = yes or no
	Caution  string      `json:"caution,omitempty"`
	// InPerson says that a person of the firm must stand there: no photo or
	// word replaces it, so it is a reason for a visit.
	InPerson  bool   `json:"in_person"`
	Milestone string `json:"milestone"`
}

// Measured is the value that an item asks for. Inside the range the item
// holds; outside it does not. A nil end is open.
type Measured struct {
	Measure Measure  `json:"measure"`
	Low     *float64 `json:"low,omitempty"`
	High    *float64 `json:"high,omitempty"`
	Basis
}

// OK says whether v lies in the range, ends included.
func (m Measured) OK(v float64) bool {
	return (m.Low == nil || v >= *m.Low) && (m.High == nil || v <= *m.High)
}

// GoAhead is what must hold before its milestone may be marked: the items and
// the modules of the caretaker in charge, and the limits on readings.
type GoAhead struct {
	Key       string   `json:"key"`
	Name      Text     `json:"name"`
	Milestone string   `json:"milestone"`
	Items     []string `json:"items"`
	Modules   []string `json:"modules"`
	Limits    []Limit  `json:"limits"`
	LeadDays  int      `json:"lead_days"` // what is missing is a finding from so many days before the window opens
}

// Limit is a range that the latest reading of a kind must lie in; a reading
// older than Fresh days does not count (0 = any age). A nil end is open.
type Limit struct {
	Reading string   `json:"reading"` // cover or weight
	Low     *float64 `json:"low,omitempty"`
	High    *float64 `json:"high,omitempty"`
	Fresh   int      `json:"fresh"`
	Basis
}

// OK says whether v lies in the range, ends included.
func (l Limit) OK(v float64) bool {
	return (l.Low == nil || v >= *l.Low) && (l.High == nil || v <= *l.High)
}

// Module is one piece of training.
type Module struct {
	Key    string `json:"key"`
	Name   Text   `json:"name"`
	Safety bool   `json:"safety"`
	Months int    `json:"months"` // how long a pass is valid
	// GoAheads are the go-aheads that ask for it; a module that any asks for
	// is one that a caretaker in charge must hold.
	GoAheads []string `json:"go_aheads"`
	// Lesson is what is learned and asked; nil where it is taught from paper.
	Lesson *Lesson `json:"-"`
}

// Word is a canonical value of a build-sheet column and what people type.
type Word struct {
	Key  string   `json:"key"`
	Name Text     `json:"name"`
	Also []string `json:"also,omitempty"`
}

// Sign is what is seen when something is wrong. Impact and TimeToLoss give
// the urgency by the ticket room's table; Danger stands above it.
type Sign struct {
	Key        string            `json:"key"`
	Text       Text              `json:"text"`
	Danger     bool              `json:"danger"` // a person is in danger
	Impact     ticket.Impact     `json:"impact"`
	TimeToLoss ticket.TimeToLoss `json:"time_to_loss"`
	Likely     Text              `json:"likely"`      // likely cause, for the advisor
	FirstWords Text              `json:"first_words"` // what to do now, for the caretaker
	Caution    string            `json:"caution,omitempty"`
	Basis
}
