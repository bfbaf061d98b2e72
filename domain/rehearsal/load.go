package rehearsal

import "tendfold/domain/calendar"

// deskFarms is how many running farms one advisor has.
const deskFarms = 60

// load is how many tickets the sweep put before one advisor of sixty running
// farms, on each day: opened and reopened, all rules. On every day of the
// calendar the running farms of a seed are cut into desks of sixty; what is
// left over makes no desk. With fewer than sixty farms in all there is one
// desk, and its count is scaled to sixty.
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
	size := min(deskFarms, len(runs))
	var out []int
	for on := first; on <= last; on++ {
		out = append(out, desksOn(runs, raised, on, size)...)
	}
	return out
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
