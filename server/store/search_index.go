package store

import "context"

// staleDocs names what a transaction has changed that search knows by words.
type staleDocs struct{}

func (s *Store) reindex(context.Context, staleDocs) error { return nil }
