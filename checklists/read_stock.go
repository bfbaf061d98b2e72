package checklists

import (
	"errors"
	"io/fs"
	"path"

	"tendfold/domain"
	"tendfold/domain/husbandry/stock"
)

// stockFile may be left out: then nobody is told how many animals there will
// be.
const stockFile = "stock.yaml"

// readStock reads what projections rest on.
func readStock(b *book, fsys fs.FS, dir string) *Stock {
	full := path.Join(dir, stockFile)
	if _, err := fs.Stat(fsys, full); err != nil {
		return nil
	}
	root := open(b, fsys, full, stockFile)
	o := root.object("breeding", "growing", "claim", "counts")
	s := &Stock{Claim: readLayClaim(o.may("claim")), Counts: o.may("counts").refs(anItem)}
	for _, each := range o.may("breeding").list() {
		s.Breeding = append(s.Breeding, readBreeding(each))
	}
	if growing := o.may("growing"); !growing.absent() {
		g := readGrowing(growing)
		s.Growing = &g
	}
	return s
}

func readLayClaim(c cursor) *LayClaim {
	if c.absent() {
		return nil
	}
	o := c.object(with("text", "layings", "eggs", "months")...)
	eggs := o.need("eggs").object("low", "typical", "high")
	return &LayClaim{
		Text: o.need("text").text(), Layings: o.need("layings").number(0.1, 365),
		Eggs: Span{
			Low: eggs.need("low").number(1, 1e5), Typical: eggs.need("typical").number(1, 1e5), High: eggs.need("high").number(1, 1e5),
		},
		Months: o.need("months").number(1, 240), Basis: o.basis(),
	}
}

var breedingKeys = []string{
	"species", "growth", "eggs_year", "clutch_eggs", "season", "incubation_days", "hatch", "hatchling_loss", "juvenile_loss",
	"adult_loss", "unseen_loss", "maturity_months", "juvenile_months", "capacity_kg_m2", "theta", "phi", "weight_cv",
	"dry_feed", "fresh_feed", "calcium_of_dry_feed",
}

// readBreeding reads one species; what the numbers may be is the projection's
// to say, and what it says is put beside the line.
func readBreeding(c cursor) Breeding {
	o, before := c.object(breedingKeys...), len(c.book.problems)
	any := func(key string) Span { return o.need(key).span(0, 1e6) }
	b := Breeding{
		Species: o.need("species").ref(aSpecies), Growth: readGrowth(o.need("growth")),
		EggsYear: any("eggs_year"), ClutchEggs: o.need("clutch_eggs").figure(0, 1e6), Season: readByMonth(o.need("season")),
		IncubationDays: any("incubation_days"), Hatch: any("hatch"), HatchlingLoss: any("hatchling_loss"),
		JuvenileLoss: any("juvenile_loss"), AdultLoss: any("adult_loss"), UnseenLoss: any("unseen_loss"),
		MaturityMonths: any("maturity_months"), JuvenileMonths: o.need("juvenile_months").figure(0, 1e3),
		CapacityKgM2: any("capacity_kg_m2"), Theta: any("theta"), Phi: any("phi"), WeightCV: o.need("weight_cv").figure(0, 10),
		DryFeed: any("dry_feed"), FreshFeed: any("fresh_feed"), CalciumOfDryFeed: any("calcium_of_dry_feed"),
	}
	if len(c.book.problems) == before && !c.absent() {
		o.refused(c, b.Figures().Check())
	}
	return b
}

// refused puts what the projection says of a figure beside its line.
func (o object) refused(c cursor, err error) {
	refusal, ok := errors.AsType[*domain.Error](err)
	if !ok {
		return
	}
	for _, f := range refusal.Fields {
		at := o.may(firstPart(f.Path))
		if at.absent() {
			at = c
		}
		at.wrong("%s", f.Text)
	}
}

// firstPart is a dotted path up to its first dot.
func firstPart(dotted string) string {
	for i, r := range dotted {
		if r == '.' {
			return dotted[:i]
		}
	}
	return dotted
}

func readGrowth(c cursor) WeightAtAge {
	o := c.object(with("points")...)
	g := WeightAtAge{Basis: o.basisOf(c)}
	for _, each := range o.need("points").some() {
		p := each.object("months", "low", "typical", "high")
		g.Points = append(g.Points, stock.GrowthPoint{
			Months: p.need("months").number(0, 1e3),
			Grams: stock.Span{
				Low: p.need("low").number(0, heaviestG), Likely: p.need("typical").number(0, heaviestG), High: p.need("high").number(0, heaviestG),
			},
		})
	}
	return g
}

func readByMonth(c cursor) ByMonth {
	o := c.object(with("rate")...)
	m := ByMonth{Basis: o.basisOf(c)}
	rates := o.need("rate").list()
	if len(rates) != 12 {
		o.need("rate").wrong("has %d entries; a rate is twelve numbers, January first", len(rates))
		return m
	}
	for i, r := range rates {
		m.Rate[i] = r.number(0, 100)
	}
	return m
}

func readGrowing(c cursor) Growing {
	o, before := c.object("ration", "fcr", "survival", "survival_days", "unseen_loss", "weight_cv", "classes"), len(c.book.problems)
	g := Growing{
		FCR: o.need("fcr").span(0, 1e3), Survival: o.need("survival").span(0, 1), SurvivalDays: o.need("survival_days").number(0, 1e5),
		UnseenLoss: o.need("unseen_loss").span(0, 1), WeightCV: o.need("weight_cv").figure(0, 10),
	}
	r := o.need("ration").object(with("points")...)
	g.Ration.Basis = r.basisOf(o.need("ration"))
	for _, each := range r.need("points").some() {
		p := each.object("grams", "share")
		g.Ration.Points = append(g.Ration.Points, stock.RationPoint{Grams: p.need("grams").number(0, heaviestG), Share: p.need("share").number(0, 1)})
	}
	classes := o.need("classes").object(with("grams")...)
	g.ClassBasis = classes.basisOf(o.need("classes"))
	for _, each := range classes.need("grams").some() {
		g.Classes = append(g.Classes, each.number(0, heaviestG))
	}
	if len(c.book.problems) == before && !c.absent() {
		o.refused(c, g.Figures().Check())
	}
	return g
}
