package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"text/tabwriter"

	"tendfold/domain/rehearsal"
)

// rehearsalWords is the answer for people at a terminal.
func rehearsalWords(r rehearsal.Report) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d farms a seed, %d days, seeds %s, %s world.\n", r.Farms, r.Days, strings.Trim(fmt.Sprint(r.Seeds), "[]"), r.World)
	fmt.Fprintf(&b, "%d faults happened. %d major and %d minor ones could be seen in time, %d could not.\n\n",
		r.Faults.Injected, r.Faults.Major, r.Faults.Minor, r.Faults.Undetectable)
	w := tabwriter.NewWriter(&b, 0, 4, 2, ' ', 0)
	for _, line := range figures(r) {
		fmt.Fprintf(w, "%s\t%s\n", line.name, line.value)
	}
	fmt.Fprint(w, "\nmajor faults\tcould be seen\tcaught in time\tshare\tdays to the ticket\n")
	for _, name := range slices.Sorted(maps.Keys(r.Faults.ByKind)) {
		k := r.Faults.ByKind[name]
		fmt.Fprintf(w, "%s\t%d\t%d\t%s\t%s\n", name, k.Counted, k.Caught, of(k.Counted, float64(k.Caught)/float64(max(1, k.Counted))), middle(k.Median))
	}
	_ = w.Flush() // a strings.Builder takes everything
	return strings.TrimRight(b.String(), "\n")
}

type figure struct{ name, value string }

// figures are the report's lines in the order in which one asks for them. "At
// least" is the lower end of the interval that holds the share 95 times in 100.
func figures(r rehearsal.Report) []figure {
	return []figure{
		{"major faults caught in time", of(r.Faults.Major, r.Recall) + ", at least " + of(r.Faults.Major, r.Low)},
		{"minor faults caught in time", of(r.Faults.Minor, r.Minor)},
		{"tickets with a real reason", percent(r.Precise) + ", at least " + percent(r.PreLow)},
		{"days from when it could be seen to the ticket", middle(r.Median)},
		{"a year on a farm without fault: tickets", fmt.Sprintf("%.2f", r.Clean)},
		{"of these without a real delay", fmt.Sprintf("%.2f", r.Unexpl)},
		{"tickets a day for sixty farms", fmt.Sprintf("%.2f; %d on a bad day", r.Load, r.LoadP95)},
		{"closed and back within 14 days", percent(r.Flap)},
		{"schedule faults, these rules: caught, real", pair(r.Plain)},
		{"schedule faults, plain date check: caught, real", pair(r.Naive)},
		{"first harvest by the middle date, by the late one", fmt.Sprintf("%s, %s", percent(r.Dates.P50), percent(r.Dates.P90))},
	}
}

func pair(p rehearsal.PairReport) string {
	return percent(p.Recall) + ", " + percent(p.Precision)
}

func percent(x float64) string { return fmt.Sprintf("%.1f %%", 100*x) }

// of is a share of so many, "-" when there are none.
func of(all int, share float64) string {
	if all == 0 {
		return "-"
	}
	return percent(share)
}

// middle is a median in words: nil when half or more never came.
func middle(days *float64) string {
	if days == nil {
		return "-"
	}
	return fmt.Sprintf("%g", *days)
}
