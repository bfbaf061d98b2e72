package checklists

import "tendfold/domain/husbandry/stock"

// Stock is what a projection of animals rests on. A pack whose animals breed
// in the unit has Breeding, one of fish that are only grown has Growing; a
// pack with neither has no projection.
type Stock struct {
	Breeding []Breeding `json:"breeding,omitempty"` // by species
	Growing  *Growing   `json:"growing,omitempty"`
	Claim    *LayClaim  `json:"claim,omitempty"`
	// Counts are the checklist items whose value is a count of all that live.
	Counts []string `json:"counts,omitempty"`
}

// LayClaim is what the trade says of laying. It is shown beside the figures
// of a species and is never a prior of anything.
type LayClaim struct {
	Text    Text    `json:"text"`
	Layings float64 `json:"layings"` // a year
	Eggs    Span    `json:"eggs"`    // a laying
	Months  float64 `json:"months"`  // to the first sale
	Basis
}

// WeightAtAge is a growth curve: weights in g by age in months.
type WeightAtAge struct {
	Points []stock.GrowthPoint `json:"points"`
	Basis
}

// ByMonth is a rate for every month, January first.
type ByMonth struct {
	Rate [12]float64 `json:"rate"`
	Basis
}

// Breeding is a species that lays in the unit. Shares are parts of one; losses
// are a month.
type Breeding struct {
	Species          string      `json:"species"`
	Growth           WeightAtAge `json:"growth"`
	EggsYear         Span        `json:"eggs_year"`
	ClutchEggs       Figure      `json:"clutch_eggs"`
	Season           ByMonth     `json:"season"`
	IncubationDays   Span        `json:"incubation_days"`
	Hatch            Span        `json:"hatch"`
	HatchlingLoss    Span        `json:"hatchling_loss"`
	JuvenileLoss     Span        `json:"juvenile_loss"`
	AdultLoss        Span        `json:"adult_loss"`
	UnseenLoss       Span        `json:"unseen_loss"`
	MaturityMonths   Span        `json:"maturity_months"`
	JuvenileMonths   Figure      `json:"juvenile_months"`
	CapacityKgM2     Span        `json:"capacity_kg_m2"`
	Theta            Span        `json:"theta"`
	Phi              Span        `json:"phi"`
	WeightCV         Figure      `json:"weight_cv"`
	DryFeed          Span        `json:"dry_feed"`
	FreshFeed        Span        `json:"fresh_feed"`
	CalciumOfDryFeed Span        `json:"calcium_of_dry_feed"`
}

func (s Span) plain() stock.Span { return stock.Span{Low: s.Low, Likely: s.Typical, High: s.High} }

// Figures are the numbers without what they rest on.
func (b Breeding) Figures() stock.Figures {
	return stock.Figures{
		Growth: b.Growth.Points, EggsYear: b.EggsYear.plain(), ClutchEggs: b.ClutchEggs.Value, Season: b.Season.Rate,
		IncubationDays: b.IncubationDays.plain(), Hatch: b.Hatch.plain(), HatchlingLoss: b.HatchlingLoss.plain(),
		JuvenileLoss: b.JuvenileLoss.plain(), AdultLoss: b.AdultLoss.plain(), UnseenLoss: b.UnseenLoss.plain(),
		MaturityMonths: b.MaturityMonths.plain(), JuvenileMonths: b.JuvenileMonths.Value,
		CapacityKgM2: b.CapacityKgM2.plain(), Theta: b.Theta.plain(), Phi: b.Phi.plain(), WeightCV: b.WeightCV.Value,
		DryFeed: b.DryFeed.plain(), FreshFeed: b.FreshFeed.plain(), CalciumOfDryFeed: b.CalciumOfDryFeed.plain(),
	}
}

// Ration is the share of body weight fed in a day, by weight in g.
type Ration struct {
	Points []stock.RationPoint `json:"points"`
	Basis
}

// Growing is fish that are fed from stocking to sale.
type Growing struct {
	Ration       Ration    `json:"ration"`
	FCR          Span      `json:"fcr"`      // kg of feed a kg of gain
	Survival     Span      `json:"survival"` // share alive after SurvivalDays
	SurvivalDays float64   `json:"survival_days"`
	UnseenLoss   Span      `json:"unseen_loss"` // a month
	WeightCV     Figure    `json:"weight_cv"`
	Classes      []float64 `json:"classes"` // weights in g that part the classes of sale
	ClassBasis   Basis     `json:"class_basis"`
}

// Figures are the numbers without what they rest on.
func (g Growing) Figures() stock.FishFigures {
	return stock.FishFigures{
		Ration: g.Ration.Points, FCR: g.FCR.plain(), Survival: g.Survival.plain(), SurvivalDays: g.SurvivalDays,
		Unseen: g.UnseenLoss.plain(), WeightCV: g.WeightCV.Value, Classes: g.Classes,
	}
}

// BreedingOf is what is known of a species that lays in the unit.
func (p *Pack) BreedingOf(species string) (Breeding, bool) {
	if p.Stock == nil {
		return Breeding{}, false
	}
	return find(p.Stock.Breeding, func(b Breeding) bool { return b.Species == species })
}
