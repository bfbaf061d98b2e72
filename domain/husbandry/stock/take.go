package stock

import "math"

// sell takes what is above the market weight, from the youngest cohort to the
// oldest so that the oldest stay as parents, and never so many adults that
// fewer than parents are left.
func (r *run) sell(market, parents float64) {
	r.settle()
	spare := math.Inf(1)
	if parents > 0 {
		var adults float64
		for i := range r.live {
			adults += r.n[i] * r.ripe(r.age[i])
		}
		spare = max(adults-parents, 0)
	}
	for i := r.live - 1; i >= 0; i-- {
		n := r.saleable(i, market)
		if ripe := r.ripe(r.age[i]); ripe > 0 {
			n = min(n, spare/ripe)
			if r.noise {
				n = math.Floor(n)
			}
			spare -= n * ripe
		}
		r.take(i, n, true)
	}
	r.tidy()
}

// saleable is how many of a cohort weigh more than the market weight.
func (r *run) saleable(i int, market float64) float64 {
	mean := r.weightAt(r.age[i]) * r.scale[i]
	if mean < market*r.spread.far {
		return 0
	}
	over := r.spread.over(mean / market)
	if over <= r.gone[i] {
		return 0
	}
	n := r.n[i] * (over - r.gone[i]) / (1 - r.gone[i])
	if r.noise {
		n = math.Floor(n + 0.5)
	}
	return n
}

// take removes the n heaviest of a cohort; sold says whether they are sold.
func (r *run) take(i int, n float64, sold bool) {
	if n <= 0 || r.n[i] <= 0 {
		return
	}
	n = min(n, r.n[i])
	before := r.n[i] * r.grams[i]
	r.gone[i] += (1 - r.gone[i]) * n / r.n[i]
	r.n[i] -= n
	r.base[i] = r.n[i]
	r.grams[i] = r.weightAt(r.age[i]) * r.scale[i] * r.spread.left(min(r.gone[i], 1))
	if sold {
		r.flow.sold += n
		r.flow.soldKg += max(before-r.n[i]*r.grams[i], 0) / 1000
	} else {
		r.flow.moved += n
	}
}

// leave removes n animals at random from those past the first month, and none
// of the parents: stolen, or moved to another house.
func (r *run) leave(n, parents float64, moved bool) {
	r.settle()
	var all float64
	for i := range r.live {
		if r.age[i] >= r.infant {
			all += r.n[i]
		}
	}
	all -= parents
	if all <= 0 || n <= 0 {
		return
	}
	share := min(n/all, 1)
	for i := r.live - 1; i >= 0; i-- {
		if r.age[i] < r.infant {
			continue
		}
		free := r.n[i]
		if ripe := r.ripe(r.age[i]); ripe > 0 && parents > 0 {
			kept := min(r.n[i]*ripe, parents)
			parents -= kept
			free -= kept
		}
		out := free * share
		if r.noise {
			out = min(r.chance.whole(out), r.n[i])
		}
		r.n[i] -= out
		r.base[i] = r.n[i]
		if moved {
			r.flow.moved += out
		} else {
			r.flow.unseen += out
		}
	}
	r.tidy()
}

// sold takes n animals that are known to have been sold, from the heaviest
// down: first what is above the market weight, then from the oldest.
func (r *run) soldKnown(n, market float64) {
	r.settle()
	before := r.flow.sold
	for i := r.live - 1; i >= 0 && n > 0; i-- {
		r.take(i, min(r.saleable(i, market), n), true)
		n -= r.flow.sold - before
		before = r.flow.sold
	}
	for i := 0; i < r.live && n > 0; i++ {
		r.take(i, min(r.n[i], n), true)
		n -= r.flow.sold - before
		before = r.flow.sold
	}
	r.tidy()
}

// thin moves animals out until the floor is filled to a part of what it
// carries.
func (r *run) thin(to, parents float64) {
	if r.x <= 1 {
		return
	}
	var n float64
	for i := range r.live {
		if r.age[i] >= r.infant {
			n += r.n[i]
		}
	}
	r.leave((n-parents)*(1-to/r.x), parents, true)
}

// tidy drops empty cohorts and weighs what is left.
func (r *run) tidy() {
	k := 0
	for i := range r.live {
		if r.n[i] < fewest {
			r.open = r.open && i != r.live-1
			continue
		}
		if k != i {
			r.move(k, i)
		}
		k++
	}
	r.live = k
	r.weigh()
}
