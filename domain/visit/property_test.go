package visit_test

import (
	"fmt"
	"slices"
	"testing"

	"tendfold/domain/calendar"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
	"tendfold/domain/visit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func drawFacts(t *rapid.T) visit.Facts {
	day := func(label string, from, to int) calendar.Date {
		return today.Add(rapid.IntRange(from, to).Draw(t, label))
	}
	count := func(label string) int { return rapid.IntRange(0, 3).Draw(t, label) }
	f := visit.Facts{
		FarmID: rapid.SampledFrom([]string{"f1", "f2", "f3"}).Draw(t, "farm"), Town: rapid.SampledFrom([]string{"Buea", "Limbe"}).Draw(t, "town"), On: today,
		Schedule: rapid.SampledFrom([]programme.Standing{programme.OnCourse, programme.Slipping, programme.Behind, programme.Complete}).Draw(t, "schedule"),
		Since:    day("since", -90, 0), OwnSlip: rapid.IntRange(-30, 90).Draw(t, "slip"), LateDays: rapid.IntRange(-10, 50).Draw(t, "late"),
		LastVisit: day("visit", -60, 0), EveryDays: rapid.SampledFrom([]int{0, 7, 14, 30}).Draw(t, "every"),
		LastHeard: day("heard", -60, 0), QuietDays: rapid.SampledFrom([]int{0, 16, 21}).Draw(t, "quiet"), StockedOn: day("stocked", -200, -1),
	}
	for i := range count("go-aheads") {
		f.GoAheads = append(f.GoAheads, visit.GoAhead{Key: fmt.Sprint(i), Items: make([]string, 1+count("items")), Opens: day("opens", -9, 20), Since: day("lacks", -20, 0)})
	}
	for i := range count("snags") {
		f.Snags = append(f.Snags, visit.Snags{UnitID: fmt.Sprint(i), Open: count("open"), Newest: day("found", -90, 0), Until: day("until", -10, 90)})
	}
	for i := range count("caretakers") {
		f.Caretakers = append(f.Caretakers, visit.Caretaker{PersonID: fmt.Sprint(i), InCharge: rapid.Bool().Draw(t, "charge"), Began: day("began", -60, 0), Lacks: make([]string, count("lacks"))})
	}
	for i := range count("promises") {
		f.Promises = append(f.Promises, visit.Promise{ID: fmt.Sprint(i), Made: day("made", -30, 0), DueOn: day("due", -20, 20)})
	}
	for i := range count("requests") {
		f.Requests = append(f.Requests, visit.Request{ID: fmt.Sprint(i), On: day("asked", -40, 0)})
	}
	for i := range count("tickets") {
		f.Tickets = append(f.Tickets, visit.Ticket{
			ID: fmt.Sprint(i), Rule: rapid.SampledFrom([]string{"", sweep.NoNews, sweep.HarvestSlip, sweep.SnagDue}).Draw(t, "rule"),
			Urgency: rapid.SampledFrom(ticket.Urgencies()).Draw(t, "urgency"), Since: day("opened", -40, 0),
		})
	}
	return f
}

func TestPointsAreTheHighestOfEachCauseSummedUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := visit.Of(drawFacts(t), weights)
		best := map[visit.Group]float64{}
		seen := map[string]bool{}
		for _, r := range n.Reasons {
			best[r.Group] = max(best[r.Group], r.Points)
			require.Contains(t, visit.Groups(), r.Group)
			require.False(t, seen[r.Key], "a key names one reason: %s", r.Key)
			seen[r.Key] = true
		}
		sum := 0.0
		for _, p := range best {
			sum += p
		}
		require.InDelta(t, sum, n.Points, 1e-6)
		for _, m := range n.MustGo {
			require.Zero(t, m.Points)
			require.False(t, m.Counted)
		}
	})
}

func TestMoreTroubleIsNeverFewerPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFacts(t)
		worse := f
		switch rapid.IntRange(0, 5).Draw(t, "worse") {
		case 0:
			worse.OwnSlip += rapid.IntRange(1, 40).Draw(t, "by")
		case 1:
			worse.Schedule = programme.Behind
		case 2:
			worse.LastHeard = f.LastHeard.Add(-rapid.IntRange(1, 40).Draw(t, "by"))
		case 3:
			worse.Requests = append(slices.Clone(f.Requests), visit.Request{ID: "new", On: today})
		case 4:
			worse.Promises = append(slices.Clone(f.Promises), visit.Promise{ID: "new", DueOn: today})
		case 5:
			worse.Tickets = append(slices.Clone(f.Tickets), visit.Ticket{ID: "new", Urgency: ticket.LosingTime})
		}
		before, after := visit.Of(f, weights), visit.Of(worse, weights)
		require.GreaterOrEqual(t, after.Points, before.Points)
		require.GreaterOrEqual(t, len(after.MustGo), len(before.MustGo))
		require.LessOrEqual(t, visit.Compare(after, before), 0, "nor a lower place")
	})
}

func TestTheOrderOfFactsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFacts(t)
		back := f
		back.GoAheads, back.Snags, back.Caretakers = reversed(f.GoAheads), reversed(f.Snags), reversed(f.Caretakers)
		back.Promises, back.Requests = reversed(f.Promises), reversed(f.Requests)
		require.Equal(t, visit.Of(f, weights).Reasons, visit.Of(back, weights).Reasons)
	})
}

func reversed[T any](s []T) []T {
	s = slices.Clone(s)
	slices.Reverse(s)
	return s
}

func TestCompareIsAnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := visit.Of(drawFacts(t), weights), visit.Of(drawFacts(t), weights), visit.Of(drawFacts(t), weights)
		require.Equal(t, visit.Compare(a, b), -visit.Compare(b, a))
		if visit.Compare(a, b) <= 0 && visit.Compare(b, c) <= 0 {
			require.LessOrEqual(t, visit.Compare(a, c), 0)
		}
	})
}

func TestDiscount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := visit.Of(drawFacts(t), weights)
		all := append(keys(n.MustGo), keys(n.Reasons)...)
		some := rapid.SliceOfDistinct(rapid.SampledFrom(append(all, "none")), rapid.ID[string]).Draw(t, "some")

		less := n.Discount(n.DealtWith(some, today), weights)
		require.LessOrEqual(t, less.Points, n.Points)
		require.Equal(t, less, less.Discount(n.DealtWith(some, today), weights), "twice is once")
		for _, r := range append(less.MustGo, less.Reasons...) {
			require.True(t, !slices.Contains(some, r.Key) || r.Reason.Code == visit.PersonInDanger, "dealt with, and still there: %s", r.Key)
		}
		none := n.Discount(n.DealtWith(all, today), weights)
		require.Zero(t, none.Points)
		require.Empty(t, none.Reasons)
	})
}

func TestTheAgendaHasEveryReasonOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := visit.Of(drawFacts(t), weights)
		var got []string
		for _, task := range visit.Agenda(n) {
			require.NotEmpty(t, task.Do, "%s has no task", task.Key)
			if task.Key != "" {
				got = append(got, task.Key)
			}
		}
		require.Equal(t, append(keys(n.MustGo), keys(n.Reasons)...), append([]string{}, got...))
	})
}
