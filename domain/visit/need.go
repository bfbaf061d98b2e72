package visit

import (
	"cmp"
	"math"
	"slices"

	"tendfold/domain"
	"tendfold/domain/calendar"
)

// Group is a cause. What comes from one cause counts once.
type Group string

// The cause groups.
const (
	Schedule  Group = "schedule"
	GoAheads  Group = "go-ahead"
	Interval  Group = "interval"
	SnagsDue  Group = "snags"
	People    Group = "people"
	Silence   Group = "silence"
	Promises  Group = "promise"
	Requested Group = "request"
	Tickets   Group = "tickets"
)

// Groups are all causes, in the order in which reasons are told.
func Groups() []Group {
	return []Group{Schedule, GoAheads, Interval, SnagsDue, People, Silence, Promises, Requested, Tickets}
}

// Scored is one reason for a visit.
type Scored struct {
	// Key names the reason on its farm for as long as it lasts: its code and
	// what it is about. A visit says by it what it dealt with.
	Key    string        `json:"key"`
	Reason domain.Reason `json:"reason"`
	Group  Group         `json:"group"`
	Points float64       `json:"points"` // 0 when the farm must be gone to for it
	// Counted says that it is the highest of its group, and in the sum.
	Counted bool `json:"counted"`
	// Since is the day on which it arose, zero when unknown; Size is what may
	// grow: days late.
	Since calendar.Date `json:"since"`
	Size  int           `json:"size"`
}

// Need is how much a farm needs a visit on a day. MustGo are reasons that no
// points can outweigh; they stand in no sum.
type Need struct {
	FarmID    string        `json:"farm_id"`
	Town      string        `json:"town"`
	On        calendar.Date `json:"on"`
	LastVisit calendar.Date `json:"last_visit"`
	Points    float64       `json:"points"`
	MustGo    []Scored      `json:"must_go"`
	Reasons   []Scored      `json:"reasons"` // by group, the highest first in each
}

// Of works the need out.
func Of(f Facts, w Weights) Need {
	n := Need{FarmID: f.FarmID, Town: f.Town, On: f.On, LastVisit: f.LastVisit}
	s := scorer{Facts: f, w: w, mustGo: []Scored{}, reasons: []Scored{}}
	for _, part := range []func(){s.schedule, s.goAheads, s.interval, s.snags, s.people, s.silence, s.promises, s.requests, s.tickets} {
		part()
	}
	n.MustGo, n.Reasons = s.mustGo, s.reasons
	return n.counted()
}

// counted marks the highest of each group and sums them up.
func (n Need) counted() Need {
	slices.SortStableFunc(n.MustGo, func(a, b Scored) int { return cmp.Compare(mustRank(a), mustRank(b)) })
	slices.SortStableFunc(n.Reasons, func(a, b Scored) int {
		return cmp.Or(cmp.Compare(slices.Index(Groups(), a.Group), slices.Index(Groups(), b.Group)),
			cmp.Compare(b.Points, a.Points), cmp.Compare(a.Key, b.Key))
	})
	n.Points = 0
	for i := range n.Reasons {
		r := &n.Reasons[i]
		r.Counted = r.Points > 0 && (i == 0 || n.Reasons[i-1].Group != r.Group)
		if r.Counted {
			n.Points += r.Points
		}
	}
	n.Points = round(n.Points)
	return n
}

// round keeps a tenth of a point: what is shown is what is sorted by.
func round(p float64) float64 { return math.Round(p*10) / 10 }

// Compare orders needs, most needed first: what must be gone to by its gravest
// reason, then by points, then the farm that was seen longest ago, then by
// town and id, so that equal needs always stand in the same order.
func Compare(a, b Need) int {
	return cmp.Or(cmp.Compare(a.gravest(), b.gravest()), cmp.Compare(b.Points, a.Points), cmp.Compare(a.LastVisit, b.LastVisit),
		cmp.Compare(a.Town, b.Town), cmp.Compare(a.FarmID, b.FarmID))
}

// gravest is the rank of the gravest must-go reason, one past the last when
// there is none.
func (n Need) gravest() int {
	if len(n.MustGo) == 0 {
		return len(musts)
	}
	return mustRank(n.MustGo[0])
}
