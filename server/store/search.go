package store

import (
	"context"
	"slices"
	"strings"
	"unicode/utf8"

	"tendfold/domain/ticket"
	"tendfold/server/app"
	"tendfold/server/app/register"

	"gorm.io/gorm"
)

// searchWords is how many words of a query count.
const searchWords = 6

// span is the words from one text up to, and without, another.
type span struct{ from, to string }

// begins are the words that begin with a text.
func begins(text string) span { return span{text, text + string(utf8.MaxRune)} }

// is is one word alone.
func is(word string) span { return span{word, word + " "} }

// searchTerms are the words that a query looks for. A phone number is one
// word, however it is spaced; what people dial before it (00, or a 0 within
// the country) is not part of it. One or two digits are a name's, as in
// "pond 2": as the start of a number they would say nothing.
func searchTerms(q string) []span {
	if d := digitsOf(q); !letters(q) && len(d) >= leastTail {
		if t := strings.TrimLeft(d, "0"); len(d) > 6 && len(t) > leastTail {
			d = t
		}
		return []span{begins(d[:min(len(d), mostDigits)])}
	}
	words := strings.Fields(register.Fold(q))
	slices.SortStableFunc(words, func(a, b string) int { return len(b) - len(a) }) // the longest is the rarest, and leads
	return each(words[:min(len(words), searchWords)], func(w string) span {
		if len(w) < leastTail && digitsOf(w) == w {
			return is(w)
		}
		return begins(w)
	})
}

// searchMost bounds an answer: nobody reads more, another word helps better.
const searchMost = 50

// Search finds farms, people, clients and tickets of a scope by the starts
// of words in any order (of a farm, its town, landmark, client and people
// together), by any part of a phone number, and by a ticket's number.
func (s *Store) Search(ctx context.Context, sc app.Scope, text string, limit int) ([]app.Hit, error) {
	if limit <= 0 || limit > searchMost {
		limit = searchMost
	}
	hits, err := s.searchTickets(ctx, sc, text, limit)
	if err != nil {
		return nil, err
	}
	terms := searchTerms(text)
	if len(terms) == 0 {
		return hits, nil
	}
	rows, err := s.searchRows(ctx, sc, terms, limit*3)
	if err != nil {
		return nil, err
	}
	seen := map[[3]string]bool{} // a thing may match by several words
	for _, r := range rows {
		if k := [3]string{r.Doc, r.Kind, r.ThingID}; !seen[k] && len(hits) < limit {
			seen[k] = true
			hits = append(hits, r.hit())
		}
	}
	return hits, nil
}

func (s *Store) searchTickets(ctx context.Context, sc app.Scope, text string, limit int) ([]app.Hit, error) {
	cond, args := s.farmsOf(sc)
	q := s.reader(ctx).Table("tickets t").Select("t.id, t.seq, t.year, t.farm_id, f.name AS farm").
		Joins("JOIN farms f ON f.id = t.farm_id").Where(cond, args...)
	if seq, year, err := ticket.ParseNumber(text); err == nil {
		q = q.Where("t.seq = ? AND t.year = ?", seq, year)
	} else if seq, ok := plainNumber(text); ok {
		q = q.Where("t.seq = ?", seq)
	} else {
		return []app.Hit{}, nil
	}
	type row struct {
		ID     string
		Seq    int
		Year   int
		FarmID string
		Farm   string
	}
	return many(q.Order("t.year DESC").Limit(limit), "ticket", func(r row) app.Hit {
		return app.Hit{Kind: "ticket", ID: r.ID, FarmID: r.FarmID, Label: ticket.Number(r.Seq, r.Year), Farm: r.Farm, Why: "number"}
	})
}

// plainNumber is a ticket's number without its year: up to five digits.
func plainNumber(text string) (int, bool) {
	n := 0
	text = strings.TrimSpace(text)
	for _, r := range text {
		if r < '0' || r > '9' {
			return 0, false
		}
		n = n*10 + int(r-'0')
	}
	return n, n > 0 && len(text) <= 5
}

// hitRow is a word that matched, with the names of what it belongs to.
type hitRow struct {
	Doc     string
	Kind    string
	ThingID string
	Field   string
	FarmID  string
	Farm    string
	Person  string
	Client  string
}

func (r hitRow) hit() app.Hit {
	h := app.Hit{Kind: r.Kind, ID: r.ThingID, FarmID: r.FarmID, Farm: r.Farm, Why: r.Field}
	h.Label = map[string]string{"farm": r.Farm, "person": r.Person, "client": r.Client}[r.Kind]
	return h
}

// searchRows reads at most limit matches of the first term in docs that have
// all the others: shortest word first, which is the closest to what was
// typed.
func (s *Store) searchRows(ctx context.Context, sc app.Scope, terms []span, limit int) ([]hitRow, error) {
	inner := s.reader(ctx).Table("search_words sw").Select("sw.word, sw.doc, sw.kind, sw.thing_id, sw.field").
		Where("sw.word >= ? AND sw.word < ?", terms[0].from, terms[0].to)
	for _, t := range terms[1:] {
		inner = inner.Where("EXISTS (SELECT 1 FROM search_words o WHERE o.doc = sw.doc AND o.word >= ? AND o.word < ?)", t.from, t.to)
	}
	inner = s.searchScope(inner, sc).Order("sw.word, sw.doc, sw.kind, sw.thing_id, sw.field").Limit(limit)
	var rows []hitRow
	err := s.reader(ctx).Table("(?) AS h", inner).
		Select("h.doc, h.kind, h.thing_id, h.field, COALESCE(f.id, '') AS farm_id, COALESCE(f.name, '') AS farm, COALESCE(p.name, '') AS person, COALESCE(c.name, '') AS client").
		Joins("LEFT JOIN farms f ON f.id = h.doc").
		Joins("LEFT JOIN people p ON p.id = h.thing_id AND h.kind = 'person'").
		Joins("LEFT JOIN clients c ON c.id = h.thing_id AND h.kind = 'client'").
		Order("h.word, h.doc, h.kind, h.thing_id, h.field").Find(&rows).Error
	return rows, mapError(err, "search")
}

// searchScope keeps the docs that a scope sees: its farms, and for a branch
// its staff and the clients who have no farm yet.
func (s *Store) searchScope(q *gorm.DB, sc app.Scope) *gorm.DB {
	if sc.All {
		return q
	}
	farms, args := s.farmsOf(sc)
	cond := "EXISTS (SELECT 1 FROM farms f WHERE f.id = sw.doc AND " + farms + ")"
	if len(sc.Branches) > 0 {
		branches, list := s.in("g.branch_id", sc.Branches)
		cond += " OR (sw.doc = sw.thing_id AND (sw.kind = 'client'" +
			" OR sw.kind = 'person' AND EXISTS (SELECT 1 FROM grants g WHERE g.person_id = sw.thing_id AND " + branches + ")))"
		args = append(args, list)
	}
	return q.Where("("+cond+")", args...)
}
