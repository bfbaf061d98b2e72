// Package cluster asks whether reports of one sign lie closer together in
// place and time than chance would put them: the space-time permutation scan
// statistic of Kulldorff, Heffernan, Hartman, Assunção and Mostashari (A
// Space-Time Permutation Scan Statistic for Disease Outbreak Detection, PLoS
// Medicine 2(3): e59, 2005). It needs no count of animals or farms: what a
// farm reports often, and what a rainy week brings everywhere, cancels out.
package cluster

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"tendfold/domain/calendar"
)

// Case is one report: where and on which day. Place is what tells farms apart;
// two cases of one farm lie at the same place.
type Case struct {
	Place    string
	Lat, Lng float64 // degrees
	On       calendar.Date
}

// Config bounds what is looked for. The defaults are our choice: a neighbour
// is within 25 km, an outbreak began within two weeks.
type Config struct {
	MaxKm   float64 // radius of the widest circle
	MaxDays int     // length of the longest time, which ends on the day asked about
	Runs    int     // permutations at most
	Seed    uint64
	// Enough ends the permutations early: after so many that look as striking
	// as what is there, it is plainly chance (Besag and Clifford, Sequential
	// Monte Carlo p-values, Biometrika 78, 1991). 0 = never.
	Enough int
}

// Defaults are the figures of the house.
func Defaults(seed uint64) Config {
	return Config{MaxKm: 25, MaxDays: 14, Runs: 999, Seed: seed, Enough: 30}
}

// Cluster is the most striking circle and time.
type Cluster struct {
	Places   []string      // farms with a case in it, sorted
	Centre   string        // farm in the middle
	Km       float64       // radius
	From     calendar.Date // first day
	Cases    int
	Expected float64 // by chance
	Score    float64 // logarithm of the likelihood ratio
	// P is how often chance alone makes something as striking anywhere: of
	// those told at P <= a, at most a are false alarms when there is nothing.
	P float64
}

// Least is the fewest cases and farms that make a cluster: one farm with many
// cases is that farm's ticket, and not news of a neighbourhood.
const (
	leastCases  = 3
	leastPlaces = 2
)

// Scan looks for the most striking cluster that lasts until a day. Cases after
// it are left out. ok is false when there is none worth a look.
func Scan(cases []Case, until calendar.Date, cfg Config) (best Cluster, ok bool) {
	s := newScan(cases, until, cfg)
	if s.total < leastCases || cfg.MaxDays < 1 {
		return Cluster{}, false
	}
	found := s.best(s.days)
	if found.score <= 0 {
		return Cluster{}, false
	}
	best = s.describe(found)
	best.P = s.chance(found.score, cfg)
	return best, true
}

// scan is the cases by number: place and day of each.
type scan struct {
	cfg    Config
	until  calendar.Date
	names  []string
	places []int           // of each case
	days   []calendar.Date // of each case
	total  int
	all    []int         // cases of each place
	near   [][]neighbour // of each place, itself first, by distance
}

type neighbour struct {
	place int
	km    float64
}

func newScan(cases []Case, until calendar.Date, cfg Config) *scan {
	s := &scan{cfg: cfg, until: until}
	at := map[string]int{}
	var where []Case
	cases = slices.Clone(cases)
	slices.SortStableFunc(cases, func(a, b Case) int { return cmp.Or(cmp.Compare(a.Place, b.Place), cmp.Compare(a.On, b.On)) })
	for _, c := range cases {
		if c.On > until || math.IsNaN(c.Lat+c.Lng) || math.Abs(c.Lat) > 90 || math.Abs(c.Lng) > 180 {
			continue
		}
		i, known := at[c.Place]
		if !known {
			i = len(where)
			at[c.Place] = i
			where, s.names, s.all = append(where, c), append(s.names, c.Place), append(s.all, 0)
		}
		s.places, s.days = append(s.places, i), append(s.days, c.On)
		s.all[i]++
	}
	s.total = len(s.places)
	for _, a := range where {
		var list []neighbour
		for j, b := range where {
			if km := Km(a.Lat, a.Lng, b.Lat, b.Lng); km <= cfg.MaxKm {
				list = append(list, neighbour{j, km})
			}
		}
		slices.SortStableFunc(list, func(x, y neighbour) int { return cmp.Compare(x.km, y.km) })
		s.near = append(s.near, list)
	}
	return s
}

// found is a circle of the nearest so many places about one, and a time.
type found struct {
	centre, reach, span int
	cases               int
	expected, score     float64
}

// best is the most striking cylinder when the cases have these days.
func (s *scan) best(days []calendar.Date) found {
	recent := make([]int, len(s.names)) // cases of each place within the span
	inSpan, top := 0, found{}
	for span := 1; span <= s.cfg.MaxDays; span++ {
		first := s.until.Add(1 - span)
		grew := false
		for i, on := range days {
			if on == first {
				recent[s.places[i]]++
				inSpan++
				grew = true
			}
		}
		if grew && inSpan < s.total { // all cases in the span are no cluster in it
			s.circles(recent, inSpan, span, &top)
		}
	}
	return top
}

// circles tries every circle for one span.
func (s *scan) circles(recent []int, inSpan, span int, top *found) {
	for centre, list := range s.near {
		cases, all, places := 0, 0, 0
		for k, n := range list {
			cases, all = cases+recent[n.place], all+s.all[n.place]
			if recent[n.place] > 0 {
				places++
			}
			if k+1 < len(list) && list[k+1].km == n.km {
				continue // a circle holds all that lie on its edge
			}
			if cases < leastCases || places < leastPlaces || all == s.total {
				continue
			}
			expected := float64(all) * float64(inSpan) / float64(s.total)
			if score := ratio(cases, expected, s.total); score > top.score {
				*top = found{centre, k, span, cases, expected, score}
			}
		}
	}
}

// ratio is the logarithm of the generalised likelihood ratio (equation of the
// paper's methods): c cases where e were expected, of all.
func ratio(c int, e float64, all int) float64 {
	n, total := float64(c), float64(all)
	if n <= e || e <= 0 {
		return 0
	}
	out := n * math.Log(n/e)
	if rest := total - n; rest > 0 {
		out += rest * math.Log(rest/(total-e))
	}
	return out
}

// chance is the share of permutations of the days in which something is as
// striking: the days are dealt anew to the cases, so that every farm keeps how
// often it reports and every day how much is reported.
func (s *scan) chance(score float64, cfg Config) float64 {
	deal := rand.New(rand.NewPCG(cfg.Seed, 0x7e6d))
	days := slices.Clone(s.days)
	as := 0
	for run := 1; run <= cfg.Runs; run++ {
		deal.Shuffle(len(days), func(i, j int) { days[i], days[j] = days[j], days[i] })
		if s.best(days).score >= score-1e-12 {
			as++
		}
		if cfg.Enough > 0 && as >= cfg.Enough {
			return float64(as) / float64(run)
		}
	}
	return float64(as+1) / float64(cfg.Runs+1)
}

func (s *scan) describe(f found) Cluster {
	c := Cluster{
		Centre: s.names[f.centre], Km: s.near[f.centre][f.reach].km, From: s.until.Add(1 - f.span),
		Cases: f.cases, Expected: f.expected, Score: f.score,
	}
	for i, p := range s.places {
		in := slices.ContainsFunc(s.near[f.centre][:f.reach+1], func(n neighbour) bool { return n.place == p })
		if in && s.days[i] >= c.From && !slices.Contains(c.Places, s.names[p]) {
			c.Places = append(c.Places, s.names[p])
		}
	}
	slices.Sort(c.Places)
	return c
}

// earthKm is the mean radius of the Earth (IUGG: 6,371.0088 km).
const earthKm = 6371.0088

// Km is the great-circle distance between two places, by the haversine
// formula.
func Km(lat1, lng1, lat2, lng2 float64) float64 {
	const rad = math.Pi / 180
	sin := func(d float64) float64 { s := math.Sin(d * rad / 2); return s * s }
	h := sin(lat2-lat1) + math.Cos(lat1*rad)*math.Cos(lat2*rad)*sin(lng2-lng1)
	return 2 * earthKm * math.Asin(math.Sqrt(min(1, h)))
}
