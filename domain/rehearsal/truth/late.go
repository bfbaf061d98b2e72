package truth

import "math"

// Medians are the days that each step takes in the middle of all farms, by
// its place: the truth's own, or what a pack promises. For growth they are
// average days, first sale included.
type Medians []float64

// TrueMedians are the medians of this world.
func (p *Plan) TrueMedians(w World) Medians {
	m := make(Medians, len(p.Steps))
	for i := range p.Steps {
		m[i] = p.Steps[i].median(w)
	}
	return m
}

// Late is by how many days the farm is really late on a day: what has really
// happened up to then and medians for the rest, less medians throughout.
func (c *Course) Late(day int, m Medians) int {
	return int(c.project(day, m) - c.project(-1, m))
}

// project is the day of the first harvest when everything that lies after day
// takes its median.
func (c *Course) project(day int, m Medians) float64 {
	f := c.Farm
	end := make([]float64, len(m))
	for i := range f.Plan.Steps {
		st := &f.Plan.Steps[i]
		start := 0.0
		for _, p := range st.After {
			start = max(start, end[p])
		}
		end[i] = c.finish(i, start, float64(day), m[i])
		if st.Closed {
			end[i] = f.Plan.Season.open(f.Start, end[i])
		}
	}
	return end[f.Plan.At(Harvest)]
}

// finish is the end of one step that begins at start: the real one when it
// lies behind, else what is left of its median.
func (c *Course) finish(i int, start, day, median float64) float64 {
	f, st := c.Farm, &c.Farm.Plan.Steps[i]
	if day >= 0 && float64(c.Done[i]) <= day {
		return float64(c.Done[i])
	}
	under := day >= 0 && float64(c.begun[i]) <= day
	sale := st.sale(f.World)
	switch st.Nature {
	case Covers, Waits, Fattens:
		pace := f.pace(st.Nature)
		if !under {
			return pace.after(start, median-sale) + sale
		}
		left := 1 - c.progress(i, int(day))
		if left <= 0 {
			return math.Max(day, float64(c.growFrom+len(c.growth)-1)+sale)
		}
		return pace.after(day, left*(median-sale)) + sale
	default:
		if !under {
			return start + median
		}
		return math.Max(day, float64(c.begun[i])+median)
	}
}

// pace is the season by which living things of a nature grow.
func (f *Farm) pace(n Nature) rates {
	if n == Covers {
		return f.leaves
	}
	return f.rates
}

// progress is the share of a living step that is done on a day.
func (c *Course) progress(i, day int) float64 {
	f := c.Farm
	switch f.Plan.Steps[i].Nature {
	case Covers:
		return min(1, c.coverAt.progress(float64(day)))
	case Fattens:
		return min(1, c.grown(day))
	default:
		from := float64(c.begun[i])
		return min(1, (f.rates.at(float64(day))-f.rates.at(from))/f.days[i])
	}
}
