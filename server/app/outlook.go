package app

import (
	"encoding/binary"
	"encoding/json"
	"hash"
	"hash/fnv"
	"math"
	"slices"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
)

// CycleOutlook is what the sweep worked out for a cycle, as it is kept and as
// screens show it: the strip and why.
type CycleOutlook struct {
	On            calendar.Date       `json:"on"`
	StartedOn     calendar.Date       `json:"started_on"`
	Standing      programme.Standing  `json:"standing"`
	Schedule      programme.Standing  `json:"schedule" doc:"The standing by dates alone; behind also where standing is paused."`
	Reasons       []domain.Reason     `json:"reasons"`
	Next          string              `json:"next" doc:"The milestone whose stage the cycle is in."`
	Harvest       programme.Quantiles `json:"harvest" doc:"First harvest: most likely on p50, 9 times in 10 before p90."`
	Target        calendar.Date       `json:"target" doc:"The first harvest's baseline P50."`
	Slip          programme.Slip      `json:"slip"`
	HoldUp        string              `json:"hold_up"`
	Lost          []programme.Loss    `json:"lost"`
	NotHeardSince calendar.Date       `json:"not_heard_since"`
	CoverLate     float64             `json:"cover_late"`
	GrowthLate    int                 `json:"growth_late"`
	MissSeason    float64             `json:"miss_season"`
	Milestones    []MilestoneOutlook  `json:"milestones"`

	kept json.RawMessage // the same as it is kept, where only that is passed on
}

// plainOutlook is a CycleOutlook without its own way into JSON.
type plainOutlook CycleOutlook

// MarshalJSON writes what is kept as it is kept: a list of farms passes on
// some hundred of these, and to read and write each costs more than to find
// it.
func (o *CycleOutlook) MarshalJSON() ([]byte, error) {
	if o.kept != nil {
		return o.kept, nil
	}
	return json.Marshal((*plainOutlook)(o))
}

// read is the outlook as screens show it, nil before the first sweep.
func (o Outlook) read() (*CycleOutlook, error) {
	if len(o.Detail) == 0 {
		return nil, nil // not worked out yet is an answer
	}
	var out CycleOutlook
	return &out, json.Unmarshal(o.Detail, &out)
}

// passOn is the outlook for who may see all of it: only its standing can be
// read here.
func (o Outlook) passOn() *CycleOutlook {
	if len(o.Detail) == 0 {
		return nil
	}
	return &CycleOutlook{Standing: o.Standing, kept: o.Detail}
}

// shownTo is the outlook for a reader: an owner's is read, so that what the
// firm tells in person can be taken out of it.
func (o Outlook) shownTo(who Actor) (*CycleOutlook, error) {
	if who.Staff() {
		return o.passOn(), nil
	}
	return o.read()
}

// MilestoneOutlook is one tick of the strip.
type MilestoneOutlook struct {
	Key      string          `json:"key"`
	State    programme.State `json:"state"`
	DoneOn   calendar.Date   `json:"done_on"`
	Earliest calendar.Date   `json:"earliest"`
	Target   calendar.Date   `json:"target"`
	Latest   calendar.Date   `json:"latest"`
	P10      calendar.Date   `json:"p10"`
	P50      calendar.Date   `json:"p50"`
	P90      calendar.Date   `json:"p90"`
}

// outlookOf puts a day's work on a cycle into the form that is kept.
func outlookOf(c *sweep.Cycle, d sweep.CycleDay) CycleOutlook {
	f := d.Forecast
	o := CycleOutlook{
		On: f.On, StartedOn: c.Known.Start, Standing: d.Verdict.Standing, Schedule: d.Verdict.Schedule, Reasons: orEmpty(d.Verdict.Reasons),
		Next: d.Next, Harvest: f.Harvest, Slip: f.Slip, HoldUp: f.HoldUp, Lost: orEmpty(f.Lost), NotHeardSince: f.NotHeardSince,
		CoverLate: f.CoverLate, GrowthLate: f.GrowthLate, MissSeason: f.MissSeason,
	}
	if w, ok := c.Baseline.Window(c.Plan.Programme.Harvest); ok {
		o.Target = w.Target
	}
	for _, m := range f.Milestones {
		w, _ := c.Baseline.Window(m.Key)
		o.Milestones = append(o.Milestones, MilestoneOutlook{
			Key: m.Key, State: m.State, DoneOn: m.DoneOn, Earliest: w.Earliest, Target: w.Target, Latest: w.Latest,
			P10: m.Expected.P10, P50: m.Expected.P50, P90: m.Expected.P90,
		})
	}
	return o
}

func orEmpty[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}

// row is the outlook as the store keeps it.
func (o CycleOutlook) row(cycleID string, hash uint64) (Outlook, error) {
	detail, err := json.Marshal(o)
	return Outlook{CycleID: cycleID, Standing: o.Standing, Entered: o.Schedule, OwnSlip: o.Slip.Own, HoldUp: o.HoldUp, Detail: detail, Hash: hash}, err
}

// fingerprint is a hash of all that an outlook follows from: what is known of
// the cycle, the day, the pack's version and the memory. Equal fingerprints
// have equal outlooks, so the costly account of losses is worked out once a
// day and change.
func fingerprint(f *sweep.Facts, c *sweep.Cycle, version string, on calendar.Date) uint64 {
	h := hasher{fnv.New64a()}
	h.text(version)
	h.text(string(c.Was))
	h.text(string(f.Status))
	h.ints(int(on), int(c.Known.Start), int(f.LastHeard(on)), len(c.Known.Done))
	for _, w := range c.Baseline {
		h.ints(int(w.Target), int(w.Latest), int(c.Known.Done[w.Key]))
	}
	for _, p := range c.Known.Pauses {
		h.ints(int(p.From), int(p.Until), int(p.Ended))
	}
	for _, r := range c.Known.Readings {
		h.text(r.Kind)
		h.ints(int(r.On), r.N)
		h.floats(r.Value, r.SD)
	}
	h.floats(c.Known.StockedG)
	if n, ok := slices.BinarySearch(c.Known.LastEvidence, on); ok || n > 0 {
		h.ints(int(c.Known.LastEvidence[max(0, min(n, len(c.Known.LastEvidence)-1))]))
	}
	return h.Sum64()
}

type hasher struct{ hash.Hash64 }

func (h hasher) text(s string) { _, _ = h.Write([]byte(s + "\x00")) } // a hash never fails

func (h hasher) ints(ns ...int) {
	var b [8]byte
	for _, n := range ns {
		binary.LittleEndian.PutUint64(b[:], uint64(n)) // the bits are what counts
		_, _ = h.Write(b[:])
	}
}

func (h hasher) floats(xs ...float64) {
	for _, x := range xs {
		h.ints(int(math.Float64bits(x))) // the bits are what counts
	}
}
