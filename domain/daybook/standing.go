package daybook

// Word is one entry about a day: its id, and that of the entry it corrects.
// Ids sort by the time of their making.
type Word struct {
	ID       string
	Replaces string
}

// Standing says which words hold: of those that correct one another, directly
// or along a chain, the one that was made last. It gives their places in ws,
// ascending; the order in which words arrived does not matter.
func Standing(ws []Word) []int {
	before := make(map[string]string, len(ws))
	for _, w := range ws {
		before[w.ID] = w.Replaces
	}
	last := make(map[string]int, len(ws)) // by the root of the chain
	for i, w := range ws {
		root := rootOf(before, w.ID)
		if at, ok := last[root]; !ok || ws[at].ID < w.ID {
			last[root] = i
		}
	}
	var out []int
	for i, w := range ws {
		if last[rootOf(before, w.ID)] == i {
			out = append(out, i)
		}
	}
	return out
}

// rootOf follows a chain to its first word, which may be one that has not
// arrived. A ring, which no honest phone makes, ends at its smallest id.
func rootOf(before map[string]string, id string) string {
	least := id
	for range before {
		to := before[id]
		if to == "" {
			return id
		}
		id, least = to, min(least, to)
	}
	if before[id] == "" {
		return id
	}
	return least
}
