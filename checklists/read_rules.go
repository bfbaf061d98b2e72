package checklists

import (
	"slices"

	"tendfold/domain/sweep"
)

// probability rules are measured in chances from 0 to 1, all others in days.
var probabilityRules = []string{"cover-short", "season-risk"}

// ruleNames are the rules that every pack gives figures for.
var ruleNames = []string{
	"milestone-behind", "cover-short", "growth-short", "harvest-slip", "season-risk", "no-news",
	"go-ahead-short", "go-ahead-skipped", "training-gap", "new-caretaker", "nobody-trained", "visit-overdue", "snag-due", "ticket-stale",
}

// readRules reads rules.yaml.
func readRules(c cursor, p *Pack) {
	o := c.object("rules", "visit_weights")
	rules := o.need("rules")
	group := rules.object(ruleNames...)
	for _, name := range ruleNames {
		figures := group.need(name)
		p.Rules[name] = readFigures(figures, name, p)
	}
	p.Weights = readWeights(o.need("visit_weights"), p)
}

func readFigures(c cursor, name string, p *Pack) sweep.RuleFigures {
	o := c.object(with("enter", "leave", "days", "pace", "grace", "grace_living", "recovery", "rest", "impact", "time_to_loss", "mutes")...)
	top := float64(longestDays)
	if slices.Contains(probabilityRules, name) {
		top = 1
	}
	f := sweep.RuleFigures{
		Enter:       o.may("enter").number(0, top),
		Leave:       o.may("leave").number(0, top),
		Days:        o.may("days").number(0, longestDays),
		Pace:        o.may("pace").number(0, 1),
		Grace:       o.may("grace").whole(0, 365),
		GraceLiving: o.may("grace").whole(0, 365),
		Recovery:    o.may("recovery").whole(0, 365),
		Rest:        o.need("rest").whole(0, 365),
		Impact:      readImpact(o.need("impact")),
		TimeToLoss:  readTimeToLoss(o.need("time_to_loss")),
	}
	if !o.may("grace_living").absent() {
		f.GraceLiving = o.may("grace_living").whole(0, 365)
	}
	for _, each := range o.may("mutes").list() {
		f.Mutes = append(f.Mutes, choice(each, ruleNames...))
	}
	if f.Leave > f.Enter {
		o.may("leave").wrong("%s is above enter %s; a finding must be left no later than it was entered", short(f.Leave), short(f.Enter))
	}
	p.Bases["rule:"+name] = o.basisOf(c)
	return f
}
