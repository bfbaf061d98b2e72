package rehearsal

import "tendfold/domain/calendar"

// deskFarms is how many running farms one advisor has.
const deskFarms = 60

// load is how many tickets the sweep put before one advisor of sixty running
// farms, on each day: opened and reopened, all rules. On every day of the
// calendar the running farms of a seed are cut into desks of sixty; what is
// left over makes no desk. Where fewer than sixty run on a middle day, a desk
// is as many as run then, and its count is scaled to sixty.
func load(runs []FarmRun) []int {
	var out []int
	for len(runs) > 0 {
		n := 1
		for n < len(runs) && runs[n].Seed == runs[0].Seed {
			n++
		}
		out = append(out, loadOf(runs[:n])...)
		runs = runs[n:]
	}
	return out
}

func loadOf(runs []FarmRun) []int {
	first, last := runs[0].Start, runs[0].Start
	for _, r := range runs {
		first, last = min(first, r.Start), max(last, r.Start.Add(r.Days))
	}
	raised := make([]map[int]int, len(runs))
	for i, r := range runs {
		raised[i] = r.raisedByDay()
	}
	size := min(deskFarms, max(1, usual(runs, first, last)))
	var out []int
	for on := first; on <= last; on++ {
		out = append(out, desksOn(runs, raised, on, size)...)
	}
	return out
}

// usual is how many farms run on a middle day.
func usual(runs []FarmRun, first, last calendar.Date) int {
	running := make([]int, last.Sub(first)+1)
	for _, r := range runs {
		for day := range r.Days + 1 {
			running[r.Start.Sub(first)+day]++
		}
	}
	return quantile(running, .5)
}

// desksOn are the counts of one day.
func desksOn(runs []FarmRun, raised []map[int]int, on calendar.Date, size int) []int {
	var out []int
	farms, count := 0, 0
	for i := range runs {
		day := on.Sub(runs[i].Start)
		if day < 0 || day > runs[i].Days {
			continue
		}
		farms++
		count += raised[i][day]
		if farms == size {
			out = append(out, count*deskFarms/size)
			farms, count = 0, 0
		}
	}
	return out
}

// raisedByDay counts the tickets opened and reopened by day after the start.
func (r *FarmRun) raisedByDay() map[int]int {
	out := map[int]int{}
	for _, t := range r.Tickets {
		for _, h := range t.Life {
			if h.Doing == Opened || h.Doing == Reopened {
				out[h.Day]++
			}
		}
	}
	return out
}

func mean(counts []int) float64 {
	if len(counts) == 0 {
		return 0
	}
	sum := 0
	for _, c := range counts {
		sum += c
	}
	return float64(sum) / float64(len(counts))
}
