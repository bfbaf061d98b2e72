package store

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"tendfold/domain/programme"
	"tendfold/domain/ticket"
	"tendfold/server/app"
	"tendfold/server/app/register"
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
// together), by any part of a phone number, and by a ticket's number. What
// bears most of the words itself comes first. Where nothing does, slips of the
// fingers are forgiven.
func (s *Store) Search(ctx context.Context, sc app.Scope, text string, limit int) ([]app.Hit, error) {
	if limit <= 0 || limit > searchMost {
		limit = searchMost
	}
	hits, err := s.searchTickets(ctx, sc, text, limit)
	if err != nil {
		return nil, err
	}
	if terms := searchTerms(text); len(terms) > 0 {
		things, err := s.searchThings(ctx, sc, terms, limit-len(hits))
		if err != nil {
			return nil, err
		}
		hits = append(hits, things...)
		if len(hits) == 0 {
			if hits, err = s.searchSlips(ctx, sc, terms, limit); err != nil {
				return nil, err
			}
		}
	}
	return hits, s.nameHits(ctx, hits)
}

func (s *Store) searchTickets(ctx context.Context, sc app.Scope, text string, limit int) ([]app.Hit, error) {
	cond, args := s.farmsOf(sc)
	query := "SELECT t.id, t.seq, t.year, t.farm_id FROM tickets t JOIN farms f ON f.id = t.farm_id WHERE " + cond
	if seq, year, err := ticket.ParseNumber(text); err == nil {
		query, args = query+" AND t.seq = ? AND t.year = ?", append(args, seq, year)
	} else if seq, ok := plainNumber(text); ok {
		query, args = query+" AND t.seq = ?", append(args, seq)
	} else {
		return []app.Hit{}, nil
	}
	type row struct {
		ID     string
		Seq    int
		Year   int
		FarmID string
	}
	rows, err := read[row](ctx, s, "ticket", query+" ORDER BY t.year DESC LIMIT ?", append(args, limit)...)
	return each(rows, func(r row) app.Hit {
		return app.Hit{Kind: "ticket", ID: r.ID, FarmID: r.FarmID, Label: ticket.Number(r.Seq, r.Year), Why: "number"}
	}), err
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

// searchThings are the things of the docs that have all the terms.
func (s *Store) searchThings(ctx context.Context, sc app.Scope, terms []span, limit int) ([]app.Hit, error) {
	lead, err := s.rarest(ctx, terms)
	if err != nil {
		return nil, err
	}
	rows, err := s.searchWords(ctx, sc, terms, lead, limit*3)
	if err != nil {
		return nil, err
	}
	return bestFirst(rows, terms, limit), nil
}

// countMost is where counting stops: what is in more docs than this is common.
const countMost = 500

// rarest is the place of the term with the fewest words: whoever types "farm
// 417" is found by the number, not by a look at every farm.
func (s *Store) rarest(ctx context.Context, terms []span) (int, error) {
	if len(terms) == 1 {
		return 0, nil
	}
	type counted struct {
		Term  int
		Words int
	}
	var parts []string
	var args []any
	for i, t := range terms {
		parts = append(parts, "SELECT "+strconv.Itoa(i)+", COUNT(*) FROM (SELECT 1 FROM search_words WHERE word >= ? AND word < ? LIMIT "+strconv.Itoa(countMost)+") AS x")
		args = append(args, t.from, t.to)
	}
	rows, err := read[counted](ctx, s, "search", strings.Join(parts, " UNION ALL "), args...)
	if err != nil {
		return 0, err
	}
	least := slices.MinFunc(rows, func(a, b counted) int { return cmp.Or(cmp.Compare(a.Words, b.Words), cmp.Compare(a.Term, b.Term)) })
	return least.Term, nil
}

// wordHit is a word of a doc that begins as a term does.
type wordHit struct {
	Doc     string
	Kind    string
	ThingID string
	Field   string
	Word    string
	Term    int
}

// searchWords reads the words that match in at most limit docs which have all
// the terms; the docs are those in which the leading term's word is shortest,
// the closest to what was typed.
func (s *Store) searchWords(ctx context.Context, sc app.Scope, terms []span, lead, limit int) ([]wordHit, error) {
	docs := "SELECT sw.doc FROM search_words sw WHERE sw.word >= ? AND sw.word < ?"
	args := []any{terms[lead].from, terms[lead].to}
	var others strings.Builder
	var looked []string
	var bounds []any
	for i, t := range terms {
		looked = append(looked, "SELECT CAST(? AS TEXT) AS lo, CAST(? AS TEXT) AS hi, "+strconv.Itoa(i)+" AS term")
		bounds = append(bounds, t.from, t.to)
		if i != lead {
			others.WriteString(" AND EXISTS (SELECT 1 FROM search_words o WHERE o.doc = sw.doc AND o.word >= ? AND o.word < ?)")
			args = append(args, t.from, t.to)
		}
	}
	cond, more := s.searchScope(sc)
	docs += others.String() + " AND " + cond + " ORDER BY sw.word, sw.doc LIMIT ?"
	args = append(append(append(args, more...), limit), bounds...)
	return read[wordHit](ctx, s, "search", "WITH d AS (SELECT DISTINCT doc FROM ("+docs+") AS x), t AS ("+strings.Join(looked, " UNION ALL ")+")"+
		" SELECT w.doc, w.kind, w.thing_id, w.field, w.word, t.term FROM d CROSS JOIN t JOIN search_words w ON w.doc = d.doc AND w.word >= t.lo AND w.word < t.hi"+
		" ORDER BY w.doc, w.kind, w.thing_id, t.term, w.word, w.field", args...)
}

// kindsFirst is the order of things that match equally well.
var kindsFirst = []string{"farm", "client", "person"}

// bestFirst puts the words of each thing together: first what bears most of
// the terms, then whose word has the fewest letters beyond what was typed.
func bestFirst(rows []wordHit, terms []span, limit int) []app.Hit {
	type thing struct {
		hit         app.Hit
		terms, more int
		word        string
	}
	var things []thing
	for i, r := range rows {
		before := wordHit{Term: -1}
		if i > 0 {
			before = rows[i-1]
		}
		if i == 0 || before.Doc != r.Doc || before.Kind != r.Kind || before.ThingID != r.ThingID {
			hit := app.Hit{Kind: r.Kind, ID: r.ThingID, FarmID: r.Doc, Why: r.Field}
			things = append(things, thing{hit, 1, len(r.Word) - len(terms[r.Term].from), r.Word})
			continue
		}
		if r.Term != before.Term {
			things[len(things)-1].terms++
		}
	}
	slices.SortStableFunc(things, func(a, b thing) int {
		return cmp.Or(cmp.Compare(b.terms, a.terms), cmp.Compare(a.more, b.more),
			cmp.Compare(slices.Index(kindsFirst, a.hit.Kind), slices.Index(kindsFirst, b.hit.Kind)), cmp.Compare(a.word, b.word))
	})
	return each(things[:min(len(things), limit)], func(t thing) app.Hit { return t.hit })
}

// nameHits says what the hits are called and where they belong.
func (s *Store) nameHits(ctx context.Context, hits []app.Hit) error {
	farms, err := named[hitFarm](ctx, s, "SELECT f.id, f.name, f.town, f.branch_id, f.standing, c.name FROM farms f JOIN clients c ON c.id = f.client_id WHERE ", "f.id", hits, func(h app.Hit) string { return h.FarmID })
	if err != nil {
		return err
	}
	people, err := named[hitName](ctx, s, "SELECT id, name, phone, language FROM people WHERE ", "id", hits, ofKind("person"))
	if err != nil {
		return err
	}
	clients, err := named[hitName](ctx, s, "SELECT id, name, phone, '' AS language FROM clients WHERE ", "id", hits, ofKind("client"))
	if err != nil {
		return err
	}
	for i := range hits {
		h := &hits[i]
		f := farms[h.FarmID]
		h.FarmID, h.Farm, h.Client, h.Town, h.BranchID, h.Standing = f.ID, f.Name, f.Client, f.Town, f.BranchID, programme.Standing(f.Standing)
		switch h.Kind {
		case "farm":
			h.Label = f.Name
		case "person":
			h.Label, h.Phone, h.Language = people[h.ID].Name, people[h.ID].Phone, people[h.ID].Language
		case "client":
			h.Label, h.Phone = clients[h.ID].Name, clients[h.ID].Phone
		}
	}
	return nil
}

type hitFarm struct {
	ID       string
	Name     string
	Town     string
	BranchID string
	Standing string
	Client   string
}

type hitName struct {
	ID       string
	Name     string
	Phone    string
	Language string
}

func (f hitFarm) key() string { return f.ID }
func (n hitName) key() string { return n.ID }

func ofKind(kind string) func(app.Hit) string {
	return func(h app.Hit) string {
		if h.Kind != kind {
			return ""
		}
		return h.ID
	}
}

// named reads the rows that the hits name, by id.
func named[R interface{ key() string }](ctx context.Context, s *Store, query, column string, hits []app.Hit, id func(app.Hit) string) (map[string]R, error) {
	ids := make([]string, 0, len(hits))
	for _, h := range hits {
		if x := id(h); x != "" && !slices.Contains(ids, x) {
			ids = append(ids, x)
		}
	}
	if len(ids) == 0 {
		return nil, nil
	}
	cond, list := s.in(column, ids)
	rows, err := read[R](ctx, s, "search", query+cond, list)
	out := make(map[string]R, len(rows))
	for _, r := range rows {
		out[r.key()] = r
	}
	return out, err
}

// searchScope keeps the docs that a scope sees: its farms, and for a branch
// its staff and the clients who have no farm yet.
func (s *Store) searchScope(sc app.Scope) (string, []any) {
	if sc.All {
		return "1 = 1", nil
	}
	farms, args := s.farmsOf(sc)
	cond := "EXISTS (SELECT 1 FROM farms f WHERE f.id = sw.doc AND " + farms + ")"
	if len(sc.Branches) > 0 {
		branches, list := s.in("g.branch_id", sc.Branches)
		cond += " OR (sw.doc = sw.thing_id AND (sw.kind = 'client'" +
			" OR sw.kind = 'person' AND EXISTS (SELECT 1 FROM grants g WHERE g.person_id = sw.thing_id AND " + branches + ")))"
		args = append(args, list)
	}
	return "(" + cond + ")", args
}
