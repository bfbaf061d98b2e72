package store

import (
	"context"
	"errors"
	"maps"
	"slices"
	"strings"
	"unicode"

	"tendfold/server/app/register"
)

type wordRow struct {
	Word    string `gorm:"primaryKey"`
	Doc     string `gorm:"primaryKey"`
	Kind    string `gorm:"primaryKey"`
	ThingID string `gorm:"primaryKey"`
	Field   string `gorm:"primaryKey"`
}

func (wordRow) TableName() string { return "search_words" }

// staleDocs names what a transaction has changed that search knows by words.
// The words are made anew once, before the commit, however often a thing was
// touched: an import touches a farm four times.
type staleDocs struct {
	farms   map[string]bool
	clients map[string]bool // whose words stand in the docs of their farms
	people  map[string]bool // likewise
	// loose are clients and people who may have got their first farm, or lost
	// their last: without one they are a doc of their own.
	loose map[string]bool
}

func (s *Store) touchFarms(ctx context.Context, ids ...string) { touch(&s.tx(ctx).stale.farms, ids) }

func (s *Store) touchClients(ctx context.Context, ids ...string) {
	touch(&s.tx(ctx).stale.clients, ids)
}

func (s *Store) touchPeople(ctx context.Context, ids ...string) {
	touch(&s.tx(ctx).stale.people, ids)
}

func (s *Store) touchLoose(ctx context.Context, ids ...string) { touch(&s.tx(ctx).stale.loose, ids) }

func touch(set *map[string]bool, ids []string) {
	if *set == nil {
		*set = map[string]bool{}
	}
	for _, id := range ids {
		if id != "" {
			(*set)[id] = true
		}
	}
}

// reindexPiece is how many docs are read and written at a time.
const reindexPiece = 500

// reindex writes the words of what has changed.
func (s *Store) reindex(ctx context.Context, stale staleDocs) error {
	touch(&stale.loose, sorted(stale.clients))
	touch(&stale.loose, sorted(stale.people))
	for _, q := range []struct {
		of          map[string]bool
		sql, column string
		into        *map[string]bool
	}{
		{stale.people, "SELECT farm_id FROM farm_people WHERE ", "person_id", &stale.farms},
		{stale.people, "SELECT f.id FROM farms f JOIN clients c ON c.id = f.client_id WHERE ", "c.owner_id", &stale.farms},
		{stale.clients, "SELECT id FROM farms WHERE ", "client_id", &stale.farms},
		{stale.loose, "SELECT owner_id FROM clients WHERE ", "id", &stale.loose},
	} {
		if err := s.follow(ctx, sorted(q.of), q.sql, q.column, q.into); err != nil {
			return err
		}
	}
	return errors.Join(
		s.reindexAll(ctx, sorted(stale.farms), ofFarm, ofClient, ofWorker, ofOwner),
		s.reindexAll(ctx, sorted(stale.loose), loosePeople, looseClients),
	)
}

func sorted(set map[string]bool) []string { return slices.Sorted(maps.Keys(set)) }

// follow touches what a query finds for the ids.
func (s *Store) follow(ctx context.Context, ids []string, sql, column string, into *map[string]bool) error {
	if len(ids) == 0 {
		return nil
	}
	cond, list := s.in(column, ids)
	var found []string
	err := s.from(ctx).Raw(sql+cond, list).Scan(&found).Error
	touch(into, found)
	return mapError(err, "search")
}

func (s *Store) reindexAll(ctx context.Context, ids []string, queries ...string) error {
	for piece := range slices.Chunk(ids, reindexPiece) {
		if err := s.reindexDocs(ctx, piece, queries); err != nil {
			return err
		}
	}
	return nil
}

// Each of these answers doc, kind, thing_id, name, phone, town, landmark for
// the docs in the list that stands for the mark.
const (
	ofFarm   = "SELECT f.id AS doc, 'farm' AS kind, f.id AS thing_id, f.folded AS name, '' AS phone, f.town, f.landmark FROM farms f WHERE @f.id"
	ofClient = "SELECT f.id AS doc, 'client' AS kind, c.id AS thing_id, c.folded AS name, c.phone, '' AS town, '' AS landmark FROM farms f JOIN clients c ON c.id = f.client_id WHERE @f.id"
	ofWorker = "SELECT w.farm_id AS doc, 'person' AS kind, p.id AS thing_id, p.folded AS name, p.phone, '' AS town, '' AS landmark FROM farm_people w JOIN people p ON p.id = w.person_id WHERE @w.farm_id"
	ofOwner  = "SELECT f.id AS doc, 'person' AS kind, p.id AS thing_id, p.folded AS name, p.phone, '' AS town, '' AS landmark FROM farms f JOIN clients c ON c.id = f.client_id JOIN people p ON p.id = c.owner_id WHERE @f.id"

	loosePeople = "SELECT p.id AS doc, 'person' AS kind, p.id AS thing_id, p.folded AS name, p.phone, '' AS town, '' AS landmark FROM people p WHERE @p.id" +
		" AND NOT EXISTS (SELECT 1 FROM farm_people w WHERE w.person_id = p.id) AND NOT EXISTS (SELECT 1 FROM clients c JOIN farms f ON f.client_id = c.id WHERE c.owner_id = p.id)"
	looseClients = "SELECT c.id AS doc, 'client' AS kind, c.id AS thing_id, c.folded AS name, c.phone, '' AS town, '' AS landmark FROM clients c WHERE @c.id" +
		" AND NOT EXISTS (SELECT 1 FROM farms f WHERE f.client_id = c.id)"
)

// docPart is one thing's texts within a doc.
type docPart struct {
	Doc      string
	Kind     string
	ThingID  string
	Name     string
	Phone    string
	Town     string
	Landmark string
}

func (s *Store) reindexDocs(ctx context.Context, ids []string, queries []string) error {
	cond, list := s.in("doc", ids)
	if err := s.from(ctx).Where(cond, list).Delete(&wordRow{}).Error; err != nil {
		return mapError(err, "search")
	}
	words := map[wordRow]bool{}
	for _, q := range queries {
		var parts []docPart
		if err := s.from(ctx).Raw(s.onDocs(q), list).Scan(&parts).Error; err != nil {
			return mapError(err, "search")
		}
		for _, p := range parts {
			p.words(words)
		}
	}
	rows := slices.Collect(maps.Keys(words))
	return s.insert(ctx, "search", rows)
}

// onDocs puts the dialect's condition in the place of the mark before a
// column.
func (s *Store) onDocs(query string) string {
	before, rest, _ := strings.Cut(query, "@")
	column, after, _ := strings.Cut(rest, " ")
	cond, _ := s.in(column, nil)
	return before + cond + " " + after
}

func (p docPart) words(into map[wordRow]bool) {
	add := func(field string, words []string) {
		for _, w := range words {
			into[wordRow{w, p.Doc, p.Kind, p.ThingID, field}] = true
		}
	}
	add("name", strings.Fields(p.Name))
	add("town", strings.Fields(register.Fold(p.Town)))
	add("landmark", strings.Fields(register.Fold(p.Landmark)))
	add("phone", tails(p.Phone))
}

// leastTail is the shortest part of a number that is worth looking for, and
// mostDigits more than any numbering plan allows (E.164: 15), with room for
// two numbers in one cell.
const (
	leastTail  = 3
	mostDigits = 32
)

// tails are all ends of a phone number, so that any part of it is the start
// of one of them.
func tails(phone string) []string {
	d := digitsOf(phone)
	d = d[:min(len(d), mostDigits)]
	var out []string
	for i := 0; i+leastTail <= len(d); i++ {
		out = append(out, d[i:])
	}
	return out
}

// digitsOf are the digits of a text as 0 to 9, in whatever script.
func digitsOf(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, s)
}

// letters says whether there is more in a text than digits and the marks that
// people write between them.
func letters(s string) bool {
	return strings.ContainsFunc(s, func(r rune) bool {
		return unicode.IsLetter(r) || !(unicode.IsSpace(r) || r >= '0' && r <= '9' || strings.ContainsRune("+-./()", r))
	})
}
