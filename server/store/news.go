package store

import (
	"context"
	"slices"
	"time"

	"tendfold/domain/farm"
	"tendfold/server/app"
)

type newsRow struct {
	Seq      int64
	TicketID string
	Kind     string
	At       micros
}

func (newsRow) TableName() string { return "news" }

// announce notes that something happened to a ticket. It is numbered when the
// transaction commits: the row of the last number stays locked from then to
// the end of the commit, so numbers follow the order of the commits and have
// no gaps, and nobody waits longer for them than a commit lasts.
func (s *Store) announce(ctx context.Context, ticketID, kind string) {
	t := s.tx(ctx)
	n := newsRow{TicketID: ticketID, Kind: kind}
	if t == nil || ticketID == "" || slices.Contains(t.news, n) {
		return
	}
	t.news = append(t.news, n)
}

// publish numbers and writes the news of a transaction, last of all.
func (s *Store) publish(ctx context.Context, news []newsRow) error {
	if len(news) == 0 {
		return nil
	}
	var last int64
	err := s.from(ctx).Raw("UPDATE news_last SET last = last + ? WHERE id = 1 RETURNING last", len(news)).Scan(&last).Error
	if err != nil {
		return mapError(err, "news")
	}
	at := toMicros(time.Now()) // only for the purge; nothing is decided by it
	for i := range news {
		news[i].Seq, news[i].At = last-int64(len(news)-1-i), at
	}
	return s.insert(ctx, "news", news)
}

// NewsLast is the number of the latest news.
func (s *Store) NewsLast(ctx context.Context) (int64, error) {
	var last int64
	err := s.reader(ctx).Raw("SELECT last FROM news_last WHERE id = 1").Scan(&last).Error
	return last, mapError(err, "news")
}

// News are the news after a number about tickets that the scope sees, oldest
// first, at most 200; upTo is the number up to which they are complete, and
// gap says that older ones are forgotten already.
func (s *Store) News(ctx context.Context, sc app.Scope, after int64) (list []app.News, upTo int64, gap bool, err error) {
	last, err := s.NewsLast(ctx)
	if err != nil || last <= after {
		return nil, last, last < after, err
	}
	var oldest int64
	if err := s.reader(ctx).Raw("SELECT COALESCE(MIN(seq), ?) FROM news", last+1).Scan(&oldest).Error; err != nil {
		return nil, last, false, mapError(err, "news")
	}
	if after+1 < oldest {
		return nil, last, true, nil
	}
	cond, args := s.farmsOf(sc)
	q := s.reader(ctx).Table("news n").Select("n.seq, n.ticket_id, n.kind").
		Joins("JOIN tickets t ON t.id = n.ticket_id JOIN farms f ON f.id = t.farm_id").
		Where("n.seq > ? AND n.seq <= ?", after, last).Where(cond, args...)
	if err := q.Order("n.seq").Limit(listMost).Scan(&list).Error; err != nil {
		return nil, last, false, mapError(err, "news")
	}
	if len(list) == listMost {
		last = list[len(list)-1].Seq
	}
	return list, last, false, nil
}

// PurgeNews forgets news older than an instant.
func (s *Store) PurgeNews(ctx context.Context, before time.Time) error {
	return mapError(s.from(ctx).Where("at < ?", toMicros(before)).Delete(&newsRow{}).Error, "news")
}

type presenceRow struct {
	TicketID string
	PersonID string
	Until    micros
}

func (presenceRow) TableName() string { return "presence" }

// Stay notes that a person has a ticket open until an instant; zero takes that
// back. Whoever else has one open hears of it when that changes who is there.
func (s *Store) Stay(ctx context.Context, ticketID, personID string, now, until time.Time) error {
	return s.InTx(ctx, func(ctx context.Context) error {
		gone := s.from(ctx).Where("ticket_id = ? AND (until <= ? OR person_id = ?)", ticketID, toMicros(now), personID)
		var rows []presenceRow
		if err := gone.Find(&rows).Error; err != nil {
			return mapError(err, "presence")
		}
		was := slices.ContainsFunc(rows, func(r presenceRow) bool { return r.PersonID == personID && r.Until > toMicros(now) })
		others := slices.ContainsFunc(rows, func(r presenceRow) bool { return r.PersonID != personID })
		err := s.from(ctx).Where("ticket_id = ? AND (until <= ? OR person_id = ?)", ticketID, toMicros(now), personID).Delete(&presenceRow{}).Error
		if err != nil {
			return mapError(err, "presence")
		}
		if others || was == until.IsZero() {
			s.announce(ctx, ticketID, app.NewsHere)
		}
		if until.IsZero() {
			return nil
		}
		return s.insert(ctx, "presence", []presenceRow{{ticketID, personID, toMicros(until)}}, keepFirst)
	})
}

// Present are those who have a ticket open, by name.
func (s *Store) Present(ctx context.Context, ticketID string, now time.Time) ([]farm.Person, error) {
	q := s.reader(ctx).Where("id IN (SELECT person_id FROM presence WHERE ticket_id = ? AND until > ?)", ticketID, toMicros(now))
	return many(q.Order("folded, id").Limit(listMost), "person", personRow.person)
}
