package app

import (
	"context"
	"fmt"
	"sync"
	"time"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
)

// BranchRules is what a branch says otherwise than packs and house do: its
// seasons by enterprise, and its due times.
type BranchRules struct {
	Seasons map[string]programme.Season `json:"seasons,omitempty"`
	Due     ticket.DueTable             `json:"due,omitempty"`
}

// planStore is what Plans needs of the database.
type planStore interface {
	Branch(ctx context.Context, id string) (farm.Branch, error)
	BranchRules(ctx context.Context, branchID string) (BranchRules, error)
	HolidayEdits(ctx context.Context) (map[string][]calendar.Edit, error)
}

// Plans turns packs and branches into what the rules need, and keeps it: one
// plan for all cycles of one kind in one branch, one calendar for each branch.
// Forget drops what a changed branch was given.
type Plans struct {
	store planStore
	packs *checklists.Set
	draws *programme.Draws

	mu       sync.Mutex
	plans    map[planKey]*sweep.Plan
	branches map[string]branchTerms
}

type planKey struct{ enterprise, purpose, branch, start string }

// branchTerms is a branch's calendar and due times, with its rules.
type branchTerms struct {
	terms ticket.Terms
	rules BranchRules
}

// NewPlans reads branches from the store when they are first asked for.
func NewPlans(store planStore, packs *checklists.Set) *Plans {
	return &Plans{
		store: store, packs: packs, draws: programme.NewDraws(programme.DrawSeed, programme.DrawCount),
		plans: map[planKey]*sweep.Plan{}, branches: map[string]branchTerms{},
	}
}

// Forget drops everything kept, after a branch has changed.
func (p *Plans) Forget() {
	p.mu.Lock()
	defer p.mu.Unlock()
	clear(p.plans)
	clear(p.branches)
}

// Draws are the draws that every forecast shares.
func (p *Plans) Draws() *programme.Draws { return p.draws }

// Terms are the calendar and the due times of a branch.
func (p *Plans) Terms(ctx context.Context, branchID string) (ticket.Terms, error) {
	b, err := p.branch(ctx, branchID)
	return b.terms, err
}

// Today is the civil day of an instant in a branch.
func (p *Plans) Today(ctx context.Context, branchID string, at time.Time) (calendar.Date, error) {
	t, err := p.Terms(ctx, branchID)
	if err != nil {
		return 0, err
	}
	return t.Calendar.Day(at), nil
}

func (p *Plans) branch(ctx context.Context, id string) (branchTerms, error) {
	p.mu.Lock()
	b, ok := p.branches[id]
	p.mu.Unlock()
	if ok {
		return b, nil
	}
	b, err := p.readBranch(ctx, id)
	if err != nil {
		return branchTerms{}, err
	}
	p.mu.Lock()
	p.branches[id] = b
	p.mu.Unlock()
	return b, nil
}

func (p *Plans) readBranch(ctx context.Context, id string) (branchTerms, error) {
	br, err := p.store.Branch(ctx, id)
	if err != nil {
		return branchTerms{}, err
	}
	rules, err := p.store.BranchRules(ctx, id)
	if err != nil {
		return branchTerms{}, err
	}
	edits, err := p.store.HolidayEdits(ctx)
	if err != nil {
		return branchTerms{}, err
	}
	zone, err := time.LoadLocation(br.Zone)
	if err != nil {
		return branchTerms{}, domain.Invalid("branch-zone", fmt.Sprintf("The branch %s has the time zone %q, which nobody knows. Give it one like Africa/Douala.", br.Name, br.Zone))
	}
	cal, err := calendar.New(zone, weekOf(br.Hours), calendar.Country(br.Country), edits[id])
	if err != nil {
		return branchTerms{}, err
	}
	table := rules.Due
	if len(table) == 0 {
		table = ticket.DefaultDue()
	}
	return branchTerms{terms: ticket.Terms{Calendar: cal, Table: table}, rules: rules}, nil
}

// weekOf are the hours of a branch; one that has given none keeps office
// hours.
func weekOf(hours [7]farm.Span) calendar.Week {
	if hours == ([7]farm.Span{}) {
		return calendar.OfficeWeek()
	}
	var w calendar.Week
	for i, s := range hours {
		w[i] = calendar.Span{From: s.From, To: s.To}
	}
	return w
}

// Plan is what the pack of an enterprise says about one kind of cycle in one
// branch. An enterprise without a pack is an error that names it.
func (p *Plans) Plan(ctx context.Context, enterprise, purpose, branchID string) (*sweep.Plan, error) {
	return p.PlanFrom(ctx, enterprise, purpose, branchID, "")
}

// PlanFrom is Plan for cycles that begin with an earlier milestone than the
// pack's own start, "" = that. A house that is handed over and not planted is
// watched so: registers know the planting, the firm knows the handover, and
// only from there does a late planting show.
func (p *Plans) PlanFrom(ctx context.Context, enterprise, purpose, branchID, start string) (*sweep.Plan, error) {
	key := planKey{enterprise, purpose, branchID, start}
	p.mu.Lock()
	plan, ok := p.plans[key]
	p.mu.Unlock()
	if ok {
		return plan, nil
	}
	plan, err := p.makePlan(ctx, key)
	if err != nil {
		return nil, err
	}
	p.mu.Lock()
	p.plans[key] = plan
	p.mu.Unlock()
	return plan, nil
}

func (p *Plans) makePlan(ctx context.Context, key planKey) (*sweep.Plan, error) {
	pack, ok := p.packs.Pack(key.enterprise)
	if !ok {
		return nil, domain.Invalid("enterprise-unknown", fmt.Sprintf("There is no pack for the enterprise %q.", key.enterprise))
	}
	season := pack.Season
	if key.branch != "" {
		b, err := p.branch(ctx, key.branch)
		if err != nil {
			return nil, err
		}
		if own, ok := b.rules.Seasons[key.enterprise]; ok {
			season = own
		}
	}
	network, err := p.packs.Network(key.enterprise, programme.Purpose(key.purpose), season)
	if err != nil {
		return nil, err
	}
	if key.start == "" || key.start == pack.Programme.Start {
		return PlanOf(pack, network, p.draws), nil
	}
	plan := PlanOf(pack, network, p.draws)
	plan.Programme.Start = key.start
	plan.Network, err = programme.Compile(plan.Programme, programme.Purpose(key.purpose), season)
	return plan, err
}

// PlanOf puts a pack and its compiled network into the form that the rules
// read.
func PlanOf(pack *checklists.Pack, network *programme.Network, draws *programme.Draws) *sweep.Plan {
	plan := &sweep.Plan{Programme: pack.Programme, Network: network, Draws: draws, Rules: pack.Rules}
	items := itemsOf(pack)
	for _, g := range pack.GoAheads {
		plan.GoAheads = append(plan.GoAheads, goAheadOf(g, items))
	}
	for _, m := range pack.Modules {
		if len(m.GoAheads) > 0 {
			plan.Modules = append(plan.Modules, m.Key)
		}
	}
	for _, s := range pack.Visits.AfterHandover {
		plan.Handover = append(plan.Handover, sweep.VisitStage{Days: s.Days, Every: s.Every})
	}
	return plan
}

func itemsOf(pack *checklists.Pack) map[string]checklists.Item {
	items := map[string]checklists.Item{}
	for _, c := range pack.Checklists {
		for _, it := range c.Items {
			items[it.Key] = it
		}
	}
	return items
}

func goAheadOf(g checklists.GoAhead, items map[string]checklists.Item) sweep.GoAhead {
	out := sweep.GoAhead{Key: g.Key, Milestone: g.Milestone, Modules: g.Modules, LeadDays: g.LeadDays}
	for _, key := range g.Items {
		out.Items = append(out.Items, sweep.Requirement{Item: key, Grades: suffices(items[key].Suffices), Optional: true})
	}
	for _, l := range g.Limits {
		out.Limits = append(out.Limits, sweep.Limit{Reading: l.Reading, Low: l.Low, High: l.High, Fresh: l.Fresh})
	}
	return out
}

// suffices are the grades as strong as the weakest one that is enough. A
// photo and the eyes of staff are of one strength; the register is somebody's
// word from before.
func suffices(weakest farm.Grade) []farm.Grade {
	if weakest == farm.WordGiven || weakest == farm.Register || weakest == "" {
		return nil
	}
	return []farm.Grade{farm.Photo, farm.StaffSaw}
}
