package truth

// keeper is the caretaker as a source of evidence: how often they write, how
// late, how wrong, and how their phone reaches the server. Every figure here
// is a guess.
type keeper struct {
	luck      Stream
	every     int     // days between daybook entries when all goes well
	diligence float64 // chance that a due entry is written
	late      float64 // chance that it is written on a later day
	link      float64 // chance that the phone meets the server on a day
	clock     int     // days by which the phone's clock is off
	covers    bool    // reads the plant cover every week
	weighs    bool    // weighs a sample every month
	coverBias float64 // per cent of the ground that this eye sees too much
	scaleBias float64 // by which this scale is off, as a share
	gaps      []span  // phone broken, away, ill: nothing written, nothing sent
}

// How readings err: one look at the ground, one weighing, the eye and the
// scale that stay the same, and slips of the finger.
const (
	coverErr      = 7.0
	coverErrStaff = 4.0
	coverEye      = 3.0
	weighErr      = .03
	weighScale    = .025
	slip          = .01 // of readings
	slipDate      = .02 // of dates
)

// How steps are told.
const (
	forgets      = .07 // never told by the caretaker; the next visit finds it
	forgetsStaff = .03
	tellsLate    = .15
)

func newKeeper(s Stream) keeper {
	k := keeper{luck: s}
	k.every = []int{1, 3, 7}[choose(s.U(0), []float64{.5, .25, .25})]
	k.diligence = s.Between(1, .75, .97)
	if s.U(2) < .2 {
		k.late = .4
	}
	k.link = []float64{.9, .35, .12}[choose(s.U(3), []float64{.6, .28, .12})]
	k.clock = wrongClock(s.Sub("clock"))
	k.covers, k.weighs = s.U(4) < .85, s.U(5) < .85
	k.coverBias, k.scaleBias = coverEye*s.N(6), weighScale*s.N(7)
	k.gaps = gaps(s.Sub("gaps"))
	return k
}

// wrongClock is the days by which a phone's clock is off: seldom, and then
// mostly by a day or two.
func wrongClock(s Stream) int {
	if s.U(0) >= .04 {
		return 0
	}
	days := 1 + int(s.Exp(1, 1.5))
	if s.U(2) < .2 {
		days = 20 + int(s.U(3)*20)
	}
	if s.U(4) < .5 {
		days = -days
	}
	return days
}

// gaps are the stretches in which an honest farm is not heard: about one in
// two years, a week or so.
func gaps(s Stream) []span {
	var out []span
	day := 0
	for i := 0; day < horizon; i += 2 {
		day += 1 + int(s.Exp(i, 700))
		n := max(2, min(25, round(s.LogNormal(i+1, 8, .5))))
		out = append(out, span{day, day + n})
		day += n
	}
	return out
}

func (k *keeper) away(day int) bool {
	for _, g := range k.gaps {
		if g.has(day) {
			return true
		}
	}
	return false
}

// sends is the first day on or after made on which the phone meets the
// server.
func (k *keeper) sends(made int) int {
	luck := k.luck.Sub("link")
	for day := made; day < made+60; day++ {
		if luck.U(day) < k.link && !k.away(day) {
			return day
		}
	}
	return made + 60
}

// tells is after how many days the caretaker (or staff) notes a finished
// step, and false when it is forgotten.
func tells(s Stream, staff bool) (days int, told bool) {
	forget := forgets
	if staff {
		forget = forgetsStaff
	}
	switch u := s.U(0); {
	case u < forget:
		return 0, false
	case u < forget+tellsLate && !staff:
		return round(s.LogNormal(1, 7, .6)), true
	default:
		return int(s.U(1) * 3), true
	}
}

// slips is by how many days a typed date is wrong: mostly not at all, else a
// neighbouring day's digit or the wrong month.
func slips(s Stream) int {
	if s.U(0) >= slipDate {
		return 0
	}
	days := []int{1, 7, 10, 30}[choose(s.U(1), []float64{.3, .3, .2, .2})]
	if s.U(2) < .5 {
		return -days
	}
	return days
}

// staffStep says whether the firm's own people record the step.
func staffStep(name string) bool { return name == Trained || name == Tested || name == Built }
