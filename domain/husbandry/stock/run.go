package stock

import "math"

const (
	// cohorts is the most that one unit is followed in; when there are more,
	// the two most alike are joined.
	cohorts = 24
	// nest is how many steps ahead eggs lie waiting to hatch.
	nest = 16
	// gather is over how many steps hatchlings count as one cohort.
	gather = 4
)

// homeBred marks a cohort that hatched in the unit.
const homeBred = -1

// run is one possible life of a unit. Its cohorts stand in the order in which
// they came; nothing in a step allocates.
type run struct {
	rates
	spread *spread
	chance chance
	noise  bool // draw whole animals; off, every number is an expectation
	crowds bool // crowding slows and kills
	roams  bool // the pace of growth wanders from month to month
	gather int

	live  int
	open  bool // the last cohort still takes hatchlings
	n     [cohorts]float64
	age   [cohorts]float64 // growth age in steps
	grams [cohorts]float64 // mean weight of the animals that are there
	scale [cohorts]float64 // weight against the curve
	gone  [cohorts]float64 // heaviest share of the cohort, already taken out
	from  [cohorts]int     // number of the batch, or homeBred
	// Between two draws n follows what is expected. A draw starts from the
	// whole animals of the draw before and the hazard run up since.
	base  [cohorts]float64
	owed  [cohorts]float64
	since int // steps since the last draw

	// What a step takes by stage stays the same while nothing about it changes.
	stages           [3]toll
	took, tookUnseen float64

	eggs   [nest]float64 // waiting, by step in which they hatch
	floor  float64       // m2
	kg     float64
	x      float64 // biomass against what the floor carries
	adults float64 // at the beginning of the last step
	wander float64 // ln(pace of growth) against the run's own, this month
	pace   float64
	bout   float64 // deaths of this month against the run's own rate
	raid   float64 // losses without bodies, likewise
	flow   flows
}

// flows add up from one report to the next.
type flows struct {
	bodies, unseen            float64 // animals lost, with and without a body
	meant, laid, hatched      float64 // expected deaths with a body; eggs and hatchlings expected
	sold, soldKg, moved       float64
	dryKg, freshKg, calciumKg float64
}

// begin empties the unit.
func (r *run) begin(floor float64) {
	r.live, r.open, r.since = 0, false, 0
	r.took, r.tookUnseen = -1, -1
	r.eggs = [nest]float64{}
	r.floor, r.kg, r.x, r.adults = floor, 0, 0, 0
	r.wander, r.pace, r.bout, r.raid = 0, 1, 1, 1
	r.flow = flows{}
}

// stock puts a batch in.
func (r *run) stock(number int, count, grams float64) {
	if count <= 0 {
		return
	}
	i := r.room()
	r.put(i, count)
	r.from[i] = number
	r.age[i], r.scale[i] = r.ageOf(grams)
	r.grams[i] = grams
	r.open = false
	r.weigh()
}

// put begins a cohort of so many.
func (r *run) put(i int, count float64) {
	r.n[i], r.base[i], r.owed[i], r.gone[i] = count, count, 0, 0
}

// room gives a free place at the end, joining two cohorts when there is none.
func (r *run) room() int {
	if r.live == cohorts {
		r.join(r.alike())
	}
	r.live++
	return r.live - 1
}

// alike is the place of the first of two neighbours that differ least. All
// that lay are much alike; among the younger it is the growth age, against how
// old they are.
func (r *run) alike() int {
	best, least := 0, math.Inf(1)
	full := r.lays + 1/r.ramp
	for i := 0; i+1 < r.live; i++ {
		a, b := r.age[i], r.age[i+1]
		d := math.Abs(min(a, full)-min(b, full))/(a+b+1) + 1e-6*math.Abs(a-b)
		if r.from[i] != r.from[i+1] {
			d += 2 // a batch that was bought is told apart while there is room
		}
		if d < least {
			best, least = i, d
		}
	}
	return best
}

// few is how many cohorts are followed apart whatever they are like.
const few = 10

// near says whether cohorts i and i+1 are hardly told apart any more: both
// lay, and their weights differ by less than a tenth.
func (r *run) near(i int) bool {
	return i+1 < r.live && r.from[i] == r.from[i+1] && r.ripe(r.age[i]) == 1 && r.ripe(r.age[i+1]) == 1 &&
		math.Abs(r.grams[i]-r.grams[i+1]) < 0.1*r.grams[i]
}

// join puts cohort i+1 into i.
func (r *run) join(i int) {
	r.draw(i)
	r.draw(i + 1)
	a, b := r.n[i], r.n[i+1]
	mean := func(x, y float64) float64 {
		if a+b == 0 { // both have just been drawn empty
			return x
		}
		return (a*x + b*y) / (a + b)
	}
	r.age[i] = mean(r.age[i], r.age[i+1])
	r.grams[i] = mean(r.grams[i], r.grams[i+1])
	r.scale[i] = mean(r.scale[i], r.scale[i+1])
	r.gone[i] = mean(r.gone[i], r.gone[i+1])
	if r.from[i] != r.from[i+1] {
		r.from[i] = homeBred
	}
	r.n[i], r.base[i], r.owed[i] = a+b, a+b, 0
	for j := i + 1; j+1 < r.live; j++ {
		r.move(j, j+1)
	}
	r.live--
}

func (r *run) move(to, from int) {
	r.n[to], r.age[to], r.grams[to] = r.n[from], r.age[from], r.grams[from]
	r.scale[to], r.gone[to], r.from[to] = r.scale[from], r.gone[from], r.from[from]
	r.base[to], r.owed[to] = r.base[from], r.owed[from]
}

// weigh adds the biomass up anew.
func (r *run) weigh() {
	var g float64
	for i := range r.live {
		g += r.n[i] * r.grams[i]
	}
	r.kg = g / 1000
	r.x = r.kg / (r.capacity * r.floor)
}

// Feed, rain and heat do not stay as they are: from one month to the next the
// pace of growth keeps a part of what set it apart and gains something new.
// Constructed: without it the runs of a farm that is often weighed agree more
// than its animals do.
const (
	keeps   = 0.7
	wanders = 0.12
)

// Deaths come in bouts and thieves and rats in raids: a month's rate is the
// run's own times a number of mean 1. Constructed.
const (
	boutVar  = 1 / bodySize // log-normal
	raidVar  = 2.0          // the square of a standard normal: most months little, some much
	boutLogs = 0.22314355131420976
)

// weather draws what sets a month apart.
func (r *run) weather() {
	r.wander = keeps*r.wander + wanders*r.chance.normal()
	r.pace = math.Exp(r.wander)
	r.bout = math.Exp(math.Sqrt(boutLogs)*r.chance.normal() - boutLogs/2) // boutLogs = ln(1 + boutVar)
	z := r.chance.normal()
	r.raid = z * z
}

// fewest is below which a cohort of expectations is over.
const fewest = 1e-9

// step lets one step of time pass: animals die and grow, adults lay, eggs
// hatch. Season is the rate of laying in this step.
func (r *run) step(t int, season float64) {
	slow, more := 1.0, 1.0
	if r.crowds && r.x > 1 {
		l := math.Log(r.x)
		slow, more = math.Exp(-r.theta*l), math.Exp(r.phi*l)
	}
	if r.roams && t%gather == 0 {
		r.weather()
	}
	r.eat()
	r.grow(slow, more*r.bout)
	r.lay(t, season*slow)
	r.emerge(t, slow)
	r.x = r.kg / (r.capacity * r.floor)
}

func (r *run) eat() {
	dry := r.kg * r.dry
	r.flow.dryKg += dry
	r.flow.freshKg += r.kg * r.fresh
	r.flow.calciumKg += dry * r.calcium
}

// tiny keeps a stage without losses from dividing by nothing; a hazard of
// certain leaves one in ten million million alive.
const (
	tiny    = 1e-12
	certain = 30
)

// toll is what a step takes of the animals of one stage.
type toll struct{ die, all, lost, body float64 }

func tollOf(die, unseen float64) toll {
	die = min(die, certain)
	all := die + unseen + tiny
	return toll{die, all, gone(all), die / all}
}

// grow is one step of dying and growing.
func (r *run) grow(slow, more float64) {
	unseen := r.rates.unseen * r.raid
	if more != r.took || unseen != r.tookUnseen {
		for i, h := range r.hazard {
			r.stages[i] = tollOf(h*more, unseen)
		}
		r.took, r.tookUnseen = more, unseen
	}
	stages := &r.stages
	var adults, kg float64
	k := 0
	for i := range r.live {
		n, age := r.n[i], r.age[i]
		stage := &stages[juvenile]
		var mixed toll
		if age < r.infant {
			stage = &stages[hatchling]
		} else if age > r.lays {
			ripe := (age - r.lays) * r.ramp
			if ripe < 1 {
				mixed = tollOf(stage.die+ripe*(stages[adult].die-stage.die), unseen)
				stage = &mixed
			} else {
				ripe, stage = 1, &stages[adult]
			}
			adults += n * ripe
		}
		lost := n * stage.lost
		r.flow.meant += n * stage.die
		r.flow.bodies += lost * stage.body
		r.flow.unseen += lost * (1 - stage.body)
		n -= lost
		if n < fewest {
			r.open = r.open && i != r.live-1
			continue
		}
		if k != i {
			r.move(k, i)
		}
		age += slow * r.pace
		g := r.weightAt(age) * r.scale[k]
		if r.gone[k] > 0 {
			g *= r.spread.left(r.gone[k])
		}
		kg += n * g
		r.n[k], r.age[k], r.grams[k] = n, age, g
		r.owed[k] += stage.all
		k++
	}
	r.live, r.adults, r.kg = k, adults, kg/1000
	if r.since++; r.since >= drawAfter {
		r.settle()
	}
}

// drawAfter is how many steps may pass without a draw; a monthly sale comes
// before it and draws too.
const drawAfter = 5

// settle draws, for every cohort, how many whole animals were really lost
// since the last draw.
func (r *run) settle() {
	r.since = 0
	if !r.noise {
		return
	}
	for i := range r.live {
		r.draw(i)
	}
	r.tidy()
}

// draw settles one cohort; the difference to what was expected goes to the
// losses of this step.
func (r *run) draw(i int) {
	if !r.noise || r.owed[i] == 0 {
		return
	}
	now := r.base[i] - r.chance.lost(r.base[i], r.owed[i])
	more := r.n[i] - now
	die := r.hazard[juvenile]
	if r.age[i] < r.infant {
		die = r.hazard[hatchling]
	} else if r.age[i] > r.lays {
		die = r.hazard[adult]
	}
	body := die / (die + r.rates.unseen + tiny)
	r.flow.bodies += more * body
	r.flow.unseen += more * (1 - body)
	r.n[i], r.base[i], r.owed[i] = now, now, 0
}

// lay puts this step's eggs into the nest: clutches by chance, all of a size.
func (r *run) lay(t int, rate float64) {
	eggs := r.adults * r.rates.eggs * rate
	r.flow.laid += eggs
	if r.noise && eggs > 0 {
		eggs = r.chance.whole(r.chance.events(eggs/r.clutch) * r.clutch)
	}
	late := eggs * r.later
	if r.noise {
		late = math.Round(late)
	}
	r.eggs[(t+r.wait)%nest] += eggs - late
	r.eggs[(t+r.wait+1)%nest] += late
}

// emerge lets the eggs of this step hatch.
func (r *run) emerge(t int, slow float64) {
	if t%r.gather == 0 {
		r.open = false
	}
	eggs := r.eggs[t%nest]
	if eggs == 0 {
		return
	}
	r.eggs[t%nest] = 0
	share := r.rates.hatch * slow
	r.flow.hatched += eggs * share
	born := eggs * share
	if r.noise {
		born = r.chance.chosen(eggs, share)
	}
	if born > 0 {
		r.bear(born)
	}
}

func (r *run) bear(born float64) {
	g := r.weight[0]
	r.kg += born * g / 1000
	if !r.open {
		if i := r.alike(); r.live > few && r.near(i) {
			r.join(i)
		}
		i := r.room()
		r.put(i, born)
		r.age[i], r.grams[i], r.scale[i], r.from[i] = 0, g, 1, homeBred
		r.open = true
		return
	}
	i := r.live - 1
	n := r.n[i] + born
	r.age[i] *= r.n[i] / n
	r.grams[i] = r.weightAt(r.age[i])
	r.n[i] = n
	r.base[i] += born
}

// eggsWaiting is the eggs in the nest.
func (r *run) eggsWaiting() float64 {
	var sum float64
	for _, e := range r.eggs {
		sum += e
	}
	return sum
}
