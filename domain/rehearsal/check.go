package rehearsal

import (
	"fmt"
	"slices"

	"tendfold/domain"
	"tendfold/domain/rehearsal/truth"
)

// How much may be asked for. All farms stay in memory until they are scored;
// with their evidence they weigh some fifty times more.
const (
	mostFarms  = 50_000 // of all seeds together
	mostDumped = 10_000 // when the evidence is kept
	mostDays   = 1500
	mostSeeds  = 100
)

// Check refuses what cannot be rehearsed: an invalid error with one field for
// each setting that is wrong. Plans are looked at by Run.
func (c Config) Check() error {
	var fields []domain.Field
	no := func(wrong bool, path, text string) {
		if wrong {
			fields = append(fields, domain.Field{Path: path, Code: "range", Text: text})
		}
	}
	no(c.Farms < 1 || c.Farms > mostFarms, "farms", fmt.Sprintf("Give 1 to %d farms.", mostFarms))
	no(c.Days < 1 || c.Days > mostDays, "days", fmt.Sprintf("Give 1 to %d days.", mostDays))
	no(len(c.Seeds) == 0 || len(c.Seeds) > mostSeeds, "seed", fmt.Sprintf("Give 1 to %d seeds.", mostSeeds))
	no(twice(c.Seeds), "seed", "Give each seed once: the same farms again prove nothing more.")
	no(!slices.Contains(truth.Worlds(), c.World), "world", fmt.Sprintf("The worlds are %v.", truth.Worlds()))
	for _, k := range c.Faults {
		no(!k.Known(), "faults", fmt.Sprintf("There is no fault %q; there are %v.", k, truth.Kinds()))
	}
	no(twice(c.Faults), "faults", "Name each fault once.")
	if fields == nil {
		all := c.Farms * len(c.Seeds)
		no(all > mostFarms, "farms", fmt.Sprintf("Give fewer farms or seeds: %d farms in all are more than %d.", all, mostFarms))
		no(c.Dump && all > mostDumped, "dump", fmt.Sprintf("Give fewer farms or seeds: tables are written for at most %d farms in all.", mostDumped))
	}
	if fields != nil {
		return domain.Invalid("rehearsal", "This cannot be rehearsed.", fields...)
	}
	return nil
}

func twice[T comparable](list []T) bool {
	seen := map[T]bool{}
	for _, x := range list {
		if seen[x] {
			return true
		}
		seen[x] = true
	}
	return false
}
