package main

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"text/tabwriter"

	"tendfold/domain/rehearsal"
)

// rehearsalWords is the answer for people at a terminal.
func rehearsalWords(r rehearsal.Report, s *rehearsal.Score) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d farms a seed, %d days, seeds %s, %s world.\n", r.Farms, r.Days, strings.Trim(fmt.Sprint(r.Seeds), "[]"), r.World)
	fmt.Fprintf(&b, "%d faults happened. %d major and %d minor ones could be seen in time, %d could not.\n\n",
		r.Faults.Injected, r.Faults.Major, r.Faults.Minor, r.Faults.Undetectable)
	w := tabwriter.NewWriter(&b, 0, 4, 2, ' ', 0)
	for _, line := range figures(r, s) {
		fmt.Fprintf(w, "%s\t%s\n", line.name, line.value)
	}
	kindWords(w, r, s)
	ruleWords(w, s)
	_ = w.Flush() // a strings.Builder takes everything
	return strings.TrimRight(b.String(), "\n")
}

type figure struct{ name, value string }

// figures are the report's lines in the order in which one asks for them. "At
// least" is the lower end of the interval that holds the share 95 times in 100.
func figures(r rehearsal.Report, s *rehearsal.Score) []figure {
	half := s.HalfWayDates()
	return []figure{
		{"major faults caught in time", of(r.Faults.Major, r.Recall) + ", at least " + of(r.Faults.Major, r.Low)},
		{"of these before half the loss", of(s.Major.All, float64(s.Major.Half)/float64(max(1, s.Major.All)))},
		{"minor faults caught in time", of(r.Faults.Minor, r.Minor)},
		{"tickets with a real reason", of(s.Precision.All, r.Precise) + ", at least " + of(s.Precision.All, r.PreLow)},
		{"days from when it could be seen to the ticket", middle(r.Median)},
		{"a year on a farm without fault: tickets", fmt.Sprintf("%.2f", r.Clean)},
		{"of these without a real delay", fmt.Sprintf("%.2f", r.Unexpl)},
		{"tickets a day for sixty farms", fmt.Sprintf("%.2f; %d on a bad day", r.Load, r.LoadP95)},
		{"closed and back within 14 days", of(s.Flaps.All, r.Flap)},
		{"schedule faults, these rules: caught, real", pair(s.Plain, r.Plain)},
		{"schedule faults, plain date check: caught, real", pair(s.Naive, r.Naive)},
		{"first harvest by the middle and the late date, forecast at stocking", dates(len(s.Stocking), r.Dates)},
		{"the same, forecast half-way from there", dates(len(s.HalfWay), half)},
	}
}

func kindWords(w io.Writer, r rehearsal.Report, s *rehearsal.Score) {
	fmt.Fprint(w, "\nmajor faults\tcould be seen\tcaught in time\tshare\tdays to the ticket\tcould not be seen, minor ones too\n")
	for _, name := range slices.Sorted(maps.Keys(r.Faults.ByKind)) {
		k := r.Faults.ByKind[name]
		fmt.Fprintf(w, "%s\t%d\t%d\t%s\t%s\t%d\n", name, k.Counted, k.Caught, of(k.Counted, float64(k.Caught)/float64(max(1, k.Counted))), middle(k.Median),
			s.Undetectable[name])
	}
}

// ruleWords leaves out shares of rules that compare records: those are held to
// exact tests, and being late is no reason of theirs.
func ruleWords(w io.Writer, s *rehearsal.Score) {
	fmt.Fprint(w, "\nrule\ttickets\twith a real reason\ta year without fault\tof these without a delay\n")
	for _, r := range s.Rules() {
		if !r.Inferred {
			fmt.Fprintf(w, "%s\t%d\t-\t-\t-\n", r.Rule, r.Opened)
			continue
		}
		fmt.Fprintf(w, "%s\t%d\t%s\t%.2f\t%.2f\n", r.Rule, r.Opened, of(r.Opened, r.Real), r.Clean, r.Unexplained)
	}
}

func pair(s rehearsal.Naive, p rehearsal.PairReport) string {
	return of(s.Recall.All, p.Recall) + ", " + of(s.Precision.All, p.Precision)
}

func dates(n int, d rehearsal.DateReport) string { return of(n, d.P50) + ", " + of(n, d.P90) }

// of is a share of so many, "-" when there are none.
func of(all int, share float64) string {
	if all == 0 {
		return "-"
	}
	return fmt.Sprintf("%.1f %%", 100*share)
}

// middle is a median in words: nil when half or more never came.
func middle(days *float64) string {
	if days == nil {
		return "-"
	}
	return fmt.Sprintf("%g", *days)
}
