package store

import (
	"cmp"
	"context"
	"slices"
	"unicode/utf8"

	"tendfold/server/app"
)

const (
	leastSlip  = 4    // letters of a word that may hold a slip: shorter ones are too alike
	longSlip   = 8    // letters from which two slips are forgiven
	mostAlike  = 3    // words that are tried in the place of one that is not there
	mostWords  = 5000 // words that are compared, of those with the same first letter
	closeWords = 2    // letters by which a word may be longer or shorter
)

// searchSlips looks again where nothing was found: a word that no thing has
// is taken for the nearest that one has. What it finds says so.
func (s *Store) searchSlips(ctx context.Context, sc app.Scope, terms []span, limit int) ([]app.Hit, error) {
	tries := [][]span{terms}
	for i, t := range terms {
		alike, err := s.alike(ctx, t)
		if err != nil {
			return nil, err
		}
		if len(alike) == 0 {
			continue
		}
		var next [][]span
		for _, try := range tries {
			for _, word := range alike {
				changed := slices.Clone(try)
				changed[i] = is(word)
				next = append(next, changed)
			}
		}
		tries = next[:min(len(next), mostAlike*mostAlike)]
	}
	hits := []app.Hit{}
	for _, try := range tries {
		found, err := s.searchThings(ctx, sc, try, limit)
		if err != nil {
			return nil, err
		}
		for _, h := range found {
			h.Why = "alike"
			if !slices.Contains(hits, h) {
				hits = append(hits, h)
			}
		}
	}
	return hits[:min(len(hits), limit)], nil
}

// alike are the words nearest to a term that begins no word; none when the
// term is a word's beginning, too short, or a number, where a slip would be
// another number.
func (s *Store) alike(ctx context.Context, t span) ([]string, error) {
	n := utf8.RuneCountInString(t.from)
	if n < leastSlip || digitsOf(t.from) != "" {
		return nil, nil
	}
	known, err := read[oneWord](ctx, s, "search", "SELECT word FROM search_words WHERE word >= ? AND word < ? LIMIT 1", t.from, t.to)
	if err != nil || len(known) > 0 {
		return nil, err
	}
	letters := []rune(t.from)
	first, second := begins(string(letters[0])), begins(string(letters[1]))
	words, err := read[oneWord](ctx, s, "search", "SELECT DISTINCT word FROM search_words WHERE (word >= ? AND word < ? OR word >= ? AND word < ?) AND field <> 'phone' ORDER BY word LIMIT ?",
		first.from, first.to, second.from, second.to, mostWords)
	if err != nil {
		return nil, err
	}
	type near struct {
		word string
		far  int
	}
	var found []near
	for _, w := range words {
		if far, ok := slip(t.from, w.Word); ok {
			found = append(found, near{w.Word, far})
		}
	}
	slices.SortStableFunc(found, func(a, b near) int { return cmp.Compare(a.far, b.far) })
	return each(found[:min(len(found), mostAlike)], func(n near) string { return n.word }), nil
}

type oneWord struct{ Word string }

// slip says by how many letters a word, or its beginning, differs from what
// was typed, and whether that may be a slip of the fingers.
func slip(typed, word string) (int, bool) {
	t, w := []rune(typed), []rune(word)
	allowed := 1
	if len(t) >= longSlip {
		allowed = 2
	}
	if len(w) < len(t)-closeWords {
		return 0, false
	}
	best := allowed + 1
	for end := max(1, len(t)-allowed); end <= min(len(w), len(t)+allowed); end++ {
		best = min(best, distance(t, w[:end]))
	}
	return best, best <= allowed
}

// distance is the optimal string alignment distance: how many letters to put
// in, take out, change, or swap with their neighbour.
func distance(a, b []rune) int {
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			rows[i][j] = min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(a)][len(b)]
}
