package app

import (
	"math"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/husbandry/stock"
)

// project works the projection out and adds what stands beside it.
func (v *projectionView) project() error {
	if b, ok := v.pack.BreedingOf(v.species.Key); ok {
		return v.breed(b)
	}
	if g := v.pack.Stock.Growing; g != nil {
		return v.grow(*g)
	}
	v.page.Why = "no-figures"
	return nil
}

func (v *projectionView) breed(b checklists.Breeding) error {
	m, err := stock.NewModel(b.Figures())
	if err != nil {
		return err
	}
	out, err := m.Project(v.plan, v.seen, stock.DrawSeed, stock.Runs)
	if err != nil {
		return err
	}
	v.page.Breeding = out
	v.page.Advice = append(v.ask(out.Learned), v.room(b, out)...)
	v.page.Bare = v.bare(b)
	if v.what.Prices != nil {
		low, likely, high := v.what.Prices.Takings(out.Points)
		v.page.Money = &MoneyBand{low, likely, high}
	}
	v.inputs(b)
	return nil
}

func (v *projectionView) grow(g checklists.Growing) error {
	out, err := stock.ProjectFish(g.Figures(), v.plan, v.seen, stock.DrawSeed, stock.Runs)
	if err != nil {
		return err
	}
	v.page.Growing = out
	if out.ReadyLikely != nil {
		values := map[string]any{"likely": out.ReadyLikely.String(), "market_g": v.page.Assumed.MarketG}
		if out.ReadyEarly != nil {
			values["early"] = out.ReadyEarly.String()
		}
		if out.ReadyLate != nil {
			values["late"] = out.ReadyLate.String()
		}
		v.page.Advice = append(v.page.Advice, domain.Reason{Code: "ready-by", Values: values})
	}
	v.put("fcr", g.FCR, "kg/kg")
	v.put("survival", g.Survival, "share")
	v.put("unseen_loss", g.UnseenLoss, "share-a-month")
	v.one("weight_cv", g.WeightCV, "share")
	first, last := g.Ration.Points[0].Share, g.Ration.Points[len(g.Ration.Points)-1].Share
	v.page.Inputs = append(v.page.Inputs, v.input("ration", last, (first+last)/2, first, "share-a-day", g.Ration.Basis))
	return nil
}

// ask puts the questions about counts that do not fit.
func (v *projectionView) ask(l stock.Learned) []domain.Reason {
	out := []domain.Reason{}
	for _, q := range l.Questions {
		out = append(out, domain.Reason{Code: "count-asks", Values: map[string]any{
			"on": v.seen.Counts[q.Count].On.String(), "counted": q.N, "low": math.Round(q.Expected.Low), "high": math.Round(q.Expected.High),
		}})
	}
	return out
}

// overSoon is the chance of being full within 28 days from which the unit is
// called crowded.
const overSoon = 0.5

// room says when the unit is full and what to do by when.
func (v *projectionView) room(b checklists.Breeding, out *stock.Projection) []domain.Reason {
	var peak float64
	for _, p := range out.Points {
		peak = max(peak, p.Kg.Likely)
	}
	carries := b.CapacityKgM2.Typical * v.page.AreaM2
	switch {
	case out.FullSoon >= overSoon:
		return []domain.Reason{{Code: "full-now", Values: map[string]any{"percent": math.Round(100 * out.FullSoon), "carries_kg": carries}}}
	case out.FullEarly != nil:
		values := map[string]any{"early": out.FullEarly.String(), "carries_kg": carries, "peak_kg": peak, "units": math.Ceil(peak / carries)}
		if out.FullOn != nil {
			values["likely"] = out.FullOn.String()
		}
		return []domain.Reason{{Code: "full-by", Values: values}}
	}
	return []domain.Reason{{Code: "room-enough", Values: map[string]any{"carries_kg": carries, "peak_kg": peak}}}
}

// bare is the trade's sum for the animals that were put in.
func (v *projectionView) bare(b checklists.Breeding) *BareLine {
	c := v.pack.Stock.Claim
	if c == nil {
		return nil
	}
	capacity := stock.Span{Low: b.CapacityKgM2.Low, Likely: b.CapacityKgM2.Typical, High: b.CapacityKgM2.High}
	adults := float64(v.page.PutIn)
	return &BareLine{
		Bare:   stock.BareSum(adults, c.Layings, c.Eggs.Typical, v.page.AreaM2, capacity, v.page.Assumed.MarketG),
		Adults: adults, Layings: c.Layings, Eggs: c.Eggs.Typical, EggsYear: stock.Band{Low: b.EggsYear.Low, Likely: b.EggsYear.Typical, High: b.EggsYear.High}, Claim: c.Text,
	}
}

// inputs are the figures with what they rest on.
func (v *projectionView) inputs(b checklists.Breeding) {
	first, last := b.Growth.Points[0].Grams, b.Growth.Points[len(b.Growth.Points)-1].Grams
	v.page.Inputs = append(v.page.Inputs,
		v.input("hatchling_weight", first.Low, first.Likely, first.High, "g", b.Growth.Basis),
		v.input("grown_weight", last.Low, last.Likely, last.High, "g", b.Growth.Basis))
	v.put("eggs_year", b.EggsYear, "eggs")
	v.one("clutch_eggs", b.ClutchEggs, "eggs")
	v.put("incubation_days", b.IncubationDays, "days")
	v.put("hatch", b.Hatch, "share")
	v.put("hatchling_loss", b.HatchlingLoss, "share-a-month")
	v.put("juvenile_loss", b.JuvenileLoss, "share-a-month")
	v.put("adult_loss", b.AdultLoss, "share-a-month")
	v.put("unseen_loss", b.UnseenLoss, "share-a-month")
	v.put("maturity_months", b.MaturityMonths, "months")
	v.put("capacity_kg_m2", b.CapacityKgM2, "kg/m2")
	v.put("theta", b.Theta, "power")
	v.put("phi", b.Phi, "power")
	v.one("weight_cv", b.WeightCV, "share")
	v.put("dry_feed", b.DryFeed, "share-a-day")
	v.put("fresh_feed", b.FreshFeed, "share-a-day")
	v.put("calcium_of_dry_feed", b.CalciumOfDryFeed, "share")
}

func (v *projectionView) put(key string, s checklists.Span, measure string) {
	v.page.Inputs = append(v.page.Inputs, v.input(key, s.Low, s.Typical, s.High, measure, s.Basis))
}

func (v *projectionView) one(key string, f checklists.Figure, measure string) {
	v.page.Inputs = append(v.page.Inputs, v.input(key, f.Value, f.Value, f.Value, measure, f.Basis))
}

func (v *projectionView) input(key string, low, likely, high float64, measure string, b checklists.Basis) Input {
	return Input{
		Key: key, Low: low, Likely: likely, High: high, Measure: measure, Grade: b.Grade,
		Citation: v.pack.Sources[b.Source].Citation, Note: b.Note,
	}
}
