package app

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/daybook"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
)

// MilestoneEntry is the data of EntryMilestone and EntryUndone. Anyway marks
// it though its go-ahead does not hold; what is missing stays a finding.
type MilestoneEntry struct {
	Milestone string     `json:"milestone"`
	Grade     farm.Grade `json:"grade,omitempty"`
	Note      string     `json:"note,omitempty"`
	Anyway    bool       `json:"anyway,omitempty"`
}

func (s *Entries) milestone(ctx context.Context, e *entry) error {
	in, err := decode[MilestoneEntry](e)
	if err != nil {
		return err
	}
	m, err := e.milestoneOf(in.Milestone)
	if err != nil {
		return err
	}
	if err := e.mayDo(m.By); err != nil {
		return err
	}
	grade, err := e.grade(in.Grade)
	if err != nil {
		return err
	}
	if err := s.goesAhead(ctx, e, m, in.Anyway); err != nil {
		return err
	}
	if err := short("note", in.Note, maxNote); err != nil {
		return err
	}
	return s.markMilestone(ctx, e, in.Milestone, e.On, grade)
}

// markMilestone writes the day and raises the cycle's version, so that an
// edit that did not know of it is told. Of several words on one milestone the
// one that was made last stands, in whatever order phones bring them.
func (s *Entries) markMilestone(ctx context.Context, e *entry, key string, on calendar.Date, grade farm.Grade) error {
	if late, err := s.hasLaterWord(ctx, e, key); late || err != nil {
		return err
	}
	if err := s.store.MarkMilestone(ctx, e.CycleID, key, on, grade, e.who.PersonID); err != nil {
		return err
	}
	return s.store.BumpCycle(ctx, e.CycleID, e.cycle.Version)
}

// hasLaterWord says whether a milestone was marked, or unmarked, by an entry
// that was made after this one and came before it.
func (s *Entries) hasLaterWord(ctx context.Context, e *entry, key string) (bool, error) {
	events, err := s.store.EventsSince(ctx, e.FarmID, 0, EntryMilestone, EntryUndone)
	return slices.ContainsFunc(events, func(o Event) bool {
		var in MilestoneEntry
		return o.CycleID == e.CycleID && o.word().Outdates(e.word()) && json.Unmarshal(o.Data, &in) == nil && in.Milestone == key
	}), err
}

func (s *Entries) undone(ctx context.Context, e *entry) error {
	in, err := decode[MilestoneEntry](e)
	if err != nil {
		return err
	}
	if _, err := e.milestoneOf(in.Milestone); err != nil {
		return err
	}
	if in.Note == "" {
		return refuse("note", "required", "Say why the mark was wrong; the old one stays on record.")
	}
	return s.markMilestone(ctx, e, in.Milestone, 0, "")
}

func (e *entry) milestoneOf(key string) (programme.Milestone, error) {
	i := slices.IndexFunc(e.pack.Programme.Milestones, func(m programme.Milestone) bool { return m.Key == key })
	if i < 0 {
		return programme.Milestone{}, refuse("milestone", "unknown", fmt.Sprintf("The programme has no milestone %q.", key))
	}
	m := e.pack.Programme.Milestones[i]
	if len(m.Purposes) > 0 && !slices.Contains(m.Purposes, programme.Purpose(e.cycle.Purpose)) {
		return m, refuse("milestone", "not-this-purpose", fmt.Sprintf("A %s cycle does not have this milestone.", e.cycle.Purpose))
	}
	return m, nil
}

// goesAhead refuses a milestone on whose day a go-ahead does not hold, its
// own or that of a milestone before it that is not done either, unless a
// person says "anyway".
func (s *Entries) goesAhead(ctx context.Context, e *entry, m programme.Milestone, anyway bool) error {
	if anyway {
		return nil
	}
	done, err := s.done(ctx, e.CycleID)
	if err != nil {
		return err
	}
	for _, g := range e.goAheadsBefore(m, done) {
		missing, err := s.missing(ctx, e, g)
		if err != nil {
			return err
		}
		if len(missing) > 0 {
			return lacking(missing)
		}
	}
	return nil
}

// goAheadsBefore are the go-aheads of a milestone and of what must be done
// before it and is not.
func (e *entry) goAheadsBefore(m programme.Milestone, done map[string]bool) []string {
	var out []string
	if m.GoAhead != "" {
		out = append(out, m.GoAhead)
	}
	for _, key := range m.After {
		if before, err := e.milestoneOf(key); err == nil && !done[key] {
			out = append(out, e.goAheadsBefore(before, done)...)
		}
	}
	return out
}

func lacking(missing []domain.Reason) error {
	fields := make([]domain.Field, len(missing))
	for i, r := range missing {
		fields[i] = domain.Field{Path: "data.milestone", Code: r.Code, Text: missingRow(r.Code, r.Values).Thing}
	}
	return &domain.Error{
		Kind: domain.KindConflict, Code: "go-ahead-missing", Fields: fields,
		Text: fmt.Sprintf("The go-ahead does not hold yet: %d points are missing. Verify them first, or mark it anyway; then what is missing stays a finding.", len(missing)),
	}
}

func (s *Entries) missing(ctx context.Context, e *entry, goAhead string) ([]domain.Reason, error) {
	farm, err := loadFarm(ctx, s.store, s.plans, e.FarmID, e.today)
	if err != nil {
		return nil, err
	}
	return sweep.Missing(&farm.Facts, e.CycleID, goAhead, e.On), nil
}

// ItemEntry is the data of EntryItem. A measured item takes its answer from
// the value and the pack's range. A photo that it names gives it the grade of
// one once it has come; until then it is a word.
type ItemEntry struct {
	Item   string      `json:"item"`
	Answer farm.Answer `json:"answer,omitempty"` // yes, no, not-needed
	Value  *float64    `json:"value,omitempty"`  // in the item's measure
	Grade  farm.Grade  `json:"grade,omitempty"`
	Note   string      `json:"note,omitempty"`
}

func (s *Entries) item(ctx context.Context, e *entry) error {
	in, err := decode[ItemEntry](e)
	if err != nil {
		return err
	}
	it, ok := itemsOf(e.pack)[in.Item]
	if !ok {
		return refuse("item", "unknown", fmt.Sprintf("The checklists have no item %q.", in.Item))
	}
	if err := e.mayDo(it.By); err != nil {
		return err
	}
	grade, err := s.itemGrade(ctx, e, in.Grade)
	if err != nil {
		return err
	}
	answer, err := in.answer(it)
	if err != nil {
		return err
	}
	if err := short("note", in.Note, maxNote); err != nil {
		return err
	}
	return s.store.PutMarks(ctx, Mark{
		CycleID: e.CycleID, Item: in.Item, Answer: answer, Value: in.Value, Grade: grade,
		On: e.On, PersonID: e.who.PersonID, EventID: e.ID, Made: e.word().Made,
	})
}

func (in ItemEntry) answer(it checklists.Item) (farm.Answer, error) {
	if in.Answer == sweep.NotNeeded {
		return in.Answer, nil
	}
	if it.Measured == nil {
		if in.Answer != farm.Yes && in.Answer != farm.No {
			return "", refuse("answer", "required", "Answer yes, no or not needed.")
		}
		return in.Answer, nil
	}
	if in.Value == nil {
		return "", refuse("value", "required", fmt.Sprintf("Give the value in %s.", it.Measured.Measure))
	}
	low, high := it.Measured.Measure.Possible()
	if v := *in.Value; math.IsNaN(v) || v < low || v > high {
		return "", refuse("value", "impossible", fmt.Sprintf("This cannot be: a value in %s lies between %g and %g.", it.Measured.Measure, low, high))
	}
	if it.Measured.OK(*in.Value) {
		return farm.Yes, nil
	}
	return farm.No, nil
}

// CoverEntry is the data of EntryCover.
type CoverEntry struct {
	Percent float64 `json:"percent"`
	Note    string  `json:"note,omitempty"`
}

func (s *Entries) cover(ctx context.Context, e *entry) error {
	in, err := decode[CoverEntry](e)
	if err != nil {
		return err
	}
	if !(in.Percent >= 0 && in.Percent <= 100) {
		return refuse("percent", "impossible", "Plant cover lies between 0 and 100 per cent of the ground.")
	}
	return s.store.AddReadings(ctx, Reading{ID: e.ID, CycleID: e.CycleID, Reading: programme.Reading{Kind: "cover", On: e.On, Value: in.Percent}})
}

// WeightsEntry is the data of EntryWeights: the weights one by one in g, or a
// mean with the number weighed.
type WeightsEntry struct {
	Weights []float64 `json:"weights_g,omitempty"`
	N       int       `json:"n,omitempty"`
	Mean    float64   `json:"mean_g,omitempty"`
	Note    string    `json:"note,omitempty"`
}

const (
	mostWeighed = 1000
	heaviestG   = 50_000 // no animal of ours weighs more than 50 kg
)

func (s *Entries) weights(ctx context.Context, e *entry) error {
	in, err := decode[WeightsEntry](e)
	if err != nil {
		return err
	}
	r, err := in.reading()
	if err != nil {
		return err
	}
	if err := in.possible(e.pack.Daybook.Weighing.Bounds, r); err != nil {
		return err
	}
	r.On = e.On
	return s.store.AddReadings(ctx, Reading{ID: e.ID, CycleID: e.CycleID, Reading: r})
}

func (in WeightsEntry) reading() (programme.Reading, error) {
	r := programme.Reading{Kind: "weight", N: in.N, Value: in.Mean}
	if len(in.Weights) > mostWeighed || in.N > mostWeighed || in.N < 0 {
		return r, refuse("n", "impossible", fmt.Sprintf("A sample is 1 to %d animals.", mostWeighed))
	}
	if len(in.Weights) > 0 {
		r.N = len(in.Weights)
		sample := daybook.SampleOf(in.Weights)
		r.Value, r.SD = sample.Mean, sample.SD
		for _, w := range in.Weights {
			if !(w > 0 && w <= heaviestG) {
				return r, refuse("weights_g", "impossible", fmt.Sprintf("A weight lies above 0 and up to %d g.", heaviestG))
			}
		}
	}
	if r.N == 0 || !(r.Value > 0 && r.Value <= heaviestG) {
		return r, refuse("mean_g", "required", fmt.Sprintf("Give the weights in g, or how many were weighed and their mean (up to %d g).", heaviestG))
	}
	return r, nil
}

// possible refuses an animal, or a mean, of a weight that the pack says
// cannot be.
func (in WeightsEntry) possible(b daybook.Bounds, r programme.Reading) error {
	path, all := "weights_g", in.Weights
	if len(all) == 0 {
		path, all = "mean_g", []float64{r.Value}
	}
	for _, w := range all {
		if ruling := b.Judge(w, daybook.Stock{}); ruling.Verdict == daybook.Impossible {
			return refuse(path, "impossible", impossible(ruling))
		}
	}
	return nil
}

// StockingEntry is the data of EntryStocking: animals put into the cycle's
// unit. The first one marks the programme's stocking as done.
type StockingEntry struct {
	Species string  `json:"species"`
	Count   int     `json:"count"`
	MeanG   float64 `json:"mean_weight_g,omitempty"`
	Source  string  `json:"source,omitempty"`
	Lost    int     `json:"lost_on_the_way,omitempty"`
	Anyway  bool    `json:"anyway,omitempty"` // though the go-ahead does not hold
	Note    string  `json:"note,omitempty"`
}

const mostAnimals = 10_000_000

func (s *Entries) stocking(ctx context.Context, e *entry) error {
	in, err := decode[StockingEntry](e)
	if err != nil {
		return err
	}
	switch {
	case in.Count <= 0 || in.Count > mostAnimals:
		return refuse("count", "impossible", "Say how many live animals were put in.")
	case in.Lost < 0 || in.Lost > mostAnimals:
		return refuse("lost_on_the_way", "impossible", "Losses on the way are a count.")
	case in.MeanG < 0 || in.MeanG > heaviestG:
		return refuse("mean_weight_g", "impossible", fmt.Sprintf("A mean weight lies between 0 and %d g.", heaviestG))
	}
	m, err := e.milestoneOf(e.pack.Programme.Stocking)
	if err != nil {
		return err
	}
	done, err := s.done(ctx, e.CycleID)
	if err != nil {
		return err
	}
	if !done[m.Key] {
		if err := s.goesAhead(ctx, e, m, in.Anyway); err != nil {
			return err
		}
		if err := s.markMilestone(ctx, e, m.Key, e.On, farm.StaffSaw); err != nil {
			return err
		}
	}
	return s.store.AddBatches(ctx, farm.Batch{
		ID: e.ID, UnitID: e.UnitID, CycleID: e.CycleID, Species: in.Species, Count: in.Count,
		MeanWeightG: in.MeanG, Source: in.Source, StockedOn: e.On,
	})
}

// done says which milestones of a cycle are done on a known day.
func (s *Entries) done(ctx context.Context, cycleID string) (map[string]bool, error) {
	ms, err := s.store.MilestonesOf(ctx, []string{cycleID})
	out := make(map[string]bool, len(ms))
	for _, m := range ms {
		out[m.Key] = !m.DoneOn.IsZero()
	}
	return out, err
}
