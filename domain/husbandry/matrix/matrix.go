// Package matrix owns stage matrices: how a herd without density, seasons or
// chance would grow, as the bound of what a projection may say.
package matrix

import (
	"math"
	"math/cmplx"

	"tendfold/domain/husbandry"

	"gonum.org/v1/gonum/mat"
)

// What the inputs may be.
var (
	StageCount = husbandry.Range{Low: 1, High: 240, Measure: "stages"}
	Survival   = husbandry.Range{Low: 0, High: 1, Measure: "(share that lives on, a month)"}
	Births     = husbandry.Range{Low: 0, High: 100_000, Measure: "young an adult a month"}
	Herd       = husbandry.Range{Low: 0, High: 1e9, Measure: "animals"}
	Months     = husbandry.Range{Low: 0, High: 600, Measure: "months"}
)

// Stages is a herd of juvenile stages of a month each and of adults. Births
// enter stage 1, and each month Survival of a stage moves on; out of the last
// one come adults: A' = sj J_m + sa A.
type Stages struct {
	Juvenile         int     // stages, m
	JuvenileSurvival float64 // sj, a month
	AdultSurvival    float64 // sa, a month
	BirthsPerMonth   float64 // f, young that enter stage 1 for each adult
}

// Check refuses what cannot be.
func (s Stages) Check() error {
	return husbandry.Refuse(
		StageCount.Within("juvenile_stages", float64(s.Juvenile)), Survival.Within("juvenile_survival", s.JuvenileSurvival),
		Survival.Within("adult_survival", s.AdultSurvival), Births.Within("births_per_month", s.BirthsPerMonth))
}

// Growth is the factor by which the herd grows a month in the long run: the
// one root above sa of L^m (L - sa) = f sj^m, or sa where no young become
// adults. Bisection on logarithms: nothing overflows and it cannot cycle.
func (s Stages) Growth() (float64, error) {
	if err := s.Check(); err != nil {
		return 0, err
	}
	if s.BirthsPerMonth == 0 || s.JuvenileSurvival == 0 {
		return s.AdultSurvival, nil
	}
	m := float64(s.Juvenile)
	grown := math.Log(s.BirthsPerMonth) + m*math.Log(s.JuvenileSurvival)
	low, high := s.AdultSurvival, 1+s.AdultSurvival+s.BirthsPerMonth
	for range 200 {
		mid := low + (high-low)/2
		if mid <= low || mid >= high {
			break
		}
		if m*math.Log(mid)+math.Log(mid-s.AdultSurvival) < grown {
			low = mid
		} else {
			high = mid
		}
	}
	return low + (high-low)/2, nil
}

// Count is a herd at the start of a month; juveniles of all stages together.
type Count struct{ Juveniles, Adults float64 }

// Project counts the herd at the start, when all juveniles are in stage 1, and
// after each of so many months. It refuses months by which the sum would pass
// what a number can hold.
func (s Stages) Project(start Count, months int) ([]Count, error) {
	err := husbandry.Refuse(append(husbandry.Fields(s.Check()),
		Herd.Within("juveniles", start.Juveniles), Herd.Within("adults", start.Adults), Months.Within("months", float64(months)))...)
	if err != nil {
		return nil, err
	}
	young := make([]float64, s.Juvenile)
	young[0] = start.Juveniles
	out, adults := []Count{start}, start.Adults
	for month := range months {
		grown := s.JuvenileSurvival * young[s.Juvenile-1]
		for i := s.Juvenile - 1; i > 0; i-- {
			young[i] = s.JuvenileSurvival * young[i-1]
		}
		young[0] = s.BirthsPerMonth * adults
		adults = grown + s.AdultSurvival*adults
		next := Count{Adults: adults}
		for _, n := range young {
			next.Juveniles += n
		}
		if math.IsInf(next.Juveniles+next.Adults, 0) {
			return nil, husbandry.Refuse(husbandry.Wrong("months", "is %d, and by month %d the sum passes every number; ask for fewer months", months, month+1))
		}
		out = append(out, next)
	}
	return out, nil
}

// Rows is the herd as a matrix, for a reader who wants to check Growth.
func (s Stages) Rows() [][]float64 {
	n := s.Juvenile + 1
	rows := make([][]float64, n)
	for i := range rows {
		rows[i] = make([]float64, n)
	}
	for i := 1; i < n; i++ {
		rows[i][i-1] = s.JuvenileSurvival
	}
	rows[n-1][n-1] = s.AdultSurvival
	rows[0][n-1] += s.BirthsPerMonth
	return rows
}

// Dominant is the growth factor of any square matrix of numbers that are not
// negative: its spectral radius, which is one of its eigenvalues (Perron and
// Frobenius), also where several have the same modulus and stepping the matrix
// would cycle for ever.
func Dominant(rows [][]float64) (float64, error) {
	n := len(rows)
	if f := StageCount.Within("stages", float64(n)); f != nil {
		return 0, husbandry.Refuse(f)
	}
	m := mat.NewDense(n, n, nil)
	for i, row := range rows {
		if len(row) != n {
			return 0, husbandry.Refuse(husbandry.Wrong("rows", "has %d numbers in row %d; a matrix of %d stages needs %d", len(row), i+1, n, n))
		}
		if f := Births.Each("rows", row); f != nil {
			return 0, husbandry.Refuse(f)
		}
		m.SetRow(i, row)
	}
	var e mat.Eigen
	if !e.Factorize(m, mat.EigenNone) {
		return 0, husbandry.Refuse(husbandry.Wrong("rows", "has no eigenvalue that can be found"))
	}
	var most float64
	for _, v := range e.Values(nil) {
		most = max(most, cmplx.Abs(v))
	}
	return most, nil
}
