// Package programme owns the main computation: the network of milestones of a
// pack, the baseline kept when a cycle starts, the forecast on any later day,
// the slip of the first harvest and what holds it up, and the standing that
// follows.
package programme

import (
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
)

// Kind says what a milestone waits for.
type Kind string

// The kinds. A pause stops work; living things go on.
const (
	Work   Kind = "work"
	Living Kind = "living"
)

// Purpose is what a cycle is for.
type Purpose string

// The purposes.
const (
	GrowOut  Purpose = "grow-out" // the stocked animals are grown to market weight
	Breeding Purpose = "breeding" // home-bred animals are sold
)

// Days is a three-point duration in days from the last predecessor.
type Days struct {
	Min    float64
	Likely float64
	Max    float64
}

// Point is one corner of a progress curve.
type Point struct {
	Time  float64 // share of the duration gone, 0 to 1
	Share float64 // share of the way from From to To, 0 to 1
}

// Curve says how a reading grows while a living milestone is under way, and
// how wrong one reading may be. The reading passes From + (To-From)*share.
type Curve struct {
	Reading string  // "cover" (per cent of the ground) or "weight" (g, mean of a sample)
	From    float64 // for weight, the stocked mean weight takes its place when known
	To      float64
	Shape   []Point
	SD      float64 // error of one reading, in the reading's measure
	CV      float64 // error of one reading as a share of its value; the two add in quadrature
	// SpreadCV is the spread of single animals as a share of the mean: a mean
	// of n has SpreadCV/sqrt(n) on top when the sample does not say its own.
	SpreadCV float64
	// ScaleCV is the part of CV that is the farm's own scale: it stays from
	// one weighing to the next and must not be read as growth.
	ScaleCV float64
	// Carry is how closely the pace follows that of the milestone before it
	// with the same reading: a correlation from 0 = not at all to below 1.
	Carry float64
}

// Milestone is a node of the programme's network.
type Milestone struct {
	Key       string
	After     []string // finish to start; empty only for a first milestone
	Days      Days
	Kind      Kind
	Purposes  []Purpose   // cycles that have it; empty = all
	By        []farm.Role // who does it
	GoAhead   string      // key of the go-ahead that must hold, "" = none
	OnWay     bool        // lies on the way to the first harvest
	Seasonal  bool        // its days are counted at the season's rate
	Curve     *Curve      // readings that tell how far it is
	QuietDays int         // days without any evidence allowed while it is next
	VisitDays int         // days between visits while it is next
}

// Limits are the pack's figures for a standing, in days.
type Limits struct {
	Behind    float64 // own slip at which a cycle is behind; half of it is slipping
	Grace     float64 // days past a baseline latest before a milestone makes it behind
	Tolerance float64 // days past a target before the next milestone makes it slipping
	Leave     float64 // a standing is left at the limit less this (3)
}

// Programme is a pack's network as written, checked by Compile.
type Programme struct {
	Enterprise string
	Start      string // milestone of day one; what precedes it is done by then
	Stocking   string
	Harvest    string // the first harvest
	Milestones []Milestone
	Pi         float64 // chance that a duration outlasts its max (0.05)
	LagDays    int     // days by which a report trails what it reports
	Limits     Limits
}

// Season is what a branch's climate does to a pack: months in which a
// milestone must not fall, and the monthly rate at which seasonal days pass
// (1 = an average month; an all-zero table means 1 throughout).
type Season struct {
	NotIn map[string][]time.Month
	Rate  [12]float64
}

// Pause stops work from From until Ended, or while open until the later of
// Until and the day asked about.
type Pause struct {
	From  calendar.Date
	Until calendar.Date // planned end
	Ended calendar.Date // zero while open
}

// Reading is one look at how far a living milestone is: plant cover in per
// cent, or the mean weight of a sample in g.
type Reading struct {
	Kind  string
	On    calendar.Date
	Value float64
	N     int     // animals weighed; 0 = not a sample
	SD    float64 // spread in the sample, 0 = not known
}

// Known is what evidence tells of one cycle. Functions that take a day
// ignore everything dated after it.
type Known struct {
	Start        calendar.Date
	Done         map[string]calendar.Date // milestones with a known date
	Pauses       []Pause
	Readings     []Reading
	StockedG     float64         // mean weight at stocking, 0 = not known
	LastEvidence []calendar.Date // days with evidence of any kind, ascending
}

// Quantiles of a date: 1 in 10 before P10, even odds at P50, 9 in 10 before P90.
type Quantiles struct {
	P10 calendar.Date `json:"p10"`
	P50 calendar.Date `json:"p50"`
	P90 calendar.Date `json:"p90"`
}

// Window is what the baseline promises for one milestone:
// P10, P50 and P90 as earliest, target and latest.
type Window struct {
	Key      string        `json:"key"`
	Earliest calendar.Date `json:"earliest"`
	Target   calendar.Date `json:"target"`
	Latest   calendar.Date `json:"latest"`
}

// Baseline is kept when the cycle starts and never recomputed.
type Baseline []Window

// State of a milestone in a forecast.
type State string

// The states.
const (
	Done    State = "done"    // on a known day
	Implied State = "implied" // a later one is done, so this is; the day is not known
	Open    State = "open"    // all predecessors done: it is next
	Ahead   State = "ahead"   // waits for others
)

// Outlook is the forecast of one milestone.
type Outlook struct {
	Key      string        `json:"key"`
	State    State         `json:"state"`
	DoneOn   calendar.Date `json:"done_on"`
	Since    calendar.Date `json:"since"`    // day on which the last predecessor was done, the likeliest where that is only implied; zero unless State is Open or Done
	Expected Quantiles     `json:"expected"` // of the finish; all three the day itself when done
	// Own counts from the predecessors' actual dates by the pack's law alone,
	// without elapsed time or readings; zero unless State is Open or Done.
	Own Quantiles `json:"own"`
}

// Slip is how many days the P50 of the first harvest has moved against its
// baseline. Own + Pause = Total; only Own counts for a standing.
type Slip struct {
	Total int `json:"total"`
	Own   int `json:"own"`
	Pause int `json:"pause"`
	// ToStocking is the part of Own that was lost (or won) up to stocking:
	// what follows is taken at the pack's law.
	ToStocking int `json:"to_stocking"`
}

// Loss is a line of the account of lost days: a milestone, or "pause", or
// "season".
type Loss struct {
	Key  string `json:"key"`
	Days int    `json:"days"`
}

// Forecast is what Network.Forecast answers.
type Forecast struct {
	On            calendar.Date `json:"on"`
	Milestones    []Outlook     `json:"milestones"`
	Harvest       Quantiles     `json:"harvest"`
	Slip          Slip          `json:"slip"`
	HoldUp        string        `json:"hold_up"` // "" when nothing costs a day
	Lost          []Loss        `json:"lost"`
	NotHeardSince calendar.Date `json:"not_heard_since"` // elapsed time counts only to here; zero when heard
	// CoverLate is P(the milestone read by "cover" ends at least CoverLateDays
	// after its own P50), by the readings; 0 without readings or when done.
	CoverLate float64 `json:"cover_late"`
	// GrowthLate is by how many days the weights move the P50 of the harvest
	// against its own P50 counted from the actual stocking; 0 without weights.
	GrowthLate int `json:"growth_late"`
	// PaceShort is P(the animals have fallen behind their own pace), by the
	// weights, and PaceNow the pace since as a share of the pace before; both
	// 0 with fewer than two weights.
	PaceShort float64 `json:"pace_short"`
	PaceNow   float64 `json:"pace_now"`
	// MissSeason is P(a milestone ahead has to wait for a season), 0 without
	// a season limit ahead.
	MissSeason float64 `json:"miss_season"`
}

// CoverLateDays is the lateness that CoverLate speaks of.
const CoverLateDays = 7

// The readings that a curve may be read by.
const (
	Cover  = "cover"  // per cent of the ground that plants cover
	Weight = "weight" // mean weight of a sample in g
)
