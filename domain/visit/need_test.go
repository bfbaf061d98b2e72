package visit_test

import (
	"math"
	"testing"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
	"tendfold/domain/visit"

	"github.com/stretchr/testify/require"
)

// weights are round figures, so that the sums below are done by hand.
var weights = visit.Weights{
	Behind: 20, Slipping: 8, LateDay: 0.5, LateCap: 60,
	GoAhead: 12, GoAheadOpen: 20, GoAheadItem: 1, GoAheadCap: 8,
	Interval: 10, IntervalFrom: 0.8,
	Snag: 8, SnagDays: 60, SnagDay: 0.2, SnagEach: 1, SnagCap: 5,
	Untrained: 15, Module: 1, ModuleCap: 5, New: 10, NewDays: 30, Nobody: 20,
	Silence: 12, SilenceDay: 0.5, SilenceCap: 30,
	Promise: 15, PromiseDays: 7, Broken: 25, BrokenDay: 1, BrokenCap: 15,
	Request: 12, RequestDay: 0.5, RequestCap: 30,
	LosingTime: 10, Routine: 3, NoHurry: 0,
	WorseDays: 7,
}

var today = calendar.MustDate("2026-06-15")

func ago(n int) calendar.Date { return today.Add(-n) }

// quiet is a farm that needs nothing.
func quiet() visit.Facts {
	return visit.Facts{
		FarmID: "f1", Town: "Buea", On: today, Schedule: programme.OnCourse, LastVisit: ago(5), EveryDays: 14,
		LastHeard: ago(1), QuietDays: 16, StockedOn: ago(100), Caretakers: []visit.Caretaker{{PersonID: "p1", InCharge: true, Began: ago(300)}},
	}
}

func with(change func(*visit.Facts)) visit.Facts {
	f := quiet()
	change(&f)
	return f
}

func TestAQuietFarmNeedsNothing(t *testing.T) {
	n := visit.Of(quiet(), weights)
	require.Zero(t, n.Points)
	require.Empty(t, n.Reasons)
	require.Empty(t, n.MustGo)
	require.Equal(t, visit.Need{FarmID: "f1", Town: "Buea", On: today, LastVisit: ago(5), MustGo: []visit.Scored{}, Reasons: []visit.Scored{}}, n)
	empty := visit.Of(visit.Facts{FarmID: "f2", On: today}, weights)
	require.Zero(t, empty.Points, "what is not known is no reason")
}

// One cause at a time, the points by hand.
func TestPointsOfEachCause(t *testing.T) {
	for _, c := range []struct {
		name   string
		code   string
		points float64
		change func(*visit.Facts)
	}{
		{"behind", visit.Behind, 35, func(f *visit.Facts) { f.Schedule, f.OwnSlip = programme.Behind, 30 }},
		{"behind, past its target by more than its slip", visit.Behind, 26, func(f *visit.Facts) { f.Schedule, f.OwnSlip, f.LateDays = programme.Behind, 3, 12 }},
		{"behind, capped", visit.Behind, 50, func(f *visit.Facts) { f.Schedule, f.OwnSlip = programme.Behind, 200 }},
		{"slipping", visit.Slipping, 13, func(f *visit.Facts) { f.Schedule, f.OwnSlip = programme.Slipping, 10 }},
		{"a few days late", visit.Late, 2, func(f *visit.Facts) { f.OwnSlip = 4 }},
		{"go-ahead ahead", visit.GoAheadPerson, 14, func(f *visit.Facts) {
			f.GoAheads = []visit.GoAhead{{Key: "stock", Items: []string{"a", "b"}, Opens: today.Add(3)}}
		}},
		{"go-ahead open", visit.GoAheadPerson, 21, func(f *visit.Facts) {
			f.GoAheads = []visit.GoAhead{{Key: "stock", Items: []string{"a"}, Opens: today}}
		}},
		{"visit nearly due", visit.VisitDue, 8.6, func(f *visit.Facts) { f.LastVisit = ago(12) }},
		{"visit late", visit.VisitDue, 19.3, func(f *visit.Facts) { f.LastVisit = ago(27) }},
		{"snags", visit.SnagsEnding, 20, func(f *visit.Facts) { f.Snags = []visit.Snags{{UnitID: "u1", Open: 2, Until: today.Add(10)}} }},
		{"snags on the last day", visit.SnagsEnding, 25, func(f *visit.Facts) { f.Snags = []visit.Snags{{UnitID: "u1", Open: 9, Until: today}} }},
		{"untrained", visit.Untrained, 17, func(f *visit.Facts) { f.Caretakers[0].Lacks = []string{"a", "b"} }},
		{"new", visit.NewCaretaker, 10, func(f *visit.Facts) { f.Caretakers[0].Began = ago(4) }},
		{"nobody", visit.NobodyInCharge, 20, func(f *visit.Facts) { f.Caretakers[0].InCharge = false }},
		{"silence", visit.NoNews, 14, func(f *visit.Facts) { f.LastHeard = ago(20) }},
		{"promise", visit.PromisedVisit, 15, func(f *visit.Facts) { f.Promises = []visit.Promise{{ID: "a", DueOn: today.Add(7)}} }},
		{"broken promise", visit.BrokenPromise, 28, func(f *visit.Facts) { f.Promises = []visit.Promise{{ID: "a", DueOn: ago(3)}} }},
		{"request", visit.OwnerAsked, 14, func(f *visit.Facts) { f.Requests = []visit.Request{{ID: "a", On: ago(4)}} }},
		{"ticket", visit.OpenTicket, 10, func(f *visit.Facts) { f.Tickets = []visit.Ticket{{ID: "t", Urgency: ticket.LosingTime}} }},
		{"routine ticket", visit.OpenTicket, 3, func(f *visit.Facts) { f.Tickets = []visit.Ticket{{ID: "t", Urgency: ticket.Routine}} }},
	} {
		n := visit.Of(with(c.change), weights)
		require.InDelta(t, c.points, n.Points, 1e-9, c.name)
		require.Len(t, n.Reasons, 1, c.name)
		require.Equal(t, c.code, n.Reasons[0].Reason.Code, c.name)
		require.True(t, n.Reasons[0].Counted)
		require.Empty(t, n.MustGo)
	}
}

func TestWhatIsNoReason(t *testing.T) {
	for name, change := range map[string]func(*visit.Facts){
		"early":                     func(f *visit.Facts) { f.OwnSlip = -9 },
		"visited 11 of 14 days ago": func(f *visit.Facts) { f.LastVisit = ago(11) },
		"no interval":               func(f *visit.Facts) { f.LastVisit, f.EveryDays = ago(400), 0 },
		"snags with time":           func(f *visit.Facts) { f.Snags = []visit.Snags{{UnitID: "u1", Open: 2, Until: today.Add(61)}} },
		"snags too late":            func(f *visit.Facts) { f.Snags = []visit.Snags{{UnitID: "u1", Open: 2, Until: ago(1)}} },
		"snags that nobody owes":    func(f *visit.Facts) { f.Snags = []visit.Snags{{UnitID: "u1", Open: 2}} },
		"a new caretaker met":       func(f *visit.Facts) { f.Caretakers[0].Began = ago(5) },
		"a helper without training": func(f *visit.Facts) {
			f.Caretakers = append(f.Caretakers, visit.Caretaker{PersonID: "p2", Lacks: []string{"a"}})
		},
		"nobody in charge, but no animals": func(f *visit.Facts) { f.Caretakers, f.StockedOn = nil, 0 },
		"quiet on the limit":               func(f *visit.Facts) { f.LastHeard = ago(16) },
		"a promise for next month":         func(f *visit.Facts) { f.Promises = []visit.Promise{{ID: "a", DueOn: today.Add(8)}} },
	} {
		require.Zero(t, visit.Of(with(change), weights).Points, name)
	}
}

func TestTheHighestOfACauseCountsOnce(t *testing.T) {
	n := visit.Of(with(func(f *visit.Facts) {
		f.Schedule, f.OwnSlip = programme.Behind, 30                                                // 35
		f.Tickets = []visit.Ticket{{ID: "t1", Rule: sweep.HarvestSlip, Urgency: ticket.LosingTime}, // the same cause
			{ID: "t2", Rule: "", Urgency: ticket.LosingTime}, {ID: "t3", Urgency: ticket.Routine}} // 10, and one below
		f.Promises = []visit.Promise{{ID: "a", DueOn: today.Add(2)}, {ID: "b", DueOn: ago(1)}} // 15 below 26
	}), weights)
	require.InDelta(t, 35+10+26, n.Points, 1e-9)
	counted := map[string]bool{}
	for _, r := range n.Reasons {
		counted[r.Key] = r.Counted
	}
	require.Equal(t, map[string]bool{
		"schedule": true, "ticket-open:t1": false, "ticket-open:t2": true, "ticket-open:t3": false,
		"promise:a": false, "promise:b": true,
	}, counted)
}

func TestMustGo(t *testing.T) {
	n := visit.Of(with(func(f *visit.Facts) {
		f.LastVisit = ago(28)
		f.Tickets = []visit.Ticket{{ID: "t1", Rule: sweep.NoNews, Urgency: ticket.AnimalsAtRisk}, {ID: "t2", Urgency: ticket.PersonInDanger}}
	}), weights)
	require.Zero(t, n.Points, "must-go stands in no sum")
	require.Equal(t, []string{"person-in-danger:t2", "animals-at-risk:t1", "twice-the-interval"}, keys(n.MustGo))
	require.Empty(t, n.Reasons, "twice the interval is no point beside")
}

func keys(s []visit.Scored) []string {
	out := make([]string, len(s))
	for i, r := range s {
		out[i] = r.Key
	}
	return out
}

func TestBehindByMoreGoesFirst(t *testing.T) {
	late := func(id string, days int) visit.Need {
		f := with(func(f *visit.Facts) { f.FarmID, f.Schedule, f.OwnSlip = id, programme.Behind, days })
		return visit.Of(f, weights)
	}
	require.Negative(t, visit.Compare(late("b", 30), late("a", 10)))
	danger := visit.Of(with(func(f *visit.Facts) { f.Tickets = []visit.Ticket{{ID: "t", Urgency: ticket.PersonInDanger}} }), weights)
	animals := visit.Of(with(func(f *visit.Facts) { f.Tickets = []visit.Ticket{{ID: "t", Urgency: ticket.AnimalsAtRisk}} }), weights)
	overdue := visit.Of(with(func(f *visit.Facts) { f.LastVisit = ago(30) }), weights)
	require.Negative(t, visit.Compare(danger, animals))
	require.Negative(t, visit.Compare(animals, overdue))
	require.Negative(t, visit.Compare(overdue, late("a", 60)))
}

func TestTiesAreStable(t *testing.T) {
	a, b := visit.Of(quiet(), weights), visit.Of(quiet(), weights)
	require.Zero(t, visit.Compare(a, b))
	b.FarmID = "f2"
	require.Negative(t, visit.Compare(a, b))
	b.LastVisit = ago(9)
	require.Positive(t, visit.Compare(a, b), "seen longest ago goes first")
	a.LastVisit = b.LastVisit
	a.Town = "Douala"
	require.Positive(t, visit.Compare(a, b))
}

func TestWeightsCheck(t *testing.T) {
	require.NoError(t, weights.Check())
	require.NoError(t, visit.Weights{}.Check())
	for name, change := range map[string]func(*visit.Weights){
		"negative":        func(w *visit.Weights) { w.Silence = -1 },
		"negative cap":    func(w *visit.Weights) { w.LateCap = -1 },
		"not a number":    func(w *visit.Weights) { w.New = math.NaN() },
		"no end":          func(w *visit.Weights) { w.New = math.Inf(1) },
		"share above 1":   func(w *visit.Weights) { w.IntervalFrom = 1.1 },
		"slipping higher": func(w *visit.Weights) { w.Slipping = 21 },
		"broken lower":    func(w *visit.Weights) { w.Broken = 14 },
		"open lower":      func(w *visit.Weights) { w.GoAheadOpen = 11 },
	} {
		w := weights
		change(&w)
		require.Equal(t, "visit-weights", domain.CodeOf(w.Check()), name)
	}
}
