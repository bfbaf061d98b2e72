package rehearsal

import (
	"maps"
	"math"
	"slices"

	"tendfold/domain/rehearsal/truth"
	"tendfold/domain/sweep"
)

// Report is the answer of the rehearse command. Recall, by_kind and
// median_days are of major faults; a median is null when more than half were
// never caught. Shares are 0 to 1, times days.
type Report struct {
	Farms   int         `json:"farms"`
	Days    int         `json:"days"`
	Seeds   []uint64    `json:"seeds"`
	World   truth.World `json:"world"`
	Faults  FaultReport `json:"faults"`
	Recall  float64     `json:"recall"`
	Low     float64     `json:"recall_low"`
	Minor   float64     `json:"recall_minor"`
	Precise float64     `json:"precision"`
	PreLow  float64     `json:"precision_low"`
	Median  *float64    `json:"median_days"`
	Unexpl  float64     `json:"unexplained_farm_year"`
	Clean   float64     `json:"faultless_farm_year"`
	Load    float64     `json:"load_mean"`
	LoadP95 int         `json:"load_p95"`
	Flap    float64     `json:"flap_share"`
	Naive   PairReport  `json:"naive"`
	Plain   PairReport  `json:"schedule"`
	Dates   DateReport  `json:"dates"`
}

// FaultReport counts the faults. Major and minor hold only those that can be
// seen in time; the others are undetectable.
type FaultReport struct {
	Injected     int                       `json:"injected"`
	Major        int                       `json:"major"`
	Minor        int                       `json:"minor"`
	Undetectable int                       `json:"undetectable"`
	ByKind       map[truth.Kind]KindReport `json:"by_kind"`
}

// KindReport is one kind of major fault.
type KindReport struct {
	Counted int      `json:"counted"`
	Caught  int      `json:"caught"`
	Median  *float64 `json:"median_days"`
}

// PairReport is recall and precision on schedule faults.
type PairReport struct {
	Recall    float64 `json:"recall"`
	Precision float64 `json:"precision"`
}

// DateReport is how often the first harvest came by the promised day.
type DateReport struct {
	P50 float64 `json:"p50_share"`
	P90 float64 `json:"p90_share"`
}

// Report puts the score into the form of the rehearse command.
func (r *Rehearsal) Report(s *Score) Report {
	low, _ := s.Major.Wilson()
	precisionLow, _ := s.Precision.Wilson()
	return Report{
		Farms: r.Farms, Days: r.Days, Seeds: r.Seeds, World: r.World, Faults: s.faultReport(r.Faults),
		Recall: tidy(s.Major.Value()), Low: tidy(low), Minor: tidy(s.Minor.Value()),
		Precise: tidy(s.Precision.Value()), PreLow: tidy(precisionLow), Median: days(s.Major.Median()),
		Unexpl: tidy(s.perYear(s.Unexplained)), Clean: tidy(s.perYear(s.Clean)),
		Load: tidy(mean(s.Load)), LoadP95: quantile(s.Load, .95), Flap: tidy(s.Flaps.Value()),
		Naive: s.Naive.report(), Plain: s.Plain.report(),
		Dates: dateReport(s.Stocking),
	}
}

func dateReport(promises []Promise) DateReport {
	p50, p90 := keptBy(promises)
	return DateReport{tidy(p50), tidy(p90)}
}

// faultReport has a line for every kind that could have struck.
func (s *Score) faultReport(asked []truth.Kind) FaultReport {
	f := FaultReport{Injected: s.Injected, Major: s.Major.All, Minor: s.Minor.All, ByKind: map[truth.Kind]KindReport{}}
	for _, n := range s.Undetectable {
		f.Undetectable += n
	}
	for _, k := range asked {
		f.ByKind[k] = KindReport{}
	}
	for k, t := range s.ByKind {
		f.ByKind[k] = KindReport{t.All, t.Of, days(t.Median())}
	}
	return f
}

func (n Naive) report() PairReport {
	return PairReport{tidy(n.Recall.Value()), tidy(n.Precision.Value())}
}

// RuleReport is one rule's tickets: how many were opened, the share of them
// with a real reason, and, of inference rules, those of a year on a farm
// without fault, in all and without one.
type RuleReport struct {
	Rule               string
	Opened             int
	Real               float64
	Inferred           bool
	Clean, Unexplained float64
}

// Rules are the rules that opened tickets, by name.
func (s *Score) Rules() []RuleReport {
	var out []RuleReport
	for _, name := range slices.Sorted(maps.Keys(s.ByRule)) {
		out = append(out, RuleReport{
			Rule: name, Opened: s.ByRule[name].All, Real: s.ByRule[name].Value(), Inferred: sweep.Inference(name),
			Clean: s.yearly(s.Clean[name]), Unexplained: s.yearly(s.Unexplained[name]),
		})
	}
	return out
}

// HalfWayDates is how often the first harvest came by the days that were
// forecast half-way from stocking, by farms with weights.
func (s *Score) HalfWayDates() DateReport { return dateReport(s.HalfWay) }

// tidy keeps four decimals: more would be noise.
func tidy(x float64) float64 { return math.Round(x*1e4) / 1e4 }

func days(d float64, ok bool) *float64 {
	if !ok {
		return nil
	}
	return &d
}
