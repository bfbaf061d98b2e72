package programme

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"

	"tendfold/domain/calendar"
)

// Holding is one cycle in a portfolio: an amount (of harvests, animals,
// kilos) that falls due on its first harvest.
type Holding struct {
	FarmID   string
	BranchID string
	Amount   float64
	Harvest  []float64 // from HarvestDraws on the same day with the same draws
}

// Band is 1 in 10 below, even odds, 9 in 10 below.
type Band struct {
	Low    float64 `json:"low"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high"`
}

// HarvestDraws are the draws of the first harvest in days since 1970-01-01,
// none before the day: what a portfolio adds up.
func (n *Network) HarvestDraws(k Known, on calendar.Date, d *Draws) []float64 {
	s := d.borrow()
	defer d.giveBack(s)
	r := n.look(k, on, nil).run(d, s)
	out := make([]float64, d.n)
	for i := range out {
		out[i] = r.done[n.harvest].at(i)
		if r.sight.states[n.harvest] != Done {
			out[i] = max(out[i], float64(on))
		}
	}
	return out
}

// Due is how much falls due up to and with each day asked for, as known on a
// day. All farms share their draws, which is right for comparing them and
// wrong for adding them: sixty would move as one. So each farm's draws are
// put into an order of its own by its id, and what farms do share is said
// outright: the days still to go of all farms of a branch that harvest in
// the same month are stretched by one factor, exp(spread z) with z normal. A
// spread of 0 makes farms independent; with 0.1 a season that is one in six
// bad costs one day in ten.
func (d *Draws) Due(holdings []Holding, on calendar.Date, spread float64, days []calendar.Date) []Band {
	sums := make([][]float64, len(days))
	for i := range sums {
		sums[i] = make([]float64, d.n)
	}
	for _, h := range holdings {
		order := d.ownOrder(h.FarmID)
		factor := d.factor(h, spread)
		for k := range d.n {
			due := h.Harvest[order[k]]
			if ahead := due - float64(on); ahead > 0 {
				due = float64(on) + ahead*factor[k]
			}
			for i, day := range days {
				if math.Floor(due+0.5) <= float64(day) {
					sums[i][k] += h.Amount
				}
			}
		}
	}
	return d.bands(sums)
}

// ownOrder is not kept: a portfolio is asked for now and then, farms come
// and go.
func (d *Draws) ownOrder(farmID string) []int {
	h := fnv.New64a()
	h.Write([]byte("farm/" + farmID)) // never fails, by its contract
	return rand.New(rand.NewPCG(d.seed, h.Sum64())).Perm(d.n)
}

// factor is what a farm shares with its branch in the month of its likely
// harvest.
func (d *Draws) factor(h Holding, spread float64) []float64 {
	sorted := slices.Clone(h.Harvest)
	month := monthOf(quantileOf(sorted, 0, len(sorted), 0.5))
	name := h.BranchID + firstDay(month).String()
	out := make([]float64, d.n)
	for k, rank := range d.order(name) {
		out[k] = math.Exp(spread * math.Sqrt2 * math.Erfinv(2*d.level(rank)-1))
	}
	return out
}

func firstDay(month int) calendar.Date { return calendar.Date(firstOf(month)) }

func (d *Draws) bands(sums [][]float64) []Band {
	s := d.borrow()
	defer d.giveBack(s)
	out := make([]Band, len(sums))
	for i, sum := range sums {
		q := s.tenFiftyNinety(column{each: sum})
		out[i] = Band{q[0], q[1], q[2]}
	}
	return out
}
