package stock

import "tendfold/domain/calendar"

// marginata are figures like those of the snail pack for Archachatina
// marginata.
func marginata() Figures {
	point := func(months, low, likely, high float64) GrowthPoint {
		return GrowthPoint{Months: months, Grams: Span{low, likely, high}}
	}
	return Figures{
		Growth: []GrowthPoint{
			point(0, 1.5, 2.5, 3.9), point(1, 3, 5, 7), point(2, 6, 12, 16), point(3, 10, 22, 30), point(4, 15, 35, 45),
			point(6, 25, 68, 77), point(8, 40, 95, 120), point(10, 55, 125, 165), point(12, 70, 150, 210),
			point(18, 105, 220, 350), point(24, 128, 260, 450),
		},
		EggsYear: Span{12, 60, 100}, ClutchEggs: 8,
		Season:         [12]float64{1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1},
		IncubationDays: Span{22, 29, 40}, Hatch: Span{0.44, 0.8, 0.98},
		HatchlingLoss: Span{0.05, 0.2, 0.5}, JuvenileLoss: Span{0.01, 0.04, 0.1}, AdultLoss: Span{0.005, 0.02, 0.04},
		UnseenLoss: Span{0.002, 0.01, 0.04}, MaturityMonths: Span{9, 10, 12}, JuvenileMonths: 3,
		CapacityKgM2: Span{1, 1.25, 1.6}, Theta: Span{0.5, 1, 2}, Phi: Span{0.5, 1, 2}, WeightCV: 0.25,
		DryFeed: Span{0.01, 0.02, 0.03}, FreshFeed: Span{0.03, 0.1, 0.2}, CalciumOfDryFeed: Span{0.1, 0.2, 0.4},
	}
}

// house is 40 m2 with 200 animals of 35 g, looked at on the day of stocking.
func house(weeks int) Plan {
	from := calendar.NewDate(2026, 3, 2)
	return Plan{
		FloorM2: 40, From: from, Today: from, Weeks: weeks,
		Batches: []Batch{{On: from, Count: 200, MeanG: 35}},
		Harvest: Harvest{From: from.Add(180), Every: 30, MarketG: 150, Parents: 60},
	}
}
